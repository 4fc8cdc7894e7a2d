package scenarios

import (
	"fmt"
	"math"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
)

// Rules and checks of an activation that is repeated on its place.

func repeats(f *keys.File) bool { return f.Repeat != nil }

var repeatRules = []rule{
	{key: "repeat.pause_s", hangs: []string{"repeat"}, when: repeats, needed: "give the time in s without current between two activations (0: none)"},
	{key: "repeat.back_and_forth", hangs: []string{"repeat", "motion"}, when: func(f *keys.File) bool { return repeats(f) && moves(f) },
		unless: "belongs to an electrode that moves", right: "leave it out, or give motion", fill: fixed(false, "assumption: each pass starts where the first did")},
}

var repeatChecks = []check{
	{[]string{"repeat", "scene"}, func(f *keys.File) (string, string) {
		if !repeats(f) || sceneOf(f).name != sceneStalk {
			return "", ""
		}
		return "a loop closes only once", "leave it out, or give current.pulses"
	}},
	{[]string{"repeat.times", "repeat"}, func(f *keys.File) (string, string) {
		if n := f.Repeat; n == nil || *n.Times == math.Trunc(*n.Times) {
			return "", ""
		}
		return fmt.Sprintf("%g is not a whole number", *f.Repeat.Times), "give a whole number from 2 to 200"
	}},
}

func repeat(f *keys.File) thermal.Repeat {
	if !repeats(f) {
		return thermal.Repeat{}
	}
	return thermal.Repeat{Times: int(*f.Repeat.Times), PauseS: *f.Repeat.PauseS, BackAndForth: keys.On(f.Repeat.BackAndForth)}
}

// totalS returns the time that is computed, s.
func totalS(f *keys.File) float64 {
	t := *f.Current.OnS + *f.AfterwardsS
	if repeats(f) {
		t += (*f.Repeat.Times - 1) * (*f.Current.OnS + *f.Repeat.PauseS)
	}
	return t
}
