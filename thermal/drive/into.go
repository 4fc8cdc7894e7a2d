package drive

import "math"

// Given is what a mode gives to a resistance at the electrode, without sparks.
type Given struct {
	LoadOhm   float64
	PowerW    float64 // into the load, mean over bursts and gaps
	TerminalW float64 // at the terminals
	CurrentA  float64 // RMS through the load, mean over bursts and gaps
	PeakV     float64 // over the load
	Held      Limit   // what keeps it below the setting
	Outside   bool    // the terminals see a resistance outside the load line, whose end goes on
}

// Into returns what a mode gives to a resistance of the given ohm.
func (m Mode) Into(ohm float64) Given {
	s := m.Across(0, 1/ohm, 1)
	g := Given{LoadOhm: ohm, PowerW: s.FaceV * s.FaceV / ohm, TerminalW: s.TerminalW, CurrentA: s.FaceV / ohm, PeakV: s.PeakV, Held: s.Held}
	from, to, ok := m.Limits.LineOhm()
	g.Outside = ok && (s.SeenOhm < from || s.SeenOhm > to)
	return g
}

// Accuracy of the output of a source: above OutputFrom of its rated output power, the power into a load may differ from what
// is disclosed by the share OutputTolerance.
const (
	OutputTolerance = 0.2
	OutputFrom      = 0.1
	OutputClause    = "IEC 60601-2-2:2017, 201.12.1.101 (clause and numbers from memory)"
)

// Band returns between which powers, W, a source of the rated output power ratedW may give powerW; false where the power is too
// small for a limit.
func Band(powerW, ratedW float64) (low, high float64, ok bool) {
	if !(powerW > OutputFrom*ratedW) {
		return math.NaN(), math.NaN(), false
	}
	return (1 - OutputTolerance) * powerW, (1 + OutputTolerance) * powerW, true
}
