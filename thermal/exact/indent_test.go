package exact

import (
	"math"
	"testing"
)

// A thick layer is a half-space: Johnson 1985, Contact Mechanics, chapters 3 and 4. A
// thin one is squeezed like a film of fluid (Reynolds' equation with one side slipping):
//
//	punch   F = pi E d a^4/(8 h^3)
//	sphere  p = p' = 0 at the edge: a^2 = 4 R d
//
// which it nears as h/a.
func TestIndentedLayerLimits(t *testing.T) {
	const e, a, r, d = 1e4, 1e-3, 5e-3, 1e-4
	near := func(what string, got, want, share float64) {
		if math.Abs(got/want-1) > share {
			t.Errorf("%s: %.6g, want %.6g within %g", what, got, want, share)
		}
	}
	thick := IndentedLayer{e, 1e3 * a}
	force, depth := thick.Sphere(r, a)
	near("sphere, thick layer: force", force, 4*a*a*a*e/0.75/(3*r), 2e-3)
	near("sphere, thick layer: indentation", depth, a*a/r, 2e-3)
	near("punch, thick layer: force", thick.Punch(a, d), 2*a*e/0.75*d, 2e-3)
	// Two thicknesses, the error of first order taken out.
	thin := func(of func(h float64) float64) float64 { return 2*of(a/80) - of(a/40) }
	near("punch, thin layer: force", thin(func(h float64) float64 {
		return IndentedLayer{e, h}.Punch(a, d) / (math.Pi * e * d * a * a * a * a / (8 * h * h * h))
	}), 1, 0.02)
	near("sphere, thin layer: indentation", thin(func(h float64) float64 {
		_, d := IndentedLayer{e, h}.Sphere(r, a)
		return 4 * r * d / (a * a)
	}), 1, 0.02)
}
