package phrase

import (
	"fmt"

	"muralheat/thermal"
)

// scene puts the cases and results of one scene into words. Each scene has a file of its own, scene_*.go,
// where it enters itself into scenes.
type scene struct {
	setting func(*thermal.Case) string                         // what the hand did
	verdict func(*thermal.Result) string                       // what came of it, in a line
	soFar   func(r *thermal.Result, now thermal.Sample) string // and until a row of the history
	answer  func(*thermal.Result) string                       // the quantity it is judged by, with its unit
	endedS  func(*thermal.Result) float64                      // when it ended the current by itself, NaN: it did not; nil: it never does
}

var scenes = map[thermal.Scene]scene{}

// Setting says in clauses what was done: what the hand did and what the source gave.
func Setting(r *thermal.Result) []string {
	set := Set(r.Case)
	if OffS(r) < r.Case.OffS() {
		set[1] += ", ended by the cut"
	}
	set[1] += delivered(r)
	return set
}

// Set says in two clauses what was set, before anything is computed: what the hand does, what the source is to give.
func Set(c *thermal.Case) []string {
	return []string{scenes[c.Scene()].setting(c), Given(c.Drive) + repeated(c) + after(c)}
}

// Verdict says in a line what came out.
func Verdict(r *thermal.Result) string { return scenes[r.Case.Scene()].verdict(r) }

// Answer is the quantity a case is judged by, with its unit.
func Answer(r *thermal.Result) string { return scenes[r.Case.Scene()].answer(r) }

// OffS is when the current ended: when it was to, or earlier, where the electrode ended it.
func OffS(r *thermal.Result) float64 {
	on := r.Case.OffS()
	if ended := scenes[r.Case.Scene()].endedS; ended != nil && ended(r) < on { // NaN is not
		return ended(r)
	}
	return on
}

// deep is the answer where the injury of the wall is judged.
func deep(r *thermal.Result) string { return fmt.Sprintf("%.2f mm deep", 1e3*r.Summary.InjuryDepthM) }
