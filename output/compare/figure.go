package compare

import (
	"fmt"
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

const (
	gap        = 4 * chart.MM
	least      = 32 * chart.MM // height of a cross-section
	most       = 60 * chart.MM
	stripWidth = 2.2 * chart.MM  // of the layers at the right of a cross-section
	nameWidth  = 25.5 * chart.MM // and of their names
	wordLine   = 4.2 * chart.MM
	leastSlide = 24 * chart.MM // height of a cross-section there for which lines below it are given up
	leastTold  = 13 * chart.MM // and the first reason
	leastNamed = 16 * chart.MM // of which the axis has a name
)

// firstLine is the injury line of the first member in the others.
var firstLine = chart.Stroke(chart.Ink, 0.9, 1.6, 1.6)

// sheet is the figure as it is laid out.
type sheet struct {
	page    chart.Page
	members []Member
	rows    [][]Step // of procedures, in place of a grid of members that are held against the first
	cuts    []*figures.Cut
	texts   []words
	columns int
	row     []int // of each member
	column  []int
	named   []bool      // member by member: whether its layers are named
	left    []vg.Length // of each column
	room    []vg.Length // and for its words
	width   vg.Length   // of a cross-section
	height  vg.Length
	above   []vg.Length // of each row: room for titles
	below   []vg.Length // and for what is said under the axis
	scale   figures.Scale
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
// MostOnSlide in a row; what does not fit below them is left out, the first reason last.
func Figure(page chart.Page, title string, members []Member) chart.Figure {
	s := newSheet(page, members)
	lines := [][]string{s.explained()}
	if differs := told(Differences(members)); differs != "" {
		lines = append(lines, []string{"What differs: " + differs + "."})
	}
	return s.figure(page.File("sections"), title, lines)
}

// explained says in clauses what is drawn, at which scales.
func (s *sheet) explained() []string {
	says := []string{"Cross-sections at one scale: " + s.scale.Name + ", injury line"}
	if s.tight() { // in place of a colour bar and of the words at the axes
		says[0] = fmt.Sprintf("%s: %s pale to %s dark. Lengths in mm. Line: injury", phrase.Capital(s.scale.Name), phrase.Short(s.scale.Low), phrase.Short(s.scale.High))
	}
	if s.overlaid() {
		says[0] += "; thin dashed: that of the first"
	}
	says[0] += "."
	return says
}

// figure draws the sheet below a title and lines of clauses.
func (s *sheet) figure(name, title string, lines [][]string) chart.Figure {
	page, members := s.page, s.members
	h := page.Head(title, lines...)
	feet := page.Foot(shared(members))
	foot := feet.Height() + figures.LegendHeight(page, telling(members), s.cuts)
	if page.Compact() {
		s.fit(page.H - h.Height() - foot)
	} else {
		s.lay(most)
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
		figures.Legend(page, c, page.Left(), foot, telling(s.members), s.cuts)
		feet.Draw(c)
		if s.tight() {
			return
		}
		bar := chart.NewPanel(page, c, page.W-figures.BarWidth+2*chart.MM, panels[0].Min.Y, 3.5*chart.MM, s.height-4*chart.MM, 0, 1, s.scale.Low, s.scale.High)
		figures.ColourBar(bar, s.scale)
	}}
}

// tight reports whether the page has a height to keep to or is narrow: words say what the
// colours mean, and axes have numbers only.
func (s *sheet) tight() bool { return s.page.Compact() || s.page.Narrow() }

// axis is the height of the axis below a row of cross-sections.
func (s *sheet) axis(row int) vg.Length {
	switch {
	case !s.numbered(row):
		return 1 * chart.MM
	case s.tight():
		return 6.5 * chart.MM
	}
	return chart.AxisHeight
}

// numbered reports whether a row has an axis of its own: where room is short only the last of several rows.
func (s *sheet) numbered(row int) bool { return !s.tight() || row == s.row[len(s.row)-1] }

// MostOnSlide is how many cross-sections fit side by side on a page of given height.
const MostOnSlide = 4

func newSheet(page chart.Page, members []Member) *sheet {
	s := &sheet{page: page, members: members, columns: min(3, len(members))}
	for n, m := range members {
		s.named = append(s.named, n == 0 || !s.page.Compact() && !slices.ContainsFunc(members[:n], m.sameWall))
	}
	several := slices.Contains(s.named[1:], true)
	switch {
	case s.page.Compact():
		s.columns = len(members)
	case s.page.Narrow():
		s.columns = 1
	case len(members) == 4 || len(members) == 3 && several:
		s.columns = 2
	}
	for n := range members {
		s.row, s.column = append(s.row, n/s.columns), append(s.column, n%s.columns)
	}
	s.arrange()
	s.cut()
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
		s.cuts = append(s.cuts, k)
	}
}

// lay chooses what is seen of all cross-sections, which are to be no higher than most.
func (s *sheet) lay(most vg.Length) {
	half, head, depth := 0.0, 0.0, 0.0
	for _, k := range s.cuts {
		half, head, depth = math.Max(half, math.Max(-k.X0, k.X1)), math.Max(head, k.Head), math.Max(depth, k.Z1)
	}
	half = math.Max(half, (head+depth)*float64(s.width/most)/2)
	s.height = max(s.width*vg.Length((head+depth)/(2*half)), min(least, most))
	depth = 2*half*float64(s.height/s.width) - head // under a wide pad one looks deeper
	for _, k := range s.cuts {
		k.X0, k.X1, k.Head, k.Z1, k.Scale = -half, half, head, depth, s.scale
	}
}

// fit lays out the only row within a height: lines below the cross-sections are given up until these are leastSlide
// high, or nothing is left to give up.
func (s *sheet) fit(height vg.Length) {
	room := vg.Length(0)
	for lines := mostLines; lines > 0; lines-- {
		s.write(lines)
		room = height
		for row := range s.above {
			room -= s.above[row] + s.axis(row) + s.below[row]
		}
		room /= vg.Length(len(s.above))
		if room >= leastSlide || lines == 2 && room >= leastTold {
			break
		}
	}
	s.lay(max(room, 10*chart.MM))
	if free := room - s.height; free > 0 {
		s.below[len(s.below)-1] += free * vg.Length(len(s.below)) // the foot stays at the bottom
	}
}

// write breaks what is said above and below each cross-section, so many lines of it, and makes room for it.
func (s *sheet) write(lines int) {
	s.texts, s.above, s.below = nil, nil, nil
	for n, m := range s.members {
		title := s.room[s.column[n]]
		if s.isMarked(n) {
			title -= s.marked()
		}
		s.texts = append(s.texts, s.broken(m, title, s.room[s.column[n]], s.sayings(n), lines))
		if s.column[n] == 0 {
			s.above, s.below = append(s.above, 0), append(s.below, 0)
		}
		row, w := s.row[n], s.texts[n]
		s.above[row] = max(s.above[row], 2*chart.MM+s.titleLine()*vg.Length(len(w.title)))
		s.below[row] = max(s.below[row], s.page.Word/3+wordLine*vg.Length(len(w.headline))+s.noteLine()*vg.Length(len(w.rest)))
	}
}

// titleLine and noteLine are the distances of lines of titles and of small ones.
func (s *sheet) titleLine() vg.Length { return s.page.Figure * 1.27 }
func (s *sheet) noteLine() vg.Length  { return s.page.Note * 1.33 }

// arrange places the columns; one with a wall that is not shown before it has room for the names of its layers.
func (s *sheet) arrange() {
	names := make([]vg.Length, s.columns)
	free := s.page.W - s.page.Left() - figures.BarWidth
	if s.tight() {
		free = s.page.W - s.page.Left()
	}
	for n, named := range s.named {
		if named {
			names[s.column[n]] = nameWidth
		}
	}
	for _, w := range names {
		free -= stripWidth + w + gap
	}
	s.width = free / vg.Length(s.columns)
	x := s.page.Left()
	for _, w := range names {
		s.left, s.room = append(s.left, x), append(s.room, s.width+stripWidth+w)
		x += s.width + stripWidth + w + gap
	}
}

// sameWall reports whether two members have the same layers.
func (m Member) sameWall(other Member) bool {
	return slices.EqualFunc(m.Result.Case.Layers, other.Result.Case.Layers, func(a, b thermal.Layer) bool {
		return a.Name == b.Name && math.Abs(a.ThicknessM-b.ThicknessM) < 1e-6
	})
}

// broken breaks what is said of a member to the room there is.
func (s *sheet) broken(m Member, title, room vg.Length, told sayings, lines int) words {
	w := words{title: chart.Wrapped(s.titleStyle(), title, m.Title), headline: chart.Wrapped(s.wordStyle(), room, chart.Raised(told.headline))}
	for _, sentence := range told.rest(lines) {
		w.rest = append(w.rest, chart.Wrapped(s.noteStyle(), room, sentence)...)
	}
	return w
}

func (s *sheet) titleStyle() text.Style {
	return chart.TextStyle(s.page.Figure, chart.Ink, text.XLeft, text.YBottom)
}
func (s *sheet) wordStyle() text.Style {
	return chart.TextStyle(s.page.Word, chart.Ink, text.XLeft, text.YTop)
}
func (s *sheet) noteStyle() text.Style {
	return chart.TextStyle(s.page.Note, chart.Soft, text.XLeft, text.YTop)
}

// panels places the cross-sections below top.
func (s *sheet) panels(c draw.Canvas, top vg.Length) []*chart.Panel {
	var panels []*chart.Panel
	y := top
	for n, k := range s.cuts {
		row, column := s.row[n], s.column[n]
		if column == 0 {
			if row > 0 {
				y -= s.axis(row-1) + s.below[row-1]
			}
			y -= s.above[row] + s.height
		}
		panels = append(panels, chart.NewPanel(s.page, c, s.left[column], y, s.width, s.height, k.X0, k.X1, k.Z1, -k.Head))
	}
	return panels
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
	if s.rows != nil {
		s.layers(p, n)
	}
	if s.column[n] == 0 {
		top := 0.0
		if m.Result.Case.Scene() == thermal.AroundStalk {
			top = -k.Head
		}
		label, ticks := "depth (mm)", 6
		if s.height < leastNamed { // it would run into those above and below
			label, ticks = " ", 3
		}
		p.AxisY(label, chart.Within(chart.Ticks(top, k.Z1, ticks), top, k.Z1))
	}
	label := "from the middle (mm)"
	if s.tight() {
		label = " " // numbers alone
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
	x := p.Min.X
	if s.isMarked(n) {
		x += s.mark(p, vg.Point{X: x, Y: p.Max.Y + 1.2*chart.MM + s.titleLine()*vg.Length(len(w.title)-1)})
	}
	for i, l := range w.title {
		p.FillText(s.titleStyle(), vg.Point{X: x, Y: p.Max.Y + 1.2*chart.MM + s.titleLine()*vg.Length(len(w.title)-1-i)}, l)
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
