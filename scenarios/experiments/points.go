package experiments

import (
	"math"

	"muralheat/thermal/tissue"
)

// Point is what an experiment measured beside ours, for a figure.
type Point struct {
	Experiment, Regime string
	Measure            Measure
	Part               Part
	Measured, Ours     float64
	MeasuredSD, OursSD float64 // ours: inputs and mesh
	Inside             bool    // the experiment, by all its rows
}

// Points returns a point for each experiment and measure that it has, a depth, a width or a rise of temperature: the geometric means of its
// rows and the root mean squares of their relative spreads, so that many rows count as one experiment. It returns
// also the experiments that have neither.
//
// Volumes count as the diameter of a ball as large, temperatures as rises over that of the body.
func Points(all []Result) (points []Point, left []string) {
	for _, r := range all {
		by := map[Measure]*mean{}
		for _, x := range r.Rows {
			measure := measureOf(x)
			_, f := axis(x.Unit)
			m, sd, ours, oursSD := f(x.Mean), relative(f, x.Mean, x.SD), f(x.Ours), relative(f, x.Ours, math.Hypot(x.InputSD, x.NumericalSD))
			if measure == "" || !(m > 0 && ours > 0) {
				continue
			}
			if by[measure] == nil {
				by[measure] = &mean{}
			}
			by[measure].add(m, sd, ours, oursSD)
		}
		if len(by) == 0 {
			left = append(left, r.ID)
		}
		for _, measure := range Measures {
			if m := by[measure]; m != nil {
				points = append(points, m.point(Point{Experiment: r.ID, Regime: r.Regime[0], Measure: measure, Part: r.Part, Inside: r.Inside()}))
			}
		}
	}
	return points, left
}

// axis returns the unit under which a value is drawn, "" for none, and what makes it that.
func axis(unit string) (string, func(float64) float64) {
	switch unit {
	case "mm", "K":
		return unit, func(v float64) float64 { return v }
	case "um":
		return "mm", func(v float64) float64 { return v / 1000 }
	case "mm3":
		return "mm", func(v float64) float64 { return math.Cbrt(6 * v / math.Pi) }
	case "C":
		return "K", func(v float64) float64 { return v - tissue.BodyTemperature.Value }
	}
	return "", func(v float64) float64 { return v }
}

// relative returns the spread sd about v over v, both as f makes them.
func relative(f func(float64) float64, v, sd float64) float64 {
	const small = 1e-3
	return math.Abs((f(v*(1+small))-f(v))/(v*small)) * sd / f(v)
}

// mean gathers the rows of a point.
type mean struct {
	n                    float64
	lnMeasured, lnOurs   float64 // sums of logarithms
	varMeasured, varOurs float64 // sums of squared relative spreads
}

func (m *mean) add(measured, sd, ours, oursSD float64) {
	m.n++
	m.lnMeasured += math.Log(measured)
	m.lnOurs += math.Log(ours)
	m.varMeasured += sd * sd
	m.varOurs += oursSD * oursSD
}

func (m *mean) point(p Point) Point {
	p.Measured, p.Ours = math.Exp(m.lnMeasured/m.n), math.Exp(m.lnOurs/m.n)
	p.MeasuredSD, p.OursSD = p.Measured*math.Sqrt(m.varMeasured/m.n), p.Ours*math.Sqrt(m.varOurs/m.n)
	return p
}
