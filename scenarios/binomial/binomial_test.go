package binomial_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"muralheat/scenarios/binomial"
)

// 95 % intervals of Newcombe 1998, Stat Med 17:857, table I: methods 3 (Wilson) and 5 (Clopper and Pearson), from memory.
func TestPublishedIntervals(t *testing.T) {
	for _, c := range []struct {
		k, n          int
		wilson, exact binomial.Interval
	}{
		{81, 263, binomial.Interval{Low: 0.2553, High: 0.3662}, binomial.Interval{Low: 0.2527, High: 0.3676}},
		{15, 148, binomial.Interval{Low: 0.0624, High: 0.1605}, binomial.Interval{Low: 0.0578, High: 0.1617}},
		{0, 20, binomial.Interval{Low: 0, High: 0.1611}, binomial.Interval{Low: 0, High: 0.1684}},
		{1, 29, binomial.Interval{Low: 0.0061, High: 0.1718}, binomial.Interval{Low: 0.0009, High: 0.1776}},
	} {
		for name, of := range map[string][2]binomial.Interval{"Wilson": {binomial.Wilson(c.k, c.n), c.wilson}, "exact": {binomial.Exact(c.k, c.n), c.exact}} {
			same(t, name, of[0], of[1])
		}
		// k of n and n-k of n are one thing.
		w, e := binomial.Wilson(c.n-c.k, c.n), binomial.Exact(c.n-c.k, c.n)
		same(t, "Wilson, mirrored", binomial.Interval{Low: 1 - w.High, High: 1 - w.Low}, c.wilson)
		same(t, "exact, mirrored", binomial.Interval{Low: 1 - e.High, High: 1 - e.Low}, c.exact)
	}
}

func same(t *testing.T, what string, got, want binomial.Interval) {
	t.Helper()
	if !(math.Abs(got.Low-want.Low) <= 5.1e-5 && math.Abs(got.High-want.High) <= 5.1e-5) {
		t.Errorf("%s: %.4f to %.4f, want %.4f to %.4f", what, got.Low, got.High, want.Low, want.High)
	}
}

// Values of scipy, see testdata/reference.py.
func TestReference(t *testing.T) {
	data, err := os.ReadFile("testdata/reference.json")
	if err != nil {
		t.Fatal(err)
	}
	var of struct {
		Shares []struct {
			K, N               int
			Exact, Wilson      [2]float64
			AtMost95, AtMost99 float64
		}
		Pairs []struct {
			Both, OnlyA, OnlyB, Neither int
			P                           float64
		}
		Medians []struct{ N, Low, High int }
		Draws   []struct {
			Share, Confidence float64
			N                 int
		}
	}
	if err := json.Unmarshal(data, &of); err != nil {
		t.Fatal(err)
	}
	if len(of.Shares)*len(of.Pairs)*len(of.Medians)*len(of.Draws) == 0 {
		t.Fatal("nothing to compare with")
	}
	near := func(what string, got, want float64) {
		if !(math.Abs(got-want) <= 1e-9+1e-7*math.Abs(want)) {
			t.Errorf("%s: %.12g, want %.12g", what, got, want)
		}
	}
	for _, c := range of.Shares {
		e, w := binomial.Exact(c.K, c.N), binomial.Wilson(c.K, c.N)
		near("exact, low", e.Low, c.Exact[0])
		near("exact, high", e.High, c.Exact[1])
		near("Wilson, low", w.Low, c.Wilson[0])
		near("Wilson, high", w.High, c.Wilson[1])
		near("at most, 95 %", binomial.AtMost(c.K, c.N, 0.95), c.AtMost95)
		near("at most, 99 %", binomial.AtMost(c.K, c.N, 0.99), c.AtMost99)
	}
	for _, c := range of.Pairs {
		near("McNemar", binomial.Pairs{Both: c.Both, OnlyA: c.OnlyA, OnlyB: c.OnlyB, Neither: c.Neither}.P(), c.P)
	}
	for _, c := range of.Medians {
		if low, high, ok := binomial.MedianRanks(c.N); ok != (c.Low >= 0) || ok && (low != c.Low || high != c.High) {
			t.Errorf("median of %d: %d to %d, %v, want %d to %d", c.N, low, high, ok, c.Low, c.High)
		}
	}
	for _, c := range of.Draws {
		if got := binomial.Draws(c.Share, c.Confidence); got != c.N || binomial.Allowed(got, c.Share, c.Confidence) != 0 || binomial.Allowed(got-1, c.Share, c.Confidence) != -1 {
			t.Errorf("%g with %g: %d draws, want %d", c.Share, c.Confidence, got, c.N)
		}
	}
}

// Approval of a head of government, asked twice of the same people: Agresti 2002, Categorical Data Analysis, 2nd ed.,
// table 10.1, and Agresti's interval of the difference without Newcombe's refinement, 0.021 to 0.059, both from memory.
// The exact p is of 86 of 236.
func TestApprovalRatings(t *testing.T) {
	p := binomial.Pairs{Both: 794, OnlyA: 150, OnlyB: 86, Neither: 570}
	exact := 0.0
	for k := range 87 {
		exact += 2 * math.Exp(distuv.Binomial{N: 236, P: 0.5}.LogProb(float64(k)))
	}
	if got := p.P(); math.Abs(got/exact-1) > 1e-9 || got < 3.5e-5 || got > 4e-5 {
		t.Errorf("p %g, want %g", got, exact)
	}
	mid, i := p.Difference()
	if math.Abs(mid+0.04) > 1e-12 || math.Abs(i.Low+0.059) > 1e-3 || math.Abs(i.High+0.021) > 1e-3 {
		t.Errorf("%.4f, %.4f to %.4f", mid, i.Low, i.High)
	}
	if p := (binomial.Pairs{Both: 3, OnlyA: 2, OnlyB: 2}).P(); p != 1 {
		t.Errorf("as many either way: p %g", p)
	}
	if p := (binomial.Pairs{OnlyA: 5}).P(); math.Abs(p-2.0/32) > 1e-12 {
		t.Errorf("five of five: p %g", p)
	}
}

// How many draws may be seen, of so many (Wilks 1941; nuclear safety's 59, 93, 124, 153, 181, from memory).
func TestAllowed(t *testing.T) {
	for k, n := range []int{59, 93, 124, 153, 181} {
		if got := binomial.Allowed(n, 0.05, 0.95); got != k {
			t.Errorf("%d draws: %d, want %d", n, got, k)
		}
		if got := binomial.Allowed(n-1, 0.05, 0.95); got != k-1 {
			t.Errorf("%d draws: %d, want %d", n-1, got, k-1)
		}
	}
}

const studies = 2000

// Intervals of a probability hold it in at least 94 % of 2,000 made-up studies, whatever it is. The score interval does
// not: that is why the exact one is told.
func TestCoverage(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	wilsonFails := false
	for _, n := range []int{10, 25, 60, 200} {
		for _, p := range []float64{0.002, 0.01, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.8, 0.98} {
			exact, wilson, atMost := 0, 0, 0
			for range studies {
				k := 0
				for range n {
					if r.Float64() < p {
						k++
					}
				}
				if i := binomial.Exact(k, n); i.Low <= p && p <= i.High {
					exact++
				}
				if i := binomial.Wilson(k, n); i.Low <= p && p <= i.High {
					wilson++
				}
				if p <= binomial.AtMost(k, n, 0.95) {
					atMost++
				}
			}
			if min(exact, atMost) < 0.94*studies {
				t.Errorf("%g of %d draws: held in %d, one-sided in %d of %d studies", p, n, exact, atMost, studies)
			}
			wilsonFails = wilsonFails || wilson < 0.94*studies
		}
	}
	if !wilsonFails {
		t.Error("the score interval held everywhere: tell that one, it is shorter")
	}
}

// The difference of two probabilities, paired, and the median of skewed values.
func TestCoverageOfPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	for _, n := range []int{20, 60, 200} {
		for _, c := range []struct{ low, high, difference float64 }{{0.1, 0.1, 0}, {0.1, 0.25, 0.15}, {0.3, 0.4, 0.1}, {0.02, 0.2, 0.18}} {
			held, median, differ := 0, 0, 0
			for range studies {
				var p binomial.Pairs
				values := make([]float64, 0, n)
				for range n {
					u, v := r.Float64(), r.Float64()
					if r.Float64() < 0.8 { // much of a draw is alike under A and B
						v = u
					}
					switch a, b := u < c.low, v < c.high; {
					case a && b:
						p.Both++
					case a:
						p.OnlyA++
					case b:
						p.OnlyB++
					default:
						p.Neither++
					}
					values = append(values, math.Exp(2*r.NormFloat64())) // its median is 1
				}
				if _, i := p.Difference(); i.Low <= c.difference && c.difference <= i.High {
					held++
				}
				if p.P() <= 0.05 {
					differ++
				}
				low, high, _ := binomial.MedianRanks(n)
				below := 0
				for _, v := range values {
					if v < 1 {
						below++
					}
				}
				if below > low && below <= high { // values[low] < 1 <= values[high]
					median++
				}
			}
			if held < 0.94*studies || median < 0.94*studies || c.difference == 0 && differ > 0.06*studies {
				t.Errorf("%d draws, %g and %g: the difference held in %d, the median in %d of %d studies; %d told as different", n, c.low, c.high, held, median, studies, differ)
			}
		}
	}
}

// The largest value up to which no more draws lie beyond than Allowed: the probability there is below the share asked for in
// at least 94 % of 2,000 made-up studies, searched though it is.
func TestCoverageOfLimits(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for _, n := range []int{59, 93, 124, 300} {
		held := 0
		for range studies {
			beyond := make([]float64, n) // from which value on each draw is: the probability at x is x
			for d := range beyond {
				beyond[d] = r.Float64()
			}
			slices.Sort(beyond)
			if limit := beyond[binomial.Allowed(n, 0.05, 0.95)]; limit <= 0.05 {
				held++
			}
		}
		if held < 0.94*studies || held > 0.985*studies {
			t.Errorf("%d draws: held in %d of %d studies", n, held, studies)
		}
	}
}
