package report

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"

	"muralheat/output/chart"
	"muralheat/output/document"
	"muralheat/output/figures"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
	"muralheat/thermal/checks"
)

// Evidence is what a credibility report says besides what the folder holds, from the
// program that writes it.
type Evidence struct {
	Build    *debug.BuildInfo
	Verified []checks.Ran
	Compared []Compared
	Scores   []string // what the comparison comes to, a sentence for each part of the experiments
}

// Compared is a published number beside that of the model.
type Compared struct {
	Part                        string // of the experiments: fit or apart
	Measured, Source, Unit, Why string
	Mean, SD                    float64 // measured, in Unit
	Ours, OursSD                float64 // OursSD: by inputs that the source leaves open, and by the mesh
	Residual                    float64 // (Ours - Mean) over the root of SD² + OursSD²
}

// Inside reports whether the model lies within twice the combined spread.
func (c Compared) Inside() bool { return math.Abs(c.Residual) <= 2 }

// dossier is what a report is made of.
type dossier struct {
	Evidence
	title, question, use string
	settings             []record.Setting
	c                    *thermal.Case
	notes                []string
	refined              string // what run --refine says; "" if it was not asked
	sensitive            bool
}

// ask sets the question and the context of use: as given, else as the scenario has them.
func (b *dossier) ask(question, use string) {
	b.question, b.use = question, use
	for _, s := range b.settings {
		switch {
		case s.Key == "question" && question == "":
			b.question = s.Value
		case s.Key == "context_of_use" && use == "":
			b.use = s.Value
		}
	}
}

// IsRun reports whether dir is the folder of a run.
func IsRun(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, record.ManifestName))
	return err == nil
}

// ReportNames are the files of a report.
var ReportNames = []string{"report.html", "report.md"}

// WriteReport writes a report into the folder at and returns the paths of its files.
func WriteReport(at string, d *document.Document) ([]string, error) {
	page, err := d.HTML()
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	if err := os.MkdirAll(at, 0o777); err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	var paths []string
	for n, data := range [][]byte{page, d.Markdown()} {
		path := filepath.Join(at, ReportNames[n])
		if err := record.Replace(path, data); err != nil {
			return nil, fmt.Errorf("output: %w", err)
		}
		paths = append(paths, path)
	}
	return paths, nil
}

// RunReport makes the credibility report of the run in dir; links to its figures are seen
// from the folder at.
func RunReport(dir, at string, e Evidence) (*document.Document, error) {
	m, err := record.ReadManifest(dir)
	if err != nil {
		return nil, err
	}
	r, err := record.Load(dir)
	if err != nil {
		return nil, err
	}
	b := &dossier{Evidence: e, title: r.Case.Title, settings: m.Settings, c: r.Case, notes: m.Notes}
	b.ask("", "")
	alt := map[string]string{
		"wall":       sceneOf(r.Case).shown + " " + answerTold(r.Case, m),
		"timecourse": "Time course: temperatures at the borders of the layers, power, resistance and depth of injury.",
	}
	maps.Copy(alt, sceneOf(r.Case).figures)
	drawn, err := embedded(figures.Of(chart.ForDocument, r), dir, at, alt)
	if err != nil {
		return nil, err
	}
	numerical, refined, err := refinement(dir, r.Case, m.Refined)
	if err != nil {
		return nil, err
	}
	if refined {
		b.refined = m.Refined
	}
	kept := digests(dir, m.Outputs)
	if !m.Agrees(r) {
		kept.verdict += "; the record itself was CHANGED: it does not agree with result.npz, so trust no number below"
	}
	short := b.inShort([]string{"Self-checks of this run", selfChecked(m)}, []string{"Files since the run", kept.verdict})
	d := &document.Document{
		Title: "Credibility report: " + b.title, Caution: phrase.Caution,
		Lead: fmt.Sprintf("A run of %s %s, computed on %s UTC. %s", m.Program.Name, versionOf(m.Program), m.Start.Format("2006-01-02 15:04:05"), strings.Join(phrase.Setting(r), ", ")+"."),
	}
	var answer []document.Block
	if m.Failure != "" {
		answer = append(answer, document.Note{Label: "Stopped early", Text: m.Failure + ". What follows is the state at that time, to find out why; do not use it."})
	}
	first, rest := summaryTables(m.Summary)
	answer = append(answer, document.Lead(phrase.Verdict(r)))
	if why := phrase.Remark(r); why != "" {
		answer = append(answer, document.Text(why))
	}
	if marks := record.Marks(r); marks != "" {
		answer = append(answer, document.Note{Label: "Belongs to every number here", Text: marks})
	}
	answer = append(answer, short, first, drawn[0], layerTable(r), rest)
	answer = append(answer, notesOf(b.notes)...)
	d.Sections = []document.Section{
		{ID: "result", Title: "Result in short", Blocks: answer},
		b.contextSection(m.Scenario.File),
		b.equationsSection(),
		b.geometrySection(&r.Case.Domain, r.Mesh.Geometry.String()),
		b.propertiesSection(),
		b.boundariesSection(),
		b.driveSection(append([]document.Block{deliveredTable(m.Summary)}, drawn[1:]...)...),
		{ID: "discretisation", Title: "Discretisation and self-checks", Blocks: []document.Block{meshTable(m, r), settingsTable(b.settings, "numerics", "Numerical settings"), selfCheckTable(m.Checks)}},
		b.verificationSection(),
		{ID: "numerical-uncertainty", Title: "Numerical uncertainty", Blocks: numerical},
		{ID: "sensitivity", Title: "Sensitivity", Blocks: []document.Block{
			document.Note{Label: "Not computed", Text: "A single run does not show how its result depends on its inputs. Save the plan below in the folder of the run: it changes conductivity, blood flow, thickness, contact and power, one at a time. muralheat sweep computes it, and the report of that sweep shows the outcome in this section."},
			document.Code{Label: "sensitivity.yaml, for muralheat sweep sensitivity.yaml", Text: studyPlan(m.Settings, b.title), Folded: true},
			document.Text("A plan can also draw inputs that are not known exactly from probability distributions (uncertain, draws)."),
		}},
		b.comparisonSection(),
		b.factorsSection(),
		b.limitsSection(),
		b.runVersionSection(m, kept.table),
	}
	return d, nil
}

// answerTold is what a record has for the quantity its case is judged by, for who cannot see
// a figure.
func answerTold(c *thermal.Case, m record.Manifest) string {
	for _, q := range m.Summary {
		if q.Name == record.MainColumn(c) {
			return fmt.Sprintf("%s %s %s.", phrase.Capital(record.InWords(q.Name, q.Unit)), quotedValue(q), q.Unit)
		}
	}
	return ""
}

// embedded renders figures for a report.
func embedded(figs []chart.Figure, dir, at string, alt map[string]string) ([]document.Block, error) {
	var out []document.Block
	for _, f := range figs {
		data, err := chart.Svg(f)
		if err != nil {
			return nil, fmt.Errorf("output: figure %s: %w", f.Name, err)
		}
		link := filepath.Join(dir, f.Name+".svg")
		for _, page := range chart.PageNames { // where there is only that of a page
			if p, _ := chart.PageFor(page); !exists(link) && exists(filepath.Join(dir, p.File(f.Name)+".svg")) {
				link = filepath.Join(dir, p.File(f.Name)+".svg")
			}
		}
		if l, err := relative(at, link); err == nil {
			link = l
		}
		text := alt[f.Name]
		if text == "" {
			text = "Figure " + f.Name + "."
		}
		out = append(out, document.Figure{SVG: data, Caption: text + " File " + filepath.Base(link) + ".", Alt: text, Link: filepath.ToSlash(link)})
	}
	return out, nil
}

func exists(name string) bool {
	_, err := os.Stat(name)
	return err == nil
}

func relative(from, to string) (string, error) {
	a, err := filepath.Abs(from)
	if err != nil {
		return "", err
	}
	b, err := filepath.Abs(to)
	if err != nil {
		return "", err
	}
	return filepath.Rel(a, b)
}

func quotedValue(q record.Quoted) string {
	switch v := q.Value.(type) {
	case float64:
		return digits(v)
	case string:
		if v == "" {
			return "none"
		}
		return v
	}
	return "none"
}

// summaryTables lists what was reported: first the injury, then all the rest.
func summaryTables(all []record.Quoted) (first, rest document.Table) {
	head := []string{"quantity", "value", "unit", "what it is"}
	first = document.Table{Caption: "Results", Head: head, Stacked: true}
	rest = document.Table{Caption: "All other quantities", Head: head, Stacked: true, Folded: true}
	t := &first
	for _, q := range all {
		if strings.HasPrefix(q.Name, "max_C_") {
			t = &rest
		}
		t.Rows = append(t.Rows, []string{q.Name, quotedValue(q), q.Unit, q.Text})
	}
	return first, rest
}

// layerTable is layers.csv to be read.
func layerTable(r *thermal.Result) document.Table {
	t := document.Table{Caption: "Layers, " + sceneOf(r.Case).inwards, Head: []string{"layer"}}
	for _, c := range record.LayerColumns {
		t.Head = append(t.Head, c.Name)
	}
	for i, l := range r.Summary.Layers {
		name := l.Name
		switch c := r.Case.Layers[i]; {
		case c.Muscle:
			name += " (judged)"
		case c.Beyond:
			name += " (beyond)"
		}
		row := []string{name}
		for _, c := range record.LayerColumns {
			row = append(row, digits(c.Value(l)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func notesOf(notes []string) []document.Block {
	if len(notes) == 0 {
		return nil
	}
	return []document.Block{document.Text("Remarks of the program on this case:"), document.List(notes)}
}

// digested is what the checksums of a record say of the files today.
type digested struct {
	verdict string
	table   document.Table
}

func digests(dir string, outputs []record.Written) digested {
	t := document.Table{Caption: "Files of the run and their checksums (SHA-256)", Head: []string{"file", "checksum", "today"}, Folded: true, Stacked: true}
	changed, missing := 0, 0
	for _, o := range outputs {
		state := "the same"
		data, err := os.ReadFile(filepath.Join(dir, filepath.Base(o.File)))
		switch {
		case err != nil:
			state = "missing"
			missing++
		case record.Digest(data) != o.SHA256:
			state = "CHANGED"
			changed++
		}
		t.Rows = append(t.Rows, []string{o.File, o.SHA256, state})
	}
	v := fmt.Sprintf("all %d have the checksums of the record", len(outputs))
	if changed+missing > 0 {
		v = fmt.Sprintf("%d CHANGED and %d missing of %d", changed, missing, len(outputs))
	}
	return digested{v, t}
}

func versionOf(p record.Program) string {
	s := p.Version
	if p.Commit != "" {
		s += ", commit " + p.Commit + whenElse(p.Modified, " with changes", "")
	}
	return s
}

// runVersionSection says which program computed, and how to do it again.
func (b *dossier) runVersionSection(m record.Manifest, files document.Table) document.Section {
	p := m.Program
	rows := [][]string{
		{"program", p.Name + " " + versionOf(p)},
		{"built by, for", strings.TrimSpace(p.Go + ", " + p.OS + "/" + p.Arch + " " + p.Level)},
		{"command", strings.Join(m.Command, " ")},
		{"scenario file", m.Scenario.File}, {"its SHA-256", m.Scenario.SHA256},
		{"started, ended (UTC)", m.Start.Format("2006-01-02 15:04:05") + ", " + m.End.Format("2006-01-02 15:04:05")},
		{"host, processors", fmt.Sprintf("%s, %d", m.Host, m.CPUs)},
		{"this report by", "muralheat " + versionOf(record.Describe(b.Build))},
	}
	blocks := []document.Block{document.Table{Caption: "Version", Head: []string{"what", "value"}, Rows: rows, Stacked: true}}
	get := "go build -o muralheat ./cmd/muralheat"
	if isCommit(p.Commit) {
		get = "git checkout " + p.Commit + "\n" + get
	}
	if !isCommit(p.Commit) || p.Modified {
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
