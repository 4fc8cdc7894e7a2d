package figures

import (
	"math"

	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// mostAbove is how many times the highest power in the tissue a set power may be that is drawn beside it; a higher one
// would press the curve down to the axis.
const mostAbove = 4

// fromSource returns the power at the terminals, where some is lost on the way to the tissue, and the power that was
// set, where less came.
func fromSource(res *thermal.Result, shown rhythm, perSecond vg.Length) []chart.Curve {
	var curves []chart.Curve
	if res.Balance.LeadsJ > 0 {
		at := *res
		at.Summary.MeanPowerW = phrase.TerminalPowerW(res)
		at.History = make([]thermal.Sample, len(res.History))
		for n, row := range res.History {
			row.PowerW = row.TerminalW
			at.History[n] = row
		}
		style := chart.LineStyles[1]
		style.Width = shown.line.Width
		curves = append(curves, chart.Curve{Name: "at the terminals", Style: style, Pts: newRhythm(&at, perSecond).power, Mark: 0})
	}
	mean := phrase.SetPowerW(res)
	if !phrase.FellShort(res.Summary.MeanPowerW, mean) && res.Balance.LeadsJ == 0 || math.IsNaN(mean) {
		return curves
	}
	var set []chart.Point
	highest, most := 0.0, 0.0
	for _, p := range shown.power {
		most = math.Max(most, p.Y)
	}
	add := func(from, to, watts float64) {
		set = append(set, chart.Point{X: from, Y: watts}, chart.Point{X: to, Y: watts})
		highest = math.Max(highest, watts)
	}
	if off := math.Min(phrase.OffS(res), res.Case.Drive.OnS); shown.crowded {
		add(0, off, mean)
	} else {
		for t := 0.0; t < off; {
			m, until := res.Case.Drive.At(t)
			add(t, math.Min(until, off), setW(m))
			t = until
		}
	}
	if highest > mostAbove*most {
		return curves
	}
	style := chart.LineStyles[2]
	style.Width = shown.line.Width
	return append(curves, chart.Curve{Name: "set", Style: style, Pts: set, Mark: 0})
}

// setW is the power to which a mode is set, W.
func setW(m drive.Mode) float64 {
	if !phrase.Runs(m) {
		return 0
	}
	return m.PowerW
}
