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

// pairFigure draws the margin of each draw with B against that with A: below the line of equal margins B leaves less, and
// beyond the thick lines the muscle is reached.
func (s *SweepShape) pairFigure() (chart.Figure, bool) {
	p, ok := s.Pair()
	if !ok || !p.Muscle {
		return chart.Figure{}, false
	}
	low, high := 0.0, 0.0
	for _, d := range p.Draws {
		low, high = min(low, d.margin[0], d.margin[1]), max(high, d.margin[0], d.margin[1])
	}
	air := 0.06 * max(high-low, 0.1)
	low, high = low-3*air, high+air // room for words where the muscle is reached
	says := []string{fmt.Sprintf("Margin to the muscle in %d draws of what is uncertain, each with A and with B.", len(p.Draws))}
	notes := []string{p.verdict(), fmt.Sprintf("Exact test of McNemar, p: %s. Intervals: 95 %%, exact.", p.tested())}
	const height = 92 * chart.MM
	return s.sheet("pairs", says, notes, height+chart.AxisHeight+4*chart.MM, func(c draw.Canvas, top vg.Length) {
		panel := chart.NewPanel(c, chart.MarginLeft, top-4*chart.MM-height, height, height, low, high, low, high)
		p.draw(panel)
		p.key(panel)
	}), true
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
func (p Pair) draw(c *chart.Panel) {
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
		s, dx, dy := chart.TextStyle(chart.NoteSize, chart.Ink, text.XLeft, text.YCenter), 2*chart.MM, 3*chart.MM
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

// key says in words, right of the panel, what A and B are, and how many pairs have which mark.
func (p Pair) key(c *chart.Panel) {
	x, y := c.Max.X+5*chart.MM, c.Max.Y-2*chart.MM
	width := chart.WallWidth - x - 4*chart.MM
	write := func(size vg.Length, indent vg.Length, txt string) {
		s := chart.TextStyle(size, chart.Ink, text.XLeft, text.YCenter)
		for _, l := range chart.Wrapped(s, width-indent, txt) {
			c.FillText(s, vg.Point{X: x + indent, Y: y}, chart.Fit(s, width-indent, l))
			y -= 1.4 * size
		}
	}
	for n, title := range []string{p.A, p.B} {
		q := p.Chances[n]
		write(chart.WordSize, 0, string(rune('A'+n))+": "+title)
		write(chart.NoteSize, 0, fmt.Sprintf("muscle reached in %s,", ofDraws(q.K, q.N)))
		write(chart.NoteSize, 0, within(q.Share(), q.Interval))
		y -= 2.5 * chart.MM
	}
	write(chart.WordSize, 0, "The muscle is reached")
	for n, of := range cornerNames {
		pairMark(c.Canvas, n, vg.Point{X: x + 1.5*chart.MM, Y: y})
		write(chart.WordSize, 5*chart.MM, fmt.Sprintf("%s: %d", of, p.sides()[n]))
		y -= 0.6 * chart.MM
	}
	y -= 2 * chart.MM
	write(chart.NoteSize, 0, "Thin line: the same margin with both; below it B leaves less.")
	if e := p.errorMM(); !math.IsNaN(e) {
		write(chart.NoteSize, 0, fmt.Sprintf("Between dashed lines the numerical error, %s mm, may change the side.", phrase.Short(e)))
	}
}
