package experiments

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Measure is what values are compared as: a depth or a width in mm, a rise of temperature in K.
type Measure string

// The measures. Width holds diameters, injury beside a cut, and volumes as the diameter of a ball as large.
const (
	Depth Measure = "depth"
	Width Measure = "width"
	Rise  Measure = "rise"
)

// Measures lists them.
var Measures = []Measure{Depth, Width, Rise}

// Unit is that of a measure.
func (m Measure) Unit() string {
	if m == Rise {
		return "K"
	}
	return "mm"
}

// measureOf returns as what a row is compared, "" for a share or a ratio.
func measureOf(x RowResult) Measure {
	switch unit, _ := axis(x.Unit); {
	case unit == "K":
		return Rise
	case unit == "mm" && x.Quantity == "injury_depth":
		return Depth
	case unit == "mm":
		return Width
	}
	return ""
}

// Bias sums up a measure over experiments, each counted once: the mean of its rows.
type Bias struct {
	Measure         Measure
	Experiments     int
	Values, Within  int     // rows, and those within twice the combined spread
	Mean, Low, High float64 // ours less measured, in Measure.Unit(), with an interval of 95 %
}

// Biases returns the bias of each measure that experiments have. Its interval is the wider of two: that of Student's t
// over experiments (Student 1908, Biometrika 6:1), and twice the combined spread of an experiment over the root of their
// number, for two that agree by chance are not better known than each is.
func Biases(list []Result) []Bias {
	var all []Bias
	for _, m := range Measures {
		b := Bias{Measure: m}
		var differences []float64
		square := 0.0
		for _, r := range list {
			if d, sd, values, within := r.Difference(m); values > 0 {
				differences, square = append(differences, d), square+sd*sd
				b.Values, b.Within = b.Values+values, b.Within+within
			}
		}
		if b.Experiments = len(differences); b.Experiments == 0 {
			continue
		}
		b.Mean = stat.Mean(differences, nil)
		n := float64(b.Experiments)
		half := 2 * math.Sqrt(square/n) / math.Sqrt(n)
		if n > 1 {
			half = max(half, distuv.StudentsT{Sigma: 1, Nu: n - 1}.Quantile(0.975)*stat.StdDev(differences, nil)/math.Sqrt(n))
		}
		b.Low, b.High = b.Mean-half, b.Mean+half
		all = append(all, b)
	}
	return all
}

// Difference returns ours less measured of a measure, the mean of the rows of an experiment, and the root mean square of
// their combined spreads; of how many rows, and how many of them lie within twice the combined spread.
func (r *Result) Difference(m Measure) (mean, sd float64, values, within int) {
	square := 0.0
	for _, x := range r.Rows {
		if measureOf(x) != m {
			continue
		}
		_, f := axis(x.Unit)
		spread := func(v, sd float64) float64 { return math.Abs(f(v+sd)-f(v-sd)) / 2 }
		mean += f(x.Ours) - f(x.Mean)
		square += math.Pow(spread(x.Mean, x.SD), 2) + math.Pow(spread(x.Ours, math.Hypot(x.InputSD, x.NumericalSD)), 2)
		values++
		if math.Abs(x.Residual) <= 2 {
			within++
		}
	}
	n := math.Max(1, float64(values))
	return mean / n, math.Sqrt(square / n), values, within
}

// String says a bias in a sentence without its end.
func (b Bias) String() string {
	of, unit := fmt.Sprintf("%d experiments", b.Experiments), b.Measure.Unit()
	if b.Experiments == 1 {
		of = "one experiment"
	}
	return fmt.Sprintf("%s %+.2f %s (95 %%: %+.2f to %+.2f %s), %d of %d values of %s within twice the combined spread", b.Measure, b.Mean, unit, b.Low, b.High, unit, b.Within, b.Values, of)
}
