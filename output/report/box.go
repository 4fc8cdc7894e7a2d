package report

import (
	"fmt"
	"strings"

	"muralheat/output/document"
	"muralheat/output/record"
)

// Recomputed is what report --recompute found.
type Recomputed struct {
	Seed  uint64 // of the choice
	Of    int    // cases to choose from
	Cases []Again
	Other string // the program that computed the folder, if it is not this one
}

// Again is a case that was computed again.
type Again struct {
	Name   string
	Differ []string // columns or files that are not the same to the last bit
}

// finding says how it came out; none if it was not asked for.
func (r *Recomputed) finding() record.Finding {
	f := record.Finding{What: "results, with the same cases computed again", OK: true}
	if r == nil {
		f.Says, f.None = "not asked for: muralheat report --recompute N", true
		return f
	}
	var differ []string
	for _, c := range r.Cases {
		if len(c.Differ) > 0 {
			differ = append(differ, fmt.Sprintf("%s (%s)", c.Name, strings.Join(c.Differ, ", ")))
		}
	}
	f.Says = fmt.Sprintf("%d of %d, chosen at random with seed %d, are the same to the last bit", len(r.Cases)-len(differ), len(r.Cases), r.Seed)
	if r.Of > len(r.Cases) {
		f.Says += fmt.Sprintf("; %d others were not computed again", r.Of-len(r.Cases))
	}
	if f.OK = differ == nil; !f.OK {
		f.Says += "; DIFFER: " + strings.Join(differ, "; ")
	}
	if r.Other != "" {
		f.Says += fmt.Sprintf(". By this program, not by the one that computed the folder (%s), which may round differently", r.Other)
	}
	return f
}

// differ lists the findings that are not as they should be.
func differ(all []record.Finding) (bad []string) {
	for _, f := range all {
		if !f.OK {
			bad = append(bad, f.What+": "+f.Says)
		}
	}
	return bad
}

// box is the evidence that a folder holds what was computed: a note that says so or not, and a table.
func (b *dossier) box(since string) []document.Block {
	t := document.Table{Caption: "Comparisons of the folder", Head: []string{"compared", "outcome", "verdict"}, Stacked: true}
	made := 0
	for _, f := range b.findings {
		verdict := whenElse(f.OK, "agrees", "DIFFERS")
		if f.None {
			verdict = "–"
		} else {
			made++
		}
		t.Rows = append(t.Rows, []string{f.What, f.Says, verdict})
	}
	bad := differ(b.findings)
	note := document.Note{Label: "Does the folder hold what was computed?", Text: fmt.Sprintf("Yes, as far as %d comparisons tell; cases computed again: %s.", made, b.Recomputed.finding().Says)}
	if len(bad) > 0 {
		note = document.Note{Label: "Changed since the " + since, Text: fmt.Sprintf("%d of %d comparisons differ, by the table below. Do not use this report: compute the %s again.", len(bad), made, since)}
	}
	return []document.Block{note, t}
}
