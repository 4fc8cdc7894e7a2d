package output

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/thermal"
)

// Lines are told apart by dash and by lightness, so also in grey.
var lineStyles = []draw.LineStyle{
	stroke(color.NRGBA{0x16, 0x0b, 0x26, 0xff}, 1.8),
	stroke(color.NRGBA{0x96, 0x28, 0x4f, 0xff}, 1.8, 6, 2),
	stroke(color.NRGBA{0xd0, 0x54, 0x3f, 0xff}, 1.8, 2, 2),
	stroke(color.NRGBA{0x3b, 0x5b, 0x8c, 0xff}, 1.8, 8, 2, 2, 2),
	stroke(color.NRGBA{0x1c, 0x1c, 0x1c, 0xff}, 1.0),
	stroke(color.NRGBA{0x60, 0x60, 0x60, 0xff}, 1.4, 4, 3),
}

// timeFigure draws the time course: temperatures at the borders of the layers
// under the electrode, power with its sparks and resistance, and the injury growing
// downwards through the layers.
func timeFigure(res *thermal.Result) figure {
	const (
		rightWidth = 48 * mm
		gap        = 4 * mm
		tempH      = 44 * mm
		smallH     = 24 * mm
		depthH     = 34 * mm
	)
	head := newHead(res.Case.Title, []string{strings.TrimSpace(verdict(res) + " " + cutVerdict(res))}, setting(res))
	total := head.height() + 4*mm + tempH + 2*smallH + 2*gap + axisHeight + 7*mm
	warm, where, burns := 60.0, "at borders under the electrode", true
	pad := res.Case.Electrode.Tip == thermal.Pad
	if pad {
		warm, where, burns = 45, "under the middle of the pad", finite(res.Summary.InjuryDepthM) > 0
		total += depthH + gap
	}
	if burns {
		total += depthH + gap
	}
	return figure{"timecourse", wallWidth, total, func(c draw.Canvas) {
		head.draw(c)
		h, end := res.History, 0.0
		for _, s := range h {
			end = math.Max(end, s.TimeS)
		}
		if end == 0 {
			end = 1
		}
		const width = wallWidth - marginLeft - rightWidth
		rhythm := newRhythm(res, width/vg.Length(end))
		y := c.Max.Y - head.height() - 4*mm
		next := func(height vg.Length, bottom, top float64) *panel {
			y -= height
			p := newPanel(c, marginLeft, y, width, height, 0, end, bottom, top)
			y -= gap
			p.shade(rhythm)
			return p
		}
		when := ticks(0, end, 8)

		var series []curve
		shown := shownBorders(res.Case)
		for i, n := range slices.Backward(shown) { // the surface, drawn last, lies on top
			series = append(series, curve{borderName(res.Case, n), lineStyles[i],
				trace(h, func(s thermal.Sample) float64 { return at(s.BorderC, n) }), 0})
		}
		low, high := spread(series, res.Case.Body.TemperatureC, warm)
		hot, hottest := offScale(series)
		if len(hot) > 0 {
			high = hottestShownC + 10
		}
		p := next(tempH, low, high)
		p.curves("temperature (°C)", 7, series)
		if len(hot) > 0 {
			s := words(noteSize, soft, text.XRight, text.YBottom)
			txt, room := "hotter than shown: "+strings.Join(hot, ", "), p.Max.X-p.Min.X-27*mm
			if s.Width(txt) > room {
				txt = fmt.Sprintf("hotter than shown: %d lines, up to %.0f °C", len(hot), hottest)
			}
			p.FillText(s, vg.Point{X: p.Max.X, Y: p.Max.Y + 0.8*mm}, fit(s, room, txt))
		}
		p.remark("shaded: current on")
		p.FillText(words(noteSize, soft, text.XLeft, text.YBottom), vg.Point{X: p.Max.X + 3*mm, Y: p.Max.Y + 0.8*mm}, where)
		p.axisX("", when, tickText)

		if pad { // the rise that is judged is not under the middle
			rise := []curve{{"", lineStyles[0], trace(h, func(s thermal.Sample) float64 { return s.MeanRiseK }), 0}}
			_, top := spread(rise, 0, riseLimitK)
			p = next(depthH, 0, top)
			p.line(limitLine, point{0, riseLimitK}, point{end, riseLimitK})
			p.curves("mean rise (K)", 5, rise)
			p.FillText(words(noteSize, soft, text.XLeft, text.YTop), vg.Point{X: p.Max.X + 3*mm, Y: p.Max.Y}, "over the hottest 1 cm² of skin")
			p.FillText(words(noteSize, ink, text.XLeft, text.YBottom), p.pt(point{0, riseLimitK}).Add(vg.Point{X: 1.5 * mm, Y: 0.8 * mm}), "6 K over 1 cm²")
			p.axisX("", when, tickText)
		}

		power := []curve{{"power", rhythm.line, rhythm.power, 0}}
		low, high = spread(power, 0, 1)
		if res.Summary.SparkShare > 0 {
			high *= 1.15 // room for their mark
		}
		p = next(smallH, low, high)
		p.curves("power (W)", 4, power)
		p.remark(rhythm.powerNote)
		p.sparks(rhythm.rows)
		p.axisX("", when, tickText)

		ohms := []curve{{"resistance", rhythm.line, trace(rhythm.rows, func(s thermal.Sample) float64 { return s.ResistanceOhm }), 0}}
		unit := "ohm"
		if _, most := spread(ohms, 0, 1); most >= 1000 {
			unit = "kohm"
			for n := range ohms[0].pts {
				ohms[0].pts[n].y /= 1000
			}
		}
		low, high = spread(ohms, 0, 1)
		p = next(smallH, low, high)
		p.curves("resistance ("+unit+")", 4, ohms)
		p.remark(rhythm.rowsNote)
		if !burns { // there is nothing to draw a depth of
			p.axisX("time (s)", when, tickText)
			caption(c)
			return
		}
		p.axisX("", when, tickText)

		wall := 1e3 * res.Case.WallM()
		depth := []curve{{"injury depth", lineStyles[0], trace(h, func(s thermal.Sample) float64 { return 1e3 * s.DepthM }), 0}}
		deepest := 1e3 * finite(res.Summary.InjuryDepthM)
		p = next(depthH, math.Max(wall*1.08, deepest*1.05), 0)
		p.bands(res.Case)
		p.curves("injury depth (mm)", 5, depth)
		if deepest > 0 {
			s := words(figureSize, ink, text.XRight, text.YCenter)
			y := p.py(deepest) + 3*mm // above the line, or below where there is no room
			if y > p.Max.Y-2*mm {
				y -= 6 * mm
			}
			p.say(s, point{end, p.back(y)}, -2*mm, fmt.Sprintf("%.2f mm", deepest))
		}
		p.axisX("time (s)", when, tickText)
		caption(c)
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
	for len(shown) > len(lineStyles) {
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
	case n == 0 && c.Electrode.Tip == thermal.Loop:
		return "base of the stalk"
	case n == 0:
		return "surface"
	case n == len(borders)-1 && c.Electrode.Tip != thermal.Pad:
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

// curve is one named line of a time course.
type curve struct {
	name  string
	style draw.LineStyle
	pts   []point
	mark  int // of its points, from 1; 0: none
}

// bandShades are the layers of the wall in turn, beyondShade what lies beyond.
var (
	bandShades  = []color.NRGBA{{0xf6, 0xe7, 0xd6, 0xff}, {0xfc, 0xf6, 0xee, 0xff}}
	beyondShade = color.NRGBA{0xe4, 0xe4, 0xe4, 0xff}
)

func trace(h []thermal.Sample, value func(thermal.Sample) float64) []point {
	out := make([]point, len(h))
	for n, s := range h {
		out[n] = point{s.TimeS, value(s)}
	}
	return out
}

func at(v []float64, n int) float64 {
	if n < len(v) {
		return v[n]
	}
	return math.NaN()
}

// spread returns a range that holds lo, hi and all values, with a little air above.
func spread(cs []curve, lo, hi float64) (float64, float64) {
	for _, c := range cs {
		for _, q := range c.pts {
			if !math.IsNaN(q.y) && !math.IsInf(q.y, 0) {
				lo, hi = math.Min(lo, q.y), math.Max(hi, q.y)
			}
		}
	}
	return lo, hi + 0.07*(hi-lo)
}

// offScale names the curves that go above the scale and how far, surface first, and
// returns the hottest temperature.
func offScale(cs []curve) (out []string, hottest float64) {
	for n := len(cs) - 1; n >= 0; n-- { // drawn in reverse
		top := 0.0
		for _, q := range cs[n].pts {
			if q.y > top { // false if not a number
				top = q.y
			}
		}
		if top > hottestShownC+1 {
			out = append(out, fmt.Sprintf("%s %.0f °C", cs[n].name, top))
			hottest = math.Max(hottest, top)
		}
	}
	return out, hottest
}

// remark writes a small line above the panel.
func (p *panel) remark(txt string) {
	p.FillText(words(noteSize, soft, text.XLeft, text.YBottom), vg.Point{X: p.Min.X, Y: p.Max.Y + 0.8*mm}, txt)
}

// curves draws the lines, the axes, and each name at the end of its line.
func (p *panel) curves(label string, n int, cs []curve) {
	for _, c := range cs {
		var run []point // a gap where there is no value
		for _, q := range c.pts {
			if math.IsNaN(q.y) || math.IsInf(q.y, 0) {
				p.line(c.style, run...)
				run = nil
				continue
			}
			run = append(run, q)
		}
		p.line(c.style, run...)
	}
	p.frame()
	p.axisY(label, within(ticks(p.bottom, p.top, n), math.Min(p.bottom, p.top), math.Max(p.bottom, p.top)))
	if len(cs) > 1 {
		p.names(cs)
	}
}

// names writes the name of each curve where it ends, moved apart where they meet.
func (p *panel) names(cs []curve) {
	type name struct {
		curve
		end, placed vg.Length
	}
	var names []name
	for _, c := range cs {
		for n := len(c.pts) - 1; n >= 0; n-- {
			if y := c.pts[n].y; !math.IsNaN(y) && !math.IsInf(y, 0) {
				names = append(names, name{c, p.py(y), p.py(y)})
				break
			}
		}
	}
	// From the top downwards; equal ends keep the order surface first.
	for a := 1; a < len(names); a++ {
		for b := a; b > 0 && names[b].end >= names[b-1].end; b-- {
			names[b], names[b-1] = names[b-1], names[b]
		}
	}
	const nameWidth = 36 * mm
	at := make([]vg.Length, len(names))
	for n := range names {
		at[n] = names[n].end
	}
	apart(at, 4.3*mm, p.Min.Y+1*mm, p.Max.Y-1.5*mm)
	for n, m := range names {
		s := words(wordSize, ink, text.XLeft, text.YCenter)
		x := p.Max.X
		p.StrokeLines(stroke(soft, 0.5), []vg.Point{{X: x, Y: m.end}, {X: x + 2.5*mm, Y: at[n]}})
		p.StrokeLine2(m.style, x+3*mm, at[n], x+10*mm, at[n])
		if m.mark > 0 {
			mark(p.Canvas, m.mark, vg.Point{X: x + 6.5*mm, Y: at[n]})
		}
		if s.Width(m.name) > nameWidth {
			s.Font.Size = noteSize
		}
		p.FillText(s, vg.Point{X: x + 11*mm, Y: at[n]}, fit(s, nameWidth, m.name))
	}
}

// bands shades the layers in turn and names them at the right.
func (p *panel) bands(c *thermal.Case) {
	var names []label
	top := 0.0
	for n, l := range c.Layers[above(c):] {
		bottom := top + 1e3*l.ThicknessM
		if top >= p.bottom {
			break
		}
		shade := bandShades[n%2]
		if l.Beyond {
			shade = beyondShade
		}
		p.area(shade, point{p.left, top}, point{p.right, top}, point{p.right, bottom}, point{p.left, bottom})
		if top > 0 {
			p.line(stroke(soft, 0.6), point{p.left, top}, point{p.right, top})
		}
		names = append(names, label{l.Name, ink, top, math.Min(bottom, p.bottom)})
		top = bottom
	}
	p.beside(names, 45*mm)
}
