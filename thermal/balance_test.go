package thermal_test

import (
	"math"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// Whatever the case, the energy balance closes, charge is kept, time goes on, injury only
// grows and no number is missing.
func TestBooksClose(t *testing.T) {
	disc := draft(antrum(thermal.Disc, 1e-3, 10, 2))
	needle := draft(antrum(thermal.Needle, 0.25e-3, 6, 2))
	for name, c := range map[string]thermal.Case{
		"disc":            disc,
		"disc, cooling":   with(disc, func(c *thermal.Case) { c.AfterS = 3 }),
		"needle":          needle,
		"ball":            with(disc, func(c *thermal.Case) { c.Electrode.Tip, c.Electrode.TipRadiusM = thermal.Ball, 3e-3 }),
		"disc in 3-D":     with(disc, func(c *thermal.Case) { c.Domain.ThreeD, c.Domain.RadiusM = true, 7e-3 }),
		"disc moving":     pull(disc, 4e-3, 2e-3),
		"needle moving":   pull(needle, 1.5e-3, 3e-3),
		"moving, cooling": with(pull(disc, 3e-3, 3e-3), func(c *thermal.Case) { c.AfterS = 2 }),
		"low duty cycle":  with(disc, func(c *thermal.Case) { c.Drive.DutyCycle = 0.06 }),
		"no limit":        with(disc, func(c *thermal.Case) { c.Drive.Limits = drive.Limits{} }),
		"current limit":   with(disc, func(c *thermal.Case) { c.Drive.Limits = drive.Limits{CurrentA: 0.08} }),
		"no boiling":      with(disc, func(c *thermal.Case) { c.Physics.Boiling = false }),
		"metabolic heat":  with(disc, func(c *thermal.Case) { c.Physics.MetabolicHeat = true }),
		"at injury":       with(disc, func(c *thermal.Case) { c.Physics.PerfusionStops = thermal.AtInjury }),
		"water, cold":     with(disc, func(c *thermal.Case) { c.Lumen = thermal.Surface{HeatTransferWM2K: 500, TemperatureC: 20} }),
		"nothing beyond": with(disc, func(c *thermal.Case) {
			c.Layers, c.Beyond = wallOnly(c.Layers), thermal.Surface{HeatTransferWM2K: 25, TemperatureC: 37}
		}),
		"sparks":           with(disc, interrupted),
		"sparks, needle":   with(needle, interrupted),
		"sparks, moving":   with(pull(disc, 2e-3, 2e-3), interrupted),
		"pulsed":           with(disc, pulsed),
		"leads":            with(disc, leads),
		"leads, sparks":    with(disc, func(c *thermal.Case) { interrupted(c); leads(c) }),
		"leads, cut":       with(waiting(needle), leads),
		"leads, pulses":    with(disc, func(c *thermal.Case) { pulsed(c); leads(c); c.Drive.Pulses.Between.Path = c.Drive.Path }),
		"held voltage":     with(disc, func(c *thermal.Case) { c.Drive.PowerW, c.Drive.PeakVoltageV, c.Drive.Limits = 0, 150, drive.Limits{} }),
		"grounded below":   with(disc, func(c *thermal.Case) { c.Domain.Bottom, c.Domain.Side = thermal.Grounded, thermal.Insulated }),
		"insulated bottom": with(disc, func(c *thermal.Case) { c.Domain.Bottom = thermal.Insulated }),
	} {
		t.Run(name, func(t *testing.T) {
			sound(t, simulate(t, c))
		})
	}
}

// sound holds a result to what is true of any.
func sound(t *testing.T, r *thermal.Result) {
	t.Helper()
	b, s := r.Balance, r.Summary
	if math.Abs(b.EnergyResidual) > 1e-9 || math.Abs(b.SourceResidual) > 1e-9 || math.Abs(b.ChargeResidual) > 1e-2 {
		t.Errorf("energy residual %.2g, of the source %.2g, charge residual %.2g", b.EnergyResidual, b.SourceResidual, b.ChargeResidual)
	}
	for what, v := range map[string]float64{
		"depth": s.InjuryDepthM, "width": s.InjuryHalfWidthM, "peak": s.PeakC, "resistance": s.ResistanceStartOhm,
		"resistance at the end": s.ResistanceEndOhm, "peak voltage": s.PeakVoltageV, "energy": b.ElectricJ, "power": s.MeanPowerW,
	} {
		if !(v > 0) || math.IsInf(v, 0) {
			t.Errorf("%s is %g", what, v)
		}
	}
	if r.Case.Drive.Limits.PeakVoltageV > 0 && s.PeakVoltageV > r.Case.Drive.Limits.PeakVoltageV*(1+1e-9) {
		t.Errorf("peak voltage %g V over its limit", s.PeakVoltageV)
	}
	last := r.History[0]
	for _, h := range r.History[1:] {
		if h.TimeS < last.TimeS || h.DepthM < last.DepthM-1e-12 {
			t.Fatalf("from %g s, %g mm to %g s, %g mm", last.TimeS, last.DepthM*1e3, h.TimeS, h.DepthM*1e3)
		}
		last = h
	}
	if last.TimeS != r.Case.TotalS() {
		t.Errorf("ends at %.17g s, not %.17g s", last.TimeS, r.Case.TotalS())
	}
	if d := math.Abs(last.DepthM - s.InjuryDepthM); d > 1e-12 {
		t.Errorf("history ends at another depth, by %g m", d)
	}
	for p := r.Mesh.Plane(); p < r.Mesh.Plane()+r.Mesh.Cells(); p++ {
		if !r.Fields.Removed[p] && r.Fields.PeakC[p] < r.Fields.TemperatureC[p] {
			t.Fatalf("cell %d is at %g C but peaked at %g", p, r.Fields.TemperatureC[p], r.Fields.PeakC[p])
		}
	}
}

// wallOnly leaves out what lies beyond the wall.
func wallOnly(layers []thermal.Layer) []thermal.Layer {
	for i, l := range layers {
		if l.Beyond {
			return layers[:i]
		}
	}
	return layers
}

// Without power a body at rest stays at rest, to the last digit.
func TestNoPowerNoChange(t *testing.T) {
	for _, c := range []thermal.Case{
		draft(antrum(thermal.Disc, 1e-3, 0, 2)), draft(antrum(thermal.Needle, 0.25e-3, 0, 2)), pull(draft(antrum(thermal.Disc, 1e-3, 0, 0)), 2e-3, 2e-3),
	} {
		r := simulate(t, c)
		for p := r.Mesh.Plane(); p < r.Mesh.Plane()+r.Mesh.Cells(); p++ {
			if r.Fields.TemperatureC[p] != 37 || r.Fields.PeakC[p] != 37 || r.Fields.Water[p] != 1 {
				t.Fatalf("%s: cell %d at %g C", c.Electrode.Tip, p, r.Fields.TemperatureC[p])
			}
		}
		s := r.Summary
		if s.InjuryDepthM != 0 || s.InjuryHalfWidthM != 0 || s.DeepestLayer != "" || s.PeakC != 37 || r.Balance.ElectricJ != 0 {
			t.Errorf("%s: %+v", c.Electrode.Tip, s)
		}
	}
}

// The energy is the power times the time, exactly, at switching times that no step
// divides; and both times are met in the history.
func TestSwitchingIsExact(t *testing.T) {
	for _, on := range []float64{0.7333, 1.0 / 3, 0.0471} {
		c := with(draft(antrum(thermal.Disc, 1e-3, 3, on)), func(c *thermal.Case) { c.AfterS, c.Drive.Limits = 0.5117, drive.Limits{} })
		r := simulate(t, c)
		if d := r.Balance.ElectricJ/(3*on) - 1; math.Abs(d) > 1e-12 {
			t.Errorf("%g s: energy off by %.2g", on, d)
		}
		with, without := false, false
		for _, h := range r.History {
			if h.TimeS == on {
				with, without = with || h.PowerW > 0, without || h.PowerW == 0
			}
			if h.TimeS < on && math.Abs(h.PowerW-3) > 1e-9 || h.TimeS > on && h.PowerW != 0 {
				t.Errorf("%g W at %g s", h.PowerW, h.TimeS)
			}
		}
		if !with || !without {
			t.Errorf("%g s: the switch is not in the history on both sides", on)
		}
	}
}
