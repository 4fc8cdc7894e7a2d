package exact

import (
	"math"
	"testing"
)

// The profile obeys du/dt = d d2u/dx2, by differences, is a half where the step was, and
// holds what it held: what one side lost the other has.
func TestStepProfile(t *testing.T) {
	const d, x, s, e = 5e-9, 0.2e-3, 7.0, 1e-6
	u := func(x, t float64) float64 { return StepProfile(d, x, t) }
	rate := (u(x, s+1e-3) - u(x, s-1e-3)) / 2e-3
	bend := (u(x+e, s) - 2*u(x, s) + u(x-e, s)) / (e * e)
	if math.Abs(rate-d*bend) > 1e-4*math.Abs(rate) {
		t.Errorf("du/dt %g, d u'' %g", rate, d*bend)
	}
	if u(0, s) != 0.5 || math.Abs(u(x, s)+u(-x, s)-1) > 1e-15 {
		t.Errorf("%g at the step, %g and %g beside it", u(0, s), u(x, s), u(-x, s))
	}
	if u(-1, s) != 0 || u(1, s) != 1 {
		t.Errorf("far away %g and %g", u(-1, s), u(1, s))
	}
}
