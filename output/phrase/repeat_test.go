package phrase

import (
	"math"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// What is said of activations that are repeated on their place: how often, what happens now, and what came after the
// last of them.
func TestRepeatedInWords(t *testing.T) {
	c := &thermal.Case{
		Layers:    []thermal.Layer{{Name: "muscle", ThicknessM: 2e-3, Muscle: true}},
		Electrode: thermal.Electrode{Tip: thermal.Disc, ContactRadiusM: 1e-3},
		Drive:     drive.Drive{Mode: drive.Mode{PowerW: 5, DutyCycle: 1}, OnS: 2}, AfterS: 10,
		Repeat: thermal.Repeat{Times: 3, PauseS: 4},
	}
	r := &thermal.Result{Case: c, Summary: thermal.Summary{MeanPowerW: 5, InjuryDepthM: 1e-3, DryOutS: math.NaN()}}
	r.History = []thermal.Sample{{TimeS: 2, DepthM: 0.4e-3}, {TimeS: 14, DepthM: 0.7e-3}, {TimeS: 17, DepthM: 1e-3}, {TimeS: 24, DepthM: 1e-3}}
	for _, tt := range []struct{ got, want string }{
		{Set(c)[1], "5 W for 2 s, 3 times on the same place with pauses of 4 s"},
		{Now(r, thermal.Sample{TimeS: 1, PowerW: 5, VoltageV: 30}), "Current on: 5.00 W, 30 V. No injury so far."},
		{Now(r, thermal.Sample{TimeS: 3}), "Between activations 1 and 2. No injury so far."},
		{Now(r, thermal.Sample{TimeS: 11.9}), "Between activations 2 and 3. No injury so far."},
		{Now(r, thermal.Sample{TimeS: 13}), "No current flows. No injury so far."},
		{Now(r, thermal.Sample{TimeS: 15}), "Current off for 1.0 s. No injury so far."},
		{Remark(r), "After the current stopped the burn went on for 3 s and gained 0.30 mm."},
	} {
		if tt.got != tt.want {
			t.Errorf("%q, want %q", tt.got, tt.want)
		}
	}
	c.Motion, c.Repeat = thermal.Motion{LengthM: 4e-3, SpeedMS: 2e-3}, thermal.Repeat{Times: 2, BackAndForth: true}
	if got, want := Set(c)[1], "5 W for 2 s, 2 passes over the same line, back and forth without a pause"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// What was done before on the place is named, and keys of it by their number.
func TestOnAPlaceInWords(t *testing.T) {
	c := &thermal.Case{
		Electrode: thermal.Electrode{Tip: thermal.Disc, ContactRadiusM: 1e-3}, Drive: drive.Drive{Mode: drive.Mode{PowerW: 5, DutyCycle: 1}, OnS: 2},
		Before: []*thermal.Case{{Title: "first"}},
	}
	one := Set(c)[1]
	c.Before = append(c.Before, &thermal.Case{Title: "second"})
	for _, tt := range []struct{ got, want string }{
		{one, `5 W for 2 s, on the place of "first"`},
		{Set(c)[1], `5 W for 2 s, on the place of "second" and 1 before it`},
		{Key("before[2].current.on_s", "s"), "before 2 time with current"},
		{Key("before[1].pause_s", "s"), "before 1 pause"},
		{Key("current.on_s", "s"), "time with current"},
	} {
		if tt.got != tt.want {
			t.Errorf("%q, want %q", tt.got, tt.want)
		}
	}
}
