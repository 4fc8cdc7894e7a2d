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
		of: reached, mid: "share", shade: "95 % interval for that number of draws (Wilson)", whisker: true,
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

// riskFigure draws the probability that the muscle is reached by either injury line; of what is
// coagulated at once a sentence, if that never is.
func (s *SweepShape) riskFigure() chart.Figure {
	later := riskOf()
	if !s.Has(atOnceColumn) {
		return s.curvesFigure("risk", later)
	}
	facets, _ := s.facets(false)
	most, any := 0.0, false
	for _, f := range facets {
		for n := range f.curves() {
			for _, p := range f.places(s.SweepTable, n, atOnceOf()) {
				most, any = max(most, p.high), any || p.all > 0 || p.mid > 0
			}
		}
	}
	if any {
		return s.curvesFigure("risk", later, atOnceOf())
	}
	later.note += fmt.Sprintf("\nTissue coagulated at once reaches it in none of the draws: at each place at most %s %% (upper end of the 95 %% interval, Wilson).", phrase.Short(most))
	return s.curvesFigure("risk", later)
}
