// Package scenarios reads what a person writes - a scenario or plan in YAML - and turns
// it into a fully stated thermal.Case.
//
//	text -> File (read.go) -> defaults (rules.go) -> checks (checks.go) -> Case (build.go)
//
// A plan (plan.go, plan_read.go) is a scenario and what varies in it: a Sweep, whose case i
// is that scenario with some values set.
//
// Reading is strict: an unknown key, a wrong type, a value out of range or two
// keys that contradict each other stop with file, line, column, key, what is
// wrong and what would be right; all problems of a file come at once. Every value
// that was left out is filled in from one table together with where it comes
// from, and the resolved scenario is itself a scenario that gives the same Case.
//
// A key is addressed by its path, items of a list by their name, or by their number
// from 1 if they have none: "motion.speed_mm_s",
// "wall.layers.muscularis.thickness_mm", "current.limits.load_line[1].power_W".
package scenarios
