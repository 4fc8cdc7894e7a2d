package record

import (
	"slices"
	"strings"

	"muralheat/scenarios/experiments"
	"muralheat/thermal"
)

// InventedMark stands beside what invented data gave.
const InventedMark = "Invented data."

// outsideMark stands beside what no experiment in reach was held against; which axes these are is among a run's notes.
const outsideMark = "Outside the range compared with experiments."

// marks are what must stand beside any number of a result, wherever it is shown. What a row of a table tells of a
// result has no fields to be checked; such rows say by themselves whether checks hold.
var marks = []struct {
	name string
	of   func(*thermal.Result) bool
}{
	{"Self-check FAILED: do not use these numbers.", func(r *thermal.Result) bool { return r.Fields.TemperatureC != nil && !Passed(Checks(r)) }},
	{InventedMark, func(r *thermal.Result) bool { return r.Case.Invented }},
	{"Draft mesh.", func(r *thermal.Result) bool { return r.Case.Numerics.Quality == "draft" }},
	{outsideMark, func(r *thermal.Result) bool {
		return len(r.History) > 0 && experiments.PlaceOf(r.Case, "", experiments.DeliveredBy(r)).Outside()
	}},
	{"Injury beyond the fine cells: less exact.", func(r *thermal.Result) bool { return r.Summary.BeyondFine }},
}

// Marks says what must stand beside the numbers of a result.
func Marks(r *thermal.Result) string {
	var out []string
	for _, m := range marks {
		if m.of(r) {
			out = append(out, m.name)
		}
	}
	return strings.Join(out, " ")
}

// SharedMarks are the marks of results in one place that are said once: those that all have, that data are invented, and that
// some are outside of what experiments covered.
func SharedMarks(each []string) string {
	var out []string
	for _, m := range marks {
		has := func(marks string) bool { return strings.Contains(marks, m.name) }
		if slices.ContainsFunc(each, has) && (m.name == InventedMark || m.name == outsideMark || !slices.ContainsFunc(each, func(s string) bool { return !has(s) })) {
			out = append(out, m.name)
		}
	}
	return strings.Join(out, " ")
}

// OwnMarks are the marks of a result that are not among those shared in its place.
func OwnMarks(own, shared string) string {
	for _, m := range marks {
		if strings.Contains(shared, m.name) {
			own = strings.Replace(own, m.name, "", 1)
		}
	}
	return strings.Join(strings.Fields(own), " ")
}

// MarksOf says what must stand beside numbers of several results that each have marks, once.
func MarksOf(each []string) string {
	var out []string
	for _, m := range marks {
		for _, has := range each {
			if strings.Contains(has, m.name) {
				out = append(out, m.name)
				break
			}
		}
	}
	return strings.Join(out, " ")
}
