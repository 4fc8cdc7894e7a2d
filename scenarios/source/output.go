package source

import (
	"fmt"

	"muralheat/scenarios/keys"
	"muralheat/thermal/drive"
)

// DutyCyclePercent is that of a source that says nothing else: a continuous sine.
const DutyCyclePercent = 100

// Held are the keys of a mode of which one is held.
var Held = []string{"power_W", "burst_power_W", "peak_voltage_V", "current_A"}

// Mode returns a mode behind the path of the source; what is left out is not held and does not limit.
func Mode(m *keys.Mode, p drive.Path) drive.Mode {
	l := m.Limits
	if l == nil {
		l = &keys.Limits{}
	}
	duty := float64(DutyCyclePercent)
	if m.DutyCyclePercent != nil {
		duty = *m.DutyCyclePercent
	}
	d := drive.Mode{
		DutyCycle:    duty / 100,
		PowerW:       keys.OrNone(m.PowerW),
		PeakVoltageV: keys.OrNone(m.PeakVoltageV),
		CurrentA:     keys.OrNone(m.CurrentA),
		Limits:       drive.Limits{PeakVoltageV: keys.OrNone(l.PeakVoltageV), CurrentA: keys.OrNone(l.CurrentA), PowerW: keys.OrNone(l.PowerW)},
		Path:         p,
	}
	if m.BurstPowerW != nil {
		d.PowerW = d.DutyCycle * *m.BurstPowerW
	}
	for _, p := range l.LoadLine {
		d.Limits.LoadLine = append(d.Limits.LoadLine, drive.Load{ResistanceOhm: *p.ResistanceOhm, PowerW: *p.PowerW})
	}
	return d
}

// Path returns what lies between the terminals and the electrode.
func Path(o *keys.Output) drive.Path {
	return drive.Path{SeriesOhm: keys.OrNone(o.SeriesOhm), LostShare: keys.OrNone(o.LostPercent) / 100}
}

// Pulses returns the rhythm of a source, nil without one.
func Pulses(o *keys.Output) *drive.Pulses {
	p := o.Pulses
	if p == nil {
		return nil
	}
	d := &drive.Pulses{LengthS: *p.LengthMS / 1000, PeriodS: *p.PeriodMS / 1000}
	if p.Between != nil && Flows(p.Between) {
		d.Between = Mode(p.Between, Path(o))
	}
	return d
}

// Flows reports whether a mode is to give anything; NaN, a number that is still missing, does.
func Flows(m *keys.Mode) bool {
	return keys.Num(m.PowerW) != 0 && keys.Num(m.BurstPowerW) != 0 && keys.Num(m.CurrentA) != 0
}

// Finding is what keys of a source say against each other; it is noted at the first of them.
type Finding struct {
	Keys         []string
	Wrong, Right string
}

// Findings returns what is wrong with a source between keys, path above each.
func Findings(path string, o *keys.Output) []Finding {
	var found []Finding
	at := func(key string) string { return keys.Join(path, key) }
	if p := o.Pulses; p != nil && p.LengthMS != nil && p.PeriodMS != nil && *p.LengthMS >= *p.PeriodMS {
		found = append(found, Finding{[]string{at("pulses.length_ms"), at("pulses.period_ms")},
			fmt.Sprintf("%g ms fills the whole period", *p.LengthMS), fmt.Sprintf("less than period_ms, %g, or leave pulses out", *p.PeriodMS)})
	}
	found = append(found, curve(at("limits.load_line"), o.Limits)...)
	if o.Pulses != nil && o.Pulses.Between != nil {
		found = append(found, curve(at("pulses.between.limits.load_line"), o.Pulses.Between.Limits)...)
	}
	return found
}

// curve holds the points of a load line against each other.
func curve(path string, l *keys.Limits) []Finding {
	var found []Finding
	for j := 1; l != nil && j < len(l.LoadLine); j++ {
		this, last := l.LoadLine[j].ResistanceOhm, l.LoadLine[j-1].ResistanceOhm
		if this == nil || last == nil || *this > *last {
			continue
		}
		f := Finding{[]string{keys.Item(path, j, "") + ".resistance_ohm", keys.Item(path, j-1, "") + ".resistance_ohm"},
			fmt.Sprintf("%g ohm is not above the point before", *this), fmt.Sprintf("more than %g ohm: give points in ascending order of resistance", *last)}
		if *this == *last {
			f.Wrong, f.Right = fmt.Sprintf("%g ohm a second time", *this), "one power for each resistance: leave one of the points out"
		}
		found = append(found, f)
	}
	return found
}
