package study

import (
	"fmt"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
)

// A panel of what is nought at every place would be empty: a sentence says so in its stead.

// noughtAt reports whether a quantity that has words for it is nought at all these places.
func (q quantity) noughtAt(curves [][]place) bool {
	places := slices.Concat(curves...)
	return q.nought != "" && len(places) > 0 && !slices.ContainsFunc(places, func(p place) bool { return p.mid != 0 || p.low != 0 || p.high != 0 })
}

// withoutNought leaves out quantities that are nought everywhere, and says so of each.
func (t *SweepTable) withoutNought(shown []plotted) (left []plotted, says []string) {
	for _, p := range shown {
		if !p.noughtAt(slices.Concat(p.places...)) {
			left = append(left, p)
			continue
		}
		most := 0.0
		for _, v := range t.Column[p.column] {
			most = max(most, v) // not a number is not more
		}
		says = append(says, phrase.Capital(p.nought)+map[bool]string{true: " in every case.", false: fmt.Sprintf(" at each place in 95 of 100 cases; the most of any case is %s %%.", phrase.Short(most))}[most == 0])
	}
	return left, says
}

// words says in place of a panel of quantity i and facet n that it would be empty. Right of it there may be the numbers of the next.
func (l *layout) words(c draw.Canvas, top vg.Length, i, n int, txt string) {
	x, y := l.at(top, i, n)
	s := chart.TextStyle(l.page.Word, chart.Ink, text.XLeft, text.YTop)
	l.blank[[2]int{i, n}] = true
	l.heading(c, x, y+l.h, l.facets[n].title)
	c.FillText(s, vg.Point{X: x, Y: y + l.h - 2*chart.MM}, chart.WrappedTo(s, l.w-14*chart.MM, txt))
}

// neverReached says that the muscle is reached in no draw, by either injury line, whatever draws without a result and the numerical
// error leave open; "" if it may be.
func (s *SweepShape) neverReached(q quantity) string {
	most := 0.0
	facets, _ := s.facets(false)
	for _, f := range facets {
		for n := range f.curves() {
			for _, p := range f.places(s.SweepTable, n, q) {
				if p.all > 0 || p.mid > 0 || p.open.count > 0 {
					return ""
				}
				most = max(most, p.high)
			}
		}
	}
	return fmt.Sprintf("in none of the draws: at each place at most %s %% (upper end of the 95 %% interval, exact)", phrase.Short(most))
}
