package study

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"

	"muralheat/output/chart"
)

// leastValues is how many values a rank correlation is told from at least; fewer say
// nothing (their chance interval covers most of -1 to 1).
const leastValues = 8

// correlationFigures draws the rank correlations of the outcome.
func (s *SweepShape) correlationFigures(out outcome) []chart.Figure {
	all, says := s.Correlations(out)
	if len(all) == 0 {
		return nil
	}
	notes := []string{
		fmt.Sprintf("To the right: more of it, more %s; to the left: more of it, less.", out.Name),
		"Grey: what chance alone gives in 19 of 20 times, by permuting " + overWhat(all) + ".",
	}
	if len(all) > 1 {
		notes = append(notes, fmt.Sprintf("That is for one input alone, not adjusted for there being %d.", len(all)))
	}
	if slices.ContainsFunc(all, func(s sensitivity) bool { return s.Effects[0].High > s.Effects[0].Low }) {
		notes = append(notes, "Thin line: from the least to the largest of the points, which a mean can hide.")
	}
	t := tornado{label: "rank correlation with " + out.Name, short: "rank correlation", rows: all, most: 1, format: func(v float64) string { return signed(v, 2) }}
	return t.figures(s, out.figure("sensitivity"), []string{says}, notes)
}

// overWhat lists what the inputs are permuted over.
func overWhat(all []sensitivity) string {
	var over []string
	for _, r := range all {
		if !slices.Contains(over, r.Over) {
			over = append(over, r.Over)
		}
	}
	return strings.Join(over, " and ")
}

// Correlations returns the rank correlation of an outcome with each input, and what it is taken
// over. Cases are not alike independent: the draws of a point share its settings, and all points
// share their draws. So a setting of a space-filling design is correlated over points, with the mean
// outcome of the draws there; what is uncertain within each point, where nothing else differs,
// averaged over the points. What chance gives comes from permuting the points, or the draws alike
// at all points (permutation tests: Good 2005, Permutation, Parametric and Bootstrap Tests of
// Hypotheses, from memory).
func (s *SweepShape) Correlations(out outcome) (all []sensitivity, says string) {
	groups := s.byPoint()
	var settings, drawn int
	for n, in := range s.Inputs {
		r, ok := sensitivity{}, false
		switch {
		case in.Uncertain:
			if r, ok = s.withinPoints(out, n, groups); ok {
				drawn++
			}
		case s.Design == scattered && s.varies(n):
			if r, ok = s.overPoints(out, n, groups); ok {
				settings++
			}
		}
		if ok {
			r.Name = in.heading()
			all = append(all, r)
		}
	}
	says = fmt.Sprintf("Rank correlation (Spearman) of the %s", out.Name)
	of := fmt.Sprintf("within each of %d points, then averaged", len(groups))
	if len(groups) == 1 {
		of = fmt.Sprintf("over %d draws", s.Draws)
	}
	switch {
	case drawn == 0:
		says += fmt.Sprintf(" with each setting, over %d points.", len(groups))
	case settings == 0:
		says += " with what is uncertain, " + of + "."
	default:
		says += fmt.Sprintf(": with settings, over the means at %d points; with what is uncertain, %s.", len(groups), of)
	}
	return all, says
}

// byPoint returns the rows of each point.
func (t *SweepTable) byPoint() (groups [][]int) {
	at := map[int]int{}
	for r, p := range t.Point {
		g, ok := at[p]
		if !ok {
			g = len(groups)
			at[p], groups = g, append(groups, nil)
		}
		groups[g] = append(groups[g], r)
	}
	return groups
}

// overPoints correlates setting n with the mean outcome at each point.
func (s *SweepShape) overPoints(out outcome, n int, groups [][]int) (r sensitivity, ok bool) {
	var x, y []float64
	for _, rows := range groups {
		v := out.among(s.SweepTable, rows)
		if len(v) > 0 {
			x, y = append(x, s.InputCells[n].Number[rows[0]]), append(y, stat.Mean(v, nil))
		}
	}
	rx, ry := standing(x), standing(y)
	if len(x) < leastValues || rx == nil || ry == nil {
		return r, false
	}
	rho := floats.Dot(rx, ry)
	r = sensitivity{Effects: []effect{{Size: rho, Low: rho, High: rho}}, Over: fmt.Sprintf("%d points", len(x))}
	r.Chance, r.P = permuted(rx, ry)
	return r, true
}

// withinPoints correlates uncertain input n with the outcome among the draws of each point.
func (s *SweepShape) withinPoints(out outcome, n int, groups [][]int) (r sensitivity, ok bool) {
	value := make([]float64, s.Draws) // of each draw, the same at every point
	for d := range value {
		value[d] = math.NaN()
	}
	for row, d := range s.Draw {
		value[d] = s.InputCells[n].Number[row]
	}
	// The mean of the correlations is the product of ranks with the mean of the outcome's standings,
	// where no draw is missing; with gaps, nearly.
	weight := make([]float64, s.Draws)
	e, count := effect{Low: math.Inf(1), High: math.Inf(-1)}, 0.0
	for _, rows := range groups {
		var x, y []float64
		var draws []int
		for _, row := range rows {
			if v, o := s.InputCells[n].Number[row], out.of(s.SweepTable, row); !math.IsNaN(v + o) {
				x, y, draws = append(x, v), append(y, o), append(draws, s.Draw[row])
			}
		}
		rx, ry := standing(x), standing(y)
		if len(x) < leastValues || rx == nil || ry == nil {
			continue
		}
		rho := floats.Dot(rx, ry)
		e.Size, e.Low, e.High, count = e.Size+rho, min(e.Low, rho), max(e.High, rho), count+1
		for k, d := range draws {
			weight[d] += ry[k]
		}
	}
	if count == 0 {
		return r, false
	}
	e.Size /= count
	floats.Scale(1/count, weight)
	var drawn, weights []float64
	for d, v := range value {
		if !math.IsNaN(v) {
			drawn, weights = append(drawn, v), append(weights, weight[d])
		}
	}
	r = sensitivity{Effects: []effect{e}, Over: fmt.Sprintf("%d draws", len(drawn))}
	r.Chance, r.P = permuted(standing(drawn), weights)
	return r, true
}

const (
	permutations = 2000 // tried: enough for a share of 5 % to within 1 %
	mostPermuted = 5000 // values; of more the normal law holds
)

// permuted returns what the product of x and y in absolute value stays below in 19 of 20 permutations
// of x, and the share of them in which it is not below that of x as it is. They are the same each time.
func permuted(x, y []float64) (band, p float64) {
	if n := len(x); n > mostPermuted {
		// Over all permutations the mean of the product is nothing and its variance sum x² sum y²/(n-1),
		// as both sum to nothing (Kendall and Gibbons 1990, ch. 4, from memory).
		sd := math.Sqrt(floats.Dot(x, x) * floats.Dot(y, y) / float64(n-1))
		return z95 * sd, math.Erfc(math.Abs(floats.Dot(x, y)) / sd / math.Sqrt2)
	}
	r := rand.New(rand.NewPCG(1, uint64(len(x))))
	own, tried := math.Abs(floats.Dot(x, y)), slices.Clone(x)
	all, reached := make([]float64, permutations), 1
	for n := range all {
		r.Shuffle(len(tried), func(i, j int) { tried[i], tried[j] = tried[j], tried[i] })
		if all[n] = math.Abs(floats.Dot(tried, y)); all[n] >= own-1e-12 {
			reached++
		}
	}
	slices.Sort(all)
	return Quantile(all, 0.95), float64(reached) / (permutations + 1)
}

// standing returns the ranks of values less their mean, scaled to a square sum of 1, so that the
// product of two is the rank correlation of Spearman: Pearson's of the ranks, equal values sharing
// the mean rank (Kendall and Gibbons 1990, Rank Correlation Methods, ch. 3, from memory). Nil if all are equal.
func standing(v []float64) []float64 {
	r := ranks(v)
	floats.AddConst(-float64(len(v)+1)/2, r)
	norm := floats.Norm(r, 2)
	if norm == 0 {
		return nil
	}
	floats.Scale(1/norm, r)
	return r
}

// varies reports whether an input is a number with more than one value.
func (t *SweepTable) varies(n int) bool {
	v := t.InputCells[n].Number
	return slices.ContainsFunc(v, func(x float64) bool { return x != v[0] }) && !slices.ContainsFunc(v, math.IsNaN)
}

// ranks returns the rank of each value, from 1; equal values share the mean of theirs.
func ranks(v []float64) []float64 {
	order := make([]int, len(v))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case v[a] < v[b]:
			return -1
		case v[a] > v[b]:
			return 1
		}
		return 0
	})
	r := make([]float64, len(v))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && v[order[j]] == v[order[i]] {
			j++
		}
		for _, n := range order[i:j] {
			r[n] = float64(i+1+j) / 2
		}
		i = j
	}
	return r
}
