package study

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// 95 % intervals of Newcombe 1998, Stat Med 17:857, table I, method 3 (from memory).
func TestWilson(t *testing.T) {
	for _, c := range []struct {
		k, n      int
		low, high float64
	}{
		{81, 263, 0.2553, 0.3662},
		{15, 148, 0.0624, 0.1605},
		{0, 20, 0, 0.1611},
		{1, 29, 0.0061, 0.1718},
	} {
		for _, mirrored := range []bool{false, true} { // k of n and n-k of n are one thing
			k, low, high := c.k, c.low, c.high
			if mirrored {
				k, low, high = c.n-c.k, 1-c.high, 1-c.low
			}
			w := wilson(k, c.n)
			if math.Abs(w.low-low) > 5.1e-5 || math.Abs(w.high-high) > 5.1e-5 || w.mid != float64(k)/float64(c.n) {
				t.Errorf("%d of %d: %.4f to %.4f, want %.4f to %.4f", k, c.n, w.low, w.high, low, high)
			}
		}
	}
	if w := wilson(0, 0); !math.IsNaN(w.mid) {
		t.Errorf("none of none is %g", w.mid)
	}
	if want := (distuv.Normal{Mu: 0, Sigma: 1}).Quantile(0.975); math.Abs(z95-want) > 1e-12 {
		t.Errorf("z %g, gonum %g", z95, want)
	}
}

// The worked example of the article Percentile of Wikipedia (second variant): the 40th
// percentile of 15 20 35 40 50 is 29.
func TestQuantile(t *testing.T) {
	v := []float64{15, 20, 35, 40, 50}
	for _, c := range []struct{ p, want float64 }{{0.4, 29}, {0, 15}, {0.5, 35}, {1, 50}} {
		if got := Quantile(v, c.p); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g: %g, want %g", c.p, got, c.want)
		}
	}
	if m := median([]float64{4, math.NaN(), 1, 3, 2}); m.mid != 2.5 || m.n != 4 {
		t.Errorf("median %g of %d", m.mid, m.n)
	}
}
