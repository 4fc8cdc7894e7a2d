package compare

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/figures"
)

// lay chooses what is seen of all cross-sections, which are to be no higher than most.
func (s *sheet) lay(most vg.Length) {
	head, depth := s.head, s.depth
	half := math.Max(s.half, (head+depth)*float64(s.width/most)/2)
	s.height = max(s.width*vg.Length((head+depth)/(2*half)), min(least, most))
	depth = 2*half*float64(s.height/s.width) - head // under a wide pad one looks deeper
	for _, k := range s.cuts {
		k.X0, k.X1, k.Head, k.Z1, k.Scale = -half, half, head, depth, s.scale
	}
}

// fit lays the rows out within a height: lines below the cross-sections are given up, and headlines made brief, until
// these are leastSlide high, or have leastShare of the page with what is given up last, or nothing is left to give up.
func (s *sheet) fit(height vg.Length) {
	s.free = height
	room := s.chosen()
	s.lay(max(room, 10*chart.MM))
	if free := room - s.height; free > 0 {
		s.below[len(s.below)-1] += free * vg.Length(len(s.below)) // the foot stays at the bottom
	}
}

// chosen writes as much as there is room for, and returns what is left for each cross-section.
func (s *sheet) chosen() (room vg.Length) {
	headlines := []int{s.brief}
	if s.rows == nil {
		headlines = []int{0, 1}
	}
	for lines := mostLines; lines >= 0; lines-- {
		for _, s.brief = range headlines {
			s.write(lines)
			room = s.free
			for row := range s.above {
				room -= s.above[row] + s.axis(row) + s.below[row]
			}
			room /= vg.Length(len(s.above))
			if room >= leastSlide || room >= leastShare*s.page.H && (lines < 3 || s.crowded()) {
				return room
			}
		}
	}
	return room
}

// write breaks what is said above and below each cross-section, so many lines of it, and makes room for it.
func (s *sheet) write(lines int) {
	s.texts, s.above, s.below = nil, nil, nil
	for n, m := range s.members {
		s.texts = append(s.texts, s.broken(m, s.room[s.column[n]], s.sayings(n), lines))
		if s.column[n] == 0 {
			s.above, s.below = append(s.above, 0), append(s.below, 0)
		}
		row, w := s.row[n], s.texts[n]
		s.above[row] = max(s.above[row], 2*chart.MM+s.titleLine()*vg.Length(len(w.title)))
		s.below[row] = max(s.below[row], s.page.Word/3+wordLine*vg.Length(len(w.headline))+s.noteLine()*vg.Length(len(w.rest)))
	}
}

// titleLine and noteLine are the distances of lines of titles and of small ones.
func (s *sheet) titleLine() vg.Length { return s.titleStyle().Font.Size * 1.27 }
func (s *sheet) noteLine() vg.Length  { return s.page.Note * 1.33 }

// arrange places the columns; one with a wall that is not shown before it has room for the names of its layers.
func (s *sheet) arrange() {
	names := make([]vg.Length, s.columns)
	free := s.page.W - s.page.Left() - s.beside
	if !s.tight() {
		free -= figures.BarWidth
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

// broken breaks what is said of a member to the room there is.
func (s *sheet) broken(m Member, room vg.Length, told sayings, lines int) words {
	w := words{title: chart.Wrapped(s.titleStyle(), room, m.Title), headline: chart.Wrapped(s.wordStyle(), room, chart.Raised(told.headlines[min(s.brief, len(told.headlines)-1)]))}
	for _, sentence := range told.rest(lines) {
		w.rest = append(w.rest, chart.Wrapped(s.noteStyle(), room, sentence)...)
	}
	return w
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
// Where several rows have a height to keep to, the axis of depth has the scale of both.
func (s *sheet) numbered(row int) bool {
	return !s.tight() || row == s.row[len(s.row)-1] && !s.crowded()
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
