package thermal

import (
	"math"
	"testing"

	"muralheat/thermal/damage"
	"muralheat/thermal/heat"
)

// Conductivity by water content, in numbers worked out by hand: wet tissue 0.5 S/m, dried a
// thousandth.
func TestConductivityByWater(t *testing.T) {
	percolation := Physics{Drying: Percolation, DrySigmaShare: 1e-3, SigmaExponent: 1.5, SigmaThreshold: 0.1}
	leaking := percolation
	leaking.DryLeakSM = 0.01
	series := Physics{Drying: Series, DrySigmaShare: 1e-3}
	for _, tt := range []struct {
		name                   string
		physics                Physics
		w, spark, sigma, gapTo float64
	}{
		{"wet", percolation, 1, 0, 0.5, 0},
		{"half way to the threshold", percolation, 0.55, 0, 0.0005 + 0.4995*0.35355339, 0}, // 0.5^1.5
		{"just above the threshold", percolation, 0.14, 0, 0.0005 + 0.4995*0.0093697116, 0.86},
		{"at the threshold", percolation, 0.1, 0, 0.0005, 0.9},
		{"dry", percolation, 0, 0, 0.0005, 1},
		{"dry, sparks", percolation, 0, 2, 2.0005, 1},
		{"dry, leaking", leaking, 0, 0, 0.01, 1},
		{"series, half dry", series, 0.5, 0, 1 / (1 + 0.5/0.0005), 0.5},
		{"series, a tenth dry", series, 0.9, 0, 1 / (0.9/0.5 + 0.1/0.0005), 0.1},
		{"series, sparks", series, 0.5, 0.5, 1 / (1 + 0.5/0.5005), 0.5},
	} {
		s := &state{Case: &Case{Physics: tt.physics}, heat: &heat.Solver{Water: []float64{tt.w}}}
		if got := 1 / s.resistivityOf(0.5, tt.w, tt.spark); math.Abs(got-tt.sigma) > 1e-7*tt.sigma {
			t.Errorf("%s: %.9g S/m, want %.9g", tt.name, got, tt.sigma)
		}
		if got := s.gap(0); math.Abs(got-tt.gapTo) > 1e-12 {
			t.Errorf("%s: sparks cross %g of the cell, want %g", tt.name, got, tt.gapTo)
		}
	}
}

// Coagulation raises conductivity for good, by its whole rise where damage is complete, by
// 1 - 1/e of it at Omega = 1; and temperature does up to boiling.
func TestCoagulatedTissueConductsBetter(t *testing.T) {
	for _, tt := range []struct{ omega, tC, want float64 }{
		{0, 37, 0.5}, {0, 87, 0.95}, {0, 200, 0.5 * (1 + 0.018*63)},
		{1, 37, 0.5 * (1 + 0.3*0.6321205588)}, {50, 37, 0.65}, {50, 87, 0.95 * 1.3},
	} {
		s := &state{
			Case:  &Case{Physics: Physics{SigmaPerK: 0.018, BoilC: 100, CoagulatedSigmaRise: 0.3}},
			heat:  &heat.Solver{T: []float64{tt.tC}},
			omega: &damage.Integral{Sum: []float64{tt.omega}},

			coagulatedShare: make([]float64, 1),
		}
		(&injury{state: s}).mark(0)
		if got := s.wetSigma(0, 0.5); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("Omega %g, %g C: %g S/m, want %g", tt.omega, tt.tC, got, tt.want)
		}
	}
}
