package output

import (
	"fmt"
	"math"
	"strings"

	"muralheat/thermal"
)

// stalkRadiusM returns the radius of the layer that stands on the wall.
func stalkRadiusM(c *thermal.Case) float64 {
	r := 0.0
	for _, l := range c.Layers {
		if l.Above {
			r = l.RadiusM
		}
	}
	return r
}

// loopSetting says what is held by what.
func loopSetting(c *thermal.Case) string {
	e := c.Electrode
	s := fmt.Sprintf("Stalk of %s mm in a loop of %s mm wire, %s mm above the wall", short(2e3*stalkRadiusM(c)), short(2e3*e.ContactRadiusM), short(1e3*e.HeightM))
	if e.TipRadiusM < stalkRadiusM(c)*(1-1e-9) {
		s += fmt.Sprintf(", squeezed to %s mm", short(2e3*e.TipRadiusM))
	}
	switch {
	case e.Press.ForceN > 0:
		s += fmt.Sprintf(", pulled with %s N", short(e.Press.ForceN))
	case c.Motion.Moving():
		s += fmt.Sprintf(", closing at %s mm/s", short(1e3*c.Motion.SpeedMS))
	}
	if touches(c) {
		s += ", head touching the opposite wall"
	}
	return s
}

// loopVerdict says whether the stalk was cut, and how deep the wall under it is injured.
func loopVerdict(r *thermal.Result) string {
	s := r.Summary
	var out string
	switch {
	case !r.Case.Motion.Moving():
		out = "Ring at rest"
	case math.IsNaN(s.Stalk.CutThroughS):
		out = fmt.Sprintf("Not cut through: %.1f mm still held", 2e3*s.Stalk.RingRadiusM)
	default:
		out = fmt.Sprintf("Cut through after %.1f s", s.Stalk.CutThroughS)
	}
	if !(s.InjuryDepthM > 0) {
		return out + ". No injury of the wall."
	}
	out += fmt.Sprintf(". Injury %.2f mm into the wall", 1e3*s.InjuryDepthM)
	if m := margin(s); m != "" {
		out += ": " + m
	}
	return out + "."
}

// offS is when the current ended: when it was to, or earlier, when the stalk was cut through.
func offS(r *thermal.Result) float64 {
	on := r.Case.Drive.OnS
	if s := r.Summary.Stalk; r.Case.Electrode.Tip == thermal.Loop && s.CutThroughS < on { // NaN is not
		return s.CutThroughS
	}
	return on
}

// loopLines answers what a loop is asked.
func loopLines(b *strings.Builder, r *thermal.Result) {
	s, row := r.Summary.Stalk, rowsOf(b)
	if !math.IsNaN(s.PartedShare) {
		row("what the wire met", "%.0f %% had boiled dry before it came, the rest was torn", math.Floor(100*s.PartedShare))
	}
	row("stalk", "hottest %.0f °C, %.1f °C at its base; injured %.1f mm below the wire", s.PeakC, s.BasePeakC, 1e3*s.BelowRingM)
	if touches(r.Case) {
		row("opposite wall", "%.1f %% of the charge left there, hottest %.1f °C", 100*s.LeakShare, s.OppositePeakC)
	}
}
