package report

import (
	"fmt"
	"slices"
	"strings"

	"muralheat/output/document"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/scenarios/experiments"
	"muralheat/scenarios/stated"
	"muralheat/thermal"
	"muralheat/thermal/checks"
)

// grade is the gradation that the evidence for a factor reaches, and the evidence.
type grade struct{ reached, evidence string }

// first returns the gradation of the first case that holds, c before b, else a.
func reached(c, b bool) string {
	switch {
	case c:
		return "c"
	case b:
		return "b"
	}
	return "a"
}

// grades judges the evidence at hand by the gradations of stated.Factors, from what the folder holds and what this report
// computed. Factors that need a person's judgement get no more than the program can vouch for.
func (b *dossier) grades() map[string]grade {
	failed, all := record.Failed(b.Verified)
	orders := slices.ContainsFunc(b.Verified, func(g checks.Ran) bool { return strings.Contains(g.Group, "order") && len(g.Checks) > 0 })
	bad := differ(b.findings)
	again := b.Recomputed != nil && len(b.Recomputed.Cases) > 0
	given, filled := 0, 0
	for _, s := range b.settings {
		switch {
		case subjectOf(s.Key) == "":
		case s.Given:
			given++
		default:
			filled++
		}
	}
	r, kin := b.regime, fmt.Sprintf("%d of %d experiments of this kind are on the same or like tissue (%s)", len(b.regime.kin), len(b.regime.own), b.regime.place.Tissue)
	open, resolved := 0, 0
	for _, e := range r.own {
		if len(e.Open) > 0 {
			open++
		}
		if e.Resolved() {
			resolved++
		}
	}
	quantity, ofQuantity := b.judged(), 0
	for _, e := range r.own {
		if _, _, values, _ := e.Difference(quantity); values > 0 {
			ofQuantity++
		}
	}
	n := len(r.own)
	outside, near := len(r.outside()), experiments.Count(r.axes, experiments.Near)
	axes := fmt.Sprintf("%d axes inside, %d near, %d outside of what %d experiments of this kind compared", experiments.Count(r.axes, experiments.Inside), near, outside, n)
	return map[string]grade{
		"software_quality":         {reached(false, b.traced), "source: " + b.source + "; no independent audit is on record"},
		"code_verification":        {reached(len(failed) == 0 && orders, len(failed) == 0 && all > 0), fmt.Sprintf("%d of %d checks in %d groups hold", all-len(failed), all, len(b.Verified))},
		"discretisation_error":     b.discretised,
		"solver_error":             {reached(b.balanced && b.refined != "", b.balanced), b.balances},
		"use_error":                {reached(len(bad) == 0 && again, len(bad) == 0), fmt.Sprintf("%d values given, %d from defaults with their sources; %d of %d comparisons of the folder as they should be; cases computed again: %s", given, filled, len(b.findings)-len(bad), len(b.findings), b.Recomputed.finding().Says)},
		"model_form":               {reached(false, len(b.alternatives) > 0), whenElse(len(b.alternatives) > 0, "computed beside: "+strings.Join(b.alternatives, ", "), "equations and assumptions listed; no alternative computed")},
		"model_inputs":             {reached(b.draws > 1, b.sensitive), b.inputsSay()},
		"test_samples":             {reached(false, len(r.kin) > 1), kin},
		"test_conditions":          {reached(false, n > 0 && outside == 0), axes},
		"equivalency_of_inputs":    {reached(false, n > 0), fmt.Sprintf("%d of %d experiments of this kind leave inputs open, drawn from the range that their record states", open, n)},
		"output_comparison":        {reached(n > 0 && resolved == n, n > 0), b.comparedSays(resolved)},
		"relevance_of_quantity":    {reached(ofQuantity > 1, ofQuantity == 1), fmt.Sprintf("%s was measured in %d of %d experiments of this kind", quantity, ofQuantity, n)},
		"relevance_of_experiments": {reached(n > 0 && outside+near == 0 && b.use != "", n > 0 && outside == 0), axes + whenElse(b.use == "", "; no context of use is stated", "")},
	}
}

func (b *dossier) inputsSay() string {
	switch {
	case b.draws > 1:
		return fmt.Sprintf("%d draws of what is not known exactly, at each point", b.draws)
	case b.sensitive:
		return "section “Sensitivity”"
	}
	return "sources and assumptions listed; influence on the answer not computed here"
}

func (b *dossier) comparedSays(resolved int) string {
	if len(b.regime.own) == 0 {
		return b.regime.says()
	}
	s := fmt.Sprintf("numerical error below a third of the measured spread in %d of %d", resolved, len(b.regime.own))
	for _, x := range experiments.Biases(b.regime.own) {
		s += "; " + x.String()
	}
	return s
}

// judged is the measure that answers a case.
func (b *dossier) judged() experiments.Measure {
	if b.c.Scene() == thermal.OnWall {
		return experiments.Depth
	}
	return experiments.Rise
}

// goals says which of the gradations asked for are met, in a few words.
func (b *dossier) goals() string {
	if len(b.said.Goals) == 0 {
		return "none stated"
	}
	met, missed, grades := 0, []string(nil), b.grades()
	for _, f := range stated.Factors {
		switch goal := b.said.Goals[f.Key]; {
		case goal == "":
		case grades[f.Key].reached >= goal:
			met++
		default:
			missed = append(missed, f.Name)
		}
	}
	s := fmt.Sprintf("%d of %d met", met, len(b.said.Goals))
	if missed != nil {
		s += "; NOT met: " + strings.Join(missed, ", ")
	}
	return s
}

func (b *dossier) factorsSection() document.Section {
	t := document.Table{Caption: "Credibility factors of ASME V&V 40-2018 (from memory), what was asked for and what the evidence reaches", Head: []string{"factor", "goal", "reached", "verdict", "evidence", "category of evidence"}, Stacked: true}
	words := document.Table{Caption: "What the gradations mean here, in words of our own", Head: []string{"factor", "a", "b", "c"}, Stacked: true, Folded: true}
	grades := b.grades()
	for _, f := range stated.Factors {
		g, goal := grades[f.Key], b.said.Goals[f.Key]
		verdict := "no goal"
		if goal != "" {
			verdict = whenElse(g.reached >= goal, "met", "NOT met")
		}
		t.Rows = append(t.Rows, []string{f.Name, goal, g.reached + ": " + f.Of(g.reached), verdict, g.evidence, f.Category})
		words.Rows = append(words.Rows, append([]string{f.Name}, f.Gradations[:]...))
	}
	blocks := []document.Block{document.Lead("Goals stated beforehand: " + b.goals() + "."), t, words,
		document.Text("Categories of evidence by the FDA's guidance of November 2023 on the credibility of computational models (from memory). Gradations are reached by rule from what this folder holds and what this report computed: they are a proposal, for the reader to judge against the risk of the model. Where c asks for what no program can know (an audit, samples chosen, all conditions measured, all alternatives tried), b is the most that it gives.")}
	return document.Section{ID: "factors", Title: "Credibility factors", Blocks: blocks}
}

// statedBlocks say what was stated beforehand, and when.
func (b *dossier) statedBlocks() []document.Block {
	if !b.said.Made() {
		return []document.Block{document.Note{Label: "Decision not stated", Text: "Model risk combines the influence of the model on a decision with the consequence of a wrong decision (ASME V&V 40-2018; FDA guidance of November 2023, both from memory). Nothing is stated about either. To state it before computing, add the key decision: for, influence, consequence, goals; muralheat check shows it."}}
	}
	t := document.Table{Caption: "Stated: the decision, the influence of the model on it, the consequence of a wrong one", Head: []string{"what", "stated"}, Stacked: true}
	for _, l := range b.said.Lines() {
		t.Rows = append(t.Rows, []string{phrase.Capital(l[0]), l[1]})
	}
	return []document.Block{t, document.Text("When it was stated: " + b.whenStated() + ".")}
}

// whenStated says when the statement that the report grades against was made.
func (b *dossier) whenStated() string {
	if len(b.log.Entries) == 0 {
		if !b.said.Made() {
			return "no decision stated"
		}
		return "NOT on record before computing"
	}
	e := b.log.Entries[0]
	s := fmt.Sprintf("%s UTC, %s, checksum %s", e.Time.Format("2006-01-02 15:04:05"), whenElse(e.Done == 0, "before the first case was computed", fmt.Sprintf("AFTER %d cases were computed", e.Done)), cut(e.SHA256, 12))
	if n := len(b.log.Entries); n > 1 {
		last := b.log.Entries[n-1]
		s += fmt.Sprintf("; stated otherwise %d times since, last after %d cases", n-1, last.Done)
	}
	return s
}

func cut(s string, n int) string { return s[:min(n, len(s))] }

// statedFinding compares what was stated with its checksums, and with what the folder states now.
func statedFinding(log stated.Log, now stated.Statement, of string) record.Finding {
	f := record.Finding{What: "what was stated beforehand, with its checksums and with the folder", OK: true}
	switch n := len(log.Entries); {
	case n == 0 && !now.Made():
		f.Says, f.None = "no decision stated", true
	case n == 0:
		f.OK, f.Says = false, "a decision is stated, but not in "+stated.LogName+": it was stated after computing, or the file was removed"
	case !log.Whole():
		f.OK, f.Says = false, stated.LogName+" was CHANGED: a checksum is not that of its entry"
	case !log.States(now, of):
		f.OK, f.Says = false, "the folder now states something else than "+stated.LogName+": CHANGED"
	default:
		f.Says = fmt.Sprintf("%d entries as they were written", n)
	}
	return f
}
