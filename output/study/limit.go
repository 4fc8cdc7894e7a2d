package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/limit"
	"muralheat/scenarios/plan"
)

// ColumnNamed returns the summary column of a name, or the one most likely meant.
func ColumnNamed(cols []record.Column, name string) (c record.Column, near string, ok bool) {
	var names []string
	for _, c := range cols {
		if c.Name == name && c.Number != nil {
			return c, "", true
		}
		if c.Number != nil {
			names = append(names, c.Name)
		}
	}
	return record.Column{}, keys.Near(name, names), false
}

// LimitCSV returns the limits of a plan, one row for each of its points.
func LimitCSV(s *plan.Sweep, answers []limit.Answer) []byte {
	var head []string
	if s.Named() {
		head = append(head, "name")
	}
	in := pointInputs(s)
	for _, i := range in {
		head = append(head, record.Guarded(s.Inputs[i].Key))
	}
	measures := []string{s.Limit.Column}
	if s.Draws > 1 {
		measures = []string{"draws", "beyond", "beyond_percent", "at_most_percent"}
	}
	head = append(head, "answer", "limit_"+s.Limit.Key, "first_beyond_"+s.Limit.Key, "undelivered_from_"+s.Limit.Key)
	head = append(append(head, measures...), "crossings", "computed", "reason")
	refined := slices.ContainsFunc(answers, func(a limit.Answer) bool { return a.Refined != nil })
	if refined {
		head = append(head, refinedHead(s)...)
	}
	rows := [][]string{head}
	for _, a := range answers {
		var row []string
		if s.Named() {
			row = append(row, record.Guarded(s.CaseName(decides(s, a)*s.Draws)))
		}
		values := s.Values(a.Point*s.Draws, s.Base)
		for _, i := range in {
			row = append(row, record.Guarded(values[i]))
		}
		row = append(row, string(a.Kind), record.Number(a.Limit), record.Number(a.Unsafe), record.Number(a.ShortFrom))
		if s.Draws > 1 {
			row = append(row, fmt.Sprint(s.Draws), record.Number(beyond(s, a)), percent(a.Measure), percent(a.AtMost))
		} else {
			row = append(row, record.Number(a.Measure))
		}
		row = append(row, fmt.Sprint(a.Crossings), fmt.Sprint(a.Computed), record.Guarded(a.Reason))
		if refined {
			row = append(row, refinedCells(a.Refined)...)
		}
		rows = append(rows, row)
	}
	return record.Table(rows)
}

// pointInputs are the inputs that differ between points, not between draws.
func pointInputs(s *plan.Sweep) []int {
	var in []int
	for i, x := range s.Inputs {
		if !x.Uncertain {
			in = append(in, i)
		}
	}
	return in
}

// beyond is how many draws lie beyond where an answer was measured.
func beyond(s *plan.Sweep, a limit.Answer) float64 { return math.Round(a.Measure * float64(s.Draws)) }

// decides returns the point that an answer is about: of cases that must be safe together the first that is not.
func decides(s *plan.Sweep, a limit.Answer) int {
	if s.Limit.Together() {
		return a.Least
	}
	return a.Point
}

// LimitReport says on the terminal what was asked and what came out.
func LimitReport(s *plan.Sweep, answers []limit.Answer, dir string) string {
	var b strings.Builder
	record.Paragraph(&b, "", s.Title)
	record.Paragraph(&b, "  ", LimitAsked(s))
	for _, note := range LimitNotes(s) {
		record.Paragraph(&b, "  ", note)
	}
	b.WriteString("\n")
	for _, a := range answers {
		record.Paragraph(&b, "  ", "  "+LimitAnswer(s, a))
	}
	if says := limitNumerical(s, answers); says != "" {
		b.WriteString("\n")
		record.Paragraph(&b, "  ", says)
	}
	if dir != "" {
		fmt.Fprintf(&b, "\nFiles in %s\n  limit.csv plan.yaml scenario.yaml computed.txt\n", dir)
	}
	b.WriteString("\n")
	record.Paragraph(&b, "", phrase.Caution)
	return b.String()
}
