package phrase

import (
	"math"
	"testing"
)

// The field that injury lines are drawn from is ln Omega itself, as far down as it matters:
// a cell of exp(-10) must not pass for one of exp(-4), or the line moves towards it.
func TestLnOmega(t *testing.T) {
	for _, ln := range []float64{-13, -10, -4, 0, 3} {
		if got := LnOmega(math.Exp(ln)); math.Abs(got-ln) > 1e-12 {
			t.Errorf("exp(%g): %g", ln, got)
		}
	}
	if got := LnOmega(0); got != QuietLn || got > -13 {
		t.Errorf("a cell that stayed cold: %g", got)
	}
}
