package main

import (
	"math"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
)

// number is a value for JSON: nil, which becomes null, where there is none.
func number(v float64) any {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return v
}

type checkJSON struct {
	Name  string `json:"name"`
	Value any    `json:"value"`
	Limit any    `json:"limit"`
	OK    bool   `json:"ok"`
}

type runJSON struct {
	Caution    string              `json:"caution"`
	Title      string              `json:"title"`
	Scenario   string              `json:"scenario"`
	Folder     string              `json:"folder"`
	Files      []string            `json:"files"`
	Failure    string              `json:"failure,omitempty"`
	Summary    map[string]any      `json:"summary"`
	Refined    string              `json:"numerical_uncertainty,omitempty"`
	Refinement *record.RefinedJSON `json:"refinement,omitempty"`
	Checks     []checkJSON         `json:"checks"`
	Notes      []string            `json:"notes"`
}

// resultJSON is the summary of a run for a script.
func resultJSON(run *record.Run, r *thermal.Result, dir string, files []string) runJSON {
	j := runJSON{
		Caution: phrase.Caution, Title: r.Case.Title, Scenario: run.ScenarioName, Folder: dir, Files: files, Failure: run.Failure,
		Summary: map[string]any{}, Notes: append([]string{}, record.Remarks(run, r)...),
	}
	if run.Refinement != nil {
		j.Refinement = run.Refinement.JSON(r.Case)
		j.Refined = j.Refinement.Statement
	}
	for _, col := range record.SummaryColumns(r.Case) {
		if col.Word != nil {
			j.Summary[col.Name] = col.Word(r)
		} else {
			j.Summary[col.Name] = number(col.Number(r))
		}
	}
	for _, k := range record.Checks(r) {
		j.Checks = append(j.Checks, checkJSON{k.Name, number(k.Value), number(k.Limit), k.OK})
	}
	return j
}
