package record

import (
	"strings"

	"muralheat/thermal"
)

// InventedMark stands beside what invented data gave.
const InventedMark = "Invented data."

// marks are what must stand beside any number of a result, wherever it is shown. What a row of a table tells of a
// result has no fields to be checked; such rows say by themselves whether checks hold.
var marks = []struct {
	name string
	of   func(*thermal.Result) bool
}{
	{"Self-check FAILED: do not use these numbers.", func(r *thermal.Result) bool { return r.Fields.TemperatureC != nil && !Passed(Checks(r)) }},
	{InventedMark, func(r *thermal.Result) bool { return r.Case.Invented }},
	{"Draft mesh.", func(r *thermal.Result) bool { return r.Case.Numerics.Quality == "draft" }},
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

// OwnMarks are the marks of a result that another in the same place need not have: that data are invented is said once.
func OwnMarks(marks string) string {
	return strings.TrimSpace(strings.Replace(marks, InventedMark, "", 1))
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
