package study

import (
	"fmt"
	"math"
	"strings"

	"muralheat/output/phrase"
	"muralheat/scenarios/limit"
	"muralheat/scenarios/plan"
)

// LimitAsked says what a plan seeks.
func LimitAsked(s *plan.Sweep) string {
	l := s.Limit
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
		ask = fmt.Sprintf("The %s %s from %g to %g %s at which the probability that %s is not %s %g stays below %g %% with %g %% confidence",
			end, l.Key, l.From, l.To, unit, l.Column, side, l.Value, 100*l.Probability, 100*l.Confidence)
	}
	return ask + fmt.Sprintf(", to %.2g %s.", l.Tolerance*(l.To-l.From), unit)
}

// LimitNotes says how draws decide, and what is not in the answers.
func LimitNotes(s *plan.Sweep) (notes []string) {
	l := s.Limit
	if s.Draws > 1 {
		chosen := ""
		if l.Chosen {
			chosen = ", the fewest that can show it"
		}
		notes = append(notes, fmt.Sprintf("Shown by %d draws%s, of which at most %d may lie beyond (exact binomial, one-sided). They are the same draws at each value, so that the confidence is that of the limit found, where more of the key is never safer.", s.Draws, chosen, l.Allowed))
	}
	return notes
}

// LimitPoint names the point of an answer; "" if there is only one.
func LimitPoint(s *plan.Sweep, a limit.Answer) string {
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
	return strings.Join(what, ", ")
}

// LimitAnswer says what came out at a point.
func LimitAnswer(s *plan.Sweep, a limit.Answer) string {
	lead := LimitPoint(s, a)
	if lead != "" {
		lead += ": "
	}
	if a.Kind == limit.Failed {
		return lead + "failed: " + a.Reason
	}
	l, text := s.Limit, ""
	if s.Draws > 1 {
		text = probable(s, a)
	} else {
		text = sure(l, a)
	}
	if !math.IsNaN(a.ShortFrom) {
		on := "on"
		if !l.Largest {
			on = "down"
		}
		text += fmt.Sprintf("; the source could not deliver what was set from %.4g %s %s", a.ShortFrom, l.Unit, on)
	}
	if a.Crossings > 1 || a.Kind == limit.NoneSafe && a.Crossings > 0 {
		text += fmt.Sprintf("; NOT MONOTONIC: it changes %d times over the range, this is the first change from the side where it holds", a.Crossings)
		if s.Draws > 1 {
			text += ", and the confidence is that at this value alone"
		}
	}
	if a.Refined != nil {
		text += refinedText(s, a.Refined)
	}
	if !math.IsNaN(a.Measure) {
		text += "."
	}
	return lead + text
}

// sure is the answer without draws.
func sure(l *plan.LimitSearch, a limit.Answer) string {
	told := fmt.Sprintf("%s %.4g", l.Column, a.Measure)
	switch a.Kind {
	case limit.Found:
		return fmt.Sprintf("%.4g %s (%s there; at %.4g %s no more)", a.Limit, l.Unit, told, a.Unsafe, l.Unit)
	case limit.AllSafe:
		if !math.IsNaN(a.ShortFrom) {
			return fmt.Sprintf("no limit up to %.4g %s (%s there)", a.Limit, l.Unit, told)
		}
		return fmt.Sprintf("it holds for all that was tried, up to %.4g %s (%s there)", a.Limit, l.Unit, told)
	}
	return fmt.Sprintf("it does not even hold at %.4g %s (%s there)", a.Unsafe, l.Unit, told)
}

// probable is the answer with draws.
func probable(s *plan.Sweep, a limit.Answer) string {
	l := s.Limit
	shown := fmt.Sprintf("the probability stays below %g %% with %g %% confidence", 100*l.Probability, 100*l.Confidence)
	seen := fmt.Sprintf("%.0f of %d draws beyond there, so at most %s %%", beyond(s, a), s.Draws, phrase.Short(100*a.AtMost))
	reach := fmt.Sprintf("up to %.4g %s", a.Limit, l.Unit)
	if !l.Largest {
		reach = fmt.Sprintf("from %.4g %s on", a.Limit, l.Unit)
	}
	switch a.Kind {
	case limit.Found:
		return fmt.Sprintf("%s %s (%s; at %.4g %s that is not shown)", reach, shown, seen, a.Unsafe, l.Unit)
	case limit.AllSafe:
		return fmt.Sprintf("%s, the end of what was tried, %s (%s)", reach, shown, seen)
	}
	return fmt.Sprintf("not even at %.4g %s is it shown that %s (%s)", a.Unsafe, l.Unit, shown, seen)
}
