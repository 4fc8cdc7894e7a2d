package study

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"muralheat/output/record"
)

// outcome is a result whose sensitivity is told, or by which cases are judged.
type outcome struct {
	Name, Column, Unit string

	reached bool // in place of the column: 100 where the muscle is reached, 0 where it is not; of draws, their share
}

// Sensitive returns the results whose sensitivity is told: that by which the cases are judged; but where the muscle does
// not begin at the same depth in all cases the margin to it, for there a depth alone does not tell what is reached, and with
// draws the probability of reaching it.
func (t *SweepTable) Sensitive() []outcome {
	least, most := t.muscleTops(t.rows())
	if t.Outcome().Column != record.DepthColumn || !(most-least > sameTopMM) {
		return []outcome{t.Outcome()}
	}
	all := []outcome{{Name: "margin to the muscle", Column: record.MarginColumn, Unit: "mm"}}
	if t.Draws > 1 {
		all = append(all, outcome{Name: "probability that the muscle is reached", Column: record.MarginColumn, Unit: "%", reached: true})
	}
	return all
}

// figure returns the name of a figure of it: that of the probability has one of its own.
func (o outcome) figure(name string) string {
	if o.reached {
		return name + "-risk"
	}
	return name
}

// of returns the outcome in a row.
func (o outcome) of(t *SweepTable, row int) float64 {
	v := t.Column[o.Column][row]
	if o.reached && !math.IsNaN(v) {
		return 100 * float64(count(v <= 0))
	}
	return v
}

// among returns it in rows, those without one left out.
func (o outcome) among(t *SweepTable, rows []int) (v []float64) {
	for _, r := range rows {
		if x := o.of(t, r); !math.IsNaN(x) {
			v = append(v, x)
		}
	}
	return v
}

// typical returns what stands for rows: the median, or the share of those that reach the muscle; NaN of none.
func (o outcome) typical(t *SweepTable, rows []int) float64 {
	v := o.among(t, rows)
	if o.reached && len(v) > 0 {
		return stat.Mean(v, nil)
	}
	return median(v).mid
}
