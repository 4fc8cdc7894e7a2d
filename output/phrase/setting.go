package phrase

import (
	"fmt"
	"math"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// Caution goes under every figure, table and record.
const Caution = "For research and teaching only; does not set treatment. Local protocol and licensed practice decide."

// Given says in words what a source gives and for how long.
func Given(d drive.Drive) string {
	p, path := d.Pulses, ""
	if len(d.Course) > 0 {
		return activations(d)
	}
	if ohm := d.Path.SeriesOhm; ohm > 0 {
		path = ", " + Short(ohm) + " ohm in series"
	}
	if lost := d.Path.LostShare; lost > 0 {
		path += ", " + Short(100*lost) + " % lost before the tissue"
	}
	if p == nil {
		return fmt.Sprintf("%s for %s s", held(d.Mode), Short(d.OnS)) + path
	}
	between := "no current between"
	if Runs(p.Between) {
		between = held(p.Between) + " between"
	}
	return fmt.Sprintf("pulses of %s every %s at %s, %s, for %s s", ShortTime(p.LengthS), ShortTime(p.PeriodS), held(d.Mode), between, Short(d.OnS)) + path
}

// activations says how many there are of a course, their currents and times.
func activations(d drive.Drive) string {
	least, most, onS := math.Inf(1), 0.0, 0.0
	for _, s := range d.Course {
		least, most, onS = math.Min(least, s.CurrentA), math.Max(most, s.CurrentA), onS+s.OnS
	}
	return fmt.Sprintf("%d activations of %s to %s A, %s s of current within %s s", len(d.Course), Short(least), Short(most), Short(onS), Short(d.OnS))
}

// after names what was done before on the same place, "" for a fresh one.
func after(c *thermal.Case) string {
	switch n := len(c.Before); n {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf(", on the place of %q", c.Before[0].Title)
	default:
		return fmt.Sprintf(", on the place of %q and %d before it", c.Before[n-1].Title, n-1)
	}
}

// repeated says how often a case is repeated on its place, "" for once.
func repeated(c *thermal.Case) string {
	n := c.Activations()
	if n == 1 {
		return ""
	}
	s := fmt.Sprintf(", %d times on the same place", n)
	if c.Motion.Moving() {
		s = fmt.Sprintf(", %d passes over the same line", n)
	}
	if c.Repeat.BackAndForth {
		s += ", back and forth"
	}
	if c.Repeat.PauseS == 0 {
		return s + " without a pause"
	}
	return s + " with pauses of " + Short(c.Repeat.PauseS) + " s"
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
