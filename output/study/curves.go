package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

// A quantity is what stands on the upright axis of a panel.
type quantity struct {
	name    string // in a sentence
	falls   string // what falls, as a subject; "": the name
	label   string // of the axis
	column  string
	of      func(values []float64, missing int) stats // at one place; of so many draws there is no result
	shade   string                                    // what the interval means
	mid     string                                    // what is drawn where there is an interval
	whisker bool                                      // the interval is drawn so, never as a band
	extent  func(low, high float64) (bottom, top float64)
	behind  func(*chart.Panel, *facet, *layout)
	strip   vg.Length // that behind asks for left of the data
	note    string    // below the figure, in lines
	never   string    // what it means that no case at a place has a value; "": such places are left out
}

// spread is the median and the 5 to 95 % interval of what there is.
func spread(values []float64, _ int) stats { return median(values) }

func depthOf(t *SweepTable) quantity {
	q := quantity{
		name: "injury depth", label: "injury depth (mm)", column: record.DepthColumn, of: spread, mid: "median", shade: "5 to 95 %",
		extent: t.depthExtent, behind: t.wallBehind,
	}
	switch {
	case t.oneWall:
		q.strip = 27 * chart.MM
	case t.Has(record.MarginColumn):
		q.strip = 14 * chart.MM
	}
	return q
}

func marginOf() quantity {
	return quantity{
		name: "margin to the muscle", label: "margin to the muscle (mm)", column: record.MarginColumn, of: spread, mid: "median", shade: "5 to 95 %",
		extent: func(low, high float64) (float64, float64) {
			low, high = min(low, 0), max(high, 0)
			air := 0.08 * max(high-low, 0.1)
			return low - 2*air, high + air // room below for words
		},
		behind: muscleBelowZero,
	}
}

func shareOf() quantity {
	return quantity{
		name: "injured share of the muscle's thickness", label: "muscle injured (%)", column: shareColumn, of: spread, mid: "median", shade: "5 to 95 %",
		extent: func(_, high float64) (float64, float64) { return 0, max(1.08*high, 10) },
	}
}

// A facet is one panel of a figure: the rows it shows, along which factor and as curves
// of which other.
type facet struct {
	title  string // its level of across
	across string // title of the factor that has a level in each panel; "" if none has
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
	short string // "0.98 of 3 W" where most of its cases got less power than was set
}

// places returns, for the n-th curve, what stands at each level of x.
func (f *facet) places(t *SweepTable, n int, q quantity) []place {
	var out []place
	for l, rows := range f.split(n) {
		if s := q.of(t.values(q.column, rows), t.missing(rows)); s.n > 0 {
			out = append(out, place{f.x.at[l], s, t.shortOf(rows)})
		}
	}
	return out
}

// lacking returns, for the n-th curve, the levels of x whose cases all lack a value that may
// never come, and whether elsewhere some do.
func (f *facet) lacking(t *SweepTable, n int, q quantity) (all []float64, some bool) {
	if q.never == "" {
		return nil, false
	}
	for l, rows := range f.split(n) {
		switch s := q.of(t.values(q.column, rows), 0); {
		case s.n > 0:
			some = some || s.n < len(rows)
		case len(rows) > 0:
			all = append(all, f.x.at[l])
		}
	}
	return all, some
}

// split returns the rows of the n-th curve at each level of x.
func (f *facet) split(n int) [][]int {
	rows := f.rows
	if f.series != nil {
		rows = f.series.split(rows)[f.shown[n]]
	}
	return f.x.split(rows)
}

// curves returns how many curves a facet has.
func (f *facet) curves() int {
	if f.series == nil {
		return 1
	}
	return len(f.shown)
}

const (
	mostCurves = 6    // that can be told apart
	mostFacets = 12   // on a page
	mostPoints = 2000 // of a cloud
)

// curvesFigure draws quantities against what varies.
func (s *SweepShape) curvesFigure(name string, quantities ...quantity) chart.Figure {
	facets, notes := s.facets(quantities[0].behind != nil && quantities[0].column == record.DepthColumn && !s.oneWall)
	places := make([][][][]place, len(quantities)) // quantity, facet, curve
	never := make([][][][]float64, len(quantities))
	spread, short := false, false
	for i, q := range quantities {
		anyAll, anySome := false, false
		for _, f := range facets {
			var curves [][]place
			var none [][]float64
			for n := range f.curves() {
				p := f.places(s.SweepTable, n, q)
				curves = append(curves, p)
				spread = spread || slices.ContainsFunc(p, func(p place) bool { return p.high > p.low })
				short = short || slices.ContainsFunc(p, func(p place) bool { return p.short != "" })
				all, some := f.lacking(s.SweepTable, n, q)
				none = append(none, all)
				anyAll, anySome = anyAll || len(all) > 0, anySome || some
			}
			places[i], never[i] = append(places[i], curves), append(never[i], none)
		}
		if anyAll {
			notes = append(notes, "Crossed out, at the top: "+q.never+".")
		}
		if anySome {
			notes = append(notes, "Cases "+q.never+" are left out of "+q.name+" where others have one.")
		}
		if q.note != "" {
			notes = append(notes, strings.Split(q.note, "\n")...)
		}
	}
	q := quantities[0]
	if q.whisker {
		notes = append(notes, s.missingNotes(slices.Concat(slices.Concat(places[0]...)...))...)
	}
	if spread {
		how := "lines: "
		if facets[0].joined && !q.whisker {
			how = "shade: "
		}
		switch {
		case q.whisker && s.missing(s.rows()) > 0:
			notes = append(notes, "Thick lines: from the one share to the other; thin lines: the 95 % intervals of both (Wilson).")
		case s.Draws > 1:
			notes = append(notes, fmt.Sprintf("%s of %d draws; %s%s.", phrase.Capital(q.mid), s.Draws, how, q.shade))
		default:
			notes = append(notes, fmt.Sprintf("%s; %s%s of the cases at a place.", phrase.Capital(q.mid), how, q.shade))
		}
	}
	if short && !inBars(facets[0], q) {
		notes = append(notes, ringed)
	}
	if q.column == record.DepthColumn && !s.oneWall && s.Has(wallColumn) && s.Has(record.MarginColumn) {
		notes = append(notes, "Shaded: the muscle, to the outer surface of the wall (thick line); grey: beyond the wall.")
	}
	if q.column == record.DepthColumn && s.oneWall && slices.ContainsFunc(s.Inputs, func(in sweepInput) bool { return strings.HasPrefix(in.Key, "wall.") }) {
		notes = append(notes, "The layers drawn are those of the first case.")
	}
	if q.column == record.DepthColumn && !s.oneWall && s.Draws > 1 && s.Has(record.MarginColumn) {
		notes = append(notes, "The muscle is drawn from where it begins in the median of the draws.")
	}
	if fall := s.driedFall(quantities, facets); fall != "" {
		notes = append(notes, fall)
	}
	says := sentence(quantities, facets)

	l := newLayout(facets, len(quantities), q.strip)
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
				drawFacet(p, l, f, q, places[i][n], never[i][n], i, n)
			}
		}
	})
}

// sentence says in clauses what a figure of curves shows.
func sentence(quantities []quantity, facets []*facet) (clauses []string) {
	var what []string
	for _, q := range quantities {
		what = append(what, q.name)
	}
	out := strings.Join(what, " and ")
	f := facets[0]
	switch {
	case f.x.title == "" && len(f.x.names) > 1:
		out += ", case by case"
	case f.x.title != "":
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
	clauses = []string{phrase.Capital(out)}
	if f.series != nil {
		clauses = append(clauses, "by "+f.series.title)
	}
	if f.title != "" {
		clauses = append(clauses, "a panel for each "+f.across)
	}
	clauses[len(clauses)-1] += "."
	return clauses
}
