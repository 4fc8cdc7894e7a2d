package study

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"muralheat/output/record"
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

// The worked example of the article Spearman's rank correlation coefficient of Wikipedia:
// intelligence quotient against hours of television a week, -29/165.
func TestSpearman(t *testing.T) {
	iq := []float64{106, 100, 86, 101, 99, 103, 97, 113, 112, 110}
	hours := []float64{7, 27, 2, 50, 28, 29, 20, 12, 6, 17}
	if rho, n := spearman(iq, hours); math.Abs(rho+29.0/165) > 1e-12 || n != 10 {
		t.Errorf("%g of %d, want %g of 10", rho, n, -29.0/165)
	}
	if rho, _ := spearman(append(iq, math.NaN()), append(hours, 3)); math.Abs(rho+29.0/165) > 1e-12 {
		t.Errorf("a gap changes it to %g", rho)
	}
	if rho, _ := spearman([]float64{1, 1, 1}, []float64{1, 2, 3}); !math.IsNaN(rho) {
		t.Errorf("a constant correlates by %g", rho)
	}
}

// With ties the sum of squared differences of ranks, corrected as in (from memory) Siegel 1956,
// Nonparametric Statistics, formula 9.8, gives the same:
//
//	rho = (A + B - sum d²) / (2 sqrt(A B)),  A = (n³-n)/12 - sum (t³-t)/12
func TestSpearmanTies(t *testing.T) {
	x, y := []float64{1, 2, 2, 3, 3, 3, 5}, []float64{2, 1, 4, 4, 5, 6, 6}
	rx, ry := ranks(x), ranks(y)
	if want := []float64{1, 2.5, 2.5, 5, 5, 5, 7}; !slices.Equal(rx, want) {
		t.Errorf("ranks %v, want %v", rx, want)
	}
	d2 := 0.0
	for i := range rx {
		d2 += (rx[i] - ry[i]) * (rx[i] - ry[i])
	}
	a := (343.0-7)/12 - (8.0-2)/12 - (27.0-3)/12
	b := (343.0-7)/12 - 2*(8.0-2)/12
	if rho, _ := spearman(x, y); math.Abs(rho-(a+b-d2)/(2*math.Sqrt(a*b))) > 1e-12 {
		t.Errorf("%g, want %g", rho, (a+b-d2)/(2*math.Sqrt(a*b)))
	}
}

// An input that deepens the injury at some points and not at others must not pass for one
// that does nothing.
func TestCorrelationsThatCancel(t *testing.T) {
	s := madeUps["draws"].shape(t)
	depth := s.Column[record.DepthColumn]
	for r, p := range s.Point {
		if p%2 == 1 {
			depth[r] = -depth[r]
		}
	}
	all, _, _, chance := s.Correlations()
	n := slices.IndexFunc(all, func(s sensitivity) bool { return s.Name == "contact radius" })
	if n < 0 {
		t.Fatal("no contact radius")
	}
	if e := all[n].Effects[0]; math.Abs(e.Size) > chance || e.Low > -0.9 || e.High < 0.9 || all[n].Reach() < 0.9 {
		t.Errorf("mean %.2f, from %.2f to %.2f; want nothing, from -1 to 1", e.Size, e.Low, e.High)
	}
}
