package scenarios

import (
	"fmt"

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
	f := s.file
	kHz := *f.Current.FrequencyKHz
	note(kHz < 200, "%g kHz is below 200 kHz: such currents may stimulate nerve and muscle (IEC 60601-2-2, from memory).", kHz)
	note(kHz > 5000, "%g kHz is above 5 MHz: leakage through capacitance is no longer small (IEC 60601-2-2, from memory), and is not computed.", kHz)
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
	contact := contactMM(f)
	note(*f.Domain.Side != "open" && *f.Domain.RadiusMM < 10*contact || *f.Domain.RadiusMM < 5*contact,
		"The domain reaches only %.3g contact radii: its side is felt.", *f.Domain.RadiusMM/contact)
	note(!boils(f), "Boiling is off: results above %g C have no meaning.", tissue.BoilTemperature.Value)
	volts, onset := *f.Current.Limits.PeakVoltageV, tissue.SparkOnset.Value
	note(boils(f) && volts > onset, "The limit of %g V peak is above %g V, the onset of sparks (from memory): sparks carry current, which is not computed.", volts, onset)
	note(boils(f) && volts == 0, "No limit of the peak voltage: once tissue dries the source drives it with any voltage.")
	return notes
}

// tissues returns the tissues of the library that the scenario uses.
func (s *Scenario) tissues() []string {
	var names []string
	for _, l := range s.file.Wall.Layers {
		names = append(names, word(l.Tissue))
	}
	if c := s.file.Wall.Cushion; c != nil {
		names = append(names, word(c.Fluid))
	}
	return append(names, word(s.file.Wall.Beyond.Tissue))
}
