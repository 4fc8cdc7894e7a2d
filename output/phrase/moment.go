package phrase

import (
	"fmt"
	"math"

	"muralheat/thermal"
)

// Now says what the source does and how far the injury is at a row of the history of a result.
func Now(r *thermal.Result, now thermal.Sample) string {
	off, said := OffS(r), ""
	n, since := r.Case.ActivationAt(now.TimeS)
	switch {
	case now.PowerW > 0:
		said = fmt.Sprintf("Current on: %.2f W, %.0f V", now.PowerW, now.VoltageV)
		if now.SparkShare >= 0.005 {
			said += fmt.Sprintf(", %.0f %% of it in sparks", 100*now.SparkShare)
		}
	case n+1 < r.Case.Activations() && since >= r.Case.Drive.OnS:
		said = fmt.Sprintf("Between activations %d and %d", n+1, n+2)
	case now.TimeS < off && r.Case.Drive.Pulses != nil:
		said = "Between pulses"
	case now.TimeS < off:
		said = "No current flows"
	case off < r.Case.OffS(): // ended by the cut
		said = "Cut through, current off for " + Clock(now.TimeS-off, r.Case.TotalS())
	default:
		said = "Current off for " + Clock(now.TimeS-off, r.Case.TotalS())
	}
	return said + ". " + scenes[r.Case.Scene()].soFar(r, now) + "."
}

// depthSoFar says how deep an injury is, or that there is none.
func depthSoFar(none string) func(*thermal.Result, thermal.Sample) string {
	return func(r *thermal.Result, now thermal.Sample) string {
		if !(now.DepthM > 0) {
			return none + " so far"
		}
		said := fmt.Sprintf("Injury %.2f mm deep", 1e3*now.DepthM)
		if grown := fmt.Sprintf("%.2f", 1e3*(now.DepthM-depthAtOff(r))); now.TimeS > OffS(r) && grown != "0.00" {
			said += fmt.Sprintf(" (%s mm of it since)", grown)
		}
		if m := margin(SoFar(r, now)); m != "" {
			said += ", " + m
		}
		return said
	}
}

// depthAtOff returns how deep the injury was when the current ended, m.
func depthAtOff(r *thermal.Result) float64 {
	depth := 0.0
	for _, s := range r.History {
		if s.TimeS <= OffS(r) {
			depth = s.DepthM
		}
	}
	return depth
}

// SoFar returns the summary of a result as far as figures show it, as it was at a row of the history.
func SoFar(r *thermal.Result, now thermal.Sample) thermal.Summary {
	s := r.Summary
	if muscle := s.MarginToMuscleM + s.InjuryDepthM; !math.IsNaN(muscle) {
		s.MarginToMuscleM = muscle - now.DepthM
		for i, l := range r.Case.Layers {
			if l.Muscle && i < len(s.Layers) && s.Layers[i].BottomM > muscle {
				s.MuscleInjuredShare = min(max(0, (now.DepthM-muscle)/(s.Layers[i].BottomM-muscle)), 1)
				break
			}
		}
	}
	s.Transmural = s.Transmural && now.DepthM >= r.Case.WallM()-1e-9
	s.InjuryDepthM = now.DepthM
	s.Pad.MeanRiseK = now.MeanRiseK
	s.Stalk.RingRadiusM = max(r.Case.Electrode.TipRadiusM-now.PositionM, 0)
	return s
}

// Clock writes a time with as many digits as a run that ends at endS needs.
func Clock(timeS, endS float64) string {
	if endS < 20 {
		return fmt.Sprintf("%.2f s", timeS)
	}
	return fmt.Sprintf("%.1f s", timeS)
}

// Pace says how fast a film runs, in seconds of the clock per second of the film; 0: nothing to say.
func Pace(rate float64) string {
	switch {
	case !(rate > 0):
		return ""
	case rate > 1.1:
		return fmt.Sprintf("time sped up %.2g times", rate)
	case rate < 1/1.1:
		return fmt.Sprintf("time slowed %.2g times", 1/rate)
	}
	return "real time"
}
