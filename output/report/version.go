package report

import (
	"fmt"
	"strings"

	"muralheat/output/document"
	"muralheat/output/record"
)

// digests lists the files of a run with their checksums, and what these say of them today.
func digests(dir string, outputs []record.Written) document.Table {
	t := document.Table{Caption: "Files of the run and their checksums (SHA-256)", Head: []string{"file", "checksum", "today"}, Folded: true, Stacked: true}
	for _, o := range outputs {
		t.Rows = append(t.Rows, []string{o.File, o.SHA256, o.State(dir)})
	}
	return t
}

func versionOf(p record.Program) string {
	return p.Version + ", source: " + p.Source()
}

// runVersionSection says which program computed, and how to do it again.
func (b *dossier) runVersionSection(m record.Manifest, files document.Table) document.Section {
	p := m.Program
	rows := [][]string{
		{"program", p.Name + " " + p.Version}, {"source", p.Source()}, {"SHA-256 of its file", whenElse(p.Binary != "", p.Binary, "unknown")},
		{"built by, for", strings.TrimSpace(p.Go + ", " + p.OS + "/" + p.Arch + " " + p.Level)},
		{"command", strings.Join(m.Command, " ")},
		{"scenario file", m.Scenario.File}, {"its SHA-256", m.Scenario.SHA256},
		{"started, ended (UTC)", m.Start.Format("2006-01-02 15:04:05") + ", " + m.End.Format("2006-01-02 15:04:05")},
		{"host, processors", fmt.Sprintf("%s, %d", m.Host, m.CPUs)},
		{"this report by", "muralheat " + versionOf(record.Describe(b.Build, b.Binary))}, {"SHA-256 of its file", whenElse(b.Binary != "", b.Binary, "unknown")},
	}
	blocks := []document.Block{document.Table{Caption: "Version", Head: []string{"what", "value"}, Rows: rows, Stacked: true}}
	get := "go build -o muralheat ./cmd/muralheat"
	if isCommit(p.Commit) {
		get = "git checkout " + p.Commit + "\n" + get
	}
	if !isCommit(p.Commit) || p.Modified != "no" {
		blocks = append(blocks, document.Note{Label: "Gap", Text: "The program was not built from an unchanged commit (go run, or changed sources), so the record alone does not lead back to its version. For a result that others are to repeat, build from a clean clone."})
	}
	refined := whenElse(b.refined != "", "--refine ", "")
	modules := document.List{}
	modules = append(modules, p.Modules...)
	blocks = append(blocks,
		document.Code{Label: "To compute it again, in the folder of this run", Text: get + "\nmuralheat run " + refined + "-o again scenario.yaml\n"},
		document.Code{Label: "Where only manifest.json is left", Text: "jq -j .scenario.resolved manifest.json > again.yaml\nmuralheat run " + refined + "-o again again.yaml\n"},
		document.Text(rerunSays),
		files,
		document.Code{Label: "Scenario as it was written" + whenElse(len(m.Scenario.Set) > 0, ", without what was set: "+strings.Join(m.Scenario.Set, ", "), ""), Text: m.Scenario.Text, Folded: true},
		document.Code{Label: "Scenario with every default written out", Text: m.Scenario.Resolved, Folded: true},
		document.Code{Label: fmt.Sprintf("Go modules (%d)", len(modules)), Text: strings.Join(modules, "\n"), Folded: true},
	)
	return document.Section{ID: "version", Title: "Version and how to compute it again", Blocks: blocks}
}

// isCommit reports whether s can be the name of a commit: a record is a file that anybody can
// edit, and a reader pastes what a report tells to run.
func isCommit(s string) bool {
	return len(s) >= 7 && strings.Trim(s, "0123456789abcdef") == ""
}

// rerunSays is what may be expected of a repetition.
const rerunSays = "The tables, the fields (result.npz) and the figures then have the same bytes on the same kind of processor with the same program; scenario.yaml has the same values, but marked as given. Where products and sums are fused (arm64, and amd64 built with GOAMD64=v3 or v4), results differ by rounding, and by more where tissue dries: muralheat guide accuracy says how much."
