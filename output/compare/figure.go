package compare

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/figures"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

const (
	gap        = 4 * chart.MM
	least      = 32 * chart.MM // height of a cross-section
	most       = 60 * chart.MM
	stripWidth = 2.2 * chart.MM  // of the layers at the right of a cross-section
	nameWidth  = 25.5 * chart.MM // and of their names
	wordLine   = 4.2 * chart.MM
	leastSlide = 24 * chart.MM // height of a cross-section there for which lines below it are given up
	mostLarge  = 4             // columns in which words of titles fit at the size of titles
	leastShare = 0.2           // of the height of a page that each cross-section has
	leastNamed = 16 * chart.MM // of which the axis has a name
)

// firstLine is the injury line of the first member in the others.
var firstLine = chart.Stroke(chart.Ink, 0.9, 1.6, 1.6)

// sheet is the figure as it is laid out.
type sheet struct {
	page      chart.Page
	members   []Member
	rows      [][]Step // of procedures, in place of a grid of members that are held against the first
	cuts      []*figures.Cut
	texts     []words
	columns   int
	row       []int // of each member
	column    []int
	named     []bool      // member by member: whether its layers are named
	left      []vg.Length // of each column
	room      []vg.Length // and for its words
	width     vg.Length   // of a cross-section
	height    vg.Length
	half      float64     // mm that must be seen to each side
	head      float64     // above the surface
	depth     float64     // and below
	free      vg.Length   // height between head and foot of a page of given height
	beside    vg.Length   // width of the legend right of several rows there
	keyHeight vg.Length   // and its height
	notes     [][]string  // below its entries
	brief     int         // which of the headlines is written
	above     []vg.Length // of each row: room for titles
	below     []vg.Length // and for what is said under the axis
	scale     figures.Scale
}

// words are what stands above and below a cross-section, broken into lines.
type words struct{ title, headline, rest []string }

// Figures draws all members, on pages of given height MostOnSlide each.
func Figures(page chart.Page, title string, members []Member) (figs []chart.Figure) {
	each := len(members)
	if page.Compact() {
		each = MostOnSlide
	}
	for some := range slices.Chunk(members, each) {
		f := Figure(page, title, some)
		if n := len(figs); n > 0 {
			f.Name = page.File(fmt.Sprintf("sections-%d", n+1))
		}
		figs = append(figs, f)
	}
	return figs
}

// Figure draws the cross-sections of results side by side in their order, at one scale of length and one of
// temperature, with what came out, what was delivered and why under each. A page of given height has room for
// MostOnSlide in a row; for a fifth of its height for each, lines below them are given up, then what differs.
func Figure(page chart.Page, title string, members []Member) chart.Figure {
	s := newSheet(page, members)
	var spare [][]string
	if differs := told(Differences(members)); differs != "" {
		spare = append(spare, []string{"What differs: " + differs + "."})
	}
	return s.figure(page.File("sections"), title, [][]string{s.explained()}, spare)
}

// explained says in clauses what is drawn, at which scales.
func (s *sheet) explained() []string {
	says := "Cross-sections at one scale: " + s.scale.Name + ", injury line"
	if s.overlaid() {
		says += "; thin dashed: that of the first"
	}
	if s.tight() { // in place of a colour bar and of the words at the axes
		says = fmt.Sprintf("%s: %s pale to %s dark. Lengths in mm. ", phrase.Capital(s.scale.Name), phrase.Short(s.scale.Low), phrase.Short(s.scale.High))
		if s.overlaid() {
			says += "Thin dashed: injury of the first"
		} else {
			says += "Line: injury"
		}
	}
	says += "."
	if s.inside() && s.muscle() {
		says += " Darkest strip: muscle."
	}
	return []string{says}
}

// figure draws the sheet below a title and lines of clauses; the spare ones are given up, the last first, where a page of
// given height has no room for them.
func (s *sheet) figure(name, title string, lines, spare [][]string) chart.Figure {
	page, members := s.page, s.members
	h := page.Head(title, slices.Concat(lines, spare)...)
	feet := page.Foot(shared(members))
	foot := feet.Height()
	if !s.crowded() {
		foot += figures.LegendHeight(page, telling(members), s.cuts)
	}
	if page.Compact() {
		s.fit(page.H - h.Height() - foot)
	} else {
		s.lay(most)
	}
	for page.Compact() && !s.roomy() && len(spare) > 0 {
		spare = spare[:len(spare)-1]
		h = page.Head(title, slices.Concat(lines, spare)...)
		s.fit(page.H - h.Height() - foot)
	}
	total := h.Height() + foot
	for row := range s.above {
		total += s.above[row] + s.height + s.axis(row) + s.below[row]
	}
	ground := figures.NewGround(s.cuts)
	return chart.Figure{Name: name, W: page.W, H: max(total, page.H), Shown: page.Shown, Draw: func(c draw.Canvas) {
		h.Draw(c)
		panels := s.panels(c, c.Max.Y-h.Height())
		area := panels[0].Rectangle
		for _, p := range panels {
			area.Max.X, area.Min.Y = max(area.Max.X, p.Max.X), min(area.Min.Y, p.Min.Y)
		}
		c.DrawImage(area, ground.Image(area, panels))
		for n := range s.members {
			s.draw(panels[n], n)
		}
		feet.Draw(c)
		if s.crowded() {
			s.key(c, c.Max.Y-h.Height())
			return
		}
		figures.Legend(page, c, page.Left(), foot, telling(s.members), s.cuts)
		if s.tight() {
			return
		}
		bar := chart.NewPanel(page, c, page.W-figures.BarWidth+2*chart.MM, panels[0].Min.Y, 3.5*chart.MM, s.height-4*chart.MM, 0, 1, s.scale.Low, s.scale.High)
		figures.ColourBar(bar, s.scale)
	}}
}

// MostOnSlide is how many cross-sections fit side by side on a page of given height.
const MostOnSlide = 4

func newSheet(page chart.Page, members []Member) *sheet {
	s := &sheet{page: page, members: members, columns: min(3, len(members))}
	for n, m := range members {
		s.named = append(s.named, !s.inside() && (n == 0 || !slices.ContainsFunc(members[:n], m.sameWall)))
	}
	several := slices.Contains(s.named[1:], true)
	switch {
	case s.page.Compact():
		s.columns = len(members)
	case s.page.Narrow():
		s.columns = 1
	case len(members) == 4 || several:
		s.columns = 2
	}
	for n := range members {
		s.row, s.column = append(s.row, n/s.columns), append(s.column, n%s.columns)
	}
	s.cut()
	s.arrange()
	s.write(mostLines)
	return s
}

// cut chooses the cross-sections and their common scale.
func (s *sheet) cut() {
	for _, m := range s.members {
		i, j := phrase.Deepest(m.Result)
		k := figures.NewCut(s.page, m.Result, figures.Across(m.Result, i), i, j)
		s.scale.Name, s.scale.Low = k.Scale.Name, k.Scale.Low
		s.scale.High, s.scale.Most = math.Max(s.scale.High, k.Scale.High), math.Max(s.scale.Most, k.Scale.Most)
		k.InjuryOnly() // beside the line of the first a third would be too many
		if s.crowded() {
			k.Near()
		}
		s.half, s.head, s.depth = math.Max(s.half, math.Max(-k.X0, k.X1)), math.Max(s.head, k.Head), math.Max(s.depth, k.Z1)
		s.cuts = append(s.cuts, k)
	}
}

// sameWall reports whether two members have the same layers.
func (m Member) sameWall(other Member) bool {
	return slices.EqualFunc(m.Result.Case.Layers, other.Result.Case.Layers, func(a, b thermal.Layer) bool {
		return a.Name == b.Name && math.Abs(a.ThicknessM-b.ThicknessM) < 1e-6
	})
}
