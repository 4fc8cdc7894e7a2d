package figures

import (
	"math"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// A shade for each pulse, the last cut off with the current.
func TestBandsOfPulses(t *testing.T) {
	r := fixture.Synthetics["none"].Result()
	r.Case.Drive.OnS = 1.25
	r.Case.Drive.Pulses = &drive.Pulses{LengthS: 0.1, PeriodS: 0.4}
	want := []band{{0, 0.1, pulseShade}, {0.4, 0.5, pulseShade}, {0.8, 0.9, pulseShade}, {1.2, 1.25, pulseShade}}
	same := func(got []band) bool {
		ok := len(got) == len(want)
		for n := 0; ok && n < len(want); n++ {
			ok = math.Abs(got[n].from-want[n].from) < 1e-12 && math.Abs(got[n].to-want[n].to) < 1e-12 && got[n].shade == want[n].shade
		}
		return ok
	}
	if got := newRhythm(r, 10*chart.MM).bands; !same(got) {
		t.Errorf("%v, want %v", got, want)
	}
	r.Case.Drive.Pulses.Between = drive.Mode{PowerW: 5, DutyCycle: 1}
	want = append([]band{{0, 1.25, currentShade}}, want...)
	if got := newRhythm(r, 10*chart.MM).bands; !same(got) {
		t.Errorf("%v, want %v", got, want)
	}
	want = want[:1]
	if got := newRhythm(r, 2*chart.MM); !same(got.bands) || got.powerNote == "darker: pulses" {
		t.Errorf("pulses 0.8 mm apart on the page: %v, %s", got.bands, got.powerNote)
	}
}

// Pulses closer than the rows: 1000 pulses of 4 ms every 10 ms, their power falling
// evenly from 50 to 40 W, 5 W between. The mean falls from 0.4*50 + 0.6*5 = 23 W to
// 19 W; rows every 47 ms follow it to a change of the pulses within three rows.
func TestCrowdedPulses(t *testing.T) {
	d := drive.Drive{Mode: drive.Mode{PowerW: 50, DutyCycle: 1}, OnS: 10,
		Pulses: &drive.Pulses{LengthS: 0.004, PeriodS: 0.01, Between: drive.Mode{PowerW: 5, DutyCycle: 1}}}
	r := &thermal.Result{Case: &thermal.Case{Drive: d}, Summary: thermal.Summary{MeanPowerW: 21}}
	row := func(t, w, ohm float64) {
		r.History = append(r.History, thermal.Sample{TimeS: t, PowerW: w, ResistanceOhm: ohm})
	}
	power := func(t float64) (float64, float64) {
		if math.Mod(t, 0.01) < 0.004 {
			return 50 - t, 100
		}
		return 5, 200
	}
	for n := range 213 {
		at := 0.047 * float64(n)
		w, ohm := power(math.Max(0, at-1e-5))
		row(at, w, ohm)
		if n%10 == 1 { // two rows at the end of a pulse, and they are not mixed up
			edge := 0.01*math.Floor(at/0.01) + 0.014
			row(edge, 50-edge, 100)
			row(edge, 5, 200)
		}
	}
	row(10, 5, 200)
	row(10, 0, math.NaN())
	row(11, 0, math.NaN())
	rh := newRhythm(r, 10*chart.MM)
	if rh.powerNote == "" || rh.rowsNote != "during pulses" {
		t.Errorf("notes %q, %q", rh.powerNote, rh.rowsNote)
	}
	for _, q := range rh.power[:len(rh.power)-2] {
		if want := 23 - 0.4*q.X; math.Abs(q.Y-want) > 0.4*3*0.047+1e-9 {
			t.Errorf("at %g s: %g W, want %g", q.X, q.Y, want)
		}
	}
	if end := rh.power[len(rh.power)-2:]; end[0].Y != 0 || end[1].Y != 0 {
		t.Errorf("after the current: %v", end)
	}
	for _, s := range rh.rows {
		if s.ResistanceOhm == 200 {
			t.Errorf("at %g s: a pause among the pulses", s.TimeS)
		}
	}
	if n := len(rh.rows); n < 60 || n > 140 {
		t.Errorf("%d rows in pulses, want some 0.4 of 213 and 21", n)
	}

	// Rows that meet no pulse but the first: nothing is known but the mean.
	r.History = nil
	for n := range 201 {
		row(0.05*float64(n), 5, 200)
	}
	row(10, 0, math.NaN())
	rh = newRhythm(r, 10*chart.MM)
	if a, b := rh.power[0].Y, rh.power[200].Y; a != 21 || b != 21 || rh.power[201].Y != 0 {
		t.Errorf("%g, %g, %g W; want the mean of the run, 21 W, then 0", a, b, rh.power[201].Y)
	}
}

// Each activation that is repeated has its shade, and its pulses theirs; a row at the border of a pause and an
// activation belongs to the one that it tells of.
func TestBandsOfRepeatedActivations(t *testing.T) {
	r := fixture.Synthetics["none"].Result()
	c := r.Case
	c.Drive.OnS, c.Drive.Pulses, c.Repeat = 0.5, nil, thermal.Repeat{Times: 3, PauseS: 1}
	bands := newRhythm(r, 10*chart.MM).bands
	for n, from := range []float64{0, 1.5, 3} {
		if len(bands) != 3 || math.Abs(bands[n].from-from) > 1e-12 || math.Abs(bands[n].to-from-0.5) > 1e-12 {
			t.Fatalf("bands %v", bands)
		}
	}
	c.Drive.Pulses = &drive.Pulses{LengthS: 0.1, PeriodS: 0.25}
	if bands = newRhythm(r, 10*chart.MM).bands; len(bands) != 6 || math.Abs(bands[3].from-1.75) > 1e-12 || math.Abs(bands[3].to-1.85) > 1e-12 {
		t.Errorf("bands of pulses %v", bands)
	}
	h := []thermal.Sample{{TimeS: 0}, {TimeS: 0.05}, {TimeS: 0.2}, {TimeS: 0.5}, {TimeS: 0.5}, {TimeS: 1.5}, {TimeS: 1.5}, {TimeS: 1.55}, {TimeS: 1.65}, {TimeS: 4}}
	want := []phase{pulse, pulse, pause, pause, off, off, pulse, pulse, pause, off}
	for n := range h {
		if got := phaseOf(c, h, n, c.Drive); got != want[n] {
			t.Errorf("row %d at %g s: phase %d, want %d", n, h[n].TimeS, got, want[n])
		}
	}
}
