package study

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

// Lines for an interval or an error are drawn only where they can be read: where they would hide one another a sentence says
// how long they are.

// perWhisker is the room that one takes across the page.
const perWhisker = 2.2 * chart.MM

// errorNotes leaves out the lines of the numerical error where those of different curves overlap, and says what stands for it.
func (p plotted) errorNotes() []string {
	least, most, hidden := math.Inf(1), 0.0, false
	for _, curves := range p.places {
		at := map[float64][]place{}
		for _, pl := range slices.Concat(curves...) {
			if pl.error > 0 {
				least, most = min(least, pl.error), max(most, pl.error)
				hidden = hidden || slices.ContainsFunc(at[pl.x], func(o place) bool { return math.Abs(o.mid-pl.mid) < o.error+pl.error })
				at[pl.x] = append(at[pl.x], pl)
			}
		}
	}
	switch {
	case most == 0:
		return nil
	case !hidden:
		return []string{errorLines}
	}
	for _, pl := range p.each() {
		pl.error = 0
	}
	size := "±" + record.Two(most)
	if low := "±" + record.Two(least); low != size {
		size = low + " to " + size
	}
	return []string{fmt.Sprintf("The numerical error of the %s is %s mm; its lines would hide one another and are not drawn.", p.name, size)}
}

// each returns the places of every curve, to be changed.
func (p plotted) each() (all []*place) {
	for _, curves := range p.places {
		for _, places := range curves {
			for n := range places {
				all = append(all, &places[n])
			}
		}
	}
	return all
}

// intervalNotes leaves out intervals that are drawn as lines and have no room beside one another on panels of a layout, and says how
// wide they are.
func (p plotted) intervalNotes(l *layout) []string {
	crowded := false
	for _, f := range l.facets {
		crowded = crowded || l.apart(f) < perWhisker*vg.Length(f.curves())
	}
	if f := l.facets[0]; f.joined && !p.whisker || !crowded {
		return nil
	}
	least, most := math.Inf(1), 0.0
	for _, pl := range p.each() {
		if pl.high > pl.low {
			least, most = min(least, pl.high-pl.low), max(most, pl.high-pl.low)
		}
		pl.low, pl.high, pl.left, pl.open = pl.mid, pl.mid, [2]float64{}, openShare{}
	}
	if most == 0 {
		return nil
	}
	return []string{fmt.Sprintf("The intervals of the %s (%s) would hide one another and are not drawn; from end to end they are %s to %s wide.", p.name, p.shade, phrase.Short(least), phrase.Short(most))}
}

// apart returns how far the nearest two places of a facet are from each other on the page.
func (l *layout) apart(f *facet) vg.Length {
	w := l.w - l.strip
	if f.x.words {
		return 0.6 * w / vg.Length(len(f.x.at)) // of a slot
	}
	least := math.Inf(1)
	for n := 1; n < len(f.x.at); n++ {
		least = min(least, f.x.at[n]-f.x.at[n-1])
	}
	if len(f.x.at) < 2 {
		return w
	}
	return w * vg.Length(least/(1.1*(f.x.at[len(f.x.at)-1]-f.x.at[0])))
}
