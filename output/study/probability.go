package study

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/scenarios/binomial"
)

// ProbabilityName is the table of a sweep with draws: what they tell of the probability that the injury reaches
// the muscle, a row for each point.
const ProbabilityName = "probability.csv"

// exactMethod names the interval in tables.
const exactMethod = "Clopper-Pearson 95 %"

// Probability is what the draws of a point tell of the probability that the injury reaches the muscle: the margin is
// nothing or less.
type Probability struct {
	Point             int
	Title             string // "": there is only one
	N, K              int    // draws with a result; of them those that reach it
	Missing           int    // draws without a result
	binomial.Interval        // of the probability, from none of the missing to all of them

	ErrorMM     float64           // the most that margins there may be off numerically; NaN: unknown
	Least, Most int               // K, if all margins are off by their error one way and the other
	Wide        binomial.Interval // of the probability then, from the least to the most
}

// Share is K of N; NaN of no draws.
func (p Probability) Share() float64 { return float64(p.K) / float64(p.N) }

// Probabilities returns that of each point of a sweep with draws, in their order; nil if it has none, or no muscle.
func (t *SweepTable) Probabilities() []Probability {
	if t.Draws <= 1 || !t.Has(record.MarginColumn) {
		return nil
	}
	of := map[int][]int{}
	for _, rows := range t.byPoint() {
		of[t.Point[rows[0]]] = rows
	}
	if len(t.Point)+t.Failed+t.Doubtful == t.Cases { // a whole table: what it lacks has no result
		for n := range t.Cases / t.Draws {
			if _, there := of[n]; !there {
				of[n] = nil
			}
		}
	}
	var all []Probability
	factors := t.Factors()
	for _, n := range slices.Sorted(maps.Keys(of)) {
		all = append(all, t.probability(n, of[n], factors))
	}
	return all
}

// probability returns that of a point, of which there are these rows.
func (t *SweepTable) probability(point int, rows []int, factors []*factor) Probability {
	p := Probability{Point: point, Title: t.pointTitle(point, rows, factors)}
	for _, row := range rows {
		m := t.Column[record.MarginColumn][row]
		if math.IsNaN(m) {
			continue
		}
		e := t.errorOf(record.MarginColumn, row)
		p.N++
		p.ErrorMM = math.Max(p.ErrorMM, e) // not a number stays
		p.K += count(m <= 0)
		p.Least += count(m <= -e)
		p.Most += count(m <= e)
	}
	p.Missing = t.Draws - p.N
	p.Interval = bounds(p.K, p.K, p.N, p.Missing)
	if p.Wide = (binomial.Interval{High: 1}); !math.IsNaN(p.ErrorMM) {
		p.Wide = bounds(p.Least, p.Most, p.N, p.Missing)
	}
	return p
}

// bounds returns the interval of a probability of which least to most of n draws are seen, and of as many as are missing none
// or all.
func bounds(least, most, n, missing int) binomial.Interval {
	n += missing
	return binomial.Interval{Low: binomial.Exact(least, n).Low, High: binomial.Exact(most+missing, n).High}
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// pointTitle returns what a point is called, of which there are these rows; "" if it is the only one.
func (t *SweepTable) pointTitle(point int, rows []int, factors []*factor) string {
	switch {
	case t.Cases <= t.Draws:
		return ""
	case len(rows) == 0:
		return fmt.Sprintf("point %d", point)
	case t.name != nil:
		return t.caseTitle(rows[0])
	}
	var parts []string
	for _, f := range factors {
		if l := f.of[rows[0]]; l >= 0 {
			parts = append(parts, strings.TrimSpace(f.title+" "+f.names[l]))
		}
	}
	return strings.Join(parts, ", ")
}

// ProbabilityCSV is the table of ProbabilityName; nil if there are no probabilities.
func (t *SweepTable) ProbabilityCSV() []byte {
	all := t.Probabilities()
	if all == nil {
		return nil
	}
	rows := [][]string{{"point", "title", "n", "k", "missing", "P_percent", "low_percent", "high_percent", "method",
		"numerical_mm", "k_least", "k_most", "low_numerical_percent", "high_numerical_percent"}}
	for _, p := range all {
		row := []string{fmt.Sprint(p.Point), record.Guarded(p.Title), fmt.Sprint(p.N), fmt.Sprint(p.K), fmt.Sprint(p.Missing),
			percent(p.Share()), percent(p.Low), percent(p.High), exactMethod, record.Number(p.ErrorMM)}
		numerical := []string{fmt.Sprint(p.Least), fmt.Sprint(p.Most), percent(p.Wide.Low), percent(p.Wide.High)}
		if math.IsNaN(p.ErrorMM) {
			numerical = make([]string, len(numerical))
		}
		rows = append(rows, append(row, numerical...))
	}
	return record.Table(rows)
}

// percent writes a share for a table, as well as its draws tell it.
func percent(share float64) string {
	return record.Number(math.Round(1e6*share) / 1e4)
}

// Words says it in sentences: what was seen, what that shows, and what the meshes leave open.
func (p Probability) Words() string {
	if p.N == 0 {
		return fmt.Sprintf("none of %d draws has a result: the probability may be anything from 0 to 100 %%.", p.Missing)
	}
	s := fmt.Sprintf("%s reach the muscle, %s", ofDraws(p.K, p.N), within(p.Share(), p.Interval))
	if p.Missing > 0 {
		s += fmt.Sprintf("; of %d more without a result none or all", p.Missing)
	}
	switch {
	case math.IsNaN(p.ErrorMM):
		s += "; its numerical error is not known"
	case p.Least == p.K && p.Most == p.K:
		s += fmt.Sprintf("; no margin is as small as its numerical error, %s mm", phrase.Short(p.ErrorMM))
	default:
		s += fmt.Sprintf("; with margins off by their numerical error, %s mm, %d to %d, %s", phrase.Short(p.ErrorMM), p.Least, p.Most, between95(p.Wide))
	}
	return s + "."
}

func ofDraws(k, n int) string { return fmt.Sprintf("%d of %d draws", k, n) }

// within writes a share with its interval.
func within(share float64, i binomial.Interval) string {
	return fmt.Sprintf("%s %% (95 %% interval %s %%)", phrase.Short(100*share), fromTo(100*i.Low, 100*i.High))
}

func between95(i binomial.Interval) string { return fromTo(100*i.Low, 100*i.High) + " %" }

func fromTo(low, high float64) string { return phrase.Short(low) + " to " + phrase.Short(high) }
