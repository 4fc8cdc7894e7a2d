package procedure

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

const (
	currentHeight = 26 * chart.MM
	riseHeight    = 44 * chart.MM
	labelLine     = 3.6 * chart.MM
	labelLines    = 4 // in which labels of steps take turns where they would meet
)

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
	h := chart.NewHead(l.Title, []string{"Time course of the whole list"},
		[]string{fmt.Sprintf("%d activations", t.activations), fmt.Sprintf("%s s with current", phrase.Short(t.withCurrentS)), fmt.Sprintf("heating factor %s A² s", phrase.Short(t.heatingFactorA2S))},
		[]string{phrase.Verdict(l.PadResult)})
	height := h.Height() + labelLines*labelLine + 2*chart.MM + currentHeight + 5*chart.MM + riseHeight + chart.AxisHeight + 7*chart.MM
	return chart.Figure{Name: name, W: chart.WallWidth, H: height, Draw: func(c draw.Canvas) {
		h.Draw(c)
		p := l.PadResult
		end := p.Case.TotalS()
		width := chart.WallWidth - chart.MarginLeft - 8*chart.MM
		y := c.Max.Y - h.Height() - labelLines*labelLine - 2*chart.MM - currentHeight
		most := 0.0
		for _, s := range p.Case.Drive.Course {
			most = math.Max(most, s.CurrentA)
		}
		flows := chart.NewPanel(c, chart.MarginLeft, y, width, currentHeight, 0, end, 0, math.Max(1.1*most, 0.1))
		l.bars(flows)
		flows.Frame()
		flows.AxisY("current (A RMS)", chart.Within(chart.Ticks(0, flows.Top, 4), 0, flows.Top))
		rise := []chart.Curve{{Style: chart.LineStyles[0], Pts: riseOf(p)}}
		top := 1.15 * math.Max(p.Summary.Pad.MeanRiseK, phrase.RiseLimitK)
		skin := chart.NewPanel(c, chart.MarginLeft, y-5*chart.MM-riseHeight, width, riseHeight, 0, end, 0, top)
		skin.Line(chart.LimitLine, chart.Point{X: 0, Y: phrase.RiseLimitK}, chart.Point{X: end, Y: phrase.RiseLimitK})
		skin.Curves("mean rise over 1 cm² (K)", 5, rise)
		skin.FillText(chart.TextStyle(chart.NoteSize, chart.Ink, text.XLeft, text.YBottom), skin.Pt(chart.Point{X: 0, Y: phrase.RiseLimitK}).Add(vg.Point{X: 1.5 * chart.MM, Y: 0.8 * chart.MM}), "6 K over 1 cm²")
		skin.AxisX("time (s)", chart.Within(chart.Ticks(0, end, 7), 0, end), phrase.DistanceText)
		chart.Caption(c)
	}}
}

// bars draws the current of each activation, each step under its title.
func (l *List) bars(p *chart.Panel) {
	spans := l.PadResult.Case.Drive.Course
	at, n := 0.0, 0
	style := chart.TextStyle(chart.NoteSize, chart.Ink, text.XLeft, text.YBottom)
	var ends [labelLines]vg.Length // of the labels so far
	for i := range ends {
		ends[i] = p.Min.X
	}
	for _, s := range l.Steps {
		if s.Times == 0 || s.Result == nil {
			continue
		}
		from := at
		for range min(s.Times, len(spans)-n) {
			x := spans[n]
			p.Area(chart.BarShade, chart.Point{X: at, Y: 0}, chart.Point{X: at, Y: x.CurrentA}, chart.Point{X: at + x.OnS, Y: x.CurrentA}, chart.Point{X: at + x.OnS, Y: 0})
			p.Line(chart.Stroke(chart.Ink, 0.5), chart.Point{X: at, Y: 0}, chart.Point{X: at, Y: x.CurrentA}, chart.Point{X: at + x.OnS, Y: x.CurrentA}, chart.Point{X: at + x.OnS, Y: 0})
			at += x.OnS + x.RestS
			n++
		}
		name := fmt.Sprintf("%d %s", s.Number, s.Title)
		line := 0
		for line < labelLines-1 && p.Px(from) < ends[line] {
			line++
		}
		x := min(p.Px(from), p.Max.X-style.Width(name))
		y := p.Max.Y + 0.8*chart.MM + vg.Length(line)*labelLine
		p.FillText(style, vg.Point{X: x, Y: y}, name)
		p.StrokeLine2(chart.Stroke(chart.Soft, 0.5), p.Px(from), p.Py(0), p.Px(from), y)
		ends[line] = x + style.Width(name) + 2*chart.MM
	}
}

// riseOf is the rise of the skin that is judged.
func riseOf(r *thermal.Result) (pts []chart.Point) {
	for _, s := range r.History {
		pts = append(pts, chart.Point{X: s.TimeS, Y: s.MeanRiseK})
	}
	return pts
}
