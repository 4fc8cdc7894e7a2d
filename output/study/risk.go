package study

import (
	"fmt"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

// riskOf is the share of draws in which the injury reaches the muscle: the margin is
// nothing or less. The injury is what dies within a day.
func riskOf() quantity {
	return quantity{
		name: "probability that the injury reaches the muscle", falls: "the share that dies within a day", label: "dies within a day (% of draws)", column: record.MarginColumn,
		of: reached, mid: "share", shade: "95 % interval for that number of draws (exact, Clopper and Pearson)", whisker: true,
		extent: func(_, high float64) (float64, float64) {
			if high > 50 {
				return 0, 100
			}
			return 0, max(1.15*high, 10)
		},
		note: "Reaches the muscle: tissue that dies within a day, the later of the two injury lines.",
	}
}

// atOnceOf is the same of what is coagulated at once.
func atOnceOf() quantity {
	q := riskOf()
	q.name, q.falls, q.label = "that tissue coagulated at once does", "the share coagulated at once", "coagulated at once (% of draws)"
	q.column, q.note = atOnceColumn, ""
	return q
}

// riskFigures draws the probability that the muscle is reached by either injury line; of what never does there is a
// sentence.
func (s *SweepShape) riskFigures() []chart.Figure {
	later := riskOf()
	switch {
	case s.neverReached(later) != "": // a note of the margin says so
		return nil
	case !s.Has(atOnceColumn):
		return s.curvesFigures("risk", later)
	}
	atOnce := s.neverReached(atOnceOf())
	if atOnce == "" {
		return s.curvesFigures("risk", later, atOnceOf())
	}
	later.note += "\nTissue coagulated at once reaches it " + atOnce + "."
	return s.curvesFigures("risk", later)
}

// missingNotes says what draws without a result leave open of the shares at places.
func (t *SweepTable) missingNotes(places []place) (notes []string) {
	most := stats{}
	for _, p := range places {
		if p.missing > most.missing {
			most = p.stats
		}
	}
	if most.missing > 0 {
		notes = append(notes, fmt.Sprintf("Share of the draws that have a result: up to %d of %d draws at a place have none, and the share there is %s %% if none of them reach the muscle, %s %% if all do.",
			most.missing, most.n+most.missing, phrase.Short(most.none), phrase.Short(most.all)))
	}
	some := map[int]bool{}
	for _, p := range t.Point {
		some[p] = true
	}
	if all := t.Cases / max(t.Draws, 1); len(some) < all {
		notes = append(notes, fmt.Sprintf("At %d of %d points no draw has a result: the probability there may be anything from 0 to 100 %%.", all-len(some), all))
	}
	return notes
}

// MissingDraws says what draws without a result leave open of the probability that the muscle is
// reached.
func (t *SweepTable) MissingDraws() []string {
	if t.Draws <= 1 || !t.Has(record.MarginColumn) {
		return nil
	}
	s := t.Shape()
	facets, _ := s.facets(false)
	var places []place
	for _, f := range facets {
		for n := range f.curves() {
			places = append(places, f.places(t, n, riskOf())...)
		}
	}
	return t.missingNotes(places)
}
