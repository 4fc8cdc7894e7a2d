package thermal_test

import (
	"testing"

	"muralheat/thermal"
)

// One of the three meshes is the case's own; sizes rise, steps with them.
func TestRefined(t *testing.T) {
	for name, c := range map[string]thermal.Case{
		"disc": antrum(thermal.Disc, 1e-3, 5, 1), "small disc": antrum(thermal.Disc, 0.2e-3, 5, 1),
		"needle": antrum(thermal.Needle, 0.25e-3, 5, 1), "pad": padCase(100 * cm2), "loop": loopCase(5e-3, 20),
	} {
		cases, stated := c.Refined()
		if cases[stated].Numerics != c.Numerics {
			t.Errorf("%s: mesh %d is not the case's own", name, stated)
		}
		for i := 1; i < 3; i++ {
			a, b := cases[i-1], cases[i]
			if h := b.Grid().FinestM / a.Grid().FinestM; h < 1.2 || h > 2 {
				t.Errorf("%s: mesh %d is %g times as coarse as the one before", name, i, h)
			}
			if !(b.Numerics.MaxStepS > a.Numerics.MaxStepS && b.Numerics.Tolerance > a.Numerics.Tolerance) {
				t.Errorf("%s: steps do not go with the cells: %+v, %+v", name, a.Numerics, b.Numerics)
			}
		}
	}
}
