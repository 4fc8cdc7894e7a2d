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
	page    chart.Page
	canvas  draw.Canvas
	res     *thermal.Result
	rhythm  rhythm
	endS    float64
	ticks   []float64
	width   vg.Length
	stretch vg.Length // of the height of panels
	y       vg.Length // lower end of the panel drawn last, and the gap below it
}

// timeWidth is how wide the panels are; names stand beside them where there is room.
func timeWidth(page chart.Page) vg.Length {
	if page.Narrow() {
		return page.W - page.Left() - 4*chart.MM
	}
	return page.W - page.Left() - 48*chart.MM
}

func newTimePanels(page chart.Page, c draw.Canvas, res *thermal.Result, y vg.Length) *timePanels {
	s := &timePanels{page: page, canvas: c, res: res, width: timeWidth(page), stretch: 1, y: y}
	for _, row := range res.History {
		s.endS = math.Max(s.endS, row.TimeS)
	}
	if s.endS == 0 {
		s.endS = 1
	}
	s.rhythm = newRhythm(res, s.width/vg.Length(s.endS))
	s.ticks = chart.Ticks(0, s.endS, 8)
	if page.Narrow() {
		s.ticks = chart.Ticks(0, s.endS, 5)
	}
	return s
}

// next places a panel below those before it.
func (s *timePanels) next(height vg.Length, bottom, top float64) *chart.Panel {
	height *= s.stretch
	s.y -= height
	p := chart.NewPanel(s.page, s.canvas, s.page.Left(), s.y, s.width, height, 0, s.endS, bottom, top)
	s.y -= timeGap
	shadeRhythm(p, s.rhythm)
	return p
}

// axis draws the axis of time under a panel; the lowest one names it.
func (s *timePanels) axis(p *chart.Panel, label string) { p.AxisX(label, s.ticks, phrase.TickText) }

// borderCurves returns a curve for each border that is shown, the surface last.
func borderCurves(res *thermal.Result) (series []chart.Curve) {
	for i, n := range slices.Backward(shownBorders(res.Case)) {
		series = append(series, chart.Curve{Name: borderName(res.Case, n), Style: chart.LineStyles[i],
			Pts: trace(res.History, func(row thermal.Sample) float64 { return phrase.At(row.BorderC, n) }), Mark: 0})
	}
	return series
}

// tempAbove is the room above the temperatures on a page that has none beside them.
func tempAbove(page chart.Page, res *thermal.Result) vg.Length {
	if !page.Narrow() {
		return 0
	}
	lines := len(chart.Wrapped(tempNote(page), timeWidth(page), tempRemark(res, timeWidth(page), page)))
	curves := borderCurves(res)
	slices.Reverse(curves)
	return page.CurveKey(nil, 0, 0, timeWidth(page), curves) + vg.Length(lines)*page.NoteLine()
}

func tempNote(page chart.Page) text.Style {
	return chart.TextStyle(page.Note, chart.Soft, text.XLeft, text.YTop)
}

// tempRemark says on a narrow page what stands beside and above the temperatures on others.
func tempRemark(res *thermal.Result, room vg.Length, page chart.Page) string {
	txt := "Shaded: current on; temperatures " + sceneOf(res).where + "."
	if hot, hottest := offScale(borderCurves(res)); len(hot) > 0 {
		txt += " " + phrase.Capital(hotter(hot, hottest, 2*room, tempNote(page))) + "."
	}
	return txt
}

// hotter names what is hotter than the scale, in no more than a room where that is possible.
func hotter(hot []string, hottest float64, room vg.Length, s text.Style) string {
	txt := "hotter than shown: " + strings.Join(hot, ", ")
	if s.Width(txt) > room {
		txt = fmt.Sprintf("hotter than shown: %d lines, up to %.0f °C", len(hot), hottest)
	}
	return txt
}

// temperatures draws a curve for each border that is shown.
func (s *timePanels) temperatures(label string) {
	own, series := sceneOf(s.res), borderCurves(s.res)
	low, high := spread(series, s.res.Case.Body.TemperatureC, own.warmC)
	hot, hottest := offScale(series)
	if len(hot) > 0 {
		high = chart.HottestShownC + 10
	}
	p := s.next(tempHeight, low, high)
	p.Curves("temperature (°C)", 7, series)
	if s.page.Narrow() {
		y := p.Max.Y + tempAbove(s.page, s.res)
		p.FillText(tempNote(s.page), vg.Point{X: p.Min.X, Y: y}, chart.WrappedTo(tempNote(s.page), s.width, tempRemark(s.res, s.width, s.page)))
		slices.Reverse(series) // from the surface down
		s.page.CurveKey(&p.Canvas, p.Min.X, p.Max.Y+s.page.CurveKey(nil, 0, 0, s.width, series)+0.6*chart.MM, s.width, series)
		s.axis(p, label)
		return
	}
	if len(hot) > 0 {
		style := chart.TextStyle(s.page.Note, chart.Soft, text.XRight, text.YBottom)
		p.FillText(style, vg.Point{X: p.Max.X, Y: p.Max.Y + 0.8*chart.MM}, hotter(hot, hottest, p.Max.X-p.Min.X-style.Width("shaded: current on")-4*chart.MM, style))
	}
	p.Remark("shaded: current on")
	beside := chart.TextStyle(s.page.Note, chart.Soft, text.XLeft, text.YBottom)
	p.FillText(beside, vg.Point{X: p.Max.X + 3*chart.MM, Y: p.Max.Y + 0.8*chart.MM}, chart.WrappedTo(beside, s.page.W-p.Max.X-4*chart.MM, own.where))
	s.axis(p, label)
}

// power draws the power into the tissue, beside that at the terminals and that set, and when sparks were part of it.
func (s *timePanels) power(label string) {
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
	s.axis(p, label)
}

// resistance draws what the source sees, in ohm or kilo-ohm.
func (s *timePanels) resistance(label string) {
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
	s.axis(p, label)
}

// depth draws the injury growing downwards through the layers.
func (s *timePanels) depth(label string) {
	wall := 1e3 * s.res.Case.WallM()
	depth := []chart.Curve{{Name: "injury depth", Style: chart.LineStyles[0], Pts: trace(s.res.History, func(row thermal.Sample) float64 { return 1e3 * row.DepthM }), Mark: 0}}
	deepest := 1e3 * phrase.Finite(s.res.Summary.InjuryDepthM)
	p := s.next(deepHeight, math.Max(wall*1.08, deepest*1.05), 0)
	layerBands(p, s.res.Case)
	p.Curves("injury depth (mm)", 5, depth)
	if deepest > 0 {
		style := chart.TextStyle(p.Page.Figure, chart.Ink, text.XRight, text.YCenter)
		y := p.Py(deepest) + 3*chart.MM // above the line, or below where there is no room
		if y > p.Max.Y-2*chart.MM {
			y -= 6 * chart.MM
		}
		at := chart.Point{X: s.endS, Y: p.Back(y)}
		if s.page.Narrow() { // the names of the layers stand at the right
			at.X, style.XAlign = 0.3*s.endS, text.XCenter
			p.Line(chart.Stroke(chart.Ink, 0.6, 2, 2), chart.Point{X: 0, Y: deepest}, chart.Point{X: s.endS, Y: deepest})
		}
		p.Say(style, at, -2*chart.MM, fmt.Sprintf("%.2f mm", deepest))
	}
	s.axis(p, label)
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
	p.Near(names, 45*chart.MM)
}
