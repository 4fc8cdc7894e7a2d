package heat

import (
	"math"
	"testing"

	"muralheat/mesh"
)

// A layer that is renewed refills what boiled away as 1 - exp(-rate t), with water at body temperature; what boiled off
// stays in the balances of water and heat.
func TestRenew(t *testing.T) {
	const rate, latent, dt = 0.8, 2.2e9, 1e-3
	m := mesh.New(mesh.Axisymmetric, mesh.NewAxis([]float64{0, 1e-3}), mesh.Axis{}, mesh.NewAxis([]float64{0, 1e-3, 2e-3}))
	still := Material{KWetWMK: 1e-9, KDryWMK: 1e-9, CWetJM3K: 4e6, CDryJM3K: 1e6, LatentJM3: latent}
	renewed := still
	renewed.RenewalPerS = rate
	s := New(m, []int{0, 1}, []Material{renewed, still}, Phases{BoilC: 100, CarbonC: math.Inf(1), CeilingC: math.Inf(1)}, 37)
	src := make([]float64, m.Len())
	for k := range 2 { // half of the water of both
		src[m.Index(0, 0, k)] = (4e6*63 + latent/2) * m.Volume(0, 0, k) / 1e-6
	}
	s.Step(1e-6, src)
	clear(src)
	for range 1000 {
		s.Step(dt, src)
	}
	if got, want := s.Water[m.Index(0, 0, 0)], 1-0.5*math.Exp(-rate); math.Abs(got-want) > 1e-6 {
		t.Errorf("after 1 s %g of the water, want %g", got, want)
	}
	if got := s.Water[m.Index(0, 0, 1)]; math.Abs(got-0.5) > 1e-9 {
		t.Errorf("the still layer has %g of its water", got)
	}
	if r := s.WaterResidual(); math.Abs(r) > 1e-12 {
		t.Errorf("water residual %g", r)
	}
	stored, steam, _ := s.Stores()
	if sum := stored + steam; math.Abs(sum/s.JouleJ-1) > 1e-9 {
		t.Errorf("%g J stored and gone with steam of %g J", sum, s.JouleJ)
	}
}
