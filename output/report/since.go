package report

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"muralheat/output/document"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios/batch"
)

// sweepMeta is the part of sweep.json that only reports need.
type sweepMeta struct {
	Program string `json:"program"`
	Digest  string `json:"digest"`
	Points  int    `json:"points"`
	SHA256  string `json:"results_sha256"` // of the table
}

// sinceThen says what of a sweep's folder is no longer what was computed.
func (m sweepMeta) sinceThen(dir string, p Planned) ([]record.Finding, error) {
	data, err := os.ReadFile(filepath.Join(dir, study.ResultName))
	if err != nil {
		return nil, err
	}
	sum, j := record.Digest(data), p.Journal
	table := record.Finding{What: "results.csv, with its checksum in sweep.json", Says: "the same", OK: true}
	switch m.SHA256 {
	case sum:
	case "":
		table.Says = "no checksum of results.csv in the record"
	default:
		table.OK, table.Says = false, "results.csv was CHANGED"
	}
	plan := record.Finding{What: "plan.yaml and scenario.yaml, with what was computed", Says: "the same cases", OK: m.Digest == p.Digest}
	if !plan.OK {
		plan.Says = "plan.yaml or scenario.yaml does not describe what was computed: CHANGED, or read differently by this version of the program"
	}
	journal := record.Finding{What: "results.csv, with the journal, in which each case was written as it was finished", OK: true}
	var told []string
	say := func(when, alters bool, text string, args ...any) {
		if when {
			told, journal.OK = append(told, fmt.Sprintf(text, args...)), journal.OK && !alters
		}
	}
	say(j.None, false, "no journal, so that the table cannot be compared with what was computed")
	say(j.Foreign > 0, true, "%d lines of the journal are of another plan, scenario or program: CHANGED", j.Foreign)
	say(j.Missing > 0, true, "%d cases are not in the journal", j.Missing)
	say(j.SHA256 != "" && j.SHA256 != sum, true, "results.csv is not the table that the journal makes: CHANGED")
	say(j.Damaged > 0, false, "%d damaged lines of the journal count for nothing", j.Damaged)
	if journal.Says = strings.Join(told, "; "); told == nil {
		journal.Says = "the journal makes the same table"
	}
	return []record.Finding{table, plan, journal}, nil
}

// builtFrom says which source the programs were built from that computed a sweep, and whether it is known and unchanged.
func builtFrom(sessions []batch.Session) (source string, traced bool) {
	var all []string
	traced = len(sessions) > 0
	for _, s := range sessions {
		if !slices.Contains(all, s.Source) {
			all = append(all, s.Source)
		}
		traced = traced && strings.HasSuffix(s.Source, ", unchanged")
	}
	if all == nil {
		return "unknown, no " + batch.SessionsName + " in the folder", false
	}
	return strings.Join(all, "; "), traced
}

func readSweepMeta(dir string) (m sweepMeta, err error) {
	data, err := os.ReadFile(filepath.Join(dir, study.SweepName))
	if err != nil {
		return m, err
	}
	return m, json.Unmarshal(data, &m)
}

// sessionsTable says who computed a sweep, when and where.
func sessionsTable(sessions []batch.Session) document.Block {
	if len(sessions) == 0 {
		return document.Note{Label: "Gap", Text: "Command, host, time and program file of this sweep: unknown, there is no " + batch.SessionsName + " in the folder."}
	}
	t := document.Table{Caption: "Computed by", Head: []string{"command", "host, processors", "source of the program", "SHA-256 of its file", "start, end (UTC)", "cases finished before, after"}, Stacked: true}
	for _, s := range sessions {
		end := "none: killed, or at work"
		if !s.End.IsZero() {
			end = s.End.Format("2006-01-02 15:04:05")
		}
		t.Rows = append(t.Rows, []string{strings.Join(s.Command, " "), fmt.Sprintf("%s, %d", s.Host, s.CPUs), s.Source, whenElse(s.Binary != "", s.Binary, "unknown"), s.Start.Format("2006-01-02 15:04:05") + ", " + end, fmt.Sprintf("%d, %d", s.Before, s.Done)})
	}
	return t
}

func sweepVersionSection(m sweepMeta, p Planned, b *dossier, sessions []batch.Session) document.Section {
	set := ""
	for _, x := range p.Set {
		set += "--set '" + strings.ReplaceAll(x, "'", `'\''`) + "' "
	}
	return document.Section{ID: "version", Title: "Version and how to compute it again", Blocks: []document.Block{
		document.Table{Caption: "Version", Head: []string{"what", "value"}, Stacked: true, Rows: [][]string{
			{"program", "muralheat " + m.Program}, {"digest of the plan", m.Digest},
			{"SHA-256 of plan.yaml", record.Digest(p.Plan)}, {"SHA-256 of scenario.yaml", record.Digest(p.Scenario)},
			{"this report by", "muralheat " + versionOf(record.Describe(b.Build, b.Binary))}, {"SHA-256 of its file", whenElse(b.Binary != "", b.Binary, "unknown")}}},
		sessionsTable(sessions),
		document.Code{Label: "To compute it again, in the folder of this sweep", Text: "sed 's/^scenario:.*/scenario: scenario.yaml/' plan.yaml > again.yaml\nmuralheat sweep " + set + "-o again again.yaml\ncmp results.csv again/results.csv\n"},
		document.Text("The table then has the same bytes on the same kind of processor with the same program, for any number of workers and in slices or not; on another kind of processor, or level of it (GOAMD64), it differs by rounding, and by more where tissue dries (muralheat guide accuracy says how much)."),
		document.Code{Label: "Scenario varied, as it was written", Text: string(p.Scenario), Folded: true},
	}}
}
