package refine

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %g, want %g", what, got, want)
	}
}

// The published worked examples are in package checks.

// Values that err by a power of the cell size give that power and the true value, whatever
// the ratios; the index of each mesh is its error times 1.25, and so is its uncertainty up
// to first order, while a higher one is not counted on.
func TestManufactured(t *testing.T) {
	for _, p := range []float64{0.6, 1, 1.5, 2} {
		for _, h := range [][3]float64{{1, 2, 4}, {1, 1.5, 2.25}, {0.1, 0.15, 0.2}} {
			s := Study{SizeM: h}
			for i := range h {
				s.Value[i] = 7 - 0.3*math.Pow(h[i], p)
			}
			for i := range h {
				e := s.At(i)
				near(t, "order", e.Order, p, 1e-6)
				near(t, "extrapolated", e.Extrapolated, 7, 1e-6)
				off := 1.25 * 0.3 * math.Pow(h[i], p)
				near(t, "index", e.GCI, off, 1e-6)
				if p <= 1 {
					near(t, "uncertainty", e.Uncertainty, off, 1e-6)
				} else if !(e.Uncertainty > 1.05*off) {
					t.Errorf("order %g, mesh %d: uncertainty %g, index %g", p, i, e.Uncertainty, off)
				}
			}
		}
	}
}

func TestVerdicts(t *testing.T) {
	h := [3]float64{1, 1.5, 2.25}
	for _, c := range []struct {
		v           [3]float64
		verdict     Verdict
		uncertainty float64
	}{
		{[3]float64{2, 2, 2}, Same, 0},
		{[3]float64{2, 2.1, 2.05}, Oscillates, 0.3},
		{[3]float64{2, 2.1, 2.2}, Unsure, 0.6},             // order 0: that of one is taken, factor 3
		{[3]float64{2, 2.2, 2.25}, Unsure, 1.2},            // moves the more the finer: order -3.4
		{[3]float64{2, 2.0001, 2.2}, Unsure, 0.0006},       // order 18
		{[3]float64{2, math.NaN(), 2.2}, None, math.NaN()}, // the ring never met the axis
	} {
		e := Study{SizeM: h, Value: c.v}.At(0)
		if e.Verdict != c.verdict || !(math.Abs(e.Uncertainty-c.uncertainty) < 1e-9 || math.IsNaN(c.uncertainty) && math.IsNaN(e.Uncertainty)) {
			t.Errorf("%v: %s, uncertainty %g; want %s, %g", c.v, e.Verdict, e.Uncertainty, c.verdict, c.uncertainty)
		}
	}
}
