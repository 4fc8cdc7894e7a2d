package compare

import (
	"fmt"
	"strings"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
)

// sayings are the lines below a cross-section: what came out, what was delivered, how that differs from the first
// ("" of the first itself), and why.
type sayings struct {
	headlines          []string // the same in fewer and fewer words
	delivered, against string
	reasons            []string
}

func (m Member) sayings(first *thermal.Result, shared string) sayings {
	r := m.Result
	s := sayings{reasons: phrase.Reasons(r), delivered: fmt.Sprintf("%s delivered, %s J", phrase.Delivered(r), phrase.Short(r.Balance.ElectricJ))}
	for _, verdict := range []string{phrase.Verdict(r), inBrief(r)} {
		s.headlines = append(s.headlines, strings.TrimSpace(verdict+" "+record.OwnMarks(record.Marks(r), shared)))
	}
	if r != first {
		s.against = "Against the first: " + against(r, first) + "."
	}
	return s
}

// inBrief is the verdict of a result in few words.
func inBrief(r *thermal.Result) string {
	margin := phrase.MarginWord(r.Summary)
	if margin == "" || r.Summary.InjuryDepthM <= 0 {
		return phrase.Verdict(r)
	}
	return phrase.Answer(r) + ", " + margin + "."
}

// mostLines is how many lines there are below a headline: what was delivered, the first reason, the difference, and
// two more reasons, in the order in which they are given up last.
const mostLines = 5

// rest returns the first n of these that there are, in the order in which they are read.
func (s sayings) rest(n int) []string {
	var out []string
	if s.delivered != "" && n > 0 {
		out = append(out, s.delivered)
	}
	if n > 2 && s.against != "" {
		out = append(out, s.against)
	}
	reasons := max(n-2, min(n-1, 1), 0)
	return append(out, s.reasons[:min(len(s.reasons), reasons)]...)
}
