package thermal_test

import (
	"math"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// under puts a case under a stirred bath of the conductivity given, S/m, a millimetre of it above the wall.
func under(c thermal.Case, sigma float64) thermal.Case {
	const depth = 1e-3
	liquid := c.Layers[0].Material
	liquid.SigmaSM = sigma
	c.Layers = append([]thermal.Layer{{Name: "liquid", ThicknessM: depth, Above: true, Liquid: true, Material: liquid}}, c.Layers...)
	c.Bath = thermal.Bath{SigmaSM: sigma, DepthM: depth}
	c.Lumen.HeatTransferWM2K = 500
	return c
}

// The energy balance of a cut under a bath closes, with the gap burning and without, and what flows past the gap is in it.
func TestBathIsInTheBalance(t *testing.T) {
	for sigma, burns := range map[float64]bool{0.01: true, 2: false} {
		r := simulate(t, under(waiting(draft(antrum(thermal.Needle, 0.25e-3, 40, 0))), sigma))
		b, s := r.Balance, r.Summary
		if !(math.Abs(b.EnergyResidual) < 1e-9) || !(b.ChargeResidual < 1e-6) {
			t.Errorf("%g S/m: energy off by %.2g, charge by %.2g", sigma, b.EnergyResidual, b.ChargeResidual)
		}
		if !(b.BathJ > 0.01*b.ElectricJ) || burns != (s.Cut.PathM > 0.2e-3) {
			t.Errorf("%g S/m: %g of %g J in the liquid, %g mm of path", sigma, b.BathJ, b.ElectricJ, s.Cut.PathM*1e3)
		}
		for _, h := range r.History {
			if p := h.VoltageV * h.CurrentA; h.PowerW > 1.0001*p {
				t.Fatalf("%g S/m: %g W from %g V and %g A", sigma, h.PowerW, h.VoltageV, h.CurrentA)
			}
		}
		if s.Cut.KerfWidthM > 1e-3 {
			t.Errorf("%g S/m: a kerf of %g mm, as if the bath were removed tissue", sigma, s.Cut.KerfWidthM*1e3)
		}
	}
}

// A bath that does not conduct leaves the current of a pulled disc as it is, but for the finer cells above; one that does takes
// it, and metal that is insulated from it gives it less.
func TestBathTakesCurrent(t *testing.T) {
	dry := pull(draft(antrum(thermal.Disc, 1e-3, 2, 0)), 1e-3, 2e-3)
	dry.Domain.RadiusM, dry.Drive.Limits = 8e-3, drive.Limits{}
	ohm := func(c thermal.Case) float64 {
		c.Drive.OnS = 0.01
		return simulate(t, c).Summary.ResistanceStartOhm
	}
	gas, none, salt := ohm(dry), ohm(under(dry, 1e-9)), ohm(under(dry, 2))
	insulated := under(dry, 2)
	insulated.Electrode.BareM = 0.2e-3
	less := ohm(insulated)
	if math.Abs(none/gas-1) > 0.01 {
		t.Errorf("%g ohm under what does not conduct, %g in gas", none, gas)
	}
	if !(salt < 0.6*gas) || !(less > 1.1*salt) || !(less < gas) {
		t.Errorf("%g ohm in gas, %g in salt water, %g with less metal bare", gas, salt, less)
	}
}
