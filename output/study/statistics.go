package study

import (
	"math"
	"slices"
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

// z95 is the 97.5 % quantile of the standard normal law.
const z95 = 1.959963984540054

// wilson returns the share k/n with its 95 % score interval
//
//	(p + z²/2n ± z sqrt(p(1-p)/n + z²/4n²)) / (1 + z²/n),  p = k/n
//
// (Wilson 1927, J Am Stat Assoc 22:209).
func wilson(k, n int) stats {
	if n == 0 {
		return stats{mid: math.NaN(), low: math.NaN(), high: math.NaN()}
	}
	p, m := float64(k)/float64(n), float64(n)
	centre := p + z95*z95/(2*m)
	half := z95 * math.Sqrt(p*(1-p)/m+z95*z95/(4*m*m))
	scale := 1 + z95*z95/m
	// Rounding must not take the interval off the share at 0 and 1.
	return stats{mid: p, low: min(max((centre-half)/scale, 0), p), high: max(min((centre+half)/scale, 1), p), n: n}
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
	mid, none, all := wilson(k, n), wilson(k, n+missing), wilson(k+missing, n+missing)
	return stats{100 * mid.mid, 100 * none.low, 100 * all.high, n, missing, 100 * none.mid, 100 * all.mid}
}

// Share returns the share k/n with its 95 % score interval, see wilson; NaN of nothing.
func Share(k, n int) (mid, low, high float64) {
	w := wilson(k, n)
	return w.mid, w.low, w.high
}
