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

// PairName is the table of a sweep of two points with the same draws: by how much they differ, draw by draw.
const PairName = "pair.csv"

// A Pair is two points of a sweep that share their draws, A the first: what a draw gives under one is compared with what
// the same draw gives under the other, so that what both have in common drops out.
type Pair struct {
	A, B    string      // titles
	Of      int         // draws
	Draws   []drawnPair // with a result under both, in their order
	Muscle  bool        // there is one to reach
	Counts  binomial.Pairs
	Chances [2]Probability // of A and B

	Margin, Depth Difference

	// The most that p of the test may be if margins are off by their numerical error, alike with A and B or in
	// whatever way, and draws without a result change sides as they like; 1 if the other one is then reached more
	// often, or the error is unknown.
	MostAlikeP, MostP float64
}

// drawnPair is a draw under A and under B.
type drawnPair struct {
	margin, error, depth [2]float64 // mm; the error is that of margin and depth
}

// reaches says whether the injury reaches the muscle under A (0) or B (1), if margins are off by a share of their error.
func (d drawnPair) reaches(side int, off float64) bool {
	if off == 0 { // whether the error is known or not
		return d.margin[side] <= 0
	}
	return d.margin[side] <= off*d.error[side]
}

// Difference is that of a quantity between B and A in N pairs, B less A, mm.
type Difference struct {
	N         int
	Median    float64
	Low, High float64 // the exact 95 % interval of the median; NaN if there are too few pairs for it
	From, To  float64 // 5 and 95 % quantiles
	ErrorMM   float64 // the most that it may be off numerically: the errors of A and B, added up as they may have opposite signs
}

// Pair returns the two points of a sweep with draws; false if it has more or fewer, or no depth in common.
func (t *SweepTable) Pair() (p Pair, ok bool) {
	if t.Draws <= 1 || t.Cases != 2*t.Draws || !t.Has(record.DepthColumn) {
		return p, false
	}
	var of [2][]int // rows of A and of B
	rows := map[int][2]int{}
	for row, point := range t.Point {
		if point < 0 || point > 1 {
			return p, false
		}
		r, there := rows[t.Draw[row]]
		if !there {
			r = [2]int{-1, -1}
		}
		r[point] = row
		of[point], rows[t.Draw[row]] = append(of[point], row), r
	}
	factors := t.Factors()
	p = Pair{A: t.pointTitle(0, of[0], factors), B: t.pointTitle(1, of[1], factors), Of: t.Draws, Muscle: t.Has(record.MarginColumn)}
	for _, n := range slices.Sorted(maps.Keys(rows)) {
		r := rows[n]
		if r[0] < 0 || r[1] < 0 {
			continue
		}
		var d drawnPair
		for side, row := range r {
			d.margin[side], d.depth[side], d.error[side] = t.cell(record.MarginColumn, row), t.cell(record.DepthColumn, row), t.errorOf(record.MarginColumn, row)
		}
		if !p.Muscle || !math.IsNaN(d.margin[0]+d.margin[1]) {
			p.Draws = append(p.Draws, d)
		}
	}
	if len(p.Draws) == 0 {
		return p, false
	}
	p.Depth = p.difference(func(d drawnPair, side int) float64 { return d.depth[side] })
	if p.Muscle {
		p.Margin = p.difference(func(d drawnPair, side int) float64 { return d.margin[side] })
		p.Chances = [2]Probability{t.probability(0, of[0], factors), t.probability(1, of[1], factors)}
		p.Counts = p.counts(0, 0)
		p.test()
	}
	return p, true
}

// counts returns how many pairs reach the muscle under both, one or neither, if the margins under A and B are off by a
// share of their error.
func (p Pair) counts(offA, offB float64) (c binomial.Pairs) {
	for _, d := range p.Draws {
		switch a, b := d.reaches(0, offA), d.reaches(1, offB); {
		case a && b:
			c.Both++
		case a:
			c.OnlyA++
		case b:
			c.OnlyB++
		default:
			c.Neither++
		}
	}
	return c
}

// test looks for the most that p may be.
func (p *Pair) test() {
	p.MostAlikeP, p.MostP = p.Counts.P(), p.Counts.P()
	if slices.ContainsFunc(p.Draws, func(d drawnPair) bool { return math.IsNaN(d.error[0] + d.error[1]) }) {
		p.MostAlikeP, p.MostP = 1, 1
		return
	}
	for _, a := range []float64{-1, 0, 1} {
		for _, b := range []float64{-1, 0, 1} {
			most := p.mostP(p.counts(a, b))
			p.MostP = max(p.MostP, most)
			if a == b {
				p.MostAlikeP = max(p.MostAlikeP, most)
			}
		}
	}
}

// mostP is the most that p may be for counts, if draws without a result reach the muscle as they like.
func (p *Pair) mostP(c binomial.Pairs) (most float64) {
	missing := p.Of - len(p.Draws)
	for _, some := range []binomial.Pairs{c, {OnlyA: c.OnlyA + missing, OnlyB: c.OnlyB}, {OnlyA: c.OnlyA, OnlyB: c.OnlyB + missing}} {
		if most = max(most, some.P()); (some.OnlyB > some.OnlyA) != (p.Counts.OnlyB > p.Counts.OnlyA) {
			return 1
		}
	}
	return most
}

// difference returns that of a quantity.
func (p Pair) difference(of func(d drawnPair, side int) float64) Difference {
	var v []float64
	out := Difference{Low: math.NaN(), High: math.NaN()}
	for _, d := range p.Draws {
		v = append(v, of(d, 1)-of(d, 0))
		out.ErrorMM = math.Max(out.ErrorMM, d.error[0]+d.error[1])
	}
	slices.Sort(v)
	out.N, out.Median, out.From, out.To = len(v), Quantile(v, 0.5), Quantile(v, 0.05), Quantile(v, 0.95)
	if low, high, ok := binomial.MedianRanks(len(v)); ok {
		out.Low, out.High = v[low], v[high]
	}
	return out
}

// PairCSV is the table of PairName; nil if there is no pair.
func (t *SweepTable) PairCSV() []byte {
	p, ok := t.Pair()
	if !ok {
		return nil
	}
	rows := [][]string{{"quantity", "unit", "a", "b", "n", "missing", "value", "low", "high", "method", "from_5_percent", "to_95_percent", "numerical"}}
	add := func(name, unit, method string, values ...float64) { // value, low, high and what follows the method
		row := []string{name, unit, record.Guarded(p.A), record.Guarded(p.B), fmt.Sprint(len(p.Draws)), fmt.Sprint(p.Of - len(p.Draws))}
		for n := range 6 {
			if n == 3 {
				row = append(row, method)
			}
			row = append(row, sixDigits(phrase.At(values, n)))
		}
		rows = append(rows, row)
	}
	difference := func(name string, d Difference) {
		add(name+", b less a", "mm", "median of the pairs, order statistics 95 %", d.Median, d.Low, d.High, d.From, d.To, d.ErrorMM)
	}
	difference("injury depth", p.Depth)
	if p.Muscle {
		difference("margin to the muscle", p.Margin)
		mid, i := p.Counts.Difference()
		add("probability that the muscle is reached, b less a", "percentage points", "Newcombe 1998, method 10, 95 %", 100*mid, 100*i.Low, 100*i.High)
		for n, of := range p.sides() {
			add("reached "+strings.ToLower(cornerNames[n]), "draws", "", float64(of))
		}
		const test = "McNemar, exact, two-sided"
		add("p", "1", test, p.Counts.P())
		add("p at most, numerical errors alike", "1", test, p.MostAlikeP)
		add("p at most, numerical errors not alike", "1", test, p.MostP)
	}
	return record.Table(rows)
}

// sixDigits writes a number for a table; nothing where there is none.
func sixDigits(v float64) string { return record.Number(record.Parsed(record.Six(v))) }
