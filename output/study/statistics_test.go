package study

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"muralheat/scenarios/binomial"
)

// A share of no draws is unknown, and so is what it lies between.
func TestShareOfDraws(t *testing.T) {
	if s := shareOfDraws(0, 0); !math.IsNaN(s.mid + s.low + s.high) {
		t.Errorf("none of none: %+v", s)
	}
	if s, want := shareOfDraws(14, 60), binomial.Exact(14, 60); s.mid != 14.0/60 || s.low != want.Low || s.high != want.High || s.n != 60 {
		t.Errorf("14 of 60: %+v, want %+v", s, want)
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
