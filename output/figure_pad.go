package output

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/thermal"
)

// riseScale is that of a pad: from 0 to the highest rise, at least to the limit of the
// standard, so that pads well below it look cool.
func riseScale(r *thermal.Result) scale {
	most := r.Summary.Pad.HighestRiseK
	high := riseLimitK
	for _, step := range []float64{10, 15, 20, 30, 40, 60} {
		if most > high {
			high = step
		}
	}
	return scale{"highest rise (K)", 0, high, most}
}

// limitLine is that of a rise of 6 K in every figure.
var limitLine = stroke(ink, 1.2, 5, 2)

// pad draws the neutral electrode where it lies, what of it touches, the line of 6 K, and
// the square centimetre with the highest mean rise.
func (k *cut) pad(p *panel) {
	e := k.res.Case.Electrode
	whole, outer, inner := 1e3*e.TipRadiusM, 1e3*e.ContactRadiusM, 1e3*e.InnerRadiusM
	unit := float64(1*mm/(p.Max.Y-p.Min.Y)) * (k.z1 + k.head) // one mm of page
	back, face := -5.6*unit, -1.3*unit
	p.area(metal, point{-whole, back}, point{whole, back}, point{whole, face}, point{-whole, face})
	p.line(stroke(ink, 1), point{-whole, back}, point{whole, back}, point{whole, face}, point{-whole, face}, point{-whole, back})
	touching := [][2]float64{{-outer, outer}}
	if inner > 0 {
		touching = [][2]float64{{-outer, -inner}, {inner, outer}}
	}
	for _, t := range touching {
		p.area(ink, point{t[0], face}, point{t[1], face}, point{t[1], 0}, point{t[0], 0})
	}
	k.spot(p, back)
	s := words(noteSize, ink, text.XCenter, text.YCenter)
	name := "neutral electrode"
	if contactCM2(k.res.Case) < math.Pi*whole*whole/100*(1-1e-6) {
		name += " (black: in contact)"
	}
	p.FillText(s, vg.Point{X: p.px(0), Y: p.py((back+face)/2) + 0.3*mm}, name)

	for _, l := range k.shown.isoline(riseLimitK) {
		p.line(stroke(paper, 3), l...)
		p.line(limitLine, l...)
	}
}

// spot marks the square centimetre of skin with the highest mean rise, above the pad.
func (k *cut) spot(p *panel, back float64) {
	sum := k.res.Summary.Pad
	at, r := 1e3*sum.MeanRiseAtM, 10/math.Sqrt(math.Pi)
	y := p.py(back) + 2.6*mm
	a, b := p.px(at-r), p.px(at+r)
	p.StrokeLine2(stroke(ink, 1), a, y, b, y)
	for _, x := range []vg.Length{a, b} {
		p.StrokeLine2(stroke(ink, 1), x, y, x, y-1.2*mm)
		p.StrokeLine2(stroke(ink, 0.5, 1, 1.5), x, y-1.2*mm, x, p.py(0))
	}
	note := fmt.Sprintf("1 cm²: mean rise %s K", short(sum.MeanRiseK))
	s := words(noteSize, ink, text.XCenter, text.YBottom)
	x := (a + b) / 2
	if right := x + s.Width(note)/2; right > p.Max.X-1*mm {
		x -= right - p.Max.X + 1*mm
	}
	p.FillText(s, vg.Point{X: x, Y: y + 0.7*mm}, note)
}
