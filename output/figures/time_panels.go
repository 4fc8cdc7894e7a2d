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

// timePanels are the panels of the time course, one below the other over the same time.
type timePanels struct {
	canvas draw.Canvas
	res    *thermal.Result
	rhythm rhythm
	endS   float64
	ticks  []float64
	width  vg.Length
	y      vg.Length // lower end of the panel drawn last, and the gap below it
}

func newTimePanels(c draw.Canvas, res *thermal.Result, y vg.Length) *timePanels {
	const rightWidth = 48 * chart.MM
	s := &timePanels{canvas: c, res: res, width: chart.WallWidth - chart.MarginLeft - rightWidth, y: y}
	for _, row := range res.History {
		s.endS = math.Max(s.endS, row.TimeS)
	}
	if s.endS == 0 {
		s.endS = 1
	}
	s.rhythm = newRhythm(res, s.width/vg.Length(s.endS))
	s.ticks = chart.Ticks(0, s.endS, 8)
	return s
}

// next places a panel below those before it.
func (s *timePanels) next(height vg.Length, bottom, top float64) *chart.Panel {
	s.y -= height
	p := chart.NewPanel(s.canvas, chart.MarginLeft, s.y, s.width, height, 0, s.endS, bottom, top)
	s.y -= timeGap
	shadeRhythm(p, s.rhythm)
	return p
}

// axis draws the axis of time under a panel; the lowest one names it.
func (s *timePanels) axis(p *chart.Panel, label string) { p.AxisX(label, s.ticks, phrase.TickText) }

// temperatures draws a curve for each border that is shown.
func (s *timePanels) temperatures(own scene) {
	var series []chart.Curve
	for i, n := range slices.Backward(shownBorders(s.res.Case)) { // the surface, drawn last, lies on top
		series = append(series, chart.Curve{Name: borderName(s.res.Case, n), Style: chart.LineStyles[i],
			Pts: trace(s.res.History, func(row thermal.Sample) float64 { return phrase.At(row.BorderC, n) }), Mark: 0})
	}
	low, high := spread(series, s.res.Case.Body.TemperatureC, own.warmC)
	hot, hottest := offScale(series)
	if len(hot) > 0 {
		high = chart.HottestShownC + 10
	}
	p := s.next(tempHeight, low, high)
	p.Curves("temperature (°C)", 7, series)
	if len(hot) > 0 {
		style := chart.TextStyle(chart.NoteSize, chart.Soft, text.XRight, text.YBottom)
		txt, room := "hotter than shown: "+strings.Join(hot, ", "), p.Max.X-p.Min.X-27*chart.MM
		if style.Width(txt) > room {
			txt = fmt.Sprintf("hotter than shown: %d lines, up to %.0f °C", len(hot), hottest)
		}
		p.FillText(style, vg.Point{X: p.Max.X, Y: p.Max.Y + 0.8*chart.MM}, chart.Fit(style, room, txt))
	}
	p.Remark("shaded: current on")
	p.FillText(chart.TextStyle(chart.NoteSize, chart.Soft, text.XLeft, text.YBottom), vg.Point{X: p.Max.X + 3*chart.MM, Y: p.Max.Y + 0.8*chart.MM}, own.where)
	s.axis(p, "")
}

// power draws the power into the tissue, beside that at the terminals and that set, and when sparks were part of it.
func (s *timePanels) power() {
	power := []chart.Curve{{Name: "in the tissue", Style: s.rhythm.line, Pts: s.rhythm.power, Mark: 0}}
	power = append(power, fromSource(s.res, s.rhythm, s.width/vg.Length(s.endS))...)
	if len(power) == 1 {
		power[0].Name = "power"
	}
	low, high := spread(power, 0, 1)
	if s.res.Summary.SparkShare > 0 {
		high *= 1.15 // room for their mark
	}
	p := s.next(rowHeight, low, high)
	p.Curves("power (W)", 4, power)
	p.Remark(s.rhythm.powerNote)
	markSparks(p, s.rhythm.rows)
	s.axis(p, "")
}

// resistance draws what the source sees, in ohm or kilo-ohm.
func (s *timePanels) resistance(time string) {
	ohms := []chart.Curve{{Name: "resistance", Style: s.rhythm.line, Pts: trace(s.rhythm.rows, func(row thermal.Sample) float64 { return row.ResistanceOhm }), Mark: 0}}
	unit := "ohm"
	if _, most := spread(ohms, 0, 1); most >= 1000 {
		unit = "kohm"
		for n := range ohms[0].Pts {
			ohms[0].Pts[n].Y /= 1000
		}
	}
	low, high := spread(ohms, 0, 1)
	p := s.next(rowHeight, low, high)
	p.Curves("resistance ("+unit+")", 4, ohms)
	p.Remark(s.rhythm.rowsNote)
	s.axis(p, time)
}

// depth draws the injury growing downwards through the layers.
func (s *timePanels) depth(time string) {
	wall := 1e3 * s.res.Case.WallM()
	depth := []chart.Curve{{Name: "injury depth", Style: chart.LineStyles[0], Pts: trace(s.res.History, func(row thermal.Sample) float64 { return 1e3 * row.DepthM }), Mark: 0}}
	deepest := 1e3 * phrase.Finite(s.res.Summary.InjuryDepthM)
	p := s.next(deepHeight, math.Max(wall*1.08, deepest*1.05), 0)
	layerBands(p, s.res.Case)
	p.Curves("injury depth (mm)", 5, depth)
	if deepest > 0 {
		style := chart.TextStyle(chart.FigureSize, chart.Ink, text.XRight, text.YCenter)
		y := p.Py(deepest) + 3*chart.MM // above the line, or below where there is no room
		if y > p.Max.Y-2*chart.MM {
			y -= 6 * chart.MM
		}
		p.Say(style, chart.Point{X: s.endS, Y: p.Back(y)}, -2*chart.MM, fmt.Sprintf("%.2f mm", deepest))
	}
	s.axis(p, time)
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
