package study

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
)

// sensitivity is how much one input matters: an effect, or one to either side.
type sensitivity struct {
	Name    string
	Effects []effect
	Chance  float64 // half-width of what chance alone gives in 19 of 20 times; 0: not told
	P       float64 // how often it gives this or more, for this input alone
	Over    string  // what varies it: "40 points"
}

type effect struct {
	Size      float64
	Name      string  // of the level that has it
	Low, High float64 // if it is a mean: the least and the largest of what it is the mean of
}

func (s sensitivity) Reach() float64 {
	most := 0.0
	for _, e := range s.Effects {
		most = max(most, math.Abs(e.Size), math.Abs(e.Low), math.Abs(e.High))
	}
	return most
}

// sensitivities draws what the outcomes depend on: rank correlations where inputs are drawn
// or fill a space, changes from the base where one input is changed at a time.
func (s *SweepShape) sensitivities() []chart.Figure {
	var figs []chart.Figure
	for _, out := range s.Sensitive() {
		if s.Design == OneAtATime {
			figs = append(figs, s.changeFigures(out)...)
		}
		figs = append(figs, s.correlationFigures(out)...)
	}
	return figs
}

// changeFigures draws the changes of an outcome.
func (s *SweepShape) changeFigures(out outcome) []chart.Figure {
	all, base, ok := s.Changes(out)
	if !ok {
		return nil
	}
	says := []string{fmt.Sprintf("Change of the %s when one setting leaves its base, where it is %.2f %s.", out.Name, base, out.Unit)}
	if s.Draws > 1 && !out.reached {
		says[0] = fmt.Sprintf("Change of the median %s when one setting leaves its base, where the median is %.2f %s.", out.Name, base, out.Unit)
	}
	t := tornado{label: fmt.Sprintf("change of %s (%s)", out.Name, out.Unit), short: fmt.Sprintf("change (%s)", out.Unit), rows: all, format: func(v float64) string { return signed(v, 2) + " " + out.Unit }}
	return t.figures(s, out.figure("change"), says, nil)
}

// Changes returns the change of an outcome from the base at the levels of each factor that
// change it most either way, and the outcome there.
func (s *SweepShape) Changes(out outcome) (all []sensitivity, atBase float64, ok bool) {
	if s.Base[0] < 0 {
		return nil, 0, false
	}
	at := func(n, level int) float64 { // of factor n, the others at their base
		var rows []int
		for _, r := range s.rows() {
			if s.Factors[n].of[r] == level {
				rows = append(rows, r)
			}
		}
		return out.typical(s.SweepTable, rows)
	}
	base := at(0, s.Base[0])
	if math.IsNaN(base) {
		return nil, 0, false
	}
	for n, f := range s.Factors {
		least, most := effect{}, effect{}
		for l, name := range f.names {
			if v := at(n, l); !math.IsNaN(v) {
				if e := (effect{Size: v - base, Name: name}); e.Size < least.Size {
					least = e
				} else if e.Size > most.Size {
					most = e
				}
			}
		}
		row := sensitivity{Name: fmt.Sprintf("%s, base %s", f.title, f.names[s.Base[n]])}
		for _, e := range []effect{least, most} {
			if e.Name != "" {
				row.Effects = append(row.Effects, e)
			}
		}
		all = append(all, row)
	}
	return all, base, true
}

// tornado is bars to both sides of nothing, longest on top.
type tornado struct {
	page              chart.Page
	left, right, step vg.Length // beside the panel, and of a row
	label, short      string    // of the axis, short where the whole does not fit; the figure's sentence says it too
	rows              []sensitivity
	most              float64 // end of the axis; 0: as the bars ask
	format            func(float64) string
}

const mostRows = 16

var lowerShade = color.NRGBA{0x9a, 0xbf, 0xd8, 0xff} // paler than barShade: told apart in grey

// figures draws it, on pages of given height on as many as it takes.
func (t tornado) figures(s *SweepShape, name string, says, notes []string) []chart.Figure {
	slices.SortStableFunc(t.rows, func(a, b sensitivity) int {
		switch {
		case a.Reach() > b.Reach():
			return -1
		case a.Reach() < b.Reach():
			return 1
		}
		return 0
	})
	if n := len(t.rows); n > mostRows {
		t.rows = t.rows[:mostRows]
		notes = append(notes, fmt.Sprintf("The %d that matter most of %d are shown.", mostRows, n))
	}
	if t.most == 0 {
		for _, r := range t.rows {
			t.most = max(t.most, r.Reach())
		}
		t.most = max(t.most, 0.01)
	}
	t.page, t.left, t.right, t.step = s.page, 62*chart.MM, 8*chart.MM, 9*chart.MM
	if s.page.Narrow() {
		t.left, t.right = 28*chart.MM, 3*chart.MM
	}
	for _, r := range t.rows {
		t.step = max(t.step, 1.5*chart.MM+s.page.NoteLine()*vg.Length(len(chart.Wrapped(t.nameStyle(), t.left-6*chart.MM, r.Name))))
		for _, e := range r.Effects {
			t.step = max(t.step, 1*chart.MM+s.page.NoteLine()*vg.Length(len(chart.Wrapped(t.noteStyle(), t.mostBeside(), t.text(e)))))
		}
	}
	each := len(t.rows)
	if s.page.Compact() { // as many as fit below a head with a line of words, above a foot with two lines
		each = max(1, min(each, int((s.page.H-s.page.Head(s.Title, says).Height()-s.page.Foot(s.marks(), "").Height()-chart.AxisHeight-6*chart.MM)/t.step)))
	}
	var bodies []body
	for rows := range slices.Chunk(t.rows, max(each, 1)) {
		part := t
		part.rows = rows
		h := t.step*vg.Length(len(rows)) + 3*chart.MM
		bodies = append(bodies, body{func(vg.Length) vg.Length { return h + chart.AxisHeight + 3*chart.MM }, func(c draw.Canvas, top vg.Length) { part.draw(c, top, h) }})
	}
	return s.sheets(name, says, notes, bodies...)
}

func (t tornado) nameStyle() text.Style {
	return chart.TextStyle(t.page.Note, chart.Ink, text.XRight, text.YCenter)
}
func (t tornado) noteStyle() text.Style {
	return chart.TextStyle(t.page.Note, chart.Ink, text.XLeft, text.YCenter)
}

// draw draws the bars.
func (t tornado) draw(c draw.Canvas, top, h vg.Length) {
	width, step, left := t.page.W-t.left-t.right, t.step, t.left
	end := t.most / (1 - 2*float64(t.beside()/width)) // room for what stands beside the bars
	p := chart.NewPanel(t.page, c, left, top-3*chart.MM-h, width, h, -end, end, 0, 1)
	for n, r := range t.rows {
		if r.Chance > 0 {
			lo, hi, y := p.Px(-r.Chance), p.Px(r.Chance), p.Max.Y-1.5*chart.MM-step*vg.Length(n)
			p.FillPolygon(chart.BeyondShade, []vg.Point{{X: lo, Y: y}, {X: hi, Y: y}, {X: hi, Y: y - step}, {X: lo, Y: y - step}})
		}
	}
	for _, v := range chart.Within(chart.Ticks(-end, end, 8), -t.most*1.2, t.most*1.2) {
		p.Line(chart.Stroke(color.NRGBA{0xd8, 0xd8, 0xd8, 0xff}, 0.5), chart.Point{X: v, Y: 0}, chart.Point{X: v, Y: 1})
	}
	for n, r := range t.rows {
		y := p.Max.Y - 1.5*chart.MM - step*(vg.Length(n)+0.5)
		s := chart.TextStyle(t.page.Word, chart.Ink, text.XRight, text.YCenter)
		if s.Width(r.Name) > left-6*chart.MM {
			s = t.nameStyle()
		}
		p.FillText(s, vg.Point{X: p.Min.X - 2*chart.MM, Y: y}, chart.WrappedTo(s, left-6*chart.MM, r.Name))
		for _, e := range r.Effects {
			a, b := p.Px(0), p.Px(e.Size)
			shade := chart.BarShade
			if e.Size < 0 {
				shade = lowerShade
			}
			box := []vg.Point{{X: a, Y: y - 2.5*chart.MM}, {X: b, Y: y - 2.5*chart.MM}, {X: b, Y: y + 2.5*chart.MM}, {X: a, Y: y + 2.5*chart.MM}}
			p.FillPolygon(shade, box)
			p.StrokeLines(chart.Stroke(chart.Ink, 0.8), append(box, box[0]))
			if e.High > e.Low {
				lo, hi := p.Px(e.Low), p.Px(e.High)
				p.StrokeLine2(chart.Stroke(chart.Ink, 1), lo, y, hi, y)
				for _, x := range []vg.Length{lo, hi} {
					p.StrokeLine2(chart.Stroke(chart.Ink, 1), x, y-1*chart.MM, x, y+1*chart.MM)
				}
				b = max(b, hi)
				if e.Size < 0 {
					b = min(p.Px(e.Size), lo)
				}
			}
			txt := t.text(e)
			s := chart.TextStyle(t.page.Note, chart.Ink, text.XLeft, text.YCenter)
			dx := 1.5 * chart.MM
			if e.Size < 0 {
				s.XAlign, dx = text.XRight, -dx
			}
			p.FillText(s, vg.Point{X: b + dx, Y: y}, chart.WrappedTo(s, t.mostBeside(), txt))
		}
		if len(r.Effects) == 0 {
			p.FillText(chart.TextStyle(t.page.Note, chart.Soft, text.XLeft, text.YCenter), vg.Point{X: p.Px(0) + 1.5*chart.MM, Y: y}, "no change")
		}
	}
	p.Line(chart.Stroke(chart.Ink, 1.2), chart.Point{X: 0, Y: 0}, chart.Point{X: 0, Y: 1})
	p.Frame()
	at := chart.Ticks(-t.most, t.most, 4) // of the bars: what stands beside them takes more room than they
	label := t.label
	if chart.TextStyle(t.page.Word, chart.Ink, text.XCenter, text.YTop).Width(label) > width {
		label = t.short
	}
	p.AxisX(label, chart.Roomy(p, at, phrase.TickText), phrase.TickText)
}

// text is what stands beside a bar.
func (t tornado) text(e effect) string {
	if e.Name == "" {
		return t.format(e.Size)
	}
	return e.Name + ": " + t.format(e.Size)
}

// mostBeside is the most room for the text beside a bar.
func (t tornado) mostBeside() vg.Length {
	if t.page.Narrow() {
		return 14 * chart.MM
	}
	return 32 * chart.MM
}

// beside returns the room that the longest text beside a bar takes.
func (t tornado) beside() vg.Length {
	s, room := chart.TextStyle(t.page.Note, chart.Ink, text.XLeft, text.YCenter), vg.Length(0)
	for _, r := range t.rows {
		for _, e := range r.Effects {
			room = max(room, s.Width(t.text(e)))
		}
	}
	return min(room, t.mostBeside()) + 3*chart.MM
}

// signed prints a number with its sign.
func signed(v float64, decimals int) string {
	scale := math.Pow(10, float64(decimals))
	v = math.Round(v*scale) / scale
	if v > 0 {
		return "+" + fmt.Sprintf("%.*f", decimals, v)
	}
	if v == 0 {
		return "0"
	}
	return "–" + fmt.Sprintf("%.*f", decimals, -v)
}
