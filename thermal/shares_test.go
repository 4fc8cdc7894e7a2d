package thermal_test

import (
	"math"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// Shares of the time are of the time with current: cooling after it counts for none of them.
func TestLimitedShareIsOfTheTimeWithCurrent(t *testing.T) {
	c := draft(antrum(thermal.Disc, 1e-3, 20, 0.1))
	c.AfterS = 0.3
	c.Drive.Limits = drive.Limits{LoadLine: []drive.Load{{ResistanceOhm: 100, PowerW: 10}, {ResistanceOhm: 1000, PowerW: 1}}}
	if s := simulate(t, c).Summary; s.LimitedShare != 1 {
		t.Errorf("limited for %g of the time with current, want all of it", s.LimitedShare)
	}
}

// Sparks that carry current once the contact has dried are in the rows of history and in the
// share of the time, and the run says that they are assumptions. Without a voltage to cross
// dried tissue there are none.
func TestSparksAreReported(t *testing.T) {
	c := with(draft(antrum(thermal.Disc, 0.5e-3, 10, 0.8)), interrupted)
	r := simulate(t, c)
	most := 0.0
	for _, h := range r.History {
		most = math.Max(most, h.SparkShare)
	}
	if r.Summary.DriedDepthM == 0 {
		t.Fatal("nothing dried: the case tests nothing")
	}
	if !(most > 0.01 && most <= 1) || !(r.Summary.SparkShare > 0 && r.Summary.SparkShare <= 1) || len(r.Notes) == 0 {
		t.Errorf("most of the current in sparks %g, of the time %g, notes %q", most, r.Summary.SparkShare, r.Notes)
	}
	c.Drive.Limits.PeakVoltageV = c.Physics.SparkOnsetV // not above it
	if r := simulate(t, c); r.Summary.SparkShare != 0 {
		t.Errorf("sparks for %g of the time at their onset", r.Summary.SparkShare)
	}
}

// The path of a cut ends with the current, though a forced needle goes on.
func TestPathEndsWithTheCurrent(t *testing.T) {
	c := pull(draft(antrum(thermal.Needle, 0.25e-3, 6, 0)), 2e-3, 4e-3)
	c.Domain.RadiusM, c.Drive.OnS, c.AfterS = 5e-3, 0.25, 0.2
	if path := simulate(t, c).Summary.Cut.PathM; math.Abs(path-1e-3) > 1e-9 {
		t.Errorf("%g mm, want 1 mm: 4 mm/s for 0.25 s", path*1e3)
	}
}

// Resistance at the start is that of the first moment, before the wall is warm: tissue that
// warms without drying conducts better.
func TestResistanceAtTheStartIsTheFirst(t *testing.T) {
	c := draft(antrum(thermal.Disc, 1e-3, 1, 1))
	r := simulate(t, c)
	s, first := r.Summary, r.History[0].ResistanceOhm
	if s.DriedDepthM > 0 {
		t.Fatal("dried: the case tests something else")
	}
	if s.ResistanceStartOhm != first || !(s.ResistanceEndOhm < 0.95*first) {
		t.Errorf("from %g to %g ohm, the first row has %g ohm", s.ResistanceStartOhm, s.ResistanceEndOhm, first)
	}
}

// A contact dries once: the time is that of the first moment, not of the last.
func TestDryOutIsTheFirstMoment(t *testing.T) {
	c := with(draft(antrum(thermal.Disc, 0.5e-3, 10, 0.5)), interrupted)
	short := simulate(t, c).Summary.DryOutS
	c.Drive.OnS = 1
	long := simulate(t, c).Summary.DryOutS
	if !(short > 0 && short < 0.5) || math.Abs(long-short) > 2*c.Numerics.MaxStepS {
		t.Errorf("dry after %g s with current for 0.5 s, after %g s with current for 1 s", short, long)
	}
}

// A forced ring is through when it has covered its radius, to a step.
func TestForcedRingIsThroughAtItsAxis(t *testing.T) {
	c := draft(loopCase(2e-3, 20))
	c.Drive.OnS, c.AfterS = 0.6, 0
	c.Motion = thermal.Motion{LengthM: c.Electrode.TipRadiusM, SpeedMS: 2e-3}
	if s := simulate(t, c).Summary.Stalk.CutThroughS; math.Abs(s-0.5) > c.Numerics.MaxStepS {
		t.Errorf("through after %g s, want 0.5 s: 1 mm at 2 mm/s", s)
	}
}
