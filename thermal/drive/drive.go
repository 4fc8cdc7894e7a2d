// Package drive is what the generator gives: the quantity it holds, the duty cycle of
// its high-frequency bursts, the slow rhythm of its pulses, the limits of the source, and
// what is lost between its terminals and the electrode.
//
// Bursts follow each other tens of thousands of times a second and are averaged: power,
// voltage and current are means over bursts and gaps. Pulses of milliseconds to seconds
// are resolved in time.
package drive

import "math"

// Drive is a high-frequency source that is on from time 0 to OnS.
type Drive struct {
	Mode        // what it gives; with pulses: during a pulse
	FrequencyHz float64
	OnS         float64
	Pulses      *Pulses // nil: one mode all the time
	Course      []Span  `yaml:",omitempty"` // activations one after another, each with a current of its own; nil: one mode or Pulses
}

// Pulses is the slow rhythm of a source: its mode for LengthS, then Between until
// PeriodS is over, and again. The first pulse starts at time 0.
type Pulses struct {
	LengthS, PeriodS float64
	Between          Mode
}

// Mode is what a source gives while nothing is switched. DutyCycle is the share of
// time the burst is on (0..1], not the allowed on and off time of a device in the
// sense of IEC 60601-1. What is held and what limits it counts at the terminals.
type Mode struct {
	DutyCycle    float64
	PowerW       float64 // held: mean over bursts and gaps
	PeakVoltageV float64 // held in place of a power; 0: it is not
	CurrentA     float64 // held in place of both: RMS, mean over bursts and gaps; 0: it is not
	Limits       Limits
	Path         Path
}

// Limits are ceilings of the source; 0 and nil mean none.
type Limits struct {
	PeakVoltageV float64
	CurrentA     float64 // RMS within a burst
	PowerW       float64 // mean over bursts and gaps
	LoadLine     []Load  // most power into each load, ascending
}

// Limit names what kept a source below the quantity it is to hold.
type Limit string

const (
	None        Limit = ""
	PeakVoltage Limit = "peak voltage"
	Current     Limit = "current"
	Power       Limit = "power"
	LoadLine    Limit = "load line"
)

// CrestFactor returns peak over RMS voltage of a gated sine, 0 for a source that is off:
//
//	CF = sqrt(2/D)
func (m Mode) CrestFactor() float64 {
	if m.DutyCycle <= 0 {
		return 0
	}
	return math.Sqrt(2 / m.DutyCycle)
}

// VoltageV returns the RMS voltage that a tissue of the given conductance (siemens) gets, and what holds the
// source below the quantity asked for.
func (m Mode) VoltageV(conductanceS float64) (v float64, held Limit) {
	v, held = m.terminalV(m.Path.seenS(conductanceS))
	return m.Path.dropped(v, conductanceS), held
}

// terminalV returns the RMS voltage at the terminals over a load of the given conductance (siemens)
// and what holds it below the quantity asked for:
//
//	V = sqrt(P/G), Vpeak/CF or I/G,  V <= Vpeak limit/CF,  V G <= I sqrt(D),  V^2 G <= P limit
func (m Mode) terminalV(conductanceS float64) (v float64, held Limit) {
	if m.DutyCycle <= 0 {
		return 0, None
	}
	switch {
	case m.CurrentA > 0:
		v = m.CurrentA / conductanceS
	case m.PeakVoltageV > 0:
		v = m.PeakVoltageV / m.CrestFactor()
	default:
		v = math.Sqrt(m.PowerW / conductanceS)
	}
	lower := func(most float64, by Limit) {
		if most < v {
			v, held = most, by
		}
	}
	l := &m.Limits
	if l.PeakVoltageV > 0 {
		lower(l.PeakVoltageV/m.CrestFactor(), PeakVoltage)
	}
	if l.CurrentA > 0 {
		lower(l.CurrentA*math.Sqrt(m.DutyCycle)/conductanceS, Current)
	}
	if l.PowerW > 0 {
		lower(math.Sqrt(l.PowerW/conductanceS), Power)
	}
	if len(l.LoadLine) > 0 {
		lower(math.Sqrt(mostW(l.LoadLine, 1/conductanceS)/conductanceS), LoadLine)
	}
	return v, held
}
