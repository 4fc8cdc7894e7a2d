package phrase

import (
	"fmt"
	"math"

	"muralheat/thermal"
)

func init() {
	scenes[thermal.AroundStalk] = scene{setting: loopSetting, verdict: loopVerdict, soFar: depthSoFar("No injury of the wall"), answer: deep,
		endedS: func(r *thermal.Result) float64 { return r.Summary.Stalk.CutThroughS }}
}

// Touches reports whether the head of a polyp touches the opposite wall.
func Touches(c *thermal.Case) bool { return c.Layers[0].Above && c.Layers[0].RadiusM == 0 }

// StalkRadiusM returns the radius of the layer that stands on the wall.
func StalkRadiusM(c *thermal.Case) float64 {
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
	s := fmt.Sprintf("Stalk of %s mm in a loop of %s mm wire, %s mm above the wall", Short(2e3*StalkRadiusM(c)), Short(2e3*e.ContactRadiusM), Short(1e3*e.HeightM()))
	if e.TipRadiusM < StalkRadiusM(c)*(1-1e-9) {
		s += fmt.Sprintf(", squeezed to %s mm", Short(2e3*e.TipRadiusM))
	}
	switch {
	case e.Press.ForceN > 0:
		s += fmt.Sprintf(", pulled with %s N", Short(e.Press.ForceN))
	case c.Motion.Moving():
		s += fmt.Sprintf(", closing at %s mm/s", Short(1e3*c.Motion.SpeedMS))
	}
	if Touches(c) {
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
