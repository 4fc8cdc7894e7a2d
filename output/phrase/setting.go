package phrase

import (
	"fmt"
	"math"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// Caution goes under every figure, table and record.
const Caution = "For research and teaching only; does not set treatment. Local protocol and licensed practice decide."

// Setting says in clauses what was done: what the hand did and what the source gave.
func Setting(r *thermal.Result) []string {
	set := Set(r.Case)
	if r.Case.Electrode.Tip == thermal.Loop && OffS(r) < r.Case.Drive.OnS {
		set[1] += ", ended by the cut"
	}
	set[1] += delivered(r)
	return set
}

// Set says in two clauses what was set, before anything is computed: what the hand does, what the source is to give.
func Set(c *thermal.Case) []string {
	e := c.Electrode
	switch e.Tip {
	case thermal.Pad:
		return []string{padSetting(c), Given(c.Drive)}
	case thermal.Loop:
		return []string{loopSetting(c), Given(c.Drive)}
	}
	tip := Capital(string(e.Tip))
	for _, l := range e.Sizes() {
		tip += fmt.Sprintf(", %s %s mm", l.Name, Short(1e3*l.M))
	}
	if p := e.Press; p.ForceN > 0 {
		tip += fmt.Sprintf(", pressed with %s N", Short(p.ForceN))
	} else if p.PressurePa > 0 {
		tip += fmt.Sprintf(", pressed with %s kPa", Short(p.PressurePa/1000))
	}
	if m := c.Motion; m.Moving() {
		at := "at"
		if m.Waits {
			at = "at up to"
		}
		tip += fmt.Sprintf(", %s mm %s %s mm/s", Short(1e3*m.LengthM), at, Short(1e3*m.SpeedMS))
	}
	return []string{tip, Given(c.Drive)}
}

// Given says in words what a source gives and for how long.
func Given(d drive.Drive) string {
	p := d.Pulses
	if p == nil {
		return fmt.Sprintf("%s for %s s", held(d.Mode), Short(d.OnS))
	}
	between := "no current between"
	if Runs(p.Between) {
		between = held(p.Between) + " between"
	}
	return fmt.Sprintf("pulses of %s every %s at %s, %s, for %s s", ShortTime(p.LengthS), ShortTime(p.PeriodS), held(d.Mode), between, Short(d.OnS))
}

// held names the quantity a mode holds.
func held(m drive.Mode) string {
	s := Short(m.PowerW) + " W"
	if m.PeakVoltageV > 0 {
		s = Short(m.PeakVoltageV) + " V peak"
	}
	if m.CurrentA > 0 {
		s = Short(m.CurrentA) + " A"
	}
	if m.DutyCycle < 1 {
		s += fmt.Sprintf(" (duty cycle %s %%)", Short(100*m.DutyCycle))
	}
	return s
}

// Runs reports whether current flows in a mode.
func Runs(m drive.Mode) bool {
	return m.DutyCycle > 0 && (m.PowerW > 0 || m.PeakVoltageV > 0 || m.CurrentA > 0)
}

// delivered says how much power came, unless it is what was asked for.
func delivered(r *thermal.Result) string {
	d, p := r.Case.Drive, r.Summary.MeanPowerW
	switch {
	case d.Pulses != nil || d.PeakVoltageV > 0 || d.CurrentA > 0:
		return fmt.Sprintf(" (mean delivered %s W)", Short(p))
	case math.Abs(p-d.PowerW) > 0.02*d.PowerW:
		return fmt.Sprintf(" (%s W delivered)", Short(p))
	}
	return ""
}
