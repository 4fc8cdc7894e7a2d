package thermal_test

import (
	"math"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// interrupted makes the current one of short bursts with a high peak.
func interrupted(c *thermal.Case) {
	c.Drive.DutyCycle, c.Drive.Limits = 0.1, drive.Limits{PeakVoltageV: 1000}
}

// leads puts a resistance before the electrode and loses something beside the tissue.
func leads(c *thermal.Case) { c.Drive.Path = drive.Path{SeriesOhm: 30, LostShare: 0.08} }

// pulsed lets the source give pulses over a quiet current that only dries.
func pulsed(c *thermal.Case) {
	c.Drive.PowerW, c.Drive.Limits.PeakVoltageV = 40, 500
	c.Drive.Pulses = &drive.Pulses{LengthS: 0.05, PeriodS: 0.35, Between: drive.Mode{PowerW: 3, DutyCycle: 1, Limits: drive.Limits{PeakVoltageV: 190}}}
}

// waiting is a pulsed needle pushed along a track for two pulses, no faster than tissue parts.
func waiting(c thermal.Case) thermal.Case {
	pulsed(&c)
	c.Drive.OnS, c.Domain.RadiusM = 0.45, 6e-3
	c.Motion = thermal.Motion{LengthM: 3e-3, SpeedMS: 20e-3, Waits: true}
	return c
}

// Pulses in time: the energy is that of pulses and pauses, to the last digit while
// nothing limits the source, and every switch has a row on either side.
func TestPulses(t *testing.T) {
	c := draft(antrum(thermal.Disc, 1e-3, 0, 0))
	c.Drive = drive.Drive{
		Mode:   drive.Mode{PowerW: 6, DutyCycle: 0.5},
		Pulses: &drive.Pulses{LengthS: 0.0303, PeriodS: 0.101, Between: drive.Mode{PowerW: 0.7, DutyCycle: 0.1}},
		OnS:    0.75, FrequencyHz: 400e3,
	}
	c.AfterS = 0.2
	r := simulate(t, c)
	in := 7*0.0303 + math.Min(0.0303, 0.75-7*0.101) // time in pulses, s
	if want := 6*in + 0.7*(0.75-in); math.Abs(r.Balance.ElectricJ-want) > 1e-12 {
		t.Errorf("%.15g J, want %.15g J", r.Balance.ElectricJ, want)
	}
	for n := range 8 {
		for _, edge := range []float64{float64(n) * 0.101, float64(n)*0.101 + 0.0303} {
			before, after, rows := math.NaN(), math.NaN(), 0
			for _, h := range r.History {
				if math.Abs(h.TimeS-edge) < 1e-12 {
					if rows++; rows == 1 {
						before = h.PowerW
					}
					after = h.PowerW
				}
			}
			low, high := math.Min(before, after), math.Max(before, after)
			if edge > 0 && (rows != 2 || math.Abs(low-0.7) > 1e-9 || math.Abs(high-6) > 1e-9) {
				t.Errorf("at %g s: %d rows, %g W, then %g W", edge, rows, before, after)
			}
		}
	}
	// Nothing flows between pulses unless something is set.
	c.Drive.Pulses.Between = drive.Mode{}
	r = simulate(t, c)
	if want := 6 * in; math.Abs(r.Balance.ElectricJ-want) > 1e-12 {
		t.Errorf("without current between: %.15g J, want %.15g J", r.Balance.ElectricJ, want)
	}
}

// Of more switches than fit into a history some have their rows, pulses among them.
func TestManyPulses(t *testing.T) {
	c := draft(antrum(thermal.Disc, 1e-3, 5, 3))
	c.Drive.Pulses = &drive.Pulses{LengthS: 0.002, PeriodS: 0.01}
	on, r := 0, simulate(t, c)
	for _, h := range r.History {
		if h.PowerW > 0 {
			on++
		}
	}
	if on < 100 || len(r.History) > 800 {
		t.Errorf("%d rows, %d with current", len(r.History), on)
	}
}

// A pushed needle goes no further than tissue has parted, only forwards, and only in
// pulses; a forced one that has too little power drags.
func TestCut(t *testing.T) {
	needle := draft(antrum(thermal.Needle, 0.25e-3, 0, 0))
	r := simulate(t, waiting(needle))
	sound(t, r)
	cut := r.Summary.Cut
	if cut.PartedShare != 1 || !cut.Sustained || cut.PathM < 0.5e-3 || cut.PathM > 2.5e-3 || !(cut.HeldShare > 0) || cut.HeldShare >= 1 {
		t.Errorf("%+v", cut)
	}
	if d := math.Abs(cut.KerfWidthM - 0.5e-3); d > 1e-9 {
		t.Errorf("kerf of %g mm", cut.KerfWidthM*1e3)
	}
	for i, h := range r.History[1:] {
		last := r.History[i]
		if h.PositionM < last.PositionM {
			t.Fatalf("at %g s back from %g to %g mm", h.TimeS, last.PositionM*1e3, h.PositionM*1e3)
		}
		if phase := math.Mod(last.TimeS, 0.35); phase > 0.06 && phase < 0.34 && h.TimeS-last.TimeS < 0.01 && h.PositionM > last.PositionM {
			t.Fatalf("moves between pulses, at %g s", h.TimeS)
		}
	}
	forced := pull(needle, 3e-3, 6e-3)
	forced.Domain.RadiusM, forced.Drive.PowerW = 6e-3, 1 // 0.17 J for each mm, where drying takes 1.1 J
	r = simulate(t, forced)
	if cut := r.Summary.Cut; cut.Sustained || cut.PartedShare > 0.3 || cut.HeldShare != 0 || math.Abs(cut.PathM-3e-3) > 1e-12 {
		t.Errorf("forced: %+v", cut)
	}
	// Fragments thrown out with half of their water let a needle on sooner that heat holds up.
	slow := waiting(needle)
	slow.Drive.PowerW = 12
	cut = simulate(t, slow).Summary.Cut
	wet := slow
	wet.Physics.VaporisedShare = 0.5
	if far := simulate(t, wet).Summary.Cut; far.PathM < 1.2*cut.PathM || far.HeatJM3 > 0.9*cut.HeatJM3 {
		t.Errorf("half of the water vaporised: %.3g mm after %.3g mm, %.3g after %.3g J/mm3", far.PathM*1e3, cut.PathM*1e3, far.HeatJM3/1e9, cut.HeatJM3/1e9)
	}
}

// What a limit of the source does to a run: never more than the load line gives, and
// the share of time is told.
func TestLoadLineInARun(t *testing.T) {
	c := draft(antrum(thermal.Disc, 1e-3, 20, 0.3))
	c.Drive.Limits = drive.Limits{LoadLine: []drive.Load{{ResistanceOhm: 100, PowerW: 10}, {ResistanceOhm: 1000, PowerW: 1}}}
	r := simulate(t, c)
	for _, h := range r.History[:len(r.History)-1] {
		if want := 1000 / h.ResistanceOhm; math.Abs(h.PowerW-want) > 1e-9*want { // straight in the logarithms: 31.6 V
			t.Fatalf("%g W into %g ohm, want %g W", h.PowerW, h.ResistanceOhm, want)
		}
	}
	if r.Summary.LimitedShare != 1 {
		t.Errorf("limited for %g of the time", r.Summary.LimitedShare)
	}
}
