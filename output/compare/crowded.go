package compare

import (
	"slices"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"muralheat/output/chart"
	"muralheat/output/figures"
	"muralheat/thermal"
)

// crowded reports whether several rows have a height to keep to. Cross-sections show what is near the injury, the legend
// stands beside them, and words are few.
func (s *sheet) crowded() bool { return s.page.Compact() && len(s.rows) > 1 }

// roomy reports whether each cross-section has its share of the height, and a legend beside them has room.
func (s *sheet) roomy() bool { return s.height >= leastShare*s.page.H && s.keyHeight <= s.free }

const (
	leastBeside = 32 * chart.MM // width of the legend beside rows
	mostBeside  = 56 * chart.MM
)

// setBeside chooses how wide the legend is, so that it is no higher than room.
func (s *sheet) setBeside(room vg.Length) {
	nowhere := draw.NewCanvas(&recorder.Canvas{}, s.page.W, s.page.H)
	for s.beside = leastBeside; s.beside < mostBeside; s.beside += 3 * chart.MM {
		if s.keyHeight = -s.key(nowhere, 0); s.keyHeight <= room {
			return
		}
	}
}

// key draws the legend right of the rows, from top down, and returns where it ends.
func (s *sheet) key(c draw.Canvas, top vg.Length) vg.Length {
	left := s.page.W - s.beside
	k := figures.NewKey(s.page, c, left, top)
	k.Colours(s.scale)
	k.Marks(telling(s.members), s.cuts, true)
	if s.muscle() {
		k.Entry("muscle", func(p *chart.Panel) {
			p.FillPolygon(chart.MuscleShade, []vg.Point{p.Min, {X: p.Max.X, Y: p.Min.Y}, p.Max, {X: p.Min.X, Y: p.Max.Y}})
			p.Frame()
		})
	}
	for n := range s.members {
		if s.isMarked(n) {
			k.Entry("least margin", func(p *chart.Panel) {
				triangle(p.Canvas, s.page.Word*0.42, vg.Point{X: p.Center().X, Y: p.Center().Y - 0.4*chart.MM})
			})
		}
	}
	y := k.Bottom() - 1*chart.MM
	style := chart.TextStyle(s.page.Note, chart.Ink, text.XLeft, text.YTop)
	for _, clauses := range s.notes {
		for _, l := range chart.Wrapped(style, s.beside-1*chart.MM, strings.Join(clauses, ", ")) {
			c.FillText(style, vg.Point{X: left, Y: y}, l)
			y -= s.page.WordLine()
		}
	}
	return y
}

// muscle reports whether a wall has some.
func (s *sheet) muscle() bool {
	return slices.ContainsFunc(s.members, func(m Member) bool {
		return slices.ContainsFunc(m.Result.Case.Layers, func(l thermal.Layer) bool { return l.Muscle })
	})
}

// shorten chooses the longest headlines that all stand in one line.
func (s *sheet) shorten() {
	for n := 0; n < len(s.members); n++ {
		all := s.sayings(n).headlines
		if s.brief < len(all)-1 && s.wordStyle().Width(all[s.brief]) > s.room[s.column[n]] {
			s.brief, n = s.brief+1, -1
		}
	}
}
