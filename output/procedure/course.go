package procedure

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

const (
	currentHeight = 26 * chart.MM
	riseHeight    = 44 * chart.MM
	labelLine     = 3.6 * chart.MM
	labelLines    = 4 // in which labels of steps take turns where they would meet
	courseWidth   = chart.WallWidth - chart.MarginLeft - 8*chart.MM
)

// coursePage is that of time courses.
var coursePage = chart.ForDocument

// Course draws the time course of each procedure: when current flows in which step, and how the skin under the neutral
// electrode warms.
func (r *Record) Course() (list []chart.Figure) {
	for n := range r.Procedures {
		if r.Procedures[n].PadResult != nil {
			list = append(list, r.course(n))
		}
	}
	return list
}

func (r *Record) course(n int) chart.Figure {
	l := &r.Procedures[n]
	name := "time-course"
	if len(r.Procedures) > 1 {
		name += fmt.Sprintf("-%c", 'a'+n)
	}
	t := l.totals()
	h := coursePage.Head(l.Title, []string{"Time course of the whole list"},
		[]string{fmt.Sprintf("%d activations", t.activations), fmt.Sprintf("%s s with current", phrase.Short(t.withCurrentS)), fmt.Sprintf("heating factor %s A² s", phrase.Short(t.heatingFactorA2S))},
		[]string{phrase.Verdict(l.PadResult)})
	foot := coursePage.Foot(record.Marks(l.PadResult))
	labels := vg.Length(l.label(chart.NewPanel(coursePage, draw.Canvas{}, chart.MarginLeft, 0, courseWidth, 1, 0, l.PadResult.Case.TotalS(), 0, 1), nil)) * labelLine
	height := h.Height() + labels + 2*chart.MM + currentHeight + 5*chart.MM + riseHeight + chart.AxisHeight + 2*chart.MM + foot.Height()
	return chart.Figure{Name: name, W: chart.WallWidth, H: height, Draw: func(c draw.Canvas) {
		h.Draw(c)
		p := l.PadResult
		end := p.Case.TotalS()
		y := c.Max.Y - h.Height() - labels - 2*chart.MM - currentHeight
		highest := 0.0
		for _, s := range p.Case.Drive.Course {
			highest = math.Max(highest, s.CurrentA)
		}
		flows := chart.NewPanel(coursePage, c, chart.MarginLeft, y, courseWidth, currentHeight, 0, end, 0, math.Max(1.1*highest, 0.01))
		l.bars(flows)
		flows.Frame()
		flows.AxisY("current (A RMS)", chart.Within(chart.Ticks(0, flows.Top, 4), 0, flows.Top))
		most, unit, per := p.Summary.Pad.MeanRiseK, "K", 1.0
		top, limit := 1.15*math.Max(most, phrase.RiseLimitK), "6 K over 1 cm²"
		if most < phrase.RiseLimitK/5 { // it would lie on the axis
			top, limit = math.Max(1.25*most, 0.001), fmt.Sprintf("limit of the standard's test: 6 K, %s times the highest rise here", phrase.Short(phrase.RiseLimitK/most))
		}
		if top < 0.2 {
			unit, per = "mK", 1000
		}
		skin := chart.NewPanel(coursePage, c, chart.MarginLeft, y-5*chart.MM-riseHeight, courseWidth, riseHeight, 0, end, 0, top*per)
		skin.Line(chart.LimitLine, chart.Point{X: 0, Y: phrase.RiseLimitK * per}, chart.Point{X: end, Y: phrase.RiseLimitK * per})
		skin.Curves(fmt.Sprintf("mean rise over 1 cm² (%s)", unit), 5, []chart.Curve{{Style: chart.LineStyles[0], Pts: riseOf(p, per)}})
		skin.FillText(chart.TextStyle(coursePage.Note, chart.Ink, text.XLeft, text.YBottom), skin.Pt(chart.Point{X: 0, Y: per * math.Min(phrase.RiseLimitK, 0.92*top)}).Add(vg.Point{X: 1.5 * chart.MM, Y: 0.8 * chart.MM}), limit)
		skin.AxisX("time (s)", chart.Within(chart.Ticks(0, end, 7), 0, end), phrase.DistanceText)
		foot.Draw(c)
	}}
}

// bars draws the current of each activation, each step under its title.
func (l *List) bars(p *chart.Panel) {
	at := 0.0
	for _, x := range l.PadResult.Case.Drive.Course {
		outline := []chart.Point{{X: at, Y: 0}, {X: at, Y: x.CurrentA}, {X: at + x.OnS, Y: x.CurrentA}, {X: at + x.OnS, Y: 0}}
		p.Area(chart.BarShade, outline...)
		p.Line(chart.Stroke(chart.Ink, 0.5), outline...)
		at += x.OnS + x.RestS
	}
	style := chart.TextStyle(coursePage.Note, chart.Ink, text.XLeft, text.YBottom)
	l.label(p, func(line int, x, from vg.Length, name string) {
		y := p.Max.Y + 0.8*chart.MM + vg.Length(line)*labelLine
		p.FillText(style, vg.Point{X: x, Y: y}, name)
		p.StrokeLine2(chart.Stroke(chart.Soft, 0.5), from, p.Min.Y, from, y)
	})
}

// label places the title of each step above its first activation, in as many lines as it takes, and returns how many.
func (l *List) label(p *chart.Panel, draw func(line int, x, from vg.Length, name string)) (lines int) {
	style := chart.TextStyle(coursePage.Note, chart.Ink, text.XLeft, text.YBottom)
	spans := l.PadResult.Case.Drive.Course
	var ends [labelLines]vg.Length // of the labels so far
	at, n := 0.0, 0
	for _, s := range l.Steps {
		if s.Times == 0 || n >= len(spans) {
			continue
		}
		name, from, line := fmt.Sprintf("%d %s", s.Number, s.Title), p.Px(at), 0
		x := min(from, p.Max.X-style.Width(name))
		for line < labelLines-1 && x < ends[line] {
			line++
		}
		ends[line], lines = x+style.Width(name)+2*chart.MM, max(lines, line+1)
		if draw != nil {
			draw(line, x, from, name)
		}
		for range min(s.activations(), len(spans)-n) {
			at += spans[n].OnS + spans[n].RestS
			n++
		}
	}
	return lines
}

// riseOf is the rise of the skin that is judged, in so many parts of a kelvin.
func riseOf(r *thermal.Result, per float64) (pts []chart.Point) {
	for _, s := range r.History {
		pts = append(pts, chart.Point{X: s.TimeS, Y: per * s.MeanRiseK})
	}
	return pts
}
