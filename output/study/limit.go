package study

import (
	"fmt"
	"math"
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
	measure := s.Limit.Column
	if s.Draws > 1 {
		measure = "beyond_percent"
	}
	head = append(head, "answer", "limit_"+s.Limit.Key, "first_beyond_"+s.Limit.Key, "undelivered_from_"+s.Limit.Key, measure, "crossings", "computed", "reason")
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
		rows = append(rows, append(row, string(a.Kind), record.Number(a.Limit), record.Number(a.Unsafe), record.Number(a.ShortFrom), record.Number(measured(s, a)), fmt.Sprint(a.Crossings), fmt.Sprint(a.Computed), record.Guarded(a.Reason)))
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

// decides returns the point that an answer is about: of cases that must be safe together the first that is not.
func decides(s *plan.Sweep, a limit.Answer) int {
	if s.Limit.Together() {
		return a.Least
	}
	return a.Point
}

func measured(s *plan.Sweep, a limit.Answer) float64 {
	if s.Draws > 1 {
		return 100 * a.Measure
	}
	return a.Measure
}

// LimitReport says on the terminal what was asked and what came out.
func LimitReport(s *plan.Sweep, answers []limit.Answer, dir string) string {
	var b strings.Builder
	l := s.Limit
	record.Paragraph(&b, "", s.Title)
	end, side := "largest", "above"
	if !l.Largest {
		end = "smallest"
	}
	if !l.Above {
		side = "below"
	}
	unit := strings.TrimSpace(" " + l.Unit)
	ask := fmt.Sprintf("The %s %s from %g to %g %s that keeps %s %s %g", end, l.Key, l.From, l.To, unit, l.Column, side, l.Value)
	if s.Draws > 1 {
		ask += fmt.Sprintf(" in all but %g %% of %d draws", 100*l.Probability, s.Draws)
	}
	record.Paragraph(&b, "  ", ask+fmt.Sprintf(", to %.2g %s.", l.Tolerance*(l.To-l.From), unit))
	b.WriteString("\n")
	for _, a := range answers {
		var what []string
		switch {
		case s.Limit.Together():
			what = append(what, "all cases together, "+s.CaseTitle(a.Least*s.Draws)+" first")
		case s.Named():
			what = append(what, s.CaseName(a.Point*s.Draws))
		}
		values := s.Values(a.Point*s.Draws, s.Base)
		for _, i := range pointInputs(s) {
			what = append(what, s.Inputs[i].Title+" "+values[i])
		}
		lead := "  "
		if len(what) > 0 {
			lead = "  " + strings.Join(what, ", ") + ": "
		}
		record.Paragraph(&b, "  ", strings.TrimSpace(lead)+" "+answerText(s, a))
	}
	if dir != "" {
		fmt.Fprintf(&b, "\nFiles in %s\n  limit.csv plan.yaml scenario.yaml computed.txt\n", dir)
	}
	b.WriteString("\n")
	record.Paragraph(&b, "", phrase.Caution)
	return b.String()
}

func answerText(s *plan.Sweep, a limit.Answer) string {
	l := s.Limit
	told := fmt.Sprintf("%s %.4g", l.Column, a.Measure)
	if s.Draws > 1 {
		told = fmt.Sprintf("%.3g %% of the draws beyond", 100*a.Measure)
	}
	var text string
	short := !math.IsNaN(a.ShortFrom)
	switch a.Kind {
	case limit.Found:
		text = fmt.Sprintf("%.4g %s (%s there; at %.4g %s no more)", a.Limit, l.Unit, told, a.Unsafe, l.Unit)
	case limit.AllSafe:
		text = fmt.Sprintf("it holds for all that was tried, up to %.4g %s (%s there)", a.Limit, l.Unit, told)
		if short {
			text = fmt.Sprintf("no limit up to %.4g %s (%s there)", a.Limit, l.Unit, told)
		}
	case limit.NoneSafe:
		text = fmt.Sprintf("it does not even hold at %.4g %s (%s there)", a.Unsafe, l.Unit, told)
	default:
		return "failed: " + a.Reason
	}
	if short {
		on := "on"
		if !l.Largest {
			on = "down"
		}
		text += fmt.Sprintf("; the source could not deliver what was set from %.4g %s %s", a.ShortFrom, l.Unit, on)
	}
	if a.Crossings > 1 || a.Kind == limit.NoneSafe && a.Crossings > 0 {
		text += fmt.Sprintf("; NOT MONOTONIC: it changes %d times over the range, this is the first change from the side where it holds", a.Crossings)
	}
	if math.IsNaN(a.Measure) {
		return text
	}
	return text + "."
}
