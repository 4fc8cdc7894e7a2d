package exact

import (
	"math"
	"testing"
)

// Pulses without a pause are one long source; many short ones with pauses tend to their mean; before it is on a source
// gives nothing; and four pulses of a point source by erfc alone.
func TestSuperposed(t *testing.T) {
	rise := func(t float64) float64 { return PointSource(ref, 0.1, 2*mm, t) }
	var whole, short []Pulse
	for n := range 10 {
		whole = append(whole, Pulse{float64(n), float64(n + 1), 1})
	}
	for n := range 1000 {
		short = append(short, Pulse{float64(n) / 100, float64(n)/100 + 0.004, 1})
	}
	within(t, "no pause", Superposed(rise, whole, 12), rise(12)-rise(2), 1e-12)
	within(t, "short pulses", Superposed(rise, short, 10), 0.4*rise(10), 2e-3)
	within(t, "half as strong", Superposed(rise, []Pulse{{0, 3, 0.5}, {0, 3, 0.5}}, 5), rise(5)-rise(2), 1e-12)
	if v := Superposed(rise, []Pulse{{3, 4, 1}}, 2.9); v != 0 {
		t.Errorf("%g K before the source is on", v)
	}
	// By the sum over pulses of erfc, independently: P/(4 pi k r) erfc(r/sqrt(4 alpha t)).
	want, alpha := 0.0, ref.K/ref.RhoC
	for n := range 4 {
		for i, at := range []float64{float64(n) / 2, float64(n)/2 + 0.25} {
			sign := 1 - 2*float64(i)
			want += sign * 0.1 / (4 * math.Pi * ref.K * 2 * mm) * math.Erfc(2*mm/math.Sqrt(4*alpha*(3-at)))
		}
	}
	within(t, "four pulses", Superposed(rise, []Pulse{{0, 0.25, 1}, {0.5, 0.75, 1}, {1, 1.25, 1}, {1.5, 1.75, 1}}, 3), want, 1e-9)
}
