package figures

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// riseScale is that of a pad: from 0 to the highest rise, at least to the limit of the
// standard, so that pads well below it look cool.
func riseScale(r *thermal.Result) Scale {
	most := r.Summary.Pad.HighestRiseK
	high := phrase.RiseLimitK
	for _, step := range []float64{10, 15, 20, 30, 40, 60} {
		if most > high {
			high = step
		}
	}
	return Scale{"highest rise (K)", 0, high, most}
}

// pad draws the neutral electrode where it lies, what of it touches, the line of 6 K, and
// the square centimetre with the highest mean rise.
func (k *Cut) pad(p *chart.Panel) {
	e := k.res.Case.Electrode
	whole := 1e3 * e.TipRadiusM
	unit := float64(1*chart.MM/(p.Max.Y-p.Min.Y)) * (k.Z1 + k.Head) // one mm of page
	back, face := padBack*unit, padFace*unit
	metal, contact := k.padAreas(unit)
	p.Area(chart.Metal, metal[0]...)
	p.Line(chart.Stroke(chart.Ink, 1), metal[0]...)
	for _, t := range contact {
		p.Area(chart.Ink, t...)
	}
	k.spot(p, back)
	s := chart.TextStyle(chart.NoteSize, chart.Ink, text.XCenter, text.YCenter)
	name := "neutral electrode"
	if phrase.ContactCM2(k.res.Case) < math.Pi*whole*whole/100*(1-1e-6) {
		name += " (black: in contact)"
	}
	p.FillText(s, vg.Point{X: p.Px(0), Y: p.Py((back+face)/2) + 0.3*chart.MM}, name)

	for _, l := range k.Shown.Isoline(phrase.RiseLimitK) {
		p.Line(chart.Stroke(chart.Paper, 3), l...)
		p.Line(chart.LimitLine, l...)
	}
}

// spot marks the square centimetre of skin with the highest mean rise, above the pad.
func (k *Cut) spot(p *chart.Panel, back float64) {
	sum := k.res.Summary.Pad
	at, r := 1e3*sum.MeanRiseAtM, 10/math.Sqrt(math.Pi)
	y := p.Py(back) + 2.6*chart.MM
	a, b := p.Px(at-r), p.Px(at+r)
	p.StrokeLine2(chart.Stroke(chart.Ink, 1), a, y, b, y)
	for _, x := range []vg.Length{a, b} {
		p.StrokeLine2(chart.Stroke(chart.Ink, 1), x, y, x, y-1.2*chart.MM)
		p.StrokeLine2(chart.Stroke(chart.Ink, 0.5, 1, 1.5), x, y-1.2*chart.MM, x, p.Py(0))
	}
	note := fmt.Sprintf("1 cm²: mean rise %s K", phrase.Short(sum.MeanRiseK))
	s := chart.TextStyle(chart.NoteSize, chart.Ink, text.XCenter, text.YBottom)
	x := (a + b) / 2
	if right := x + s.Width(note)/2; right > p.Max.X-1*chart.MM {
		x -= right - p.Max.X + 1*chart.MM
	}
	p.FillText(s, vg.Point{X: x, Y: y + 0.7*chart.MM}, note)
}
