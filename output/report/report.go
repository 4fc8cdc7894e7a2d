package report

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"

	"muralheat/output/chart"
	"muralheat/output/document"
	"muralheat/output/figures"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
)

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
	files := []record.File{{Name: ReportNames[0], Data: page}, {Name: ReportNames[1], Data: d.Markdown()}}
	for _, s := range d.Sections {
		for _, block := range s.Blocks {
			if f, ok := block.(document.Figure); ok && f.Link == measuredName { // it is in no folder yet
				files = append(files, record.File{Name: measuredName, Data: f.SVG})
			}
		}
	}
	for _, f := range files {
		path := filepath.Join(at, f.Name)
		if err := record.Replace(path, f.Data); err != nil {
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
	b := &dossier{Evidence: e, title: r.Case.Title, settings: m.Settings, c: r.Case, cases: []*thermal.Case{r.Case}, notes: m.Notes}
	b.ask("", "")
	alt := map[string]string{
		"wall":       sceneOf(r.Case).shown + " " + answerTold(r.Case, m),
		"timecourse": "Time course: temperatures at the borders of the layers, power, resistance and depth of injury.",
	}
	maps.Copy(alt, sceneOf(r.Case).figures)
	drawn, err := embedded(figures.Of(chart.ForDocument, r, record.Certain(m.Refined)...), dir, at, alt)
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
	if err := b.ofRun(dir, m, r); err != nil {
		return nil, err
	}
	comparison, err := b.comparisonSection()
	if err != nil {
		return nil, err
	}
	short := b.inShort([]string{"Self-checks of this run", b.balances})
	d := &document.Document{
		Title: "Credibility report: " + b.title, Caution: phrase.Caution,
		Lead:    fmt.Sprintf("A run of %s %s, computed on %s UTC. %s", m.Program.Name, versionOf(m.Program), m.Start.Format("2006-01-02 15:04:05"), strings.Join(phrase.Setting(r), ", ")+"."),
		Differs: len(differ(b.findings)) > 0,
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
	answer = append(answer, b.box("run")...)
	answer = append(answer, short, first, drawn[0], layerTable(r), rest)
	answer = append(answer, notesOf(b.notes)...)
	d.Sections = []document.Section{
		{ID: "result", Title: "Result in short", Blocks: answer},
		b.contextSection(m.Scenario.File),
		b.equationsSection(),
		b.geometrySection(r.Mesh.Geometry.String()),
		b.propertiesSection(),
		b.boundariesSection(),
		b.driveSection(append([]document.Block{deliveredTable(m.Summary)}, drawn[1:]...)...),
		{ID: "discretisation", Title: "Discretisation and self-checks", Blocks: []document.Block{meshTable(m, r), settingsTable(b.settings, "numerics", "Numerical settings"), selfCheckTable(m.Checks)}},
		b.verificationSection(),
		{ID: "numerical-uncertainty", Title: "Numerical uncertainty", Blocks: numerical},
		sensitivitySection(m, dir, at),
		comparison,
		b.factorsSection(),
		b.limitsSection(),
		b.runVersionSection(m, digests(dir, m.Outputs)),
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
