package plan

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/gonum/stat/samplemv"

	"muralheat/scenarios"
)

// design puts the values of the varied keys together: point p of n has, for axis a, the
// value at the index (of a list) or the place from 0 to 1 (of a range).
type design interface {
	len() int
	// at returns the value of axis a at point p; false leaves the scenario as it is.
	at(p, a int) (scenarios.Value, bool)
}

// axis is the values one key takes.
type axis struct {
	list     []scenarios.Value
	from, to float64 // of a range without steps
	log      bool
}

// value returns the value at place u of a range, 0 to 1, or the item of a list there.
func (x *axis) value(u float64) scenarios.Value {
	if x.list != nil {
		return x.list[min(int(u*float64(len(x.list))), len(x.list)-1)]
	}
	return scenarios.Number(interpolate(x.from, x.to, u, x.log))
}

func interpolate(from, to, u float64, log bool) float64 {
	switch {
	case u == 0:
		return from
	case u == 1:
		return to
	case log:
		return from * math.Pow(to/from, u)
	}
	return from + (to-from)*u
}

// grid is every value with every other; the first axis changes slowest.
type grid []axis

func (g grid) len() int {
	n := 1.0
	for _, x := range g {
		n *= float64(len(x.list))
	}
	return int(math.Min(n, math.MaxInt32))
}

func (g grid) at(p, a int) (scenarios.Value, bool) {
	for i := len(g) - 1; i > a; i-- {
		p /= len(g[i].list)
	}
	return g[a].list[p%len(g[a].list)], true
}

// paired takes the first values together, then the second ones, and so on.
type paired []axis

func (d paired) len() int                            { return len(d[0].list) }
func (d paired) at(p, a int) (scenarios.Value, bool) { return d[a].list[p], true }

// oneAtATime is the scenario as it is, then each value of each key alone.
type oneAtATime []axis

func (d oneAtATime) len() int {
	n := 1
	for _, x := range d {
		n += len(x.list)
	}
	return n
}

func (d oneAtATime) at(p, a int) (scenarios.Value, bool) {
	p--
	for i := range a {
		p -= len(d[i].list)
	}
	if p < 0 || p >= len(d[a].list) {
		return scenarios.Value{}, false
	}
	return d[a].list[p], true
}

// halton is a scrambled Halton sequence (Halton 1960, Numer Math 2:84; a random
// permutation of the digits at each place: Owen 2017, arXiv 1706.02808): its first n
// points are those of any longer one.
type halton struct {
	axes []axis
	n    int
	perm [][][]int // axis, place, digit
}

var primes = []int{2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71}

func newHalton(axes []axis, n int, seed uint64) *halton {
	h := &halton{axes: axes, n: n}
	for a := range axes {
		r := rand.New(rand.NewPCG(seed, uint64(a)))
		base := primes[a]
		places := int(math.Ceil(53 * math.Ln2 / math.Log(float64(base))))
		perm := make([][]int, places)
		for k := range perm {
			perm[k] = r.Perm(base)
		}
		h.perm = append(h.perm, perm)
	}
	return h
}

func (h *halton) len() int { return h.n }

func (h *halton) at(p, a int) (scenarios.Value, bool) {
	base := primes[a]
	u, scale := 0.0, 1.0
	for _, perm := range h.perm[a] {
		scale /= float64(base)
		u += scale * float64(perm[p%base])
		p /= base
	}
	return h.axes[a].value(math.Min(u, 1-0x1p-53)), true
}

// latin is a Latin hypercube: each of n equal slices of every key's range holds one
// point (McKay, Beckman and Conover 1979, Technometrics 21:239). The slices of one key are arranged
// beside those of another so that keys are not correlated by chance.
type latin struct {
	axes []axis
	u    *mat.Dense
}

func newLatin(axes []axis, n int, seed uint64) *latin {
	var best *mat.Dense
	least := math.Inf(1)
	for try := range max(1, min(mostTried, sampledPoints/n)) {
		u := mat.NewDense(n, len(axes), nil)
		samplemv.LatinHypercube{Q: distmv.NewUnitUniform(len(axes), nil), Src: rand.NewPCG(seed, uint64(try))}.Sample(u)
		if n <= sampledPoints {
			decorrelate(u)
		}
		if worst := correlated(u); best == nil || worst < least {
			best, least = u, worst
		}
	}
	return &latin{axes, best}
}

const (
	mostTried     = 20     // hypercubes, of which the least correlated one is taken
	sampledPoints = 10_000 // in all of them; in a larger one chance leaves less than 0.01
)

// correlated returns the largest correlation between two columns in absolute value.
func correlated(u *mat.Dense) (worst float64) {
	_, k := u.Dims()
	for a := range k {
		for b := range a {
			worst = math.Max(worst, math.Abs(stat.Correlation(mat.Col(nil, a, u), mat.Col(nil, b, u), nil)))
		}
	}
	return worst
}

// decorrelate reorders each column of u, so that the ranks of the columns are all but uncorrelated
// (Iman and Conover 1982, Commun Stat Simul Comput 11:311, with no correlation as the target):
// each column is given the order of the same column of S (Q⁻¹)ᵀ, where S has the normal scores of
// the ranks of u and Q Qᵀ, Q lower triangular, is their correlation. With fewer points than that
// needs nothing is done.
func decorrelate(u *mat.Dense) {
	n, k := u.Dims()
	if n < 2 {
		return
	}
	scores, normal := mat.NewDense(n, k, nil), distuv.UnitNormal
	for a := range k {
		for rank, row := range ordered(mat.Col(nil, a, u)) {
			scores.Set(row, a, normal.Quantile(float64(rank+1)/float64(n+1)))
		}
	}
	var correlation mat.SymDense
	var cholesky mat.Cholesky
	stat.CorrelationMatrix(&correlation, scores, nil)
	if !cholesky.Factorize(&correlation) {
		return
	}
	var lower mat.TriDense
	cholesky.LTo(&lower)
	var inverse mat.TriDense
	if inverse.InverseTri(&lower) != nil {
		return
	}
	var wanted mat.Dense
	wanted.Mul(scores, inverse.T())
	for a := range k {
		values := mat.Col(nil, a, u)
		slices.Sort(values)
		for rank, row := range ordered(mat.Col(nil, a, &wanted)) {
			u.Set(row, a, values[rank])
		}
	}
}

// ordered returns the rows of a column from the least value to the greatest.
func ordered(v []float64) []int {
	rows := make([]int, len(v))
	for r := range rows {
		rows[r] = r
	}
	slices.SortStableFunc(rows, func(a, b int) int { return cmp.Compare(v[a], v[b]) })
	return rows
}

func (l *latin) len() int                            { n, _ := l.u.Dims(); return n }
func (l *latin) at(p, a int) (scenarios.Value, bool) { return l.axes[a].value(l.u.At(p, a)), true }
