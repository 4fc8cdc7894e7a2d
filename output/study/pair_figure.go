package study

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
)

// pairFigures draw the margin of each draw with B against that with A: below the line of equal margins B leaves less, and
// beyond the thick lines the muscle is reached.
func (s *SweepShape) pairFigures() []chart.Figure {
	p, ok := s.Pair()
	if !ok || !p.Muscle {
		return nil
	}
	low, high := 0.0, 0.0
	for _, d := range p.Draws {
		low, high = min(low, d.margin[0], d.margin[1]), max(high, d.margin[0], d.margin[1])
	}
	air := 0.06 * max(high-low, 0.1)
	low, high = low-3*air, high+air // room for words where the muscle is reached
	says := []string{fmt.Sprintf("Margin to the muscle in %d draws of what is uncertain, each with A and with B.", len(p.Draws))}
	notes := []string{p.verdict(), fmt.Sprintf("Exact test of McNemar, p: %s. Intervals: 95 %%, exact.", p.tested())}
	if s.page.Compact() {
		notes = append(notes, p.lines()...)
	}
	const above, between = 4 * chart.MM, 4 * chart.MM
	side, keyed := 92*chart.MM, vg.Length(0)
	return s.sheets("pairs", says, notes, body{
		func(room vg.Length) vg.Length {
			switch {
			case s.page.Narrow(): // the key below
				side = s.page.W - s.page.Left() - 4*chart.MM
				keyed = between + p.key(s.page, nil, 0, 0)
			case s.page.Compact():
				side = min(side, room-chart.AxisHeight-above)
			}
			return above + side + chart.AxisHeight + keyed
		},
		func(c draw.Canvas, top vg.Length) {
			panel := chart.NewPanel(s.page, c, s.page.Left(), top-above-side, side, side, low, high, low, high)
			p.draw(s.page, panel)
			if keyed > 0 {
				p.key(s.page, &c, c.Min.X+4*chart.MM, panel.Min.Y-chart.AxisHeight-between)
				return
			}
			p.key(s.page, &c, panel.Max.X+5*chart.MM, panel.Max.Y-2*chart.MM)
		}})
}

// drawnAs tells which of the sides a pair is on.
func (d drawnPair) drawnAs() int {
	a, b := d.reaches(0, 0), d.reaches(1, 0)
	switch {
	case a && b:
		return 0
	case a:
		return 1
	case b:
		return 2
	}
	return 3
}

// draw draws the pairs.
func (p Pair) draw(page chart.Page, c *chart.Panel) {
	at := func(x, y float64) chart.Point { return chart.Point{X: x, Y: y} }
	c.Area(chart.MuscleShade, at(c.Left, c.Bottom), at(0, c.Bottom), at(0, c.Top), at(c.Left, c.Top))
	c.Area(chart.MuscleShade, at(0, c.Bottom), at(c.Right, c.Bottom), at(c.Right, 0), at(0, 0))
	if e := p.errorMM(); !math.IsNaN(e) {
		dashed := chart.Stroke(chart.Soft, 0.6, 3, 2)
		for _, v := range []float64{-e, e} {
			c.Line(dashed, at(v, c.Bottom), at(v, c.Top))
			c.Line(dashed, at(c.Left, v), at(c.Right, v))
		}
	}
	c.Line(chart.Stroke(chart.Soft, 0.9), at(c.Left, c.Left), at(c.Right, c.Right))
	c.Line(chart.Stroke(chart.Ink, 1.6), at(0, c.Bottom), at(0, c.Top))
	c.Line(chart.Stroke(chart.Ink, 1.6), at(c.Left, 0), at(c.Right, 0))
	for _, d := range p.Draws {
		pairMark(c.Canvas, d.drawnAs(), c.Pt(at(d.margin[0], d.margin[1])))
	}
	for n, corner := range []vg.Point{c.Min, {X: c.Min.X, Y: c.Max.Y}, {X: c.Max.X, Y: c.Min.Y}, c.Max} {
		s, dx, dy := chart.TextStyle(page.Note, chart.Ink, text.XLeft, text.YCenter), 2*chart.MM, 3*chart.MM
		if corner.X == c.Max.X {
			s.XAlign, dx = text.XRight, -dx
		}
		if corner.Y == c.Max.Y {
			dy = -dy
		}
		c.Say(s, chart.Point{X: c.Across(corner.X + dx), Y: c.Back(corner.Y + dy)}, 0, cornerNames[n])
	}
	c.Frame()
	ticks := chart.Within(chart.Ticks(c.Left, c.Right, 8), c.Left, c.Right)
	c.AxisX("margin with A (mm)", chart.Roomy(c, ticks, phrase.TickText), phrase.TickText)
	c.AxisY("margin with B (mm)", ticks)
}

// cornerNames say where the muscle is reached, in the order of the sides.
var cornerNames = [4]string{"with both", "with A only", "with B only", "with neither"}

// pairMark draws the mark of a side: square, triangle, disc; a pair that stays off the muscle is hollow.
func pairMark(c draw.Canvas, side int, at vg.Point) {
	if side < 3 {
		chart.Mark(c, [3]int{2, 3, 1}[side], at)
		return
	}
	const radius = 2.6
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: chart.Ink, Radius: radius, Shape: draw.CircleGlyph{}}, at)
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: chart.Paper, Radius: radius - 0.9, Shape: draw.CircleGlyph{}}, at)
}

// key says in words, from x and y on, what A and B are, and how many pairs have which mark. It returns its height; without a
// canvas it draws nothing.
func (p Pair) key(page chart.Page, c *draw.Canvas, x, y vg.Length) vg.Length {
	from, width := y, page.W-x-4*chart.MM
	if c == nil {
		width -= 4 * chart.MM
	}
	write := func(size vg.Length, indent vg.Length, txt string) {
		s := chart.TextStyle(size, chart.Ink, text.XLeft, text.YCenter)
		for _, l := range chart.Wrapped(s, width-indent, txt) {
			if c != nil {
				c.FillText(s, vg.Point{X: x + indent, Y: y}, l)
			}
			y -= 1.4 * size
		}
	}
	for n, title := range []string{p.A, p.B} {
		q := p.Chances[n]
		write(page.Word, 0, string(rune('A'+n))+": "+title)
		write(page.Note, 0, fmt.Sprintf("muscle reached in %s,", ofDraws(q.K, q.N)))
		write(page.Note, 0, within(q.Share(), q.Interval))
		y -= 2.5 * chart.MM
	}
	write(page.Word, 0, "The muscle is reached")
	for n, of := range cornerNames {
		if c != nil {
			pairMark(*c, n, vg.Point{X: x + 1.5*chart.MM, Y: y})
		}
		write(page.Word, 5*chart.MM, fmt.Sprintf("%s: %d", of, p.sides()[n]))
		y -= 0.6 * chart.MM
	}
	y -= 2 * chart.MM
	if !page.Compact() { // where the last page of the figure has them
		for _, l := range p.lines() {
			write(page.Note, 0, l)
		}
	}
	return from - y
}

// lines say what the lines of the figure are.
func (p Pair) lines() []string {
	all := []string{"Thin line: the same margin with both; below it B leaves less."}
	if e := p.errorMM(); !math.IsNaN(e) {
		all = append(all, fmt.Sprintf("Between dashed lines the numerical error, %s mm, may change the side.", phrase.Short(e)))
	}
	return all
}
