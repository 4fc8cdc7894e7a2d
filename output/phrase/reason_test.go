package phrase

import (
	"math"
	"strings"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// plain is a made-up result that needs no reason: a disc got its 3 W, nothing dried.
func plain() *thermal.Result {
	r := &thermal.Result{Case: &thermal.Case{
		Electrode: thermal.Electrode{Tip: thermal.Disc},
		Drive:     drive.Drive{Mode: drive.Mode{PowerW: 3, DutyCycle: 1, Limits: drive.Limits{PeakVoltageV: 200}}, OnS: 10},
		AfterS:    5,
	}}
	r.Summary = thermal.Summary{InjuryDepthM: 1e-3, MeanPowerW: 3, ResistanceRise: 1.2, DryOutS: math.NaN(), SparkFromS: math.NaN()}
	r.Summary.Stalk.CutThroughS = math.NaN()
	r.History = []thermal.Sample{{TimeS: 5, DepthM: 0.7e-3}, {TimeS: 10, DepthM: 0.98e-3}, {TimeS: 12, DepthM: 1e-3}, {TimeS: 15, DepthM: 1e-3}}
	return r
}

// Each rule speaks where it must and is silent just beside.
func TestReasons(t *testing.T) {
	type result = *thermal.Result
	limited := func(by drive.Limit, fromS, share float64) func(result) {
		return func(r result) {
			r.Summary.Limited, r.Summary.LimitedShare = []thermal.Limited{{By: by, FromS: fromS, Share: share}}, share
		}
	}
	leads := func(ohm, beside, share float64) func(result) { // the share of the energy at the terminals that is lost
		return func(r result) {
			r.Case.Drive.Path = drive.Path{SeriesOhm: ohm, LostShare: beside}
			r.Balance.ElectricJ, r.Balance.TerminalJ, r.Balance.LeadsJ = 30, 30/(1-share), 30*share/(1-share)
		}
	}
	dried := func(r result) { r.Summary.DryOutS = 0.7 }
	short := func(r result) { r.Summary.MeanPowerW = 0.983 }
	volts := func(r result) { r.Case.Drive.Mode = drive.Mode{PeakVoltageV: 120, DutyCycle: 1} }
	sparks := func(r result) { r.Summary.SparkShare, r.Summary.SparkFromS = 0.91, 0.9 }
	loop := func(cutS float64) func(result) {
		return func(r result) { r.Case.Electrode.Tip, r.Summary.Stalk.CutThroughS = thermal.Loop, cutS }
	}
	grew := func(atOffM float64) func(result) { return func(r result) { r.History[1].DepthM = atOffM } }
	for name, c := range map[string]struct {
		with []func(result)
		want string
	}{
		"plain":                 {nil, ""},
		"dried, limited":        {[]func(result){dried, short, limited(drive.PeakVoltage, 0.9, 0.8)}, "The contact dried after 700 ms and the source reached its limit of 200 V peak after 900 ms: 0.983 of the 3 W set were delivered."},
		"limited, then dried":   {[]func(result){dried, short, limited(drive.PeakVoltage, 0.5, 0.8)}, "The source reached its limit of 200 V peak after 500 ms and the contact dried after 700 ms: 0.983 of the 3 W set were delivered."},
		"limited from 0":        {[]func(result){short, limited(drive.LoadLine, 0, 1)}, "The source was at its load line from the start: 0.983 of the 3 W set were delivered."},
		"limited, not short":    {[]func(result){limited(drive.PeakVoltage, 2, 0.06)}, "The source reached its limit of 200 V peak after 2 s, for 6 % of the time with current."},
		"limited for a moment":  {[]func(result){limited(drive.PeakVoltage, 2, 0.04)}, ""},
		"short":                 {[]func(result){func(r result) { r.Summary.MeanPowerW = 2.8 }}, "Only 2.8 of the 3 W set were delivered."},
		"not short":             {[]func(result){func(r result) { r.Summary.MeanPowerW = 2.86 }}, ""},
		"no limit named":        {[]func(result){short, func(r result) { r.Case.Drive.Limits = drive.Limits{} }, limited(drive.Current, 2, 1)}, "The source reached its limit of current after 2 s: 0.983 of the 3 W set were delivered."},
		"a voltage dries":       {[]func(result){volts, dried, func(r result) { r.Summary.ResistanceRise = 31 }}, "The contact dried after 700 ms, no sparks crossed it, and the resistance rose 31-fold."},
		"a voltage sparks":      {[]func(result){volts, dried, sparks, func(r result) { r.Summary.ResistanceRise = 31 }}, "The contact dried after 700 ms. Sparks bridged the dried layer from 900 ms on, for 91 % of the time with current."},
		"a voltage":             {[]func(result){volts, func(r result) { r.Summary.MeanPowerW = 1 }}, ""},
		"cut in sparks":         {[]func(result){sparks, func(r result) { r.Balance.CuttingJ = 2 }}, "Sparks struck the tissue before the metal from 900 ms on, for 91 % of the time with current."},
		"cut from the start":    {[]func(result){func(r result) { r.Summary.SparkShare, r.Summary.SparkFromS, r.Balance.CuttingJ = 1, 0, 2 }}, "Sparks struck the tissue before the metal from the start, for 100 % of the time with current."},
		"went on":               {[]func(result){grew(0.8e-3)}, "After the current stopped the burn went on for 2 s and gained 0.20 mm."},
		"hardly went on":        {[]func(result){grew(0.96e-3)}, ""},
		"held up":               {[]func(result){func(r result) { r.Summary.Cut = thermal.Cut{HeldShare: 0.6, Sustained: true} }}, "Wet tissue held the needle up: it made 40 % of the path that the push alone would have made."},
		"not held up":           {[]func(result){func(r result) { r.Summary.Cut = thermal.Cut{HeldShare: 0.04, Sustained: true} }}, ""},
		"dragged":               {[]func(result){func(r result) { r.Summary.Cut = thermal.Cut{RemovedM3: 1e-9, PartedShare: 0.554} }}, "The needle was faster than its heat: it dragged 45 % of the tissue in its way."},
		"cut":                   {[]func(result){func(r result) { r.Summary.Cut = thermal.Cut{RemovedM3: 1e-9, PartedShare: 0.97, Sustained: true} }}, ""},
		"swept nothing":         {[]func(result){func(r result) { r.Summary.Cut = thermal.Cut{PartedShare: math.NaN()} }}, ""},
		"cut through":           {[]func(result){loop(5), grew(1e-3)}, "The stalk was cut through after 5 s of 10 s, and the current ended with it. After the current stopped the burn went on for 5 s and gained 0.30 mm."},
		"cut through late":      {[]func(result){loop(9.7), func(r result) { r.History[0].DepthM = 1e-3 }}, ""},
		"not cut through":       {[]func(result){loop(math.NaN())}, ""},
		"beyond the fine cells": {[]func(result){func(r result) { r.Summary.BeyondFine = true }}, "The injury left the zone of fine cells: its edge is less exact."},
		"three at most": {[]func(result){dried, short, limited(drive.PeakVoltage, 0.9, 0.8), sparks, grew(0.5e-3), func(r result) { r.Summary.Cut = thermal.Cut{HeldShare: 0.6, Sustained: true} }},
			"The contact dried after 700 ms and the source reached its limit of 200 V peak after 900 ms: 0.983 of the 3 W set were delivered. Wet tissue held the needle up: it made 40 % of the path that the push alone would have made. Sparks bridged the dried layer from 900 ms on, for 91 % of the time with current."},
		"lost in leads":         {[]func(result){leads(30, 0, 0.2)}, "Of 3.75 W at the terminals 0.75 W in the 30 ohm in series were lost."},
		"lost both ways":        {[]func(result){leads(30, 0.04, 0.2)}, "Of 3.75 W at the terminals 0.6 W in the 30 ohm in series and 0.15 W beside the tissue were lost."},
		"hardly lost":           {[]func(result){leads(2, 0, 0.03)}, ""},
		"lost, short of it":     {[]func(result){leads(30, 0, 0.2), func(r result) { r.Summary.MeanPowerW = 2 }}, "Only 2.5 of the 3 W set left the terminals. Of 2.5 W at the terminals 0.5 W in the 30 ohm in series were lost."},
		"short by what is lost": {[]func(result){leads(2, 0, 0.049), func(r result) { r.Summary.MeanPowerW = 2.84 }}, "Of 2.99 W at the terminals 0.146 W in the 2 ohm in series were lost."},
	} {
		r := plain()
		for _, change := range c.with {
			change(r)
		}
		if got := Remark(r); got != c.want {
			t.Errorf("%s: %q\nwant %q", name, got, c.want)
		}
	}
}

// A limit that may be either of two is named without a number; what was set is the mean over pulses and pauses.
func TestReasonsOfPulses(t *testing.T) {
	r := plain()
	r.Case.Drive.PowerW = 60
	r.Case.Drive.Pulses = &drive.Pulses{LengthS: 0.1, PeriodS: 1, Between: drive.Mode{PowerW: 2, DutyCycle: 1}}
	r.Summary.MeanPowerW, r.Summary.LimitedShare, r.Summary.Limited = 5, 0.5, []thermal.Limited{{By: drive.PeakVoltage, FromS: 0.2, Share: 0.5}}
	if got := Remark(r); got != "The source reached its limit of peak voltage after 200 ms: 5 of the 7.8 W set were delivered." {
		t.Error(got)
	}
	r.Case.Drive.Pulses.Between = drive.Mode{}
	if got := Remark(r); !strings.Contains(got, "its limit of 200 V peak after 200 ms: 5 of the 6 W set were delivered") {
		t.Error(got)
	}
	r.Case.Drive.Pulses.Between = drive.Mode{PeakVoltageV: 50, DutyCycle: 1}
	if got := SetPowerW(r); !math.IsNaN(got) {
		t.Errorf("a voltage between pulses: %g W set", got)
	}
}

// Delivered power is told beside what was set only where it fell short.
func TestDelivered(t *testing.T) {
	r := plain()
	for gotW, want := range map[float64]string{3: "3 W", 2.86: "2.86 W", 0.983: "0.983 of 3 W"} {
		r.Summary.MeanPowerW = gotW
		if got := Delivered(r); got != want {
			t.Errorf("%g W: %s, want %s", gotW, got, want)
		}
	}
}
