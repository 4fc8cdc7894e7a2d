package thermal_test

import (
	"math"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// loopCase is a polyp of invented size on the wall of a stomach, in a loop of wire.
func loopCase(diameterM, powerW float64) thermal.Case {
	c := antrum(thermal.Disc, 1e-3, powerW, 10)
	stalk := c.Layers[0]
	stalk.Name, stalk.Above, stalk.RadiusM, stalk.ThicknessM = "stalk", true, diameterM/2, 6e-3
	head := stalk
	head.Name, head.RadiusM, head.ThicknessM = "head", diameterM, 8e-3
	c.Layers = append([]thermal.Layer{head, stalk}, c.Layers...)
	c.Electrode = thermal.Electrode{Tip: thermal.Loop, ContactRadiusM: 0.2e-3, TipRadiusM: diameterM / 2, Own: thermal.Own{thermal.LoopHeight: 3e-3}, Surface: c.Electrode.Surface}
	c.Motion = thermal.Motion{LengthM: diameterM / 2, SpeedMS: 0.5e-3}
	c.Drive.Limits = drive.Limits{PeakVoltageV: 400}
	c.AfterS = 5
	return c
}

// opposite lets the head touch the wall on the other side.
func opposite(c thermal.Case, contactM float64) thermal.Case {
	head := c.Layers[0]
	touch := head
	touch.Name, touch.RadiusM, touch.ThicknessM = "touch", contactM, 0.5e-3
	var above []thermal.Layer
	for i := len(c.Layers) - 1; i >= 2; i-- {
		l := c.Layers[i]
		l.Name, l.Above, l.Beyond, l.Muscle = "opposite-"+l.Name, true, false, false
		above = append(above, l)
	}
	c.Layers = append(append(above, touch), c.Layers...)
	return c
}

func pulled(c thermal.Case, forceN float64) thermal.Case {
	c.Electrode.Press.ForceN = forceN
	c.Electrode.Press.PressurePa = forceN / (2 * c.Electrode.TipRadiusM * 2 * c.Electrode.ContactRadiusM)
	c.Motion.SpeedMS = 0.02e-6 * c.Electrode.Press.PressurePa
	c.Motion.LengthM, c.Motion.Waits = c.Electrode.TipRadiusM, true
	return c
}

// Whatever the loop does, the energy balance closes, and what it does not reach stays.
func TestLoopBooksClose(t *testing.T) {
	base := draft(loopCase(5e-3, 20))
	base.Drive.OnS, base.AfterS = 3, 1
	for name, c := range map[string]thermal.Case{
		"forced":   base,
		"resting":  with(base, func(c *thermal.Case) { c.Motion = thermal.Motion{} }),
		"pulled":   pulled(base, 3),
		"opposite": opposite(base, 1e-3),
		"groove":   with(base, func(c *thermal.Case) { c.Electrode.TipRadiusM, c.Motion.LengthM = 1.5e-3, 1.5e-3 }),
		"water":    with(base, func(c *thermal.Case) { c.Lumen = thermal.Surface{HeatTransferWM2K: 500, TemperatureC: 25} }),
		"current":  with(base, func(c *thermal.Case) { c.Drive.PowerW, c.Drive.CurrentA = 0, 0.15 }),
		"sparks":   with(base, interrupted),
		"pulsed":   with(base, pulsed),
	} {
		t.Run(name, func(t *testing.T) {
			r := simulate(t, c)
			if b := r.Balance; math.Abs(b.EnergyResidual) > 1e-9 || b.ChargeResidual > 1e-2 {
				t.Errorf("energy residual %g, charge residual %g", b.EnergyResidual, b.ChargeResidual)
			}
			for k, z := range r.Mesh.Z.Centres {
				for i, x := range r.Mesh.X.Centres {
					p := r.Mesh.Index(i, 0, k)
					if c.Empty(x, z) && !r.Fields.Removed[p] {
						t.Fatalf("tissue at %g, %g mm", x*1e3, z*1e3)
					}
					if z > 0 && r.Fields.Removed[p] {
						t.Fatalf("the wall is gone at %g, %g mm", x*1e3, z*1e3)
					}
				}
			}
			last := 0.0
			for _, h := range r.History {
				if h.PositionM < last || math.IsNaN(h.PowerW) {
					t.Fatalf("at %g s: ring at %g m after %g m, %g W", h.TimeS, h.PositionM, last, h.PowerW)
				}
				last = h.PositionM
			}
		})
	}
}

// A ring that closes at a forced speed meets the axis after radius over speed, and the
// current ends there.
func TestCutThrough(t *testing.T) {
	c := draft(loopCase(4e-3, 15))
	c.Motion.SpeedMS, c.Drive.OnS, c.AfterS = 2e-3, 5, 0.5
	r := simulate(t, c)
	s := r.Summary
	if math.Abs(s.Stalk.CutThroughS-1) > 0.02 || s.Stalk.RingRadiusM != 0 {
		t.Errorf("%+v", s.Stalk)
	}
	for _, h := range r.History {
		if h.TimeS > s.Stalk.CutThroughS && h.PowerW != 0 {
			t.Errorf("%g W at %g s", h.PowerW, h.TimeS)
		}
	}
	c.Drive.OnS = 0.5
	if s := simulate(t, c).Summary.Stalk; !math.IsNaN(s.CutThroughS) || math.Abs(s.RingRadiusM-1e-3) > 1e-5 {
		t.Errorf("half the time: %+v", s)
	}
}

// Directions known from practice or plain from statics: closer to the wall burns deeper; a
// head that touches the other wall sends current there, and a small touch is hotter; a pull
// strong enough cuts without current.
func TestLoopDirections(t *testing.T) {
	base := draft(loopCase(5e-3, 8))
	base.Drive.OnS, base.AfterS, base.Motion = 3, 2, thermal.Motion{}
	base.Drive.Limits.PeakVoltageV = 200
	depth := func(c thermal.Case) float64 { return simulate(t, c).Summary.InjuryDepthM }
	high, low := base, base
	high.Electrode.Own, low.Electrode.Own = thermal.Own{thermal.LoopHeight: 4e-3}, thermal.Own{thermal.LoopHeight: 1e-3}
	if h, l := depth(high), depth(low); !(l > h) {
		t.Errorf("ring 1 mm above the wall %g mm, 4 mm above %g mm", l*1e3, h*1e3)
	}
	wide, narrow := simulate(t, opposite(base, 4e-3)).Summary.Stalk, simulate(t, opposite(base, 0.5e-3)).Summary.Stalk
	if !(wide.LeakShare > narrow.LeakShare && narrow.LeakShare > 0.02 && narrow.OppositePeakC > wide.OppositePeakC) {
		t.Errorf("wide touch %+v, narrow touch %+v", wide, narrow)
	}
	cold := pulled(base, 10)
	cold.Drive.PowerW, cold.Physics.TearPa = 0, 3e6
	if s := simulate(t, cold).Summary.Stalk; math.IsNaN(s.CutThroughS) || s.PartedShare != 0 {
		t.Errorf("strong pull without current: %+v", s)
	}
	cold.Physics.TearPa = 0
	if s := simulate(t, cold).Summary.Stalk; !math.IsNaN(s.CutThroughS) {
		t.Errorf("no current and nothing tears: %+v", s)
	}
}
