package report

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"

	"muralheat/output/document"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// Sections that reports of a run and of a sweep share.

// inShort says what evidence there is and what is missing.
func (b *dossier) inShort(first ...[]string) document.Table {
	rows := append(slices.Clone(first), []string{"Question and context of use", whenElse(b.question != "" && b.use != "", "stated", "NOT stated in full")})
	failed, all := record.Failed(b.Verified)
	inside := 0
	for _, c := range b.Compared {
		if c.Inside() {
			inside++
		}
	}
	rows = append(rows,
		[]string{"Code verification", fmt.Sprintf("%d of %d checks against closed-form solutions, standards and published tables hold", all-len(failed), all)},
		[]string{"Numerical uncertainty", whenElse(b.refined != "", b.refined, "not computed")},
		[]string{"Sensitivity", whenElse(b.sensitive, "computed", "not computed")},
		[]string{"Comparison with experiments", fmt.Sprintf("%d of %d published values within twice the combined spread; none of them is this case", inside, len(b.Compared))})
	return document.Table{Caption: "Evidence at hand", Head: []string{"evidence", "state"}, Rows: rows, Stacked: true}
}

func (b *dossier) contextSection(file string) document.Section {
	blocks := []document.Block{}
	for _, x := range []struct{ name, text, key, instead string }{
		{"Question of interest", b.question, "question", fmt.Sprintf("The title says: %s", b.title)},
		{"Context of use", b.use, "context_of_use", "The default is research and teaching, to compare settings of the model with each other"},
	} {
		if x.text != "" {
			blocks = append(blocks, document.Text(x.name+": "+x.text))
			continue
		}
		blocks = append(blocks, document.Note{Label: x.name + " not stated in the scenario", Text: fmt.Sprintf("%s. To state it, add the key %s to %s.", x.instead, x.key, file)})
	}
	blocks = append(blocks,
		document.Text("This model must not be used to choose or change a setting for a patient, to certify a device, or to replace bench or animal data."),
		document.Note{Label: "For the reader to judge", Text: "Model risk combines the influence of the model on a decision with the consequence of a wrong decision (ASME V&V 40-2018; FDA guidance on the credibility of computational models, November 2023). The program does not know the decision. How much evidence is enough depends on that risk."})
	return document.Section{ID: "context", Title: "Question and context of use", Blocks: blocks}
}

func (b *dossier) equationsSection() document.Section {
	return document.Section{ID: "equations", Title: "Equations and assumptions in force", Blocks: []document.Block{
		equations(b.c), settingsTable(b.settings, "laws", "Constants and switches of the equations"),
		document.Text("Assumptions that no setting changes:"), structure(b.c), assumptions(b.settings)}}
}

func (b *dossier) geometrySection(d *thermal.Domain, geometry string) document.Section {
	t := document.Table{Caption: "Layers as computed, " + sceneOf(b.c).inwards + " (of a stretched, lifted or compressed wall: as it is then)", Head: []string{"layer", "top mm", "bottom mm", "thickness mm", "role"}}
	z := 0.0
	for _, l := range b.c.Layers {
		if l.Above {
			z -= l.ThicknessM
		}
	}
	for _, l := range b.c.Layers {
		role := sceneOf(b.c).layer
		switch {
		case l.Muscle:
			role = "muscle, whose injury is judged"
		case l.Beyond:
			role = "beyond the outer surface"
		case l.Above:
			role = fmt.Sprintf("above the wall, radius %s mm", digits(1e3*l.RadiusM))
		}
		t.Rows = append(t.Rows, []string{l.Name, digits(1e3 * z), digits(1e3 * (z + l.ThicknessM)), digits(1e3 * l.ThicknessM), role})
		z += l.ThicknessM
	}
	around := fmt.Sprintf("outer radius %s mm", digits(1e3*d.RadiusM))
	if b.c.Motion.Moving() && sceneOf(b.c).along || d.ThreeD {
		around = fmt.Sprintf("%s mm ahead of, behind and beside the track", digits(1e3*d.RadiusM))
	}
	blocks := []document.Block{document.Text(fmt.Sprintf("Computed part of the body: %s, %s, %s mm deep in all.", geometry, around, digits(1e3*z))),
		t, settingsTable(b.settings, "geometry", "Wall, electrode, motion and domain")}
	return document.Section{ID: "geometry", Title: "Geometry", Blocks: blocks}
}

func (b *dossier) propertiesSection() document.Section {
	return document.Section{ID: "properties", Title: "Properties with sources", Blocks: append(propertyTables(b.settings),
		document.Text("Ranges, species and confidence of each number of the library: muralheat tissues."))}
}

func (b *dossier) boundariesSection() document.Section {
	c := b.c
	edge := func(e thermal.Edge) string {
		switch e {
		case thermal.Grounded:
			return "zero potential"
		case thermal.Insulated:
			return "no current passes"
		}
		return "open: the body goes on, the potential falls as 1/distance"
	}
	bottom, below := edge(c.Domain.Bottom), fmt.Sprintf("%s °C", digits(c.Body.TemperatureC))
	if !c.Layers[len(c.Layers)-1].Beyond {
		bottom, below = "no current passes", fmt.Sprintf("h = %s W/(m² K) to %s °C", digits(c.Beyond.HeatTransferWM2K), digits(c.Beyond.TemperatureC))
	}
	rows := [][]string{
		{"electrode", "one potential over its contact, set so that the source holds its quantity", metalWords(c.Electrode)},
		{sceneOf(c).surface, "no current passes", fmt.Sprintf("h = %s W/(m² K) to %s °C", digits(c.Lumen.HeatTransferWM2K), digits(c.Lumen.TemperatureC))},
		{"side of the domain", edge(c.Domain.Side), "no heat passes"},
		{"bottom of the domain", bottom, below},
		{"start", "no current", whenElse(c.Rest, "balance of body, blood and surroundings", fmt.Sprintf("%s °C everywhere", digits(c.Body.TemperatureC)))},
	}
	return document.Section{ID: "boundaries", Title: "Boundary and initial conditions", Blocks: []document.Block{
		document.Table{Caption: "Conditions", Head: []string{"where", "electric", "thermal"}, Rows: rows, Stacked: true},
		settingsTable(b.settings, "boundaries", "Their values"),
		document.Text("The size of the computed part of the body is an assumption; muralheat guide results shows what it changes in an example. To test it for this case, double domain.radius_mm and compare.")}}
}

func (b *dossier) driveSection(more ...document.Block) document.Section {
	d := b.c.Drive
	rows := [][]string{{"what is held", phrase.Given(d)}, {"duty cycle of the bursts", digits(100*d.DutyCycle) + " %"}, {"frequency", digits(d.FrequencyHz/1e3) + " kHz"}}
	if d.DutyCycle > 0 {
		rows = append(rows, []string{"crest factor of a gated sine, sqrt(2/duty cycle)", digits(math.Sqrt(2 / d.DutyCycle))})
	}
	if ohm := d.Path.SeriesOhm; ohm > 0 {
		rows = append(rows, []string{"in series between terminals and electrode", digits(ohm) + " ohm"})
	}
	if lost := d.Path.LostShare; lost > 0 {
		rows = append(rows, []string{"lost beside the tissue, of the power at the terminals", digits(100*lost) + " %"})
	}
	blocks := append([]document.Block{document.Table{Caption: "Source", Head: []string{"what", "value"}, Rows: rows, Stacked: true},
		settingsTable(b.settings, "drive", "Its settings")}, more...)
	blocks = append(blocks, document.Text(onDelivered(d)))
	return document.Section{ID: "drive", Title: "Drive", Blocks: blocks}
}

// onDelivered says what stands between a setting and what is delivered.
func onDelivered(d drive.Drive) string {
	text := "Delivered means into the tissue. The output of a generator may differ from what is disclosed by " + digits(100*drive.OutputTolerance) + " % (" + drive.OutputClause + "). "
	if d.Path.Loses() {
		return text + "What is set counts at the terminals; what leads take is in the table. Compare settings on delivered energy."
	}
	return text + "Nothing is lost between terminals and electrode in this scenario (series_ohm, lost_percent), which leads do. Compare settings on delivered energy."
}

func (b *dossier) verificationSection() document.Section {
	failed, all := record.Failed(b.Verified)
	sum := document.Table{Caption: "Groups of checks", Head: []string{"group", "hold", "of", "share of tolerance used", "unit"}, Stacked: true}
	full := document.Table{Caption: fmt.Sprintf("All %d checks", all), Head: []string{"id", "what", "expected", "ours", "differ by", "tolerance", "unit", "verdict", "source"}, Folded: true, Stacked: true}
	for _, g := range b.Verified {
		bad, near := 0, 0.0
		for _, c := range g.Checks {
			if !c.OK() {
				bad++
			}
			differ := math.Abs(c.Ours - c.Expected)
			near = max(near, 100*differ/c.Tolerance)
			full.Rows = append(full.Rows, []string{c.ID, c.What, record.Six(c.Expected), record.Six(c.Ours), record.Two(differ), record.Two(c.Tolerance), record.UnitOf(c), record.VerdictOf(c), c.Source})
		}
		sum.Rows = append(sum.Rows, []string{g.Group, fmt.Sprint(len(g.Checks) - bad), fmt.Sprint(len(g.Checks)), fmt.Sprintf("%.0f", near), "%"})
	}
	var blocks []document.Block
	if len(failed) > 0 {
		blocks = append(blocks, document.Note{Label: "Differ", Text: fmt.Sprintf("%d checks differ by more than their tolerance. Do not use results of this program until the reason is known.", len(failed))})
	}
	blocks = append(blocks,
		document.Text(fmt.Sprintf("For this report muralheat %s ran the solver on problems with known answers: %d of %d checks hold. The first table gives, for each group, the largest share of its tolerance that a check uses; the second gives every check with its tolerance. Observed orders of accuracy are in the group of that name.", versionOf(record.Describe(b.Build)), all-len(failed), all)),
		sum, full,
		document.Text("A test also compares four complete cases with finite elements computed by two other programs (testdata/reference). It allows 0.05 mm of depth and, where nothing boils, 1.5 % of the temperature rise, or 3 % around a needle two cells thick. Where tissue boils it allows, at quality fine, 5 % of energy and resistance and 10 % of the temperature rise. DEVELOPERS.md lists the differences found."))
	return document.Section{ID: "code-verification", Title: "Code verification", Blocks: blocks}
}

// refinement reads what run --refine leaves.
func refinement(dir string, c *thermal.Case, statement string) ([]document.Block, bool, error) {
	data, err := os.ReadFile(filepath.Join(dir, record.RefineName))
	if errors.Is(err, fs.ErrNotExist) {
		return []document.Block{
			document.Note{Label: "Not computed", Text: "This case was computed on one mesh. The command below computes it on three meshes, with time steps to match, and gives observed order, extrapolated value and grid convergence index of each quantity (Celik and others 2008, J Fluids Eng 130:078001)."},
			document.Code{Label: "In the folder of this run", Text: "muralheat run --refine -o refined scenario.yaml\nmuralheat report refined\n"},
			document.Text(elsewhere(c) + " This case may behave differently."),
		}, false, nil
	}
	if err != nil {
		return nil, false, fmt.Errorf("output: %w", err)
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(rows) < 2 {
		return nil, false, fmt.Errorf("output: %s: no table of refined quantities: %v", filepath.Join(dir, record.RefineName), err)
	}
	first := document.Table{Caption: "What matters most, on three meshes", Head: rows[0], Stacked: true}
	all := document.Table{Caption: "Every quantity on three meshes", Head: rows[0], Folded: true, Stacked: true}
	for _, r := range rows[1:] {
		row := make([]string, len(r))
		for i, cell := range r {
			row[i] = record.Unguarded(cell)
			if v := record.Parsed(cell); !math.IsNaN(v) {
				row[i] = digits(v)
			}
		}
		if r[0] == record.MainColumn(c) || r[0] == record.DepthColumn || r[0] == record.MarginColumn {
			first.Rows = append(first.Rows, row)
		}
		all.Rows = append(all.Rows, row)
	}
	var blocks []document.Block
	if statement != "" {
		blocks = append(blocks, document.Lead(phrase.Capital(statement)+"."))
	}
	return append(blocks,
		document.Text("The case was computed on three meshes, with steps, tolerances and growth of cells to match. The tables give the observed order, the value extrapolated to vanishing cells, and the grid convergence index of the reported value (GCI, safety factor 1.25; Celik and others 2008, J Fluids Eng 130:078001; Roache 1994, J Fluids Eng 116:405; both from memory)."),
		document.Text("The uncertainty, in the unit of the quantity, is that index with the order taken as at most 1. If no order can be given (order unsure: below 0.5, above 3, or towards an impossible value), the uncertainty is 3 times the distance to the value that order 1 gives. If values go up and down (oscillates), it is 3 times their spread. What is read at the rim of the metal has no limit as cells shrink, and is marked as dependent on the mesh. All this concerns cells and steps only, not the model or its inputs."),
		first, all), true, nil
}

func (b *dossier) comparisonSection() document.Section {
	s := document.Section{ID: "comparison", Title: "Comparison with published experiments"}
	var sources, whys []string
	number := func(list *[]string, text string) int {
		n := slices.Index(*list, text)
		if n < 0 {
			n = len(*list)
			*list = append(*list, text)
		}
		return n + 1
	}
	t := document.Table{Caption: "Published values and the model", Head: []string{"part", "measured", "published", "ours", "unit", "residual", "inside", "why it may miss", "source"}, Stacked: true, Folded: true}
	missed := document.Table{Caption: "Why the model may miss a value", Head: []string{"no.", "reason"}, Stacked: true, Folded: true}
	inside := 0
	for _, c := range b.Compared {
		why, verdict := "", "yes"
		if c.Inside() {
			inside++
		} else {
			why, verdict = fmt.Sprintf("(%d)", number(&whys, c.Why)), "MISSED"
		}
		t.Rows = append(t.Rows, []string{c.Part, c.Measured, plain(c.Mean) + " ± " + plain(c.SD), plain(c.Ours) + " ± " + plain(c.OursSD), c.Unit,
			fmt.Sprintf("%.1f", c.Residual), verdict, why, fmt.Sprintf("[%d]", number(&sources, c.Source))})
	}
	for n, w := range whys {
		missed.Rows = append(missed.Rows, []string{fmt.Sprintf("(%d)", n+1), w})
	}
	refs := document.Table{Caption: "Sources of the experiments", Head: []string{"no.", "source"}, Stacked: true}
	for n, w := range sources {
		refs.Rows = append(refs.Rows, []string{fmt.Sprintf("[%d]", n+1), w})
	}
	s.Blocks = []document.Block{
		document.Text(fmt.Sprintf("Each published experiment is compared with a scenario that stands for it; what a paper leaves open is drawn from ranges. The values were computed with this version of the program and are stored in it. %d of %d values are inside: within twice the combined spread of the measurement, the open inputs and the mesh. The residual is the difference in units of that spread. Constants may be fitted to experiments of part “fit”, never to those of part “apart”.", inside, len(b.Compared))),
		document.List(b.Scores),
		document.Text("None of these experiments is the case of this report. The reader must judge how close they come in tissue, electrode, current and time. Compare depths between settings of the model; do not take them for those of an animal."),
		t, refs, missed}
	return s
}

func (b *dossier) factorsSection() document.Section {
	return document.Section{ID: "factors", Title: "Credibility factors", Blocks: []document.Block{factors(b)}}
}

func (b *dossier) limitsSection() document.Section {
	return document.Section{ID: "limits", Title: "Limits and cautions", Blocks: []document.Block{
		document.Note{Label: "Caution", Text: phrase.Caution}, limits(b.c),
		document.Text("If a result goes into the documentation of a device, risk management (ISO 14971) and the software life cycle (IEC 62304) must be covered there. This program has no software safety class.")}}
}

// metalWords says where heat goes at the contact.
func metalWords(e thermal.Electrode) string {
	words := fmt.Sprintf("h = %s W/(m² K) to metal of %s °C", digits(e.HeatTransferWM2K), digits(e.TemperatureC))
	if e.CapacityJK > 0 {
		words += fmt.Sprintf(" at the start, that warms: %s J/K, %s W/K lost along its wire", digits(e.CapacityJK), digits(e.LossWK))
	}
	return words
}
