package phrase

import (
	"fmt"
	"math"

	"muralheat/thermal"
)

// CutVerdict says in a sentence whether an electrode that was drawn through the wall cut it.
func CutVerdict(r *thermal.Result) string {
	switch {
	case !r.Case.Cuts():
		return ""
	case r.Summary.Cut.Sustained:
		return "Cut sustained."
	}
	return fmt.Sprintf("The %s drags.", r.Case.Electrode.Tip)
}

// margin says how far the injury stays from the muscle or how far it is in.
func margin(s thermal.Summary) string {
	switch {
	case s.Transmural:
		return "through the whole wall"
	case math.IsNaN(s.MarginToMuscleM):
		return ""
	case Reaches(s):
		return "just reaching the muscle"
	case s.MarginToMuscleM > 0:
		return fmt.Sprintf("%.2f mm short of the muscle", 1e3*s.MarginToMuscleM)
	case s.MuscleInjuredShare >= 1:
		return "through the muscle"
	default:
		return fmt.Sprintf("%.2f mm into the muscle (%.0f %% of it)", -1e3*s.MarginToMuscleM, math.Min(99, 100*s.MuscleInjuredShare))
	}
}

// Reaches reports whether an injury ends where the muscle begins, to the digits shown.
func Reaches(s thermal.Summary) bool { return math.Abs(s.MarginToMuscleM) < 0.005e-3 }

// MarginWord says in few words how far an injury stays from the muscle; "" without a muscle layer.
func MarginWord(s thermal.Summary) string {
	switch m := 1e3 * s.MarginToMuscleM; {
	case math.IsNaN(m):
		return ""
	case s.Transmural:
		return "through the wall"
	case s.MuscleInjuredShare >= 1:
		return "through the muscle"
	case Reaches(s):
		return "reaches the muscle"
	case m <= 0:
		return fmt.Sprintf("%.2f mm into muscle", -m)
	default:
		return fmt.Sprintf("%.2f mm to muscle", m)
	}
}
