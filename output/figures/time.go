package figures

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// timeFigure draws the time course: temperatures at the borders of the layers
// under the electrode, power with its sparks and resistance, and the injury growing
// downwards through the layers.
func timeFigure(res *thermal.Result) chart.Figure {
	const (
		rightWidth = 48 * chart.MM
		gap        = 4 * chart.MM
		tempH      = 44 * chart.MM
		smallH     = 24 * chart.MM
		depthH     = 34 * chart.MM
	)
	head := chart.NewHead(res.Case.Title, []string{strings.TrimSpace(phrase.Verdict(res) + " " + phrase.CutVerdict(res))}, phrase.Setting(res))
	total := head.Height() + 4*chart.MM + tempH + 2*smallH + 2*gap + chart.AxisHeight + 7*chart.MM
	own := sceneOf(res)
	burns := own.burns(res)
	if own.course != nil {
		total += depthH + gap
	}
	if burns {
		total += depthH + gap
	}
	return chart.Figure{Name: "timecourse", W: chart.WallWidth, H: total, Draw: func(c draw.Canvas) {
		head.Draw(c)
		h, end := res.History, 0.0
		for _, s := range h {
			end = math.Max(end, s.TimeS)
		}
		if end == 0 {
			end = 1
		}
		const width = chart.WallWidth - chart.MarginLeft - rightWidth
		rhythm := newRhythm(res, width/vg.Length(end))
		y := c.Max.Y - head.Height() - 4*chart.MM
		next := func(height vg.Length, bottom, top float64) *chart.Panel {
			y -= height
			p := chart.NewPanel(c, chart.MarginLeft, y, width, height, 0, end, bottom, top)
			y -= gap
			shadeRhythm(p, rhythm)
			return p
		}
		when := chart.Ticks(0, end, 8)

		var series []chart.Curve
		shown := shownBorders(res.Case)
		for i, n := range slices.Backward(shown) { // the surface, drawn last, lies on top
			series = append(series, chart.Curve{Name: borderName(res.Case, n), Style: chart.LineStyles[i],
				Pts: trace(h, func(s thermal.Sample) float64 { return phrase.At(s.BorderC, n) }), Mark: 0})
		}
		low, high := spread(series, res.Case.Body.TemperatureC, own.warmC)
		hot, hottest := offScale(series)
		if len(hot) > 0 {
			high = chart.HottestShownC + 10
		}
		p := next(tempH, low, high)
		p.Curves("temperature (°C)", 7, series)
		if len(hot) > 0 {
			s := chart.TextStyle(chart.NoteSize, chart.Soft, text.XRight, text.YBottom)
			txt, room := "hotter than shown: "+strings.Join(hot, ", "), p.Max.X-p.Min.X-27*chart.MM
			if s.Width(txt) > room {
				txt = fmt.Sprintf("hotter than shown: %d lines, up to %.0f °C", len(hot), hottest)
			}
			p.FillText(s, vg.Point{X: p.Max.X, Y: p.Max.Y + 0.8*chart.MM}, chart.Fit(s, room, txt))
		}
		p.Remark("shaded: current on")
		p.FillText(chart.TextStyle(chart.NoteSize, chart.Soft, text.XLeft, text.YBottom), vg.Point{X: p.Max.X + 3*chart.MM, Y: p.Max.Y + 0.8*chart.MM}, own.where)
		p.AxisX("", when, phrase.TickText)

		if own.course != nil {
			p = own.course(res, end, func(bottom, top float64) *chart.Panel { return next(depthH, bottom, top) })
			p.AxisX("", when, phrase.TickText)
		}

		power := []chart.Curve{{Name: "power", Style: rhythm.line, Pts: rhythm.power, Mark: 0}}
		low, high = spread(power, 0, 1)
		if res.Summary.SparkShare > 0 {
			high *= 1.15 // room for their mark
		}
		p = next(smallH, low, high)
		p.Curves("power (W)", 4, power)
		p.Remark(rhythm.powerNote)
		markSparks(p, rhythm.rows)
		p.AxisX("", when, phrase.TickText)

		ohms := []chart.Curve{{Name: "resistance", Style: rhythm.line, Pts: trace(rhythm.rows, func(s thermal.Sample) float64 { return s.ResistanceOhm }), Mark: 0}}
		unit := "ohm"
		if _, most := spread(ohms, 0, 1); most >= 1000 {
			unit = "kohm"
			for n := range ohms[0].Pts {
				ohms[0].Pts[n].Y /= 1000
			}
		}
		low, high = spread(ohms, 0, 1)
		p = next(smallH, low, high)
		p.Curves("resistance ("+unit+")", 4, ohms)
		p.Remark(rhythm.rowsNote)
		if !burns { // there is nothing to draw a depth of
			p.AxisX("time (s)", when, phrase.TickText)
			chart.Caption(c)
			return
		}
		p.AxisX("", when, phrase.TickText)

		wall := 1e3 * res.Case.WallM()
		depth := []chart.Curve{{Name: "injury depth", Style: chart.LineStyles[0], Pts: trace(h, func(s thermal.Sample) float64 { return 1e3 * s.DepthM }), Mark: 0}}
		deepest := 1e3 * phrase.Finite(res.Summary.InjuryDepthM)
		p = next(depthH, math.Max(wall*1.08, deepest*1.05), 0)
		layerBands(p, res.Case)
		p.Curves("injury depth (mm)", 5, depth)
		if deepest > 0 {
			s := chart.TextStyle(chart.FigureSize, chart.Ink, text.XRight, text.YCenter)
			y := p.Py(deepest) + 3*chart.MM // above the line, or below where there is no room
			if y > p.Max.Y-2*chart.MM {
				y -= 6 * chart.MM
			}
			p.Say(s, chart.Point{X: end, Y: p.Back(y)}, -2*chart.MM, fmt.Sprintf("%.2f mm", deepest))
		}
		p.AxisX("time (s)", when, phrase.TickText)
		chart.Caption(c)
	}}
}

// shownBorders returns which borders the time course shows, from the surface down:
// all, or if there are more than lines can be told apart, the surface, the outer
// surface and those on top of the thickest layers between.
func shownBorders(c *thermal.Case) []int {
	shown := make([]int, len(c.Borders()))
	for n := range shown {
		shown[n] = n
	}
	for len(shown) > len(chart.LineStyles) {
		thinnest := 1
		for i := range shown[1 : len(shown)-1] {
			if wall := c.Layers[above(c):]; wall[shown[i+1]].ThicknessM < wall[shown[thinnest]].ThicknessM {
				thinnest = i + 1
			}
		}
		shown = slices.Delete(shown, thinnest, thinnest+1)
	}
	return shown
}

// borderName names border n for a reader; columns have the name with a hyphen, which
// layers may have in theirs.
func borderName(c *thermal.Case, n int) string {
	switch borders := c.Borders(); {
	case n == 0:
		return scenes[c.Scene()].surface
	case n == len(borders)-1 && borders[n].Name == "outer-surface":
		return "outer surface"
	}
	below := n + above(c)
	return c.Layers[below-1].Name + " / " + c.Layers[below].Name
}

// above returns how many layers rise from the wall.
func above(c *thermal.Case) int {
	n := 0
	for n < len(c.Layers) && c.Layers[n].Above {
		n++
	}
	return n
}

func trace(h []thermal.Sample, value func(thermal.Sample) float64) []chart.Point {
	out := make([]chart.Point, len(h))
	for n, s := range h {
		out[n] = chart.Point{X: s.TimeS, Y: value(s)}
	}
	return out
}

// spread returns a range that holds lo, hi and all values, with a little air above.
func spread(cs []chart.Curve, lo, hi float64) (float64, float64) {
	for _, c := range cs {
		for _, q := range c.Pts {
			if !math.IsNaN(q.Y) && !math.IsInf(q.Y, 0) {
				lo, hi = math.Min(lo, q.Y), math.Max(hi, q.Y)
			}
		}
	}
	return lo, hi + 0.07*(hi-lo)
}

// offScale names the curves that go above the scale and how far, surface first, and
// returns the hottest temperature.
func offScale(cs []chart.Curve) (out []string, hottest float64) {
	for n := len(cs) - 1; n >= 0; n-- { // drawn in reverse
		top := 0.0
		for _, q := range cs[n].Pts {
			if q.Y > top { // false if not a number
				top = q.Y
			}
		}
		if top > chart.HottestShownC+1 {
			out = append(out, fmt.Sprintf("%s %.0f °C", cs[n].Name, top))
			hottest = math.Max(hottest, top)
		}
	}
	return out, hottest
}

// layerBands shades the layers in turn and names them at the right.
func layerBands(p *chart.Panel, c *thermal.Case) {
	var names []chart.Label
	top := 0.0
	for n, l := range c.Layers[above(c):] {
		bottom := top + 1e3*l.ThicknessM
		if top >= p.Bottom {
			break
		}
		shade := chart.BandShades[n%2]
		if l.Beyond {
			shade = chart.BeyondShade
		}
		p.Area(shade, chart.Point{X: p.Left, Y: top}, chart.Point{X: p.Right, Y: top}, chart.Point{X: p.Right, Y: bottom}, chart.Point{X: p.Left, Y: bottom})
		if top > 0 {
			p.Line(chart.Stroke(chart.Soft, 0.6), chart.Point{X: p.Left, Y: top}, chart.Point{X: p.Right, Y: top})
		}
		names = append(names, chart.Label{Text: l.Name, Colour: chart.Ink, Top: top, Bottom: math.Min(bottom, p.Bottom)})
		top = bottom
	}
	p.Beside(names, 45*chart.MM)
}
