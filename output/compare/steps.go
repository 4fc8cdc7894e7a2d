package compare

import (
	"math"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
)

// Step is a cross-section of a row with words of its own below it.
type Step struct {
	Member
	Headlines []string // the same in fewer and fewer words; where rows are crowded the first that all have a line for
	Notes     []string // in the order in which they are given up last
	Marked    bool     // by a heavy frame and a triangle before its title
}

// Steps draws rows of cross-sections from left to right, all at one scale of length and one of temperature, below lines
// of clauses. Several rows on a page of given height are crowded: the legend, with notes, stands beside them and the last
// lines are given up, so that each cross-section has a fifth of the height; roomy reports whether it has.
func Steps(page chart.Page, name, title string, lines, notes [][]string, rows [][]Step) (fig chart.Figure, roomy bool) {
	s := &sheet{page: page, rows: rows, notes: notes}
	for row, steps := range rows {
		for column, x := range steps {
			s.members = append(s.members, x.Member)
			s.row, s.column = append(s.row, row), append(s.column, column)
			s.named = append(s.named, false)
			s.columns = max(s.columns, column+1)
		}
	}
	s.cut()
	if s.crowded() {
		s.setBeside(page.H - page.Head(title).Height() - page.Foot(shared(s.members)).Height())
	}
	s.arrange()
	if s.crowded() {
		s.shorten()
		return s.figure(page.File(name), title, nil, lines), s.roomy()
	}
	s.write(mostLines)
	return s.figure(page.File(name), title, slices.Concat([][]string{s.explained()}, lines, notes), nil), true
}

// MostSteps is how many cross-sections fit side by side.
func MostSteps(page chart.Page) int {
	if page.Narrow() {
		return 2
	}
	return 6
}

// sayings are those of member n.
func (s *sheet) sayings(n int) sayings {
	if s.rows == nil {
		return s.members[n].sayings(s.members[0].Result, shared(s.members))
	}
	x := s.rows[s.row[n]][s.column[n]]
	return sayings{headlines: x.Headlines, reasons: x.Notes}
}

// mark draws what tells a marked cross-section from the others, in grey too: a frame, and a triangle left of its title
// at height y.
func (s *sheet) mark(p *chart.Panel, y vg.Length) {
	p.StrokeLines(chart.Stroke(chart.Ink, 3), []vg.Point{p.Min, {X: p.Max.X, Y: p.Min.Y}, p.Max, {X: p.Min.X, Y: p.Max.Y}, p.Min, p.Max.Sub(vg.Point{X: p.Max.X - p.Min.X})})
	size := s.titleStyle().Font.Size * 0.42
	triangle(p.Canvas, size, vg.Point{X: p.Min.X - size - 0.9*chart.MM, Y: y + size*0.7})
}

// triangle marks a cross-section, and its meaning in the legend.
func triangle(c draw.Canvas, size vg.Length, at vg.Point) {
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: chart.Ink, Radius: size, Shape: draw.PyramidGlyph{}}, at)
}

// isMarked reports whether member n is.
func (s *sheet) isMarked(n int) bool { return s.rows != nil && s.rows[s.row[n]][s.column[n]].Marked }

// inside reports whether layers are named within cross-sections, where there is room, and not beside.
func (s *sheet) inside() bool { return s.rows != nil || s.page.Compact() }

// layers names those layers at the right of a cross-section that are high enough for a word, where it does not lie on
// the injury.
func (s *sheet) layers(p *chart.Panel, n int) {
	style := chart.TextStyle(s.page.Note, chart.Ink, text.XRight, text.YCenter)
	r := s.members[n].Result
	c, edges := r.Case, r.Case.Edges()
	right := p.Max.X - 1.5*chart.MM
	for i, l := range c.Layers {
		top, bottom := math.Max(1e3*edges[i], p.Top), math.Min(1e3*edges[i+1], p.Bottom)
		beside := p.Min.X
		if top < 1e3*r.Summary.InjuryDepthM {
			beside = p.Px(1e3*r.Summary.InjuryHalfWidthM) + 1*chart.MM
		}
		if top < bottom && p.Py(top)-p.Py(bottom) > 1.15*s.page.Note && right-style.Width(l.Name) > beside {
			p.FillText(style, vg.Point{X: right, Y: p.Py((top + bottom) / 2)}, l.Name)
		}
	}
}
