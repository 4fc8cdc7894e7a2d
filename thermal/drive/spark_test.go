package drive

import (
	"math"
	"testing"
)

// The closed form against the current itself: a sine through two diodes that break
// down at the onset, back to back, in series with a resistance.
func TestPassed(t *testing.T) {
	const n = 1 << 18
	for _, x := range []float64{0.01, 0.1, 0.25, 0.5, 0.75, 0.9, 0.98} {
		through, closed := 0.0, 0.0
		for i := range n {
			u := math.Sin(2 * math.Pi * (float64(i) + 0.5) / n)
			closed += u * u
			if over := math.Abs(u) - x; over > 0 {
				through += over * over
			}
		}
		want := math.Sqrt(through / closed)
		if got := Passed(x); math.Abs(got-want) > 1e-8 {
			t.Errorf("onset at %g of the peak: %g, want %g", x, got, want)
		}
	}
	for x, want := range map[float64]float64{0: 1, 1: 0, 1.5: 0, math.Inf(1): 0} {
		if got := Passed(x); got != want {
			t.Errorf("onset at %g of the peak: %g, want %g", x, got, want)
		}
	}
}
