package report

import (
	"fmt"
	"path/filepath"

	"muralheat/output/document"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/thermal"
)

// LimitReport makes the credibility report of a search for a limit, of which p holds the plan and the scenario.
func LimitReport(l study.Limits, p Planned, e Evidence) (*document.Document, error) {
	b := p.dossier(e, l.Plan.Title, func(key string) string {
		return whenElse(key == l.Plan.Limit.Key, "sought by the plan", "")
	})
	b.ask(p.Question, p.ContextOfUse)
	b.regime = newRegime(p.Place, b.Experiments)
	comparison, err := b.comparisonSection()
	if err != nil {
		return nil, err
	}
	kept := "limit.csv says what follows from computed.txt, in which the search was made again"
	var answer []document.Block
	if len(l.Differ) > 0 {
		kept = fmt.Sprintf("limit.csv does not say what follows from computed.txt at %d of %d points: CHANGED, or computed.txt is not whole, or read differently by this version of the program", len(l.Differ), len(l.Answers))
		answer = append(answer, document.Note{Label: "Changed since the search", Text: phrase.Capital(kept) + ". Do not use this report: search again."})
	}
	what := phrase.Capital(phrase.Key(l.Plan.Limit.Key, l.Plan.Limit.Unit)) + ": "
	if len(l.Answers) == 1 {
		answer = append(answer, document.Lead(what+study.LimitAnswer(l.Plan, l.Answers[0])), document.Text("Sought: "+study.LimitAsked(l.Plan)))
	} else {
		told := document.List{}
		for _, a := range l.Answers {
			told = append(told, study.LimitAnswer(l.Plan, a))
		}
		answer = append(answer, document.Lead(what+study.LimitAsked(l.Plan)), told)
	}
	for _, note := range study.LimitNotes(l.Plan) {
		answer = append(answer, document.Text(note))
	}
	table := document.Table{Caption: "Answers, as limit.csv has them", Head: l.Rows[0], Stacked: true}
	for _, row := range l.Rows[1:] {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = record.Unguarded(cell)
		}
		table.Rows = append(table.Rows, cells)
	}
	answer = append(answer, b.inShort([]string{"Files since the search", kept}), table)
	c := b.c
	return &document.Document{
		Title: "Credibility report: " + b.title, Caution: phrase.Caution,
		Differs: len(l.Differ) > 0,
		Lead:    fmt.Sprintf("A search for a limit at %d point%s by muralheat %s.", l.Plan.Points(), whenElse(l.Plan.Points() == 1, "", "s"), l.Program),
		Sections: []document.Section{
			{ID: "result", Title: "Result in short", Blocks: answer},
			b.contextSection("the plan"),
			b.equationsSection(),
			b.geometrySection(b.each(func(c *thermal.Case) string { return c.Grid().Geometry.String() })),
			b.propertiesSection(),
			b.boundariesSection(),
			b.driveSection(),
			{ID: "design", Title: "What varies", Blocks: []document.Block{
				document.Text(fmt.Sprintf("%s is sought from %g to %g; the sections on equations, geometry, properties, conditions and drive are those of the cases at both ends.", l.Plan.Limit.Key, l.Plan.Limit.From, l.Plan.Limit.To)),
				document.Code{Label: "Plan as it was written, with ranges and distributions of uncertain keys", Text: string(p.Plan)}}},
			{ID: "discretisation", Title: "Discretisation", Blocks: []document.Block{settingsTable(b.settings, "numerics", "Numerical settings"),
				document.Text("A case that does not pass its self-checks ends the search of its point.")}},
			b.verificationSection(),
			{ID: "numerical-uncertainty", Title: "Numerical uncertainty", Blocks: []document.Block{
				document.Note{Label: "Not computed", Text: "Each case was computed on one mesh. Write the case at the limit as a scenario and compute it on three meshes:"},
				document.Code{Label: "With that scenario", Text: "muralheat run --refine -o FOLDER scenario.yaml\nmuralheat report FOLDER\n"},
				document.Text(elsewhere(c))}},
			{ID: "sensitivity", Title: "Sensitivity", Blocks: []document.Block{document.Note{Label: "Not computed", Text: "A search does not show what its limit depends on. The plan's uncertain keys with muralheat sweep, at the limit, show what the margin there depends on."}}},
			comparison,
			b.factorsSection(),
			b.limitsSection(),
			limitVersionSection(l, p, b),
		}}, nil
}

func limitVersionSection(l study.Limits, p Planned, b *dossier) document.Section {
	return document.Section{ID: "version", Title: "Version and how to compute it again", Blocks: []document.Block{
		document.Table{Caption: "Version", Head: []string{"what", "value"}, Stacked: true, Rows: [][]string{
			{"program", "muralheat " + l.Program}, {"digest of the plan", p.Digest},
			{"SHA-256 of plan.yaml", record.Digest(p.Plan)}, {"SHA-256 of scenario.yaml", record.Digest(p.Scenario)},
			{"this report by", "muralheat " + versionOf(record.Describe(b.Build, b.Binary))}}},
		document.Code{Label: "To compute it again, in the folder of this search", Text: "sed 's/^scenario:.*/scenario: scenario.yaml/' plan.yaml > again.yaml\nmuralheat limit -o again again.yaml\ncmp limit.csv " + filepath.Join("again", study.LimitName) + "\n"},
		document.Code{Label: "Scenario varied, as it was written", Text: string(p.Scenario), Folded: true},
	}}
}
