package scenarios

import (
	"fmt"
	"math"

	"muralheat/scenarios/keys"
	"muralheat/thermal/tissue"
)

// Notes returns remarks on how far the scenario can be trusted, one sentence
// each: it is valid, but a person should know.
func (s *Scenario) Notes() []string {
	var notes []string
	note := func(when bool, format string, args ...any) {
		if when {
			notes = append(notes, fmt.Sprintf(format, args...))
		}
	}
	f := s.File
	kHz := *f.Current.FrequencyKHz
	note(kHz < 200, "%g kHz is below 200 kHz, where current stimulates nerve and muscle (IEC 60601-2-2, from memory; 300 kHz in older editions). Stimulation is not computed.", kHz)
	note(kHz > 5000, "%g kHz is above 5 MHz, where capacitive leakage currents are hard to keep small (IEC 60601-2-2, from memory). Leakage is not computed.", kHz)
	seen := map[string]bool{}
	for _, name := range s.tissues() {
		if t, ok := tissue.FindTissue(name); ok && !seen[name] {
			seen[name] = true
			_, poor := t.ResistiveError(kHz * 1000)
			note(poor != "", "%s.", poor)
		}
	}
	if f.Motion != nil && !fromPressure(f) {
		travel := *f.Motion.LengthMM / *f.Motion.SpeedMMS
		on := *f.Current.OnS
		note(on < travel*(1-1e-9), "The current stops after %g s, %.3g mm along the track of %g mm.", on, on**f.Motion.SpeedMMS, *f.Motion.LengthMM)
		note(on > travel*(1+1e-9), "The electrode rests at the end of its track for %.3g s with the current on.", on-travel)
	}
	notes = append(notes, wallNotes(f)...)
	notes = append(notes, handNotes(f)...)
	notes = append(notes, sceneOf(f).notes(f)...)
	note(!boils(f), "Boiling is off: results above %g C have no meaning.", tissue.BoilTemperature.Value)
	source := s.Case().Drive
	note(boils(f) && math.IsInf(source.HighestPeakV(), 1), "The peak voltage has no limit (%s.limits.peak_voltage_V: 0): once tissue dries, the source raises it as far as its setting asks.", unlimited(f))
	for i, m := range modes(f) {
		most := 0.0
		for _, p := range m.Limits.LoadLine {
			most = max(most, *p.PowerW)
		}
		note(most > 0 && keys.OrNone(m.PowerW) > most, "%s.power_W: %g W is above all of its load line, %g W at most: the source gives no more into any load.", modeKeys[i], keys.OrNone(m.PowerW), most)
		duty := keys.Num(m.DutyCyclePercent)
		note(duty <= 1, "%s.duty_cycle_percent: %g %%: did you mean %g?", modeKeys[i], duty, 100*duty)
	}
	if p := source.Pulses; p != nil {
		note(source.OnS < p.PeriodS*(1-1e-9), "The current stops after %g s, within the first period of the pulses, %g s.", source.OnS, p.PeriodS)
	}
	return notes
}

// unlimited returns the mode whose peak voltage has no limit.
func unlimited(f *keys.File) string {
	for i, m := range modes(f) {
		if v := m.Limits.PeakVoltageV; v != nil && *v == 0 {
			return modeKeys[i]
		}
	}
	return modeKeys[0]
}

// tissues returns the tissues of the library that the scenario uses.
func (s *Scenario) tissues() []string {
	var names []string
	for _, l := range s.File.Wall.Layers {
		names = append(names, keys.Word(l.Tissue))
	}
	if c := s.File.Wall.Liquid; c != nil {
		names = append(names, keys.Word(c.Fluid))
	}
	if c := s.File.Wall.Cushion; c != nil {
		names = append(names, keys.Word(c.Fluid))
	}
	return append(names, keys.Word(s.File.Wall.Beyond.Tissue))
}
