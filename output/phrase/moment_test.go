package phrase

import (
	"math"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// What a film says at a row of history, by the state of the source and of the wall.
func TestNow(t *testing.T) {
	wall := func(change func(*thermal.Result)) *thermal.Result {
		r := &thermal.Result{Case: &thermal.Case{
			Layers: []thermal.Layer{{Name: "mucosa", ThicknessM: 1e-3}, {Name: "muscle", ThicknessM: 1e-3, Muscle: true}},
			Drive:  drive.Drive{OnS: 2}, AfterS: 3, Electrode: thermal.Electrode{Tip: thermal.Disc},
		}}
		r.Summary.InjuryDepthM, r.Summary.MarginToMuscleM = 1.4e-3, -0.4e-3
		r.Summary.Layers = []thermal.LayerSummary{{BottomM: 1e-3}, {TopM: 1e-3, BottomM: 2e-3}}
		r.Summary.Stalk.CutThroughS = math.NaN()
		r.History = []thermal.Sample{{TimeS: 0}, {TimeS: 2, DepthM: 1.2e-3}, {TimeS: 5, DepthM: 1.4e-3}}
		if change != nil {
			change(r)
		}
		return r
	}
	pulsed := func(r *thermal.Result) { r.Case.Drive.Pulses = &drive.Pulses{LengthS: 0.1, PeriodS: 0.5} }
	cut := func(r *thermal.Result) {
		r.Case.Electrode.Tip, r.Summary.Stalk.CutThroughS = thermal.Loop, 1.5
	}
	for _, tt := range []struct {
		r    *thermal.Result
		now  thermal.Sample
		want string
	}{
		{wall(nil), thermal.Sample{PowerW: 3, VoltageV: 61}, "Current on: 3.00 W, 61 V. No injury so far."},
		{wall(nil), thermal.Sample{TimeS: 1, PowerW: 3, VoltageV: 61, SparkShare: 0.4, DepthM: 0.8e-3}, "Current on: 3.00 W, 61 V, 40 % of it in sparks. Injury 0.80 mm deep, 0.20 mm short of the muscle."},
		{wall(nil), thermal.Sample{TimeS: 1}, "No current flows. No injury so far."},
		{wall(pulsed), thermal.Sample{TimeS: 1}, "Between pulses. No injury so far."},
		{wall(nil), thermal.Sample{TimeS: 5, DepthM: 1.4e-3}, "Current off for 3.00 s. Injury 1.40 mm deep (0.20 mm of it since), 0.40 mm into the muscle (40 % of it)."},
		{wall(cut), thermal.Sample{TimeS: 1.75}, "Cut through, current off for 0.25 s. No injury of the wall so far."},
		{wall(func(r *thermal.Result) { r.Case.Electrode.Tip = thermal.Pad }), thermal.Sample{TimeS: 1, PowerW: 20, VoltageV: 30, MeanRiseK: 4.26}, "Current on: 20.00 W, 30 V. Mean rise 4.3 K over the hottest 1 cm²."},
	} {
		if got := Now(tt.r, tt.now); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
	deep := wall(func(r *thermal.Result) {
		r.Summary.InjuryDepthM, r.Summary.MarginToMuscleM, r.Summary.Transmural = 2e-3, -1e-3, true
	})
	if early, end := SoFar(deep, thermal.Sample{DepthM: 1.5e-3}), SoFar(deep, thermal.Sample{DepthM: 2e-3}); early.Transmural || !end.Transmural || math.Abs(early.MuscleInjuredShare-0.5) > 1e-9 {
		t.Errorf("through the wall early: %v, at the end: %v; half of the muscle: %g", early.Transmural, end.Transmural, early.MuscleInjuredShare)
	}
}

func TestClockAndPace(t *testing.T) {
	for got, want := range map[string]string{
		Clock(1.234, 12): "1.23 s", Clock(1.25, 60): "1.2 s", Pace(0): "", Pace(math.NaN()): "",
		Pace(1): "real time", Pace(3): "time sped up 3 times", Pace(0.3): "time slowed 3.3 times",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
