// Package drive is what the generator gives: power regulation, duty cycle of the
// high-frequency bursts, limits.
package drive

import "math"

// Drive is a high-frequency source. DutyCycle is the share of time the burst is
// on (0..1], not the allowed on/off time of a device in the sense of IEC 60601-1.
type Drive struct {
	PowerW      float64 // mean over the bursts
	DutyCycle   float64
	FrequencyHz float64
	OnS         float64
	Limits      Limits
}

// Limits are ceilings of the source; 0 means none.
type Limits struct {
	PeakVoltageV float64
	CurrentA     float64 // RMS
}

// CrestFactor returns peak over RMS voltage of a gated sine:
//
//	CF = sqrt(2/D)
func (d Drive) CrestFactor() float64 { return math.Sqrt(2 / d.DutyCycle) }

// VoltageV returns the RMS voltage over a tissue of the given conductance
// (siemens) and whether a limit holds it down:
//
//	V = sqrt(P/G),  V <= Vpeak/CF,  V G <= I
func (d Drive) VoltageV(conductanceS float64) (v float64, limited bool) {
	v = math.Sqrt(d.PowerW / conductanceS)
	if m := d.Limits.PeakVoltageV / d.CrestFactor(); m > 0 && v > m {
		v, limited = m, true
	}
	if m := d.Limits.CurrentA / conductanceS; m > 0 && v > m {
		v, limited = m, true
	}
	return v, limited
}
