package phrase

import (
	"fmt"

	"muralheat/thermal"
)

func init() {
	scenes[thermal.OnWall] = scene{setting: tipSetting, verdict: depthVerdict, soFar: depthSoFar("No injury"), answer: deep}
}

// tipSetting says which tip is on the wall and how it is pressed and moved.
func tipSetting(c *thermal.Case) string {
	e := c.Electrode
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
	return tip
}

// depthVerdict says how deep the injury is and how far from the muscle.
func depthVerdict(r *thermal.Result) string {
	s := r.Summary
	if !(s.InjuryDepthM > 0) {
		return "No injury (the Arrhenius integral stays below 1 everywhere)."
	}
	out := fmt.Sprintf("Injury %.2f mm deep", 1e3*s.InjuryDepthM)
	if m := margin(s); m != "" {
		out += ": " + m
	}
	return out + "."
}
