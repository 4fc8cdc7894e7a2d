package study

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
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

// spearman returns the rank correlation of x and y: Pearson's of their ranks, equal
// values sharing the mean rank (Kendall and Gibbons 1990, Rank Correlation Methods, ch. 3, from memory).
// Pairs with a value that is not a number do not count; n is the number of those that do.
// NaN if either is constant.
func spearman(x, y []float64) (rho float64, n int) {
	var a, b []float64
	for i := range x {
		if !math.IsNaN(x[i] + y[i]) {
			a, b = append(a, x[i]), append(b, y[i])
		}
	}
	if len(a) < 2 {
		return math.NaN(), len(a)
	}
	return stat.Correlation(ranks(a), ranks(b), nil), len(a)
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
