package thermal_test

import (
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
	c.Electrode = thermal.Electrode{Tip: thermal.Loop, ContactRadiusM: 0.2e-3, TipRadiusM: diameterM / 2, HeightM: 3e-3, Surface: c.Electrode.Surface}
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
	c.Motion.Waits = true
	return c
}

func TestLoopLook2(t *testing.T) {
	for _, c := range []thermal.Case{pulled(loopCase(6e-3, 40), 5), pulled(loopCase(6e-3, 15), 2), opposite(loopCase(6e-3, 20), 1e-3), opposite(loopCase(6e-3, 20), 4e-3)} {
		r := simulate(t, c)
		s := r.Summary
		t.Logf("v0 %g mm/s depth %g %+v mean %g W peak %g R %g-%g spark %g lim %g dry %g cells %d steps %d solves %d res %g charge %g  notes %v", c.Motion.SpeedMS*1e3, s.InjuryDepthM, s.Stalk, s.MeanPowerW, s.PeakC, s.ResistanceStartOhm, s.ResistanceEndOhm, s.SparkShare, s.LimitedShare, s.DryOutS, s.Cells, s.Steps, s.Solves, r.Balance.EnergyResidual, r.Balance.ChargeResidual, r.Notes)
		for i := 0; i < len(r.History); i += 15 {
			h := r.History[i]
			t.Logf("t %.3f P %.2f V %.1f R %.0f spark %.2f pos %.3f T %v", h.TimeS, h.PowerW, h.VoltageV, h.ResistanceOhm, h.SparkShare, h.PositionM*1e3, h.BorderC)
		}
		for _, l := range s.Layers {
			t.Logf("%+v", l)
		}
	}
}

func TestLoopLook(t *testing.T) {
	for _, d := range []float64{4e-3, 8e-3} {
		for _, p := range []float64{10, 30} {
			c := loopCase(d, p)
			r := simulate(t, c)
			s := r.Summary
			t.Logf("d %g P %g: depth %g %+v mean %g W peak %g R %g-%g spark %g lim %g dry %g cells %d steps %d solves %d res %g charge %g  notes %v", d, p, s.InjuryDepthM, s.Stalk, s.MeanPowerW, s.PeakC, s.ResistanceStartOhm, s.ResistanceEndOhm, s.SparkShare, s.LimitedShare, s.DryOutS, s.Cells, s.Steps, s.Solves, r.Balance.EnergyResidual, r.Balance.ChargeResidual, r.Notes)
			for i := 0; i < len(r.History); i += 15 {
				h := r.History[i]
				t.Logf("t %.3f P %.2f V %.1f R %.0f spark %.2f pos %.3f T %v", h.TimeS, h.PowerW, h.VoltageV, h.ResistanceOhm, h.SparkShare, h.PositionM*1e3, h.BorderC)
			}
		}
	}
}
