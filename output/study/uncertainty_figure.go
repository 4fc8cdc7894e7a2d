package study

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

// uncertaintyFigures draw the margin, or the depth, with a band for all that is uncertain of it and one for the
// numerical error alone; none if the sweep was not refined.
func (s *SweepShape) uncertaintyFigures() []chart.Figure {
	all := s.uncertainties()
	if all == nil {
		return nil
	}
	q := depthOf(s.SweepTable)
	if s.Has(record.MarginColumn) {
		q = marginOf()
	}
	facets, notes := s.facets(false)
	facets = apart(facets)
	shown := plotted{quantity: q}
	for _, f := range facets {
		shown.places = append(shown.places, [][]place{s.uncertainPlaces(f, q, all)})
		shown.lack = append(shown.lack, [][]float64{nil})
	}
	how := "Thin lines: all that is uncertain, combined; thick lines: the numerical error alone. Both hold 95 of 100."
	if facets[0].joined {
		how = "Light: all that is uncertain, combined; dark: the numerical error alone. Both hold 95 of 100."
	}
	notes = slices.Concat(notes, []string{how}, s.Combined()[:1], []string{"Combined by root sum of squares, as if the parts were independent; muralheat guide plans says what that assumes."}, s.Numerical())
	title := phrase.Capital(q.name) + " with what is uncertain of it: mesh, inputs and damage kinetics."
	var bodies []body
	for n, each := 0, facetsAtOnce(s.page, len(facets)); n < len(facets); n += each {
		bodies = append(bodies, bandsOf(s.page, facets[n:min(n+each, len(facets))], shown, n))
	}
	return s.sheets("uncertainty", []string{title}, notes, bodies...)
}

// bandsOf is a body of some facets, the first of them the n-th of the figure, with the band of the numerical error in that of
// all that is uncertain.
func bandsOf(page chart.Page, facets []*facet, shown plotted, n int) body {
	var l *layout
	return body{
		func(room vg.Length) vg.Length {
			l = newLayout(page, facets, 1, shown.strip, room)
			return l.height
		},
		func(c draw.Canvas, top vg.Length) {
			l.legend(c, top)
			bottom, topValue := shown.axis()
			for k, f := range facets {
				places, own := shown.places[n+k][0], shown.quantity
				own.behind = func(p *chart.Panel, f *facet, l *layout) (names []region) {
					if shown.behind != nil {
						names = shown.behind(p, f, l)
					}
					if f.joined {
						intervalBand(p, inner(places), 0)
					}
					return names
				}
				drawFacet(l.panel(c, top, 0, k, bottom, topValue), l, f, own, shown.places[n+k], shown.lack[n+k], 0, k)
			}
		}}
}

// apart gives each curve of the panels a panel of its own, up to the number that a page holds: bands of several would hide
// each other.
func apart(facets []*facet) (out []*facet) {
	for _, f := range facets {
		if f.series == nil {
			out = append(out, f)
			continue
		}
		for _, level := range f.shown {
			one := *f
			one.series, one.shown = nil, nil
			one.rows = f.series.split(f.rows)[level]
			one.across = strings.TrimPrefix(f.across+" and "+f.series.title, " and ")
			name := f.series.names[level]
			if !f.series.words {
				name = strings.TrimSpace(f.series.title + " " + name)
			}
			one.title = strings.TrimPrefix(f.title+", "+name, ", ")
			out = append(out, &one)
		}
	}
	return out[:min(len(out), mostFacets)]
}

// uncertainPlaces returns what stands at each level of a panel: the interval is that of all that is uncertain, and left that of
// the numerical error.
func (s *SweepShape) uncertainPlaces(f *facet, q quantity, all []uncertainty) (places []place) {
	of := map[int]uncertainty{}
	for _, u := range all {
		of[u.Point] = u
	}
	for l, rows := range f.x.split(f.rows) {
		at := median(s.values(q.column, rows))
		numerical, combined := math.NaN(), 0.0
		for _, r := range rows {
			if u, there := of[s.Point[r]]; there {
				numerical, combined = max(record.OrElse(numerical, 0), coverage*record.OrElse(u.Numerical, 0)), max(combined, coverage*u.combined())
			}
		}
		if at.n == 0 || math.IsNaN(numerical) {
			continue
		}
		places = append(places, place{x: f.x.at[l], stats: stats{mid: at.mid, low: at.mid - combined, high: at.mid + combined, n: at.n}, left: [2]float64{at.mid - numerical, at.mid + numerical}})
	}
	return places
}

// inner are the same places with the interval of the numerical error.
func inner(places []place) []place {
	out := slices.Clone(places)
	for n := range out {
		out[n].low, out[n].high = out[n].left[0], out[n].left[1]
	}
	return out
}
