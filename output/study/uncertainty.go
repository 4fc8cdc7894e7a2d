package study

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"muralheat/output/phrase"
	"muralheat/output/record"
)

// uncertainty is what is uncertain of the depth of injury at a point of a sweep, and so of the margin, each part
// as a standard uncertainty in mm; NaN where it was not computed.
type uncertainty struct {
	Point     int
	rows      []int
	Depth     stats // over the draws, mm
	Margin    stats // likewise; n of 0: no muscle
	Numerical float64
	Input     float64
	Kinetics  float64
}

// coverage is the factor from a standard uncertainty to one that holds 95 of 100; assumption: normal.
const coverage = 2

// combined is the root of the sum of squares of the parts that were computed.
func (u uncertainty) combined() float64 {
	sum := 0.0
	for _, v := range []float64{u.Numerical, u.Input, u.Kinetics} {
		if !math.IsNaN(v) {
			sum += v * v
		}
	}
	return math.Sqrt(sum)
}

// CombinedBy says how the parts are put together, and what that assumes.
const CombinedBy = "Combined by root sum of squares, as ASME V&V 20-2009 does (from memory): u = sqrt(u_num² + u_input² + u_kin²), twice that for 95 of 100. " +
	"u_num is half the numerical error; u_input is the standard deviation over the draws; u_kin is the most that other damage kinetics for the same injury move the depth, over sqrt(3), as of a uniform distribution (JCGM 100:2008, 4.3.7). " +
	"It assumes that the parts are independent, act nearly in proportion and add up to a normal distribution, and it holds no error of the model itself."

// uncertainties returns what is uncertain at each point of a sweep that was refined, in the order of the points.
func (t *SweepTable) uncertainties() []uncertainty {
	if t.Measured() == "" || t.Outcome().Column != record.DepthColumn {
		return nil
	}
	var out []uncertainty
	for _, rows := range t.byPoint() {
		u := uncertainty{Point: t.Point[rows[0]], rows: rows, Depth: median(t.values(record.DepthColumn, rows)), Input: math.NaN(), Kinetics: math.NaN()}
		if t.Has(record.MarginColumn) {
			u.Margin = median(t.values(record.MarginColumn, rows))
		}
		u.Numerical = t.largestError(record.DepthColumn, rows) / coverage
		if t.Draws > 1 {
			u.Input = deviation(t.values(t.spreadColumn(), rows))
		}
		for _, r := range rows {
			if k, there := t.refined.kineticsOf(t.Case[r], t.regime(r)); there {
				u.Kinetics = max(k/math.Sqrt(3), record.OrElse(u.Kinetics, 0))
			}
		}
		if u.Depth.n > 0 {
			out = append(out, u)
		}
	}
	return out
}

// spreadColumn is the column whose spread over the draws counts: the margin, for where the muscle begins is drawn too.
func (t *SweepTable) spreadColumn() string {
	if t.Has(record.MarginColumn) {
		return record.MarginColumn
	}
	return record.DepthColumn
}

// deviation returns the standard deviation of the numbers among v; NaN of fewer than two.
func deviation(v []float64) float64 {
	return stat.StdDev(slices.DeleteFunc(slices.Clone(v), math.IsNaN), nil)
}

// nearestPoint returns the point that is nearest to the decision, or the deepest one.
func nearestPoint(all []uncertainty) uncertainty {
	return slices.MinFunc(all, func(a, b uncertainty) int {
		key := func(u uncertainty) float64 {
			if u.Margin.n > 0 {
				return math.Abs(u.Margin.mid)
			}
			return -u.Depth.mid
		}
		switch x, y := key(a), key(b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
}

// Combined says in sentences what is uncertain at the point nearest to the decision; none if the sweep was not refined.
func (t *SweepTable) Combined() []string {
	all := t.uncertainties()
	if all == nil {
		return nil
	}
	u := nearestPoint(all)
	what, value := "Injury depth", u.Depth.mid
	if u.Margin.n > 0 {
		what, value = "Margin to the muscle", u.Margin.mid
	}
	if t.Draws > 1 {
		what += fmt.Sprintf(", median of %d draws,", t.Draws)
	}
	if at := differing(u.rows[0], t.Factors()); at != "" {
		what += " at " + at
	}
	part := func(name string, v float64, otherwise string) string {
		if math.IsNaN(v) {
			return name + " " + otherwise
		}
		return fmt.Sprintf("%s ±%s mm", name, record.Two(coverage*v))
	}
	kinetics := "not varied"
	if t.refined.Fixed != "" {
		kinetics += ": " + t.refined.Fixed
	}
	end := ""
	if U := coverage * u.combined(); u.Margin.n > 0 {
		end = fmt.Sprintf(" Whether the muscle is reached is %s.", map[bool]string{true: "open", false: "not in doubt by these"}[math.Abs(value) <= U])
	}
	return []string{fmt.Sprintf("%s: %s ± %s mm for 95 of 100: %s, %s, %s.%s", what, phrase.Short(value), record.Two(coverage*u.combined()),
		part("numerical", u.Numerical, "not known"), part("inputs", u.Input, "not computed: no key is uncertain"), part("damage kinetics", u.Kinetics, kinetics), end), CombinedBy}
}

// UncertaintyName is the table of what is uncertain at each point of a sweep that was refined.
const UncertaintyName = "uncertainty.csv"

// UncertaintyCSV returns that table; nil if the sweep was not refined.
func (t *SweepTable) UncertaintyCSV() []byte {
	all := t.uncertainties()
	if all == nil {
		return nil
	}
	head := []string{"point"}
	for _, in := range t.Inputs {
		if !in.Uncertain {
			head = append(head, record.Guarded(in.Key))
		}
	}
	rows := [][]string{append(head, "draws", "injury_depth_mm", "margin_to_muscle_mm", "numerical_95_mm", "inputs_95_mm", "kinetics_95_mm", "combined_95_mm")}
	for _, u := range all {
		row := []string{fmt.Sprint(u.Point)}
		for n, in := range t.Inputs {
			if !in.Uncertain {
				row = append(row, record.Guarded(t.InputCells[n].Text(u.rows[0])))
			}
		}
		margin := math.NaN()
		if u.Margin.n > 0 {
			margin = u.Margin.mid
		}
		row = append(row, fmt.Sprint(u.Depth.n), record.Number(u.Depth.mid), record.Number(margin))
		for _, v := range []float64{u.Numerical, u.Input, u.Kinetics, u.combined()} {
			row = append(row, record.Number(coverage*v))
		}
		rows = append(rows, row)
	}
	return record.Table(rows)
}
