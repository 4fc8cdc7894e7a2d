package output

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A quantity is what stands on the upright axis of a panel.
type quantity struct {
	label   string
	column  string
	of      func([]float64) stats // of the values at one place
	shade   string                // what the interval means
	mid     string                // what the line means where there is an interval
	whisker bool                  // the interval is drawn so, never as a band
	extent  func(low, high float64) (bottom, top float64)
	behind  func(*panel, *facet, *layout)
}

func depthOf(t *sweepTable) quantity {
	return quantity{
		label: "injury depth (mm)", column: depthColumn, of: median, mid: "median", shade: "5 to 95 %",
		extent: t.depthExtent, behind: t.wallBehind,
	}
}

func marginOf() quantity {
	return quantity{
		label: "margin to the muscle (mm)", column: marginColumn, of: median, mid: "median", shade: "5 to 95 %",
		extent: func(low, high float64) (float64, float64) {
			low, high = min(low, 0), max(high, 0)
			air := 0.08 * max(high-low, 0.1)
			return low - 2*air, high + air // room below for words
		},
		behind: (*panel).muscleBelowZero,
	}
}

func shareOf() quantity {
	return quantity{
		label: "muscle injured (%)", column: shareColumn, of: median, mid: "median", shade: "5 to 95 %",
		extent: func(_, high float64) (float64, float64) { return 0, max(1.08*high, 10) },
	}
}

// riskOf is the share of draws in which the injury reaches the muscle: the margin is
// nothing or less.
func riskOf() quantity {
	return quantity{
		label: "draws that reach the muscle (%)", column: marginColumn,
		of: func(margins []float64) stats {
			k, n := 0, 0
			for _, m := range margins {
				if !math.IsNaN(m) {
					n++
				}
				if m <= 0 {
					k++
				}
			}
			w := wilson(k, n)
			return stats{100 * w.mid, 100 * w.low, 100 * w.high, n}
		},
		mid: "share", shade: "95 % interval (Wilson)", whisker: true,
		extent: func(_, high float64) (float64, float64) {
			if high > 50 {
				return 0, 100
			}
			return 0, max(1.15*high, 10)
		},
	}
}

// A facet is one panel of a figure: the rows it shows, along which factor and as curves
// of which other.
type facet struct {
	title  string // "" if there is one facet only
	x      *factor
	series *factor // nil: one curve
	shown  []int   // levels of series
	rows   []int
	joined bool // places belong together as a line
}

// place is what a facet shows at one level of x.
type place struct {
	x float64
	stats
}

// places returns, for the n-th curve, what stands at each level of x.
func (f *facet) places(t *sweepTable, n int, q quantity) []place {
	at := make([][]float64, len(f.x.at))
	for _, r := range f.rows {
		if f.series != nil && f.series.of[r] != f.shown[n] || f.x.of[r] < 0 {
			continue
		}
		at[f.x.of[r]] = append(at[f.x.of[r]], t.column[q.column][r])
	}
	var out []place
	for l, v := range at {
		if s := q.of(v); s.n > 0 {
			out = append(out, place{f.x.at[l], s})
		}
	}
	return out
}

// curves returns how many curves a facet has.
func (f *facet) curves() int {
	if f.series == nil {
		return 1
	}
	return len(f.shown)
}

const (
	mostCurves = 6  // that can be told apart
	mostFacets = 12 // on a page
)

// facets divides a sweep into panels and says in notes what is not shown as it is.
// byWall asks for a panel for each wall, because the muscle begins elsewhere.
func (s *sweepShape) facets(byWall bool) (out []*facet, notes []string) {
	if s.design != grid {
		for n, x := range s.factors {
			f := &facet{x: x, title: "", joined: s.design == oneAtATime && !x.words}
			for _, r := range s.rows() {
				if s.design == scattered || s.othersAtBase(r, n) {
					f.rows = append(f.rows, r)
				}
			}
			out = append(out, f)
		}
		if len(out) > mostFacets {
			notes = append(notes, fmt.Sprintf("%d of %d settings shown", mostFacets, len(out)))
			out = out[:mostFacets]
		}
		return out, notes
	}

	x := s.factors[0]
	for _, f := range s.factors[1:] {
		if x.words && !f.words || x.words == f.words && len(f.names) > len(x.names) {
			x = f
		}
	}
	rest := slices.DeleteFunc(slices.Clone(s.factors), func(f *factor) bool { return f == x })
	take := func(fits func(*factor) bool) *factor {
		i := slices.IndexFunc(rest, fits)
		if i < 0 {
			return nil
		}
		f := rest[i]
		rest = slices.Delete(rest, i, i+1)
		return f
	}
	var across *factor
	if byWall {
		across = take(s.movesMuscle)
	}
	series := take(func(f *factor) bool { return len(f.names) <= mostCurves })
	if series == nil {
		series = take(func(f *factor) bool { return !f.words })
	}
	if across == nil {
		across = take(func(*factor) bool { return true })
	}
	for _, f := range rest {
		notes = append(notes, f.title+" differs within each place: the interval holds all its values")
	}
	var shown []int
	if series != nil {
		shown = spacedOut(len(series.names), mostCurves)
		if len(shown) < len(series.names) {
			notes = append(notes, fmt.Sprintf("%d of the %d values of %s are shown", len(shown), len(series.names), series.title))
		}
	}
	one := facet{x: x, series: series, shown: shown, joined: !x.words}
	if across == nil {
		one.rows = s.rows()
		return []*facet{&one}, notes
	}
	levels := spacedOut(len(across.names), mostFacets)
	if len(levels) < len(across.names) {
		notes = append(notes, fmt.Sprintf("%d of the %d values of %s are shown", len(levels), len(across.names), across.title))
	}
	for _, l := range levels {
		f := one
		f.title = strings.TrimSpace(across.title + " " + across.names[l])
		if across.words {
			f.title = across.names[l]
		}
		for _, r := range s.rows() {
			if across.of[r] == l {
				f.rows = append(f.rows, r)
			}
		}
		out = append(out, &f)
	}
	return out, notes
}

// spacedOut returns at most m indices of n, both ends among them.
func spacedOut(n, m int) []int {
	var out []int
	for i := range min(n, m) {
		at := i
		if n > m {
			at = int(math.Round(float64(i) * float64(n-1) / float64(m-1)))
		}
		out = append(out, at)
	}
	return out
}

// othersAtBase reports whether row r has every factor but the n-th at its base.
func (s *sweepShape) othersAtBase(r, n int) bool {
	for i, f := range s.factors {
		if i != n && f.of[r] != s.base[i] {
			return false
		}
	}
	return true
}

// movesMuscle reports whether the muscle begins elsewhere at another level of f.
func (s *sweepShape) movesMuscle(f *factor) bool {
	least, most := math.Inf(1), math.Inf(-1)
	for l := range f.names {
		var tops []float64
		for _, r := range s.rows() {
			if f.of[r] == l {
				tops = append(tops, s.muscleTop(r))
			}
		}
		if m := median(tops); m.n > 0 {
			least, most = min(least, m.mid), max(most, m.mid)
		}
	}
	return most-least > sameTopMM
}

// curvesFigure draws quantities against what varies.
func (s *sweepShape) curvesFigure(name string, quantities ...quantity) figure {
	facets, notes := s.facets(quantities[0].behind != nil && quantities[0].column == depthColumn && !s.oneWall())
	places := make([][][][]place, len(quantities)) // quantity, facet, curve
	spread := false
	for i, q := range quantities {
		for _, f := range facets {
			var curves [][]place
			for n := range f.curves() {
				p := f.places(s.sweepTable, n, q)
				curves = append(curves, p)
				spread = spread || slices.ContainsFunc(p, func(p place) bool { return p.high > p.low })
			}
			places[i] = append(places[i], curves)
		}
	}
	q := quantities[0]
	if spread {
		how := "bars: "
		if facets[0].joined && !q.whisker {
			how = "shade: "
		}
		if s.Draws > 1 {
			notes = append(notes, fmt.Sprintf("Points: %s of %d draws; %s%s.", q.mid, s.Draws, how, q.shade))
		} else {
			notes = append(notes, fmt.Sprintf("Points: %s; %s%s of the cases at a place.", q.mid, how, q.shade))
		}
	}
	if q.column == depthColumn && s.oneWall() && slices.ContainsFunc(s.Inputs, func(in sweepInput) bool { return strings.HasPrefix(in.Key, "wall.") }) {
		notes = append(notes, "The layers drawn are those of the first case.")
	}
	says := []string{sentence(quantities, facets)}

	l := newLayout(facets, len(quantities))
	return s.sheet(name, says, notes, l.height, func(c draw.Canvas, top vg.Length) {
		l.legend(c, top)
		for i, q := range quantities {
			low, high := math.Inf(1), math.Inf(-1)
			for _, curves := range places[i] {
				for _, p := range slices.Concat(curves...) {
					low, high = min(low, p.mid, p.low), max(high, p.mid, p.high)
				}
			}
			if low > high {
				low, high = 0, 1
			}
			bottom, topValue := q.extent(low, high)
			for n, f := range facets {
				p := l.panel(c, top, i, n, bottom, topValue)
				p.facet(l, f, q, places[i][n], i, n)
			}
		}
	})
}

// sentence says what a figure of curves shows.
func sentence(quantities []quantity, facets []*facet) string {
	var what []string
	for _, q := range quantities {
		name, _, _ := strings.Cut(q.label, " (")
		what = append(what, name)
	}
	out := strings.Join(what, " and ")
	f := facets[0]
	if f.x.title != "" {
		var against []string
		for _, f := range facets {
			if !slices.Contains(against, f.x.title) {
				against = append(against, f.x.title)
			}
		}
		if len(against) > 3 {
			against = append(against[:2], fmt.Sprintf("%d other settings", len(against)-2))
		}
		out += " against " + strings.Join(against[:len(against)-1], ", ")
		if len(against) > 1 {
			out += " and "
		}
		out += against[len(against)-1]
	}
	if f.series != nil {
		out += ", by " + f.series.title
	}
	return strings.ToUpper(out[:1]) + out[1:] + "."
}
