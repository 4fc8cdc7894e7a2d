package output

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/thermal"
)

// skinFigure draws the highest rise of the skin from the middle of a pad outwards: how much
// hotter the rim is, what touches, and the square centimetre by which a pad is judged.
func skinFigure(res *thermal.Result) figure {
	const (
		height = 62 * mm
		right  = 12 * mm
	)
	c, sum := res.Case, res.Summary.Pad
	head := newHead(c.Title, []string{padVerdict(res)}, setting(res))
	skin := across(res, 0)
	rise := skin.rise()
	e, spotR := c.Electrode, 10/math.Sqrt(math.Pi)
	whole, outer, inner := 1e3*e.TipRadiusM, 1e3*e.ContactRadiusM, 1e3*e.InnerRadiusM
	end := 1.45*whole + spotR // room for words beside the rim
	line := []point{{0, rise.at(0, skin.z[0])}}
	for n, x := range skin.x { // the first row: the top of the uppermost cells
		if x > 0 {
			line = append(line, point{x, rise.v[n]})
		}
	}
	top := 1.3 * math.Max(riseLimitK, sum.HighestRiseK)
	return figure{"skin", wallWidth, head.height() + 3*mm + height + axisHeight + 7*mm, func(cv draw.Canvas) {
		head.draw(cv)
		p := newPanel(cv, marginLeft, cv.Max.Y-head.height()-3*mm-height, wallWidth-marginLeft-right, height, 0, end, 0, top)
		p.stripe(muscleShade, top, riseLimitK)
		p.line(limitLine, point{0, riseLimitK}, point{end, riseLimitK})
		s := words(noteSize, ink, text.XRight, text.YBottom)
		p.FillText(s, vg.Point{X: p.Max.X - 1.5*mm, Y: p.py(riseLimitK) + 0.8*mm}, "6 K over 1 cm²")

		// The pad on its edge, what touches in black as in the cross-section.
		bar := func(shade draw.LineStyle, from, to float64) {
			p.StrokeLine2(shade, p.px(from), p.Max.Y-3*mm, p.px(to), p.Max.Y-3*mm)
		}
		bar(stroke(metal, 2.4*mm), 0, whole)
		bar(stroke(ink, 1.2*mm), inner, outer)
		s = words(noteSize, ink, text.XLeft, text.YCenter)
		p.FillText(s, vg.Point{X: p.px(whole) + 1.5*mm, Y: p.Max.Y - 3*mm}, "neutral electrode\n(black: in contact)")

		p.line(lineStyles[0], line...)
		at, from := 1e3*sum.MeanRiseAtM, 1e3*sum.MeanRiseAtM-spotR
		mean := stroke(lineStyles[1].Color, 1.8)
		p.line(mean, point{math.Max(from, 0), sum.MeanRiseK}, point{at + spotR, sum.MeanRiseK})
		for _, x := range []float64{from, at + spotR} {
			if x >= 0 {
				y := p.py(sum.MeanRiseK)
				p.StrokeLine2(mean, p.px(x), y-1.1*mm, p.px(x), y+1.1*mm)
			}
		}
		s = words(wordSize, lineStyles[1].Color, text.XLeft, text.YBottom) // above the tail of the curve
		p.FillText(s, vg.Point{X: p.px(at+spotR) + 1.5*mm, Y: p.py(sum.MeanRiseK)}, fmt.Sprintf("mean over 1 cm²: %s K", short(sum.MeanRiseK)))
		p.frame()
		p.axisY("highest rise of the skin (K)", within(ticks(0, top, 7), 0, top))
		p.axisX("distance from the middle of the pad (mm)", ticks(0, end, 9), tickText)
		caption(cv)
	}}
}
