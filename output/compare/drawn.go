package compare

import (
	"math"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/figures"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

func (s *sheet) titleStyle() text.Style {
	size := s.page.Figure
	if s.crowded() || s.columns > mostLarge {
		size = s.page.Word
	}
	return chart.TextStyle(size, chart.Ink, text.XLeft, text.YBottom)
}
func (s *sheet) wordStyle() text.Style {
	return chart.TextStyle(s.page.Word, chart.Ink, text.XLeft, text.YTop)
}
func (s *sheet) noteStyle() text.Style {
	return chart.TextStyle(s.page.Note, chart.Soft, text.XLeft, text.YTop)
}

// overlaid reports whether the injury line of the first is drawn over the others: of what has the same axis.
func (s *sheet) overlaid() bool {
	first := s.members[0].Result
	return s.rows == nil && first.Case.Scene() != thermal.OnSkin && (first.Summary.InjuryDepthM > 0 || figures.StalkInjured(first)) &&
		len(s.members) > 1 && !slices.ContainsFunc(s.members, func(m Member) bool {
		return m.Result.Case.Scene() != first.Case.Scene()
	})
}

// draw draws the n-th cross-section on its colours, with its words.
func (s *sheet) draw(p *chart.Panel, n int) {
	k, m := s.cuts[n], s.members[n]
	k.Borders(p)
	k.Hatch(p)
	line := func(of *figures.Cut, styles ...draw.LineStyle) {
		for _, style := range styles {
			for _, l := range of.LnOmega.Isoline(0) {
				k.InTissue(p, style, l)
			}
		}
	}
	if n > 0 && s.overlaid() { // below its own, which must not vanish where the two are the same
		line(s.cuts[0], chart.Stroke(chart.Paper, 1.9), firstLine)
	}
	line(k, chart.Stroke(chart.Paper, 3.2), chart.Stroke(chart.Ink, 1.6))
	k.Border(p, chart.Stroke(chart.Ink, 1.2), 0)
	k.Sketch(p)
	p.Frame()
	s.strip(p, n)
	if s.inside() {
		s.layers(p, n)
	}
	if s.column[n] == 0 {
		top := 0.0
		if m.Result.Case.Scene() == thermal.AroundStalk {
			top = -k.Head
		}
		label := "depth (mm)"
		if s.height < leastNamed { // it would run into those above and below
			label = " "
		}
		ticks := chart.Within(chart.Ticks(top, k.Z1, 6), top, k.Z1)
		for most := 5; len(ticks) > 2 && p.Py(ticks[0])-p.Py(ticks[1]) < 1.2*s.page.Word; most-- {
			ticks = chart.Within(chart.Ticks(top, k.Z1, most), top, k.Z1)
		}
		p.AxisY(label, ticks)
	}
	label := "from the middle (mm)"
	switch {
	case s.tight():
		label = " " // numbers alone
	case s.wordStyle().Width(label) > s.room[s.column[n]]:
		label = "across (mm)"
	}
	if s.numbered(s.row[n]) {
		p.AxisX(label, chart.Ticks(k.X0, k.X1, 5), phrase.DistanceText)
	}
	s.say(p, n)
}

// strip shows the layers at the right of a cross-section, tinted as behind curves, and names those of a wall that
// was not shown before.
func (s *sheet) strip(p *chart.Panel, n int) {
	k, c := s.cuts[n], s.members[n].Result.Case
	strip := chart.NewPanel(s.page, p.Canvas, p.Max.X, p.Min.Y, stripWidth, s.height, 0, 1, k.Z1, -k.Head)
	edges := c.Edges()
	var names []chart.Label
	for i, l := range c.Layers {
		top, bottom := math.Max(1e3*edges[i], -k.Head), math.Min(1e3*edges[i+1], k.Z1)
		if top >= bottom {
			continue
		}
		if !l.Above && !l.Liquid {
			chart.Stripe(strip, chart.LayerShade(i, l.Muscle, l.Beyond), top, bottom)
			strip.Line(chart.Stroke(chart.Ink, 0.6), chart.Point{X: 0, Y: top}, chart.Point{X: 1, Y: top}, chart.Point{X: 1, Y: bottom}, chart.Point{X: 0, Y: bottom})
		}
		names = append(names, chart.Label{Text: l.Name, Colour: chart.Ink, Top: top, Bottom: bottom})
	}
	if s.named[n] {
		strip.Beside(names, nameWidth)
	}
}

// say writes the title above a cross-section, and below its axis what came out and why.
func (s *sheet) say(p *chart.Panel, n int) {
	w := s.texts[n]
	if s.isMarked(n) {
		s.mark(p, p.Max.Y+1.2*chart.MM+s.titleLine()*vg.Length(len(w.title)-1))
	}
	for i, l := range w.title {
		p.FillText(s.titleStyle(), vg.Point{X: p.Min.X, Y: p.Max.Y + 1.2*chart.MM + s.titleLine()*vg.Length(len(w.title)-1-i)}, l)
	}
	y := p.Min.Y - s.axis(s.row[n]) + 1*chart.MM
	for _, l := range w.headline {
		p.FillText(s.wordStyle(), vg.Point{X: p.Min.X, Y: y}, l)
		y -= wordLine
	}
	for _, l := range w.rest {
		p.FillText(s.noteStyle(), vg.Point{X: p.Min.X, Y: y}, l)
		y -= s.noteLine()
	}
}
