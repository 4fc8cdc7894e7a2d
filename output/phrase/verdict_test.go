package phrase

import (
	"math"
	"strings"
	"testing"

	"muralheat/thermal"
)

func TestMarginWord(t *testing.T) {
	nan := math.NaN()
	for want, s := range map[string]thermal.Summary{
		"":                    {MarginToMuscleM: nan, MuscleInjuredShare: nan, Transmural: true},
		"0.32 mm to muscle":   {MarginToMuscleM: 0.32e-3},
		"reaches the muscle":  {MarginToMuscleM: -0.004e-3},
		"0.10 mm into muscle": {MarginToMuscleM: -0.1e-3, MuscleInjuredShare: 0.2},
		"through the muscle":  {MarginToMuscleM: -1e-3, MuscleInjuredShare: 1},
		"through the wall":    {MarginToMuscleM: -1e-3, MuscleInjuredShare: 1, Transmural: true},
	} {
		if got := MarginWord(s); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// What was set says nothing of what came out.
func TestSet(t *testing.T) {
	r := plain()
	r.Summary.MeanPowerW = 0.98
	if set, all := strings.Join(Set(r.Case), ", "), strings.Join(Setting(r), ", "); all != set+" (0.98 W delivered)" || !strings.HasSuffix(set, "3 W for 10 s") {
		t.Errorf("%q and %q", set, all)
	}
}
