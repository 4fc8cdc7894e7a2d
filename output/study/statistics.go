package study

import (
	"math"
	"slices"

	"muralheat/scenarios/binomial"
)

// stats is a value with an interval around it, of n values.
type stats struct {
	mid, low, high float64
	n              int

	missing   int     // values that there should be besides
	none, all float64 // what a share is if none of the missing count, and if all of them do
}

// median returns the median of v with its 5 and 95 % quantiles; values that are not
// numbers do not count.
func median(v []float64) stats {
	v = slices.DeleteFunc(slices.Clone(v), math.IsNaN)
	slices.Sort(v)
	return stats{mid: Quantile(v, 0.5), low: Quantile(v, 0.05), high: Quantile(v, 0.95), n: len(v)}
}

// Quantile returns the p-quantile of sorted values, linear between the order statistics
//
//	x[h] + (h-floor(h)) (x[h+1]-x[h]),  h = (n-1) p, counted from 0
//
// which is definition 7 of Hyndman and Fan 1996, Am Stat 50:361. gonum has definition 4,
// whose median of an even number is not the middle. NaN if there is no value.
func Quantile(sorted []float64, p float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	h := float64(len(sorted)-1) * p
	i := int(h)
	if i+1 == len(sorted) {
		return sorted[i]
	}
	return sorted[i] + (h-float64(i))*(sorted[i+1]-sorted[i])
}

// z95 is the 97.5 % quantile of the standard normal distribution.
const z95 = 1.959963984540054

// shareOfDraws returns the share k/n with its exact 95 % interval; NaN of no draws.
func shareOfDraws(k, n int) stats {
	if n == 0 {
		return stats{mid: math.NaN(), low: math.NaN(), high: math.NaN()}
	}
	i := binomial.Exact(k, n)
	return stats{mid: float64(k) / float64(n), low: i.Low, high: i.High, n: n}
}

// reached returns the percentage of margins at or below nothing. Of the missing draws nobody knows:
// the interval goes from the lower end of that without any of them to the upper end of that with
// all of them.
func reached(margins []float64, missing int) stats {
	k, n := 0, 0
	for _, m := range margins {
		if !math.IsNaN(m) {
			n++
		}
		if m <= 0 {
			k++
		}
	}
	mid, none, all := shareOfDraws(k, n), shareOfDraws(k, n+missing), shareOfDraws(k+missing, n+missing)
	return stats{100 * mid.mid, 100 * none.low, 100 * all.high, n, missing, 100 * none.mid, 100 * all.mid}
}

// Share returns the share k/n with its exact 95 % interval; NaN of nothing.
func Share(k, n int) (mid, low, high float64) {
	w := shareOfDraws(k, n)
	return w.mid, w.low, w.high
}
