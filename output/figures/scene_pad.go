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

func init() {
	scenes[thermal.OnSkin] = scene{
		own: func(page chart.Page, res *thermal.Result) []chart.Figure {
			return []chart.Figure{skinFigure(page, res)}
		},
		tallest: onlyCut, above: 14 * chart.MM,
		colours: func(k *Cut) (*chart.Plane, Scale, float64) {
			return k.rise(), riseScale(k.res), 0.2 * k.res.Summary.Pad.HighestRiseK
		},
		electrode: (*Cut).pad, sketch: (*Cut).limit, parts: (*Cut).padParts, depths: depthOnly, legend: riseLegend,
		surface: "surface", where: "under the middle of the pad", warmC: 45,
		burns:  func(res *thermal.Result) bool { return phrase.Finite(res.Summary.InjuryDepthM) > 0 },
		course: riseCourse,
	}
}

// riseLegend explains the line of the standard's limit.
func riseLegend(res *thermal.Result, entry func(string, func(*chart.Panel))) {
	if res.Summary.Pad.HighestRiseK > phrase.RiseLimitK {
		entry("rise of 6 K", func(p *chart.Panel) { p.Line(chart.LimitLine, chart.Point{X: 0, Y: 0.5}, chart.Point{X: 1, Y: 0.5}) })
	}
}

// riseCourse draws the rise that is judged, which is not under the middle of the pad.
func riseCourse(res *thermal.Result, endS float64, next func(bottom, top float64) *chart.Panel) *chart.Panel {
	rise := []chart.Curve{{Name: "", Style: chart.LineStyles[0], Pts: trace(res.History, func(s thermal.Sample) float64 { return s.MeanRiseK }), Mark: 0}}
	_, top := spread(rise, 0, phrase.RiseLimitK)
	p := next(0, top)
	p.Line(chart.LimitLine, chart.Point{X: 0, Y: phrase.RiseLimitK}, chart.Point{X: endS, Y: phrase.RiseLimitK})
	p.Curves("mean rise (K)", 5, rise)
	beside, over := chart.TextStyle(p.Page.Note, chart.Soft, text.XLeft, text.YTop), "over the hottest 1 cm² of skin"
	if at := p.Max.X + 3*chart.MM; p.Page.Narrow() {
		p.Remark(over)
	} else {
		p.FillText(beside, vg.Point{X: at, Y: p.Max.Y}, chart.WrappedTo(beside, p.Page.W-at-1*chart.MM, over))
	}
	p.FillText(chart.TextStyle(p.Page.Note, chart.Ink, text.XLeft, text.YBottom), p.Pt(chart.Point{X: 0, Y: phrase.RiseLimitK}).Add(vg.Point{X: 1.5 * chart.MM, Y: 0.8 * chart.MM}), "6 K over 1 cm²")
	return p
}

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
	s := chart.TextStyle(p.Page.Note, chart.Ink, text.XCenter, text.YCenter)
	name := "neutral electrode"
	if phrase.ContactCM2(k.res.Case) < math.Pi*whole*whole/100*(1-1e-6) {
		name += " (black: in contact)"
	}
	p.FillText(s, vg.Point{X: p.Px(0), Y: p.Py((back+face)/2) + 0.3*chart.MM}, name)
	k.limit(p)
}

// limit draws the line of 6 K.
func (k *Cut) limit(p *chart.Panel) {
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
	s := chart.TextStyle(p.Page.Note, chart.Ink, text.XCenter, text.YBottom)
	x := (a + b) / 2
	if right := x + s.Width(note)/2; right > p.Max.X-1*chart.MM {
		x -= right - p.Max.X + 1*chart.MM
	}
	p.FillText(s, vg.Point{X: x, Y: y + 0.7*chart.MM}, note)
}

// padParts adds the pad and the lines of the rise that the standard allows.
func (k *Cut) padParts(p *Parts) {
	p.Metal, p.Contact = k.padAreas((k.Head + k.Z1) / 50)
	p.Limit = k.Shown.Isoline(phrase.RiseLimitK)
}

// padAreas returns a neutral electrode on the skin and what of it touches; unit is a length, mm, that suits the drawing.
func (k *Cut) padAreas(unit float64) (metal, contact [][]chart.Point) {
	e := k.res.Case.Electrode
	whole, outer, inner := 1e3*e.TipRadiusM, 1e3*e.ContactRadiusM, 1e3*e.InnerRadiusM()
	back, face := padBack*unit, padFace*unit
	box := func(x0, x1, y0, y1 float64) []chart.Point {
		return []chart.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}, {X: x0, Y: y0}}
	}
	contact = [][]chart.Point{box(-outer, outer, face, 0)}
	if inner > 0 {
		contact = [][]chart.Point{box(-outer, -inner, face, 0), box(inner, outer, face, 0)}
	}
	return [][]chart.Point{box(-whole, whole, back, face)}, contact
}

// Back and face of a pad above the skin, in the unit of padAreas.
const padBack, padFace = -5.6, -1.3
