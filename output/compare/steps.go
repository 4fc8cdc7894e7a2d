package compare

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
)

// Step is a cross-section of a row with words of its own below it.
type Step struct {
	Member
	Headline string
	Notes    []string // in the order in which they are given up last
	Marked   bool     // by a heavy frame and a triangle before its title
}

// Steps draws rows of cross-sections from left to right, all at one scale of length and one of temperature, below lines of
// clauses. A page of given height has room for MostSteps in a row.
func Steps(page chart.Page, name, title string, lines [][]string, rows [][]Step) chart.Figure {
	s := &sheet{page: page, rows: rows}
	for row, steps := range rows {
		for column, x := range steps {
			s.members = append(s.members, x.Member)
			s.row, s.column = append(s.row, row), append(s.column, column)
			s.named = append(s.named, false)
			s.columns = max(s.columns, column+1)
		}
	}
	s.arrange()
	s.cut()
	s.write(mostLines)
	return s.figure(page.File(name), title, append([][]string{s.explained()}, lines...))
}

// MostSteps is how many cross-sections of MostRows rows fit side by side.
const (
	MostSteps = 6
	MostRows  = 2
)

// sayings are those of member n.
func (s *sheet) sayings(n int) sayings {
	if s.rows == nil {
		return s.members[n].sayings(s.members[0].Result)
	}
	x := s.rows[s.row[n]][s.column[n]]
	return sayings{headline: x.Headline, reasons: x.Notes}
}

// mark draws what tells a marked cross-section from the others, in grey too.
func (s *sheet) mark(p *chart.Panel, at vg.Point) vg.Length {
	frame := p.Rectangle
	frame.Min.X, frame.Min.Y, frame.Max.X, frame.Max.Y = frame.Min.X-0.6*chart.MM, frame.Min.Y-0.6*chart.MM, frame.Max.X+0.6*chart.MM, frame.Max.Y+0.6*chart.MM
	p.StrokeLines(chart.Stroke(chart.Ink, 2.4), []vg.Point{frame.Min, {X: frame.Max.X, Y: frame.Min.Y}, frame.Max, {X: frame.Min.X, Y: frame.Max.Y}, frame.Min})
	size := s.page.Figure * 0.42
	p.DrawGlyphNoClip(draw.GlyphStyle{Color: chart.Ink, Radius: size, Shape: draw.PyramidGlyph{}}, vg.Point{X: at.X + size, Y: at.Y + size*0.7})
	return 2.6 * size
}
