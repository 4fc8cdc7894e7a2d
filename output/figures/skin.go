package figures

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
)

// skinFigure draws the highest rise of the skin from the middle of a pad outwards: how much
// hotter the rim is, what touches, and the square centimetre by which a pad is judged.
func skinFigure(page chart.Page, res *thermal.Result) chart.Figure {
	height, right := 62*chart.MM, 12*chart.MM
	if page.Narrow() {
		right = 4 * chart.MM
	}
	c, sum := res.Case, res.Summary.Pad
	head, foot := page.Head(c.Title, []string{phrase.Verdict(res)}, phrase.Setting(res)), page.Foot(record.Marks(res))
	skin := Across(res, 0)
	rise := skin.rise()
	e, spotR := c.Electrode, 10/math.Sqrt(math.Pi)
	whole, outer, inner := 1e3*e.TipRadiusM, 1e3*e.ContactRadiusM, 1e3*e.InnerRadiusM()
	end := 1.45*whole + spotR // room for words beside the rim
	line := []chart.Point{{X: 0, Y: rise.At(0, skin.z[0])}}
	for n, x := range skin.x { // the first row: the top of the uppermost cells
		if x > 0 {
			line = append(line, chart.Point{X: x, Y: rise.V[n]})
		}
	}
	top := 1.3 * math.Max(phrase.RiseLimitK, sum.HighestRiseK)
	if page.Compact() {
		head = page.Head(c.Title, []string{phrase.Verdict(res)})
		height = page.H - head.Height() - 3*chart.MM - chart.AxisHeight - foot.Height()
	}
	return chart.Figure{Name: page.File("skin"), W: page.W, H: head.Height() + 3*chart.MM + height + chart.AxisHeight + foot.Height(), Shown: page.Shown, Draw: func(cv draw.Canvas) {
		head.Draw(cv)
		p := chart.NewPanel(page, cv, page.Left(), cv.Max.Y-head.Height()-3*chart.MM-height, page.W-page.Left()-right, height, 0, end, 0, top)
		chart.Stripe(p, chart.MuscleShade, top, phrase.RiseLimitK)
		p.Line(chart.LimitLine, chart.Point{X: 0, Y: phrase.RiseLimitK}, chart.Point{X: end, Y: phrase.RiseLimitK})
		s := chart.TextStyle(page.Note, chart.Ink, text.XRight, text.YBottom)
		p.FillText(s, vg.Point{X: p.Max.X - 1.5*chart.MM, Y: p.Py(phrase.RiseLimitK) + 0.8*chart.MM}, "6 K over 1 cm²")

		// The pad on its edge, what touches in black as in the cross-section.
		bar := func(shade draw.LineStyle, from, to float64) {
			p.StrokeLine2(shade, p.Px(from), p.Max.Y-3*chart.MM, p.Px(to), p.Max.Y-3*chart.MM)
		}
		bar(chart.Stroke(chart.Metal, 2.4*chart.MM), 0, whole)
		bar(chart.Stroke(chart.Ink, 1.2*chart.MM), inner, outer)
		s = chart.TextStyle(page.Note, chart.Ink, text.XLeft, text.YCenter)
		p.FillText(s, vg.Point{X: p.Px(whole) + 1.5*chart.MM, Y: p.Max.Y - 3*chart.MM}, "neutral electrode\n(black: in contact)")

		p.Line(chart.LineStyles[0], line...)
		at, from := 1e3*sum.MeanRiseAtM, 1e3*sum.MeanRiseAtM-spotR
		mean := chart.Stroke(chart.LineStyles[1].Color, 1.8)
		p.Line(mean, chart.Point{X: math.Max(from, 0), Y: sum.MeanRiseK}, chart.Point{X: at + spotR, Y: sum.MeanRiseK})
		for _, x := range []float64{from, at + spotR} {
			if x >= 0 {
				y := p.Py(sum.MeanRiseK)
				p.StrokeLine2(mean, p.Px(x), y-1.1*chart.MM, p.Px(x), y+1.1*chart.MM)
			}
		}
		s = chart.TextStyle(page.Word, chart.LineStyles[1].Color, text.XLeft, text.YBottom) // above the tail of the curve
		p.FillText(s, vg.Point{X: p.Px(at+spotR) + 1.5*chart.MM, Y: p.Py(sum.MeanRiseK)}, fmt.Sprintf("mean over 1 cm²: %s K", phrase.Short(sum.MeanRiseK)))
		p.Frame()
		p.AxisY("highest rise of the skin (K)", chart.Within(chart.Ticks(0, top, 7), 0, top))
		p.AxisX("distance from the middle of the pad (mm)", chart.Roomy(p, chart.Ticks(0, end, 9), phrase.TickText), phrase.TickText)
		foot.Draw(cv)
	}}
}
