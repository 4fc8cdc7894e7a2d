package binomial

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// z95 is the 97.5 % quantile of the standard normal distribution.
const z95 = 1.959963984540054

// Exact returns the interval of a probability of which k of n draws are seen: all probabilities that
// neither k or more nor k or fewer of n would contradict at 2.5 % (Clopper and Pearson 1934, Biometrika 26:404). It holds
// the probability at least as often as Confidence says, whatever that probability is. 0 to 1 of no draws.
func Exact(k, n int) Interval {
	const tail = (1 - Confidence) / 2
	return Interval{1 - atMost(n-k, n, 1-tail), atMost(k, n, 1-tail)}
}

// AtMost returns below which value a probability is with a confidence (0.5 to 1), of which k of n draws are seen: the
// end of a one-sided interval, exact as that of Exact.
func AtMost(k, n int, confidence float64) float64 { return atMost(k, n, confidence) }

// atMost returns the probability p at which k or fewer of n come with probability 1-confidence:
// 1 - I_p(k+1, n-k) = 1-confidence, I the regularised incomplete beta function.
func atMost(k, n int, confidence float64) float64 {
	switch {
	case k >= n:
		return 1
	case k == 0: // (1-p)^n = 1-confidence
		return -math.Expm1(math.Log1p(-confidence) / float64(n))
	}
	return mathext.InvRegIncBeta(float64(k+1), float64(n-k), confidence)
}

// Allowed returns the most of n draws that may be seen where a probability is still shown to be at most share with a
// confidence; below 0 if even none of n does not show it.
func Allowed(n int, share, confidence float64) int {
	k := -1
	for k+1 < n && atMost(k+1, n, confidence) <= share {
		k++
	}
	return k
}

// Draws returns the fewest draws of which none show that a probability is at most share with a confidence: the least n
// of (1-share)^n <= 1-confidence (Wilks 1941, Ann Math Stat 12:91, from memory: 59 for 5 % with 95 %).
func Draws(share, confidence float64) int {
	n := int(math.Ceil(math.Log1p(-confidence) / math.Log1p(-share)))
	for n > 1 && atMost(0, n-1, confidence) <= share { // the ratio is rounded
		n--
	}
	for atMost(0, n, confidence) > share {
		n++
	}
	return n
}

// Wilson returns the score interval of a probability of which k of n draws are seen,
//
//	(p + z²/2n ± z sqrt(p(1-p)/n + z²/4n²)) / (1 + z²/n),  p = k/n
//
// (Wilson 1927, J Am Stat Assoc 22:209), which holds it as often as Confidence says in the mean over probabilities, but
// less often at some: 0.2 % and 60 draws, 89 of 100. NaN of no draws.
func Wilson(k, n int) Interval {
	p, m := float64(k)/float64(n), float64(n)
	centre := p + z95*z95/(2*m)
	half := z95 * math.Sqrt(p*(1-p)/m+z95*z95/(4*m*m))
	scale := 1 + z95*z95/m
	// Rounding must not take the interval off the share at 0 and 1.
	return Interval{min(max((centre-half)/scale, 0), p), max(min((centre+half)/scale, 1), p)}
}
