package study

import (
	"fmt"
	"math"
	"slices"

	"muralheat/output/phrase"
	"muralheat/output/record"
)

// PointValues is what a point of a sweep came to: of one case that, of draws their median and the 5 to 95 % interval.
type PointValues struct {
	Title           string
	N               int     // cases with a result
	Margin, Outcome Middle  // to the muscle; what the cases are judged by
	ErrorMM         float64 // the largest numerical error of its margins; not a number: not known, or no muscle
	Short           int     // cases that got less than was set
}

// Middle is a median and the interval about it; not a number where there is none.
type Middle struct{ Mid, Low, High float64 }

// Points returns what each point came to, in the order of the plan; points without any result are left out.
func (t *SweepTable) Points() (all []PointValues) {
	factors, out := t.Factors(), t.Outcome()
	middle := func(column string, rows []int) Middle {
		s := t.medianOf(rows, func(row int) float64 { return t.cell(column, row) })
		if s.n == 0 {
			return Middle{math.NaN(), math.NaN(), math.NaN()}
		}
		return Middle{s.mid, s.low, s.high}
	}
	groups := t.byPoint()
	slices.SortStableFunc(groups, func(a, b []int) int { return t.Point[a[0]] - t.Point[b[0]] })
	for _, rows := range groups {
		p := PointValues{Title: t.pointTitle(t.Point[rows[0]], rows, factors), N: len(rows),
			Margin: middle(record.MarginColumn, rows), Outcome: middle(out.Column, rows), ErrorMM: math.NaN()}
		if !math.IsNaN(p.Margin.Mid) {
			p.ErrorMM = 0
			for _, row := range rows {
				p.ErrorMM = math.Max(p.ErrorMM, t.errorOf(record.MarginColumn, row)) // not a number stays
			}
		}
		for _, row := range rows {
			p.Short += count(t.fellShort(row))
		}
		all = append(all, p)
	}
	return all
}

// Answer says what the cases of a sweep without draws came to: how many reach the muscle, and where the margin is least; of those
// judged by something else where that is largest and least.
func (t *SweepTable) Answer() string {
	if t.Draws > 1 {
		return ""
	}
	points := t.Points()
	extreme := func(of func(PointValues) float64) (least, most PointValues, n int) {
		for _, p := range points {
			switch v := of(p); {
			case math.IsNaN(v):
				continue
			case n == 0:
				least, most = p, p
			case v < of(least):
				least = p
			case v > of(most):
				most = p
			}
			n++
		}
		return least, most, n
	}
	at := func(p PointValues) string {
		if p.Title == "" {
			return ""
		}
		return ", at " + p.Title
	}
	if least, _, n := extreme(func(p PointValues) float64 { return p.Margin.Mid }); n > 0 {
		reach, open, known := 0, [2]int{}, true
		for _, p := range points {
			if m := p.Margin.Mid; !math.IsNaN(m) {
				reach += count(m <= 0)
				open[0] += count(m <= -p.ErrorMM)
				open[1] += count(m <= p.ErrorMM)
				known = known && !math.IsNaN(p.ErrorMM)
			}
		}
		says := fmt.Sprintf("The injury reaches the muscle in %d of %d cases", reach, n)
		if known && (open[0] != reach || open[1] != reach) {
			says += fmt.Sprintf(", in %d to %d with margins off by their numerical error", open[0], open[1])
		}
		return says + fmt.Sprintf(". Least margin: %s mm%s.", phrase.Short(least.Margin.Mid), at(least))
	}
	out := t.Outcome()
	least, most, n := extreme(func(p PointValues) float64 { return p.Outcome.Mid })
	if n < 2 {
		return ""
	}
	return fmt.Sprintf("Largest %s: %s %s%s; least: %s %s%s.", out.Name, phrase.Short(most.Outcome.Mid), out.Unit, at(most), phrase.Short(least.Outcome.Mid), out.Unit, at(least))
}
