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

// Two worked examples of Celik and others 2008, table 1 (from memory).
func TestPublishedExamples(t *testing.T) {
	for _, c := range []struct {
		name                         string
		r21, r32                     float64
		v                            [3]float64
		order, extrapolated, percent float64
	}{
		{"reattachment length", 1.5, 1.333, [3]float64{6.063, 5.972, 5.863}, 1.53, 6.1685, 2.2},
		{"axial velocity at 8 step heights", 2, 2.143, [3]float64{10.7880, 10.7250, 10.6050}, 0.75, 10.8801, 1.1},
	} {
		s := Study{[3]float64{1, c.r21, c.r21 * c.r32}, c.v}
		e := s.Estimate()
		near(t, c.name+": order", e.Order, c.order, 0.03)
		near(t, c.name+": extrapolated", e.Extrapolated, c.extrapolated, 0.02)
		near(t, c.name+": GCI, %", e.GCIPercent(c.v[0]), c.percent, 0.1)
		if e.Verdict != Converges {
			t.Errorf("%s: %s", c.name, e.Verdict)
		}
	}
}

// Values that err by a power of the cell size give that power and the true value, whatever
// the ratios; the uncertainty of each mesh is its error times 1.25.
func TestManufactured(t *testing.T) {
	for _, p := range []float64{1, 1.5, 2} {
		for _, h := range [][3]float64{{1, 2, 4}, {1, 1.5, 2.25}, {0.1, 0.15, 0.2}} {
			s := Study{SizeM: h}
			for i := range h {
				s.Value[i] = 7 - 0.3*math.Pow(h[i], p)
			}
			for i := range h {
				e := s.At(i)
				near(t, "order", e.Order, p, 1e-6)
				near(t, "extrapolated", e.Extrapolated, 7, 1e-6)
				near(t, "uncertainty", e.Uncertainty, 1.25*0.3*math.Pow(h[i], p), 1e-6)
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
		{[3]float64{2, 2.1, 2.05}, Oscillates, 0.1},
		{[3]float64{2, 2.1, 2.2}, Unsure, 0.6},             // order 0: that of one is assumed, factor 3
		{[3]float64{2, 2.0001, 2.2}, Unsure, 0.0006},       // order 18
		{[3]float64{2, math.NaN(), 2.2}, None, math.NaN()}, // the ring never met the axis
	} {
		e := Study{h, c.v}.Estimate()
		if e.Verdict != c.verdict || !(math.Abs(e.Uncertainty-c.uncertainty) < 1e-9 || math.IsNaN(c.uncertainty) && math.IsNaN(e.Uncertainty)) {
			t.Errorf("%v: %s, uncertainty %g; want %s, %g", c.v, e.Verdict, e.Uncertainty, c.verdict, c.uncertainty)
		}
	}
}
