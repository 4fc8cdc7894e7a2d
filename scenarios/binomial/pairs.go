package binomial

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Pairs counts draws of which each was tried twice, under A and under B.
type Pairs struct{ Both, OnlyA, OnlyB, Neither int }

// N returns how many there are.
func (p Pairs) N() int { return p.Both + p.OnlyA + p.OnlyB + p.Neither }

// P returns how often draws that change sides do so as one-sidedly as these, or more, if A and B are alike: the exact
// two-sided test of McNemar 1947, Psychometrika 12:153, which is that of OnlyA of OnlyA+OnlyB with probability 1/2. 1 if none do.
func (p Pairs) P() float64 {
	n, k := p.OnlyA+p.OnlyB, min(p.OnlyA, p.OnlyB)
	if 2*k == n {
		return 1
	}
	return min(1, 2*mathext.RegIncBeta(float64(n-k), float64(k+1), 0.5)) // k or fewer of n
}

// Difference returns by how much the probability is higher under B than under A, with its interval by method 10 of
// Newcombe 1998, Stat Med 17:2635 (from memory): the intervals of Wilson of both, put together by how the two are
// correlated. NaN of no draws.
func (p Pairs) Difference() (mid float64, _ Interval) {
	n := p.N()
	a, b := p.Both+p.OnlyA, p.Both+p.OnlyB
	pa, pb := float64(a)/float64(n), float64(b)/float64(n)
	ia, ib := Wilson(a, n), Wilson(b, n)
	phi := 0.0
	if product := float64(a) * float64(n-a) * float64(b) * float64(n-b); product > 0 {
		phi = float64(p.Both)*float64(p.Neither) - float64(p.OnlyA)*float64(p.OnlyB)
		if phi > 0 { // a correction of continuity, of which nothing negative comes
			phi = max(phi-float64(n)/2, 0)
		}
		phi /= math.Sqrt(product)
	}
	together := func(x, y float64) float64 { return math.Sqrt(max(x*x-2*phi*x*y+y*y, 0)) }
	mid = pb - pa
	return mid, Interval{mid - together(pb-ib.Low, ia.High-pa), mid + together(ib.High-pb, pa-ia.Low)}
}

// MedianRanks returns which of n ascending values, counted from 0, the median of what they are drawn from lies between
// with at least Confidence, whatever the distribution: both tails outside have at most 2.5 % of the binomial
// distribution of n and 1/2 (David and Nagaraja 2003, Order Statistics, section 7.1, from memory). False if n is too
// small for it, below 6.
func MedianRanks(n int) (low, high int, ok bool) {
	const tail = (1 - Confidence) / 2
	for low < n/2 && mathext.RegIncBeta(float64(n-low), float64(low+1), 0.5) <= tail { // low or fewer of n
		low++
	}
	low-- // as many below it have at most tail
	return low, n - 1 - low, low >= 0
}
