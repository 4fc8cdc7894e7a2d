package report

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"muralheat/output/chart"
	"muralheat/output/document"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios/batch"
	"muralheat/thermal"
)

// Planned is what a report of a sweep needs besides its table: the plan as it was read
// again, and the scenario that it varies.
type Planned struct {
	Question, ContextOfUse string       // of the plan; "": that of the scenario
	Case                   thermal.Case // of the scenario as it stands
	Settings               []record.Setting
	Notes                  []string
	Plan, Scenario         []byte   // as written
	Set                    []string // key=value, in place of what the scenario says
	Digest                 string   // of what they mean to this program
	Journal                Journal
}

// Journal is what the journal of a sweep says beside its record.
type Journal struct {
	batch.Inspection
	None bool // there is no journal
}

// SweepReport makes the credibility report of the sweep in dir; links to its figures are
// seen from the folder at.
func SweepReport(dir, at string, p Planned, e Evidence) (*document.Document, error) {
	t, err := study.ReadSweep(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	meta, err := readSweepMeta(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	kept, changed, err := meta.sinceThen(dir, p)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	ranges, residuals, err := resultRanges(dir, t)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	b := &dossier{Evidence: e, title: t.Title, settings: p.Settings, c: &p.Case, notes: p.Notes}
	b.ask(p.Question, p.ContextOfUse)

	figs := study.SweepFigures(t)
	alt := map[string]string{
		"depth": "Injury depth against what varies, with the layers in the background.", "margin": "Margin to the muscle, and injured share of it, against what varies.",
		"risk": "Probability that the injury reaches the muscle, with its 95 % interval.", "map": "Map over two settings, with the line where the muscle is reached.",
		"cut": "Speed of the cut against the injury left beside it.", "change": "Change of the outcome when one setting changes from its base value.",
		"sensitivity": "Rank correlation of the outcome with each input.", "rise": "Temperature rise of the skin against what varies.", "cut-time": "Time to cut through against what varies.",
	}
	var results, hangs []document.Block
	for _, f := range figs {
		block, err := embedded([]chart.Figure{f}, dir, at, alt)
		if err != nil {
			return nil, err
		}
		if f.Name == "change" || f.Name == "sensitivity" {
			hangs = append(hangs, block...)
		} else {
			results = append(results, block...)
		}
	}
	hangs = append(hangs, sensitivityTables(t)...)
	b.sensitive = len(hangs) > 0
	if !b.sensitive {
		hangs = []document.Block{document.Note{Label: "Not computed", Text: "This plan varies settings together or over too few values, so the influence of a single one cannot be given. A plan with design: one-at-a-time, or with uncertain keys and at least 8 draws, shows it."}}
	}
	cases := fmt.Sprintf("%d of %d cases passed their self-checks, %d failed, %d doubtful", len(t.Point), t.Cases, t.Failed, t.Doubtful)
	var answer []document.Block
	if changed {
		answer = append(answer, document.Note{Label: "Changed since the sweep", Text: kept + ". Do not use this report: compute the sweep again."})
	}
	c := b.c
	setup := phrase.Setting(&thermal.Result{Case: c, Summary: thermal.Summary{MeanPowerW: c.Drive.PowerW, CurrentRMSA: c.Drive.CurrentA}})[0]
	return &document.Document{
		Title: "Credibility report: " + b.title, Caution: phrase.Caution,
		Lead: fmt.Sprintf("A sweep of %d cases by muralheat %s. %s. Scenario varied: %s.", t.Cases, meta.Program, cases, setup),
		Sections: []document.Section{
			{ID: "result", Title: "Result in short", Blocks: slices.Concat(answer, []document.Block{
				document.Lead(inShort(t))}, limitedNotes(t), []document.Block{b.inShort([]string{"Self-checks", cases}, []string{"Files since the sweep", kept}), ranges}, results, leftOutNotes(t))},
			b.contextSection("the plan"),
			b.equationsSection(),
			b.geometrySection(&c.Domain, "of the scenario as it stands, "+c.Grid().Geometry.String()),
			b.propertiesSection(),
			b.boundariesSection(),
			b.driveSection(),
			{ID: "design", Title: "What varies", Blocks: []document.Block{inputTable(t), document.Text(fmt.Sprintf("%d points%s, %d cases.", meta.Points, whenElse(t.Draws > 1, fmt.Sprintf(", %d draws at each", t.Draws), ""), t.Cases)),
				document.Text("The sections on equations, geometry, properties, conditions and drive show the scenario as written; in each case the settings above replace its own."),
				document.Code{Label: "Plan as it was written, with ranges and distributions of uncertain keys", Text: string(p.Plan)}}},
			{ID: "discretisation", Title: "Discretisation and self-checks", Blocks: []document.Block{settingsTable(b.settings, "numerics", "Numerical settings of the scenario"), residuals}},
			b.verificationSection(),
			{ID: "numerical-uncertainty", Title: "Numerical uncertainty", Blocks: []document.Block{
				document.Note{Label: "Not computed", Text: "Each case was computed on one mesh. Write the decisive case as a scenario and compute it on three meshes:"},
				document.Code{Label: "With that scenario", Text: "muralheat run --refine -o FOLDER scenario.yaml\nmuralheat report FOLDER\n"},
				document.Text(elsewhere(c) + " Differences between cases that are smaller than their numerical error mean nothing.")}},
			{ID: "sensitivity", Title: "Sensitivity", Blocks: hangs},
			b.comparisonSection(),
			b.factorsSection(),
			b.limitsSection(),
			sweepVersionSection(meta, p, b),
		}}, nil
}

// inShort is the range of what the cases are judged by.
func inShort(t *study.SweepTable) string {
	out := t.Outcome()
	v := slices.DeleteFunc(slices.Clone(t.Column[out.Column]), math.IsNaN)
	if len(v) == 0 {
		return "No case has a result that can be shown."
	}
	slices.Sort(v)
	return fmt.Sprintf("%s of %d cases: %s to %s %s, median %s %s.", phrase.Capital(out.Name), len(v), phrase.Short(v[0]), phrase.Short(v[len(v)-1]), out.Unit, phrase.Short(study.Quantile(v, 0.5)), out.Unit)
}

// limitedNotes says which cases got less than was set.
func limitedNotes(t *study.SweepTable) []document.Block {
	lines := t.Limited()
	if lines == nil {
		return nil
	}
	return []document.Block{document.Text(lines[0]), document.List(lines[1:])}
}

func leftOutNotes(t *study.SweepTable) []document.Block {
	var out []document.Block
	for _, s := range t.LeftOut() {
		out = append(out, document.Note{Label: "Left out", Text: s})
	}
	for _, s := range t.MissingDraws() {
		out = append(out, document.Note{Label: "Missing draws", Text: s})
	}
	return out
}

// sweepMeta is the part of sweep.json that only reports need.
type sweepMeta struct {
	Program string `json:"program"`
	Digest  string `json:"digest"`
	Points  int    `json:"points"`
	SHA256  string `json:"results_sha256"` // of the table
}

// sinceThen says what of a sweep's folder is no longer what was computed.
func (m sweepMeta) sinceThen(dir string, p Planned) (verdict string, changed bool, err error) {
	table, err := os.ReadFile(filepath.Join(dir, study.ResultName))
	if err != nil {
		return "", false, err
	}
	var told []string
	say := func(when, alters bool, text string, args ...any) {
		if when {
			told, changed = append(told, fmt.Sprintf(text, args...)), changed || alters
		}
	}
	sum, j := record.Digest(table), p.Journal
	say(m.SHA256 == "", false, "no checksum of results.csv in the record")
	say(m.SHA256 != "" && m.SHA256 != sum, true, "results.csv was CHANGED")
	say(m.Digest != p.Digest, true, "plan.yaml or scenario.yaml does not describe what was computed: CHANGED, or read differently by this version of the program")
	say(j.None, false, "no journal, so that the table cannot be compared with what was computed")
	say(j.Foreign > 0, true, "%d lines of the journal are of another plan, scenario or program: CHANGED", j.Foreign)
	say(j.Missing > 0, true, "%d cases are not in the journal", j.Missing)
	say(j.SHA256 != "" && j.SHA256 != sum, true, "results.csv is not the table that the journal makes: CHANGED")
	say(j.Damaged > 0, false, "%d damaged lines of the journal count for nothing", j.Damaged)
	if told == nil {
		return "table, plan, scenario and journal agree with the record", false, nil
	}
	return strings.Join(told, "; "), changed, nil
}

func readSweepMeta(dir string) (m sweepMeta, err error) {
	data, err := os.ReadFile(filepath.Join(dir, study.SweepName))
	if err != nil {
		return m, err
	}
	return m, json.Unmarshal(data, &m)
}

// inputTable lists what differs between cases.
func inputTable(t *study.SweepTable) document.Table {
	out := document.Table{Caption: "Inputs", Head: []string{"key", "unit", "kind", "values in the table"}, Stacked: true}
	for n, in := range t.Inputs {
		kind := "varied"
		if in.Uncertain {
			kind = "uncertain, drawn"
		}
		var words []string
		least, most := math.NaN(), math.NaN()
		for r := range t.Point {
			if v := t.InputCells[n].Number[r]; !math.IsNaN(v) {
				least, most = min(v, record.OrElse(least, v)), max(v, record.OrElse(most, v))
				if w := digits(v); !in.Uncertain && len(words) < 13 && !slices.Contains(words, w) {
					words = append(words, w)
				}
			} else if w := t.InputCells[n].Text(r); len(words) < 13 && !slices.Contains(words, w) {
				words = append(words, w)
			}
		}
		values := strings.Join(words, ", ")
		if in.Uncertain || len(words) > 12 {
			values = digits(least) + " to " + digits(most)
		}
		out.Rows = append(out.Rows, []string{in.Key, phrase.UnitText(in.Unit), kind, values})
	}
	return out
}

// sensitivityTables are the figures of what the outcome hangs on, in numbers.
func sensitivityTables(t *study.SweepTable) []document.Block {
	out := t.Outcome()
	if !t.Has(out.Column) {
		return nil
	}
	s := t.Shape()
	var blocks []document.Block
	if s.Design == study.OneAtATime {
		if rows, base, ok := s.Changes(); ok {
			table := document.Table{Caption: fmt.Sprintf("Change of the %s from the base, %.2f %s", out.Name, base, out.Unit), Head: []string{"setting", "to", "change", "unit"}, Stacked: true}
			for _, r := range rows {
				for _, e := range r.Effects {
					table.Rows = append(table.Rows, []string{r.Name, e.Name, fmt.Sprintf("%+.3f", e.Size), out.Unit})
				}
				if len(r.Effects) == 0 {
					table.Rows = append(table.Rows, []string{r.Name, "any of its values", "0", out.Unit})
				}
			}
			blocks = append(blocks, table)
		}
	}
	if rows, says := s.Correlations(); len(rows) > 0 {
		table := document.Table{Caption: says, Head: []string{"input", "rank correlation", "least and largest of the points", "taken over", "chance alone in 19 of 20 times", "p, not adjusted"}, Stacked: true}
		for _, r := range rows {
			e := r.Effects[0]
			table.Rows = append(table.Rows, []string{r.Name, fmt.Sprintf("%+.2f", e.Size), fmt.Sprintf("%+.2f, %+.2f", e.Low, e.High), r.Over, fmt.Sprintf("±%.2f", r.Chance), fmt.Sprintf("%.2g", r.P)})
		}
		blocks = append(blocks, table, document.Text(fmt.Sprintf("Chance, and how often it gives as much or more (p), by permutation: of the points for settings, of the draws, alike at all points, for what is uncertain. Each is for one input alone, not adjusted for there being %d.", len(rows))))
	}
	return blocks
}

// resultRanges reads the range of every result over the cases that passed, and the worst
// residuals of all.
func resultRanges(dir string, t *study.SweepTable) (ranges, residuals document.Table, err error) {
	f, err := os.Open(filepath.Join(dir, study.ResultName))
	if err != nil {
		return ranges, residuals, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	header, err := r.Read()
	if err != nil {
		return ranges, residuals, err
	}
	status := slices.Index(header, "status")
	values := make([][]float64, len(header))
	worst := map[string]float64{"energy_residual_percent": 0, "source_residual_percent": 0, "water_residual_percent": 0, "charge_residual_percent": 0}
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return ranges, residuals, err
		}
		for i, name := range header {
			v := record.Parsed(row[i])
			if w, ok := worst[name]; ok && !math.IsNaN(v) {
				worst[name] = max(w, math.Abs(v))
			}
			if row[status] == "ok" && !math.IsNaN(v) {
				values[i] = append(values[i], v)
			}
		}
	}
	ranges = document.Table{Caption: "Range of each result over the cases that passed", Head: []string{"quantity", "least", "median", "largest", "unit", "cases", "what it is"}, Stacked: true, Folded: true}
	for i, name := range header {
		n := slices.IndexFunc(t.Columns, func(c study.SweepColumn) bool { return c.Name == name })
		if n < 0 || len(values[i]) == 0 {
			continue
		}
		v := values[i]
		slices.Sort(v)
		ranges.Rows = append(ranges.Rows, []string{name, digits(v[0]), digits(study.Quantile(v, 0.5)), digits(v[len(v)-1]), t.Columns[n].Unit, fmt.Sprint(len(v)), t.Columns[n].Text})
	}
	residuals = document.Table{Caption: "Self-checks of the cases", Head: []string{"check", "worst of all cases", "limit", "unit"}, Stacked: true, Rows: [][]string{
		{"energy balance", fmt.Sprintf("%.2g", worst["energy_residual_percent"]), digits(100 * record.EnergyLimit), "%"},
		{"energy from the source", fmt.Sprintf("%.2g", worst["source_residual_percent"]), digits(100 * record.EnergyLimit), "%"},
		{"water balance", fmt.Sprintf("%.2g", worst["water_residual_percent"]), digits(100 * record.WaterLimit), "%"},
		{"charge balance", fmt.Sprintf("%.2g", worst["charge_residual_percent"]), digits(100 * record.ChargeLimit), "%"},
		{"cases failed", fmt.Sprint(t.Failed), "", ""}, {"cases doubtful", fmt.Sprint(t.Doubtful), "0", ""},
	}}
	return ranges, residuals, nil
}

func sweepVersionSection(m sweepMeta, p Planned, b *dossier) document.Section {
	set := ""
	for _, x := range p.Set {
		set += "--set '" + strings.ReplaceAll(x, "'", `'\''`) + "' "
	}
	return document.Section{ID: "version", Title: "Version and how to compute it again", Blocks: []document.Block{
		document.Table{Caption: "Version", Head: []string{"what", "value"}, Stacked: true, Rows: [][]string{
			{"program", "muralheat " + m.Program}, {"digest of the plan", m.Digest},
			{"SHA-256 of plan.yaml", record.Digest(p.Plan)}, {"SHA-256 of scenario.yaml", record.Digest(p.Scenario)},
			{"this report by", "muralheat " + versionOf(record.Describe(b.Build))}}},
		document.Code{Label: "To compute it again, in the folder of this sweep", Text: "sed 's/^scenario:.*/scenario: scenario.yaml/' plan.yaml > again.yaml\nmuralheat sweep " + set + "-o again again.yaml\ncmp results.csv again/results.csv\n"},
		document.Text("The table then has the same bytes on the same kind of processor with the same program, for any number of workers and in slices or not; on another kind of processor, or level of it (GOAMD64), it differs by rounding, and by more where tissue dries (muralheat guide accuracy says how much)."),
		document.Code{Label: "Scenario varied, as it was written", Text: string(p.Scenario), Folded: true},
	}}
}
