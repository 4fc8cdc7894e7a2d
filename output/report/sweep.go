package report

import (
	"encoding/csv"
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
	"muralheat/scenarios/experiments"
	"muralheat/scenarios/stated"
	"muralheat/thermal"
)

// Planned is what a report of a sweep needs besides its table: the plan as it was read
// again, and the scenario that it varies.
type Planned struct {
	Question, ContextOfUse string // of the plan; "": that of the scenario
	Cases                  Cases  // that were computed
	Notes                  []string
	Plan, Scenario         []byte   // as written
	Set                    []string // key=value, in place of what the scenario says
	Digest                 string   // of what they mean to this program
	Journal                Journal
	Stated                 stated.Statement  // by the plan or its scenario, now
	Place                  experiments.Place // of the cases of its table
	Findings               []record.Finding  // of its table, compared with what the plan says of its cases
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
	ranges, residuals, err := resultRanges(dir, t)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	b := p.dossier(e, t.Title, func(key string) string {
		for _, in := range t.Inputs {
			if in.Key == key {
				return whenElse(in.Uncertain, "drawn by the plan", "varied by the plan")
			}
		}
		return ""
	})
	b.refined = t.Measured()
	b.ask(p.Question, p.ContextOfUse)

	figs := study.SweepFigures(chart.ForDocument, t)
	alt := map[string]string{
		"uncertainty": "Margin to the muscle with bands for the numerical error and for all that is uncertain.",
		"depth":       "Injury depth against what varies, with the layers in the background.", "margin": "Margin to the muscle, and injured share of it, against what varies.",
		"risk": "Probability that the injury reaches the muscle, with its 95 % interval.", "pairs": "Margin to the muscle of each draw with B against that with A.", "map": "Map over two settings, with the line where the muscle is reached.",
		"cut": "Speed of the cut against the injury left beside it.", "change": "Change of the outcome when one setting changes from its base value.",
		"sensitivity": "Rank correlation of the outcome with each input.", "change-risk": "Change of the probability that the muscle is reached when one setting changes from its base value.", "sensitivity-risk": "Rank correlation of reaching the muscle with each input.", "rise": "Temperature rise of the skin against what varies.", "cut-time": "Time to cut through against what varies.",
	}
	var results, hangs, uncertain []document.Block
	for _, f := range figs {
		block, err := embedded([]chart.Figure{f}, dir, at, alt)
		if err != nil {
			return nil, err
		}
		if f.Name == "uncertainty" {
			uncertain = block
		} else if strings.HasPrefix(f.Name, "change") || strings.HasPrefix(f.Name, "sensitivity") {
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
	sessions, err := b.ofSweep(dir, t, meta, p, cases)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	comparison, err := b.comparisonSection()
	if err != nil {
		return nil, err
	}
	var marked []document.Block
	if marks := record.MarksOf(t.Marks); marks != "" {
		marked = append(marked, document.Note{Label: "Belongs to numbers here", Text: marks + " The column " + record.MarksColumn + " says of which cases."})
	}
	return &document.Document{
		Title: "Credibility report: " + b.title, Caution: phrase.Caution,
		Lead:    fmt.Sprintf("A sweep of %d cases by muralheat %s. %s.%s", t.Cases, meta.Program, cases, varied(t)),
		Differs: len(differ(b.findings)) > 0,
		Sections: []document.Section{
			{ID: "result", Title: "Result in short", Blocks: slices.Concat(riskBlocks(t), pointBlocks(t), []document.Block{
				document.Lead(inShort(t))}, marked, headline(t), b.box("sweep"), limitedNotes(t), []document.Block{b.inShort([]string{"Self-checks", cases}), ranges}, results, leftOutNotes(t))},
			b.contextSection("the plan"),
			b.equationsSection(),
			b.geometrySection(b.each(func(c *thermal.Case) string { return c.Grid().Geometry.String() })),
			b.propertiesSection(),
			b.boundariesSection(),
			b.driveSection(),
			{ID: "design", Title: "What varies", Blocks: []document.Block{inputTable(t), document.Text(fmt.Sprintf("%d points%s, %d cases.", meta.Points, whenElse(t.Draws > 1, fmt.Sprintf(", %d draws at each", t.Draws), ""), t.Cases)),
				document.Text(fmt.Sprintf("The sections on equations, geometry, properties, conditions and drive are those of cases with a result, %d of %d: where they differ, from the least to the largest value.", len(b.cases), t.Cases)),
				document.Code{Label: "Plan as it was written, with ranges and distributions of uncertain keys", Text: string(p.Plan)}}},
			{ID: "discretisation", Title: "Discretisation and self-checks", Blocks: []document.Block{settingsTable(b.settings, "numerics", "Numerical settings"), residuals}},
			b.verificationSection(),
			{ID: "numerical-uncertainty", Title: "Numerical uncertainty", Blocks: uncertaintyBlocks(t, b.c, uncertain)},
			{ID: "sensitivity", Title: "Sensitivity", Blocks: hangs},
			comparison,
			b.factorsSection(),
			b.limitsSection(),
			sweepVersionSection(meta, p, b, sessions),
		}}, nil
}

// dossier begins the report of what is planned; how says what the plan does with a key, "" of keys that it leaves alone.
func (p *Planned) dossier(e Evidence, title string, how func(key string) string) *dossier {
	return &dossier{Evidence: e, title: title, settings: p.Cases.Settings(how), c: p.Cases.all[0], cases: p.Cases.all, notes: p.Notes}
}

// varied says what differs between the cases, and from where to where.
func varied(t *study.SweepTable) string {
	var words []string
	for _, row := range inputTable(t).Rows {
		words = append(words, strings.TrimSpace(fmt.Sprintf("%s %s %s", row[0], row[3], row[1])))
	}
	if len(words) == 0 {
		return ""
	}
	return " What varies: " + strings.Join(words, "; ") + "."
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

// sensitivityTables are the figures of what the outcomes hang on, in numbers.
func sensitivityTables(t *study.SweepTable) (blocks []document.Block) {
	if !t.Has(t.Outcome().Column) {
		return nil
	}
	s := t.Shape()
	for _, out := range t.Sensitive() {
		if s.Design == study.OneAtATime {
			if rows, base, ok := s.Changes(out); ok {
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
		if rows, says := s.Correlations(out); len(rows) > 0 {
			table := document.Table{Caption: says, Head: []string{"input", "rank correlation", "least and largest of the points", "taken over", "chance alone in 19 of 20 times", "p, not adjusted"}, Stacked: true}
			for _, r := range rows {
				e := r.Effects[0]
				table.Rows = append(table.Rows, []string{r.Name, fmt.Sprintf("%+.2f", e.Size), fmt.Sprintf("%+.2f, %+.2f", e.Low, e.High), r.Over, fmt.Sprintf("±%.2f", r.Chance), fmt.Sprintf("%.2g", r.P)})
			}
			blocks = append(blocks, table, document.Text(fmt.Sprintf("Chance, and how often it gives as much or more (p), by permutation: of the points for settings, of the draws, alike at all points, for what is uncertain. Each is for one input alone, not adjusted for there being %d.", len(rows))))
		}
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
