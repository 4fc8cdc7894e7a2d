package thermal

import (
	"math"
	"testing"
)

// The outline of an electrode has the lengths that the case states; all in metres.
func TestOutlineHasTheLengthsOfTheElectrode(t *testing.T) {
	for _, tt := range []struct {
		name              string
		e                 Electrode
		half, top, bottom float64 // half-width, highest and lowest depth, m
	}{
		{"disc", Electrode{Tip: Disc, ContactRadiusM: 1.2e-3, TipRadiusM: 1.2e-3}, 1.2e-3, -7e-3, 0},
		{"needle", Electrode{Tip: Needle, ContactRadiusM: 0.2e-3, InsertionM: 1.5e-3}, 0.2e-3, -7e-3, 1.5e-3},
		// A sphere of 5 mm that touches over 3 mm has its centre 4 mm above the wall.
		{"ball", Electrode{Tip: Ball, ContactRadiusM: 3e-3, TipRadiusM: 5e-3}, 5e-3, -9e-3, 0},
	} {
		half, top, bottom := 0.0, math.Inf(1), math.Inf(-1)
		for _, p := range tt.e.Outline(7e-3, false) {
			half, top, bottom = math.Max(half, math.Abs(p.XM)), math.Min(top, p.ZM), math.Max(bottom, p.ZM)
		}
		sag := tt.half * (1 - math.Cos(math.Pi/120)) // of an arc between two of its points
		if math.Abs(half-tt.half) > sag || math.Abs(top-tt.top) > sag || math.Abs(bottom-tt.bottom) > 1e-12 {
			t.Errorf("%s: half-width %g, from %g to %g m; want %g, %g to %g", tt.name, half, top, bottom, tt.half, tt.top, tt.bottom)
		}
	}
}
