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
	behind  func(*chart.Panel, *facet, *layout) []region // returns what it draws that has a name
	strip   vg.Length                                    // that behind asks for left of the data
	note    string                                       // below the figure, in lines
	nought  string                                       // says that it is nought; "": that is drawn like any value
	never   string                                       // what it means that no case at a place has a value; "": such places are left out
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
		name: "injured share of the muscle's thickness", label: "muscle injured (%)", column: shareColumn, nought: "the injured share of the muscle's thickness is 0 %", of: spread, mid: "median", shade: "5 to 95 %",
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
	open  openShare
	left  [2]float64 // what missing draws or the numerical error leave open, drawn as a thick line
	error float64    // numerical, drawn as a line; 0 or NaN: none
}

// places returns, for the n-th curve, what stands at each level of x.
func (f *facet) places(t *SweepTable, n int, q quantity) []place {
	var out []place
	for l, rows := range f.split(n) {
		if s := q.of(t.values(q.column, rows), t.missing(rows)); s.n > 0 {
			at := place{x: f.x.at[l], stats: s, short: t.shortOf(rows)}
			if q.whisker {
				at.open, at.left = t.openOf(q.column, rows, s.missing), [2]float64{s.none, s.all}
				if t.refined != nil && at.open.count > 0 {
					at.left = [2]float64{at.open.low, at.open.high}
				}
			} else if isDepth(q.column) && f.joined {
				at.error = t.largestError(q.column, rows)
			}
			out = append(out, at)
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

// plotted is what a figure of curves shows of a quantity.
type plotted struct {
	quantity
	places [][][]place   // facet, curve
	lack   [][][]float64 // levels of x whose cases all lack a value that may never come: facet, curve
	partly bool          // at other levels some of the cases lack it
}

// plot computes what the facets show of a quantity.
func (s *SweepShape) plot(q quantity, facets []*facet) plotted {
	out := plotted{quantity: q}
	for _, f := range facets {
		var curves [][]place
		var lack [][]float64
		for n := range f.curves() {
			all, some := f.lacking(s.SweepTable, n, q)
			curves, lack, out.partly = append(curves, f.places(s.SweepTable, n, q)), append(lack, all), out.partly || some
		}
		out.places, out.lack = append(out.places, curves), append(out.lack, lack)
	}
	return out
}

// all returns the places of every curve.
func (p plotted) all() []place { return slices.Concat(slices.Concat(p.places...)...) }

// notes says what is crossed out, what is left out, and what the quantity asks to be said of it.
func (p plotted) notes() (notes []string) {
	if len(slices.Concat(slices.Concat(p.lack...)...)) > 0 {
		notes = append(notes, "Crossed out, at the top: "+p.never+".")
	}
	if p.partly {
		notes = append(notes, "Cases "+p.never+" are left out of "+p.name+" where others have one.")
	}
	if p.note != "" {
		notes = append(notes, strings.Split(p.note, "\n")...)
	}
	return notes
}

// axis returns the ends of the upright axis.
func (p plotted) axis() (bottom, top float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, at := range p.all() {
		error := record.OrElse(at.error, 0)
		low, high = min(low, at.mid-error, at.low), max(high, at.mid+error, at.high)
		if at.left[1] > at.left[0] {
			low, high = min(low, at.left[0]), max(high, at.left[1])
		}
	}
	if low > high {
		low, high = 0, 1
	}
	return p.extent(low, high)
}

// curvesFigures draws quantities against what varies; on pages of given height a row of panels each.
func (s *SweepShape) curvesFigures(name string, quantities ...quantity) []chart.Figure {
	q := quantities[0]
	facets, notes := s.facets(q.behind != nil && q.column == record.DepthColumn && !s.oneWall)
	shown := make([]plotted, len(quantities))
	var places []place
	for i, q := range quantities {
		shown[i] = s.plot(q, facets)
	}
	shown, said := s.withoutNought(shown)
	quantities = nil
	for _, p := range shown {
		quantities, places, notes = append(quantities, p.quantity), append(places, p.all()...), append(notes, p.notes()...)
	}
	notes = append(notes, said...)
	notes = append(notes, s.lineNotes(shown, facets)...)
	if q.column == s.decided() && !q.whisker {
		notes = append(notes, s.Numerical()...)
	}
	if slices.ContainsFunc(places, func(p place) bool { return p.short != "" }) && !inBars(facets[0], q) {
		notes = append(notes, ringed)
	}
	if q.column == record.DepthColumn {
		notes = append(notes, s.wallNotes()...)
	}
	if fall := s.driedFall(quantities, facets); fall != "" {
		notes = append(notes, fall)
	}

	each := facetsAtOnce(s.page, len(facets))
	sets := [][]plotted{shown}
	if s.page.Compact() {
		sets = slices.Collect(slices.Chunk(shown, 1))
	}
	var bodies []body
	for _, of := range sets {
		for n := 0; n < len(facets); n += each {
			bodies = append(bodies, panelsOf(s.page, facets[n:min(n+each, len(facets))], of, n))
		}
	}
	return s.sheets(name, sentence(quantities, facets), notes, bodies...)
}

// lineNotes says what stands at and around the points of quantities, and leaves out lines that could not be read.
func (s *SweepShape) lineNotes(shown []plotted, facets []*facet) (notes []string) {
	q, first := shown[0].quantity, shown[0].all()
	spread, hidden, errors := false, []string(nil), []string(nil)
	l := newLayout(s.page, facets, len(shown), q.strip, 0)
	for _, p := range shown {
		spread = spread || slices.ContainsFunc(p.all(), func(at place) bool { return at.high > at.low })
		hidden = append(hidden, p.intervalNotes(l)...)
		errors = append(errors, p.errorNotes()...)
	}
	if q.whisker {
		notes = append(notes, s.missingNotes(first)...)
		notes = append(notes, s.openNotes(first, hidden == nil)...)
	}
	if spread {
		notes = append(notes, s.spreadNote(q, facets[0].joined && !q.whisker, hidden == nil))
	}
	notes = append(notes, hidden...)
	if q.whisker {
		notes = append(notes, s.Numerical()...)
	}
	return append(notes, errors...)
}

// facetsAtOnce is how many of n facets a page shows.
func facetsAtOnce(page chart.Page, n int) int {
	switch {
	case !page.Compact():
		return n
	case n == 4:
		return 2
	}
	return min(n, 3)
}

// panelsOf is a body of some facets, the first of them the n-th of the figure, of some quantities.
func panelsOf(page chart.Page, facets []*facet, of []plotted, n int) body {
	var l *layout
	return body{
		func(room vg.Length) vg.Length {
			l = newLayout(page, facets, len(of), of[0].strip, room)
			return l.height
		},
		func(c draw.Canvas, top vg.Length) {
			l.legend(c, top)
			for i, q := range of {
				bottom, topValue := q.axis()
				for k, f := range facets {
					if q.noughtAt(q.places[n+k]) {
						l.words(c, top, i, k, phrase.Capital(q.nought)+".")
						continue
					}
					drawFacet(l.panel(c, top, i, k, bottom, topValue), l, f, q.quantity, q.places[n+k], q.lack[n+k], i, k)
				}
			}
		}}
}

// spreadNote says what the points of a quantity stand for, and the intervals if they are drawn.
func (s *SweepShape) spreadNote(q quantity, shaded, drawn bool) string {
	how := "lines: "
	if shaded {
		how = "shade: "
	}
	switch {
	case !drawn && s.Draws > 1:
		return fmt.Sprintf("%s of %d draws.", phrase.Capital(q.mid), s.Draws)
	case !drawn:
		return phrase.Capital(q.mid) + " of the cases at a place."
	case q.whisker && s.missing(s.rows()) > 0:
		return "Thick lines: from the one share to the other; thin lines: the 95 % intervals of both (exact, Clopper and Pearson)."
	case s.Draws > 1:
		return fmt.Sprintf("%s of %d draws; %s%s.", phrase.Capital(q.mid), s.Draws, how, q.shade)
	}
	return fmt.Sprintf("%s; %s%s of the cases at a place.", phrase.Capital(q.mid), how, q.shade)
}

// wallNotes says of which case or draws the wall is that is drawn behind depths.
func (s *SweepShape) wallNotes() (notes []string) {
	muscle := s.Has(record.MarginColumn)
	switch {
	case !s.oneWall && muscle && s.Has(wallColumn):
		notes = append(notes, "Shaded: the muscle, to the outer surface of the wall (thick line); grey: beyond the wall.")
	case s.oneWall && slices.ContainsFunc(s.Inputs, func(in sweepInput) bool { return strings.HasPrefix(in.Key, "wall.") }):
		notes = append(notes, "The layers drawn are those of the first case.")
	}
	if !s.oneWall && muscle && s.Draws > 1 {
		notes = append(notes, "The muscle is drawn from where it begins in the median of the draws.")
	}
	return notes
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
