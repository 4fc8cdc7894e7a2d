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
	rows = append(rows,
		[]string{"Stated beforehand", b.whenStated()}, []string{"Evidence asked for, by credibility factor", b.goals()},
		[]string{"Code verification", fmt.Sprintf("%d of %d checks against closed-form solutions, standards and published tables hold", all-len(failed), all)},
		[]string{"Numerical uncertainty", whenElse(b.refined != "", b.refined, "not computed")},
		[]string{"Sensitivity", whenElse(b.sensitive, "computed", "not computed")},
		[]string{"Comparison with experiments", b.regime.says()})
	kin, lines := b.regime.biases()
	if len(kin) > 0 {
		lines = kin
	}
	for _, l := range lines {
		rows = append(rows, l[:])
	}
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
		document.Text("This model must not be used to choose or change a setting for a patient, to certify a device, or to replace bench or animal data."))
	blocks = append(blocks, b.statedBlocks()...)
	return document.Section{ID: "context", Title: "Question and context of use", Blocks: blocks}
}

func (b *dossier) equationsSection() document.Section {
	return document.Section{ID: "equations", Title: "Equations and assumptions in force", Blocks: []document.Block{
		b.equations(), settingsTable(b.settings, "laws", "Constants and switches of the equations"),
		document.Text("Assumptions that no setting changes:"), structure(b.c), assumptions(b.settings)}}
}

// geometrySection describes the computed part of the body; geometry is that of the mesh.
func (b *dossier) geometrySection(geometry string) document.Section {
	t := document.Table{Caption: "Layers as computed, " + sceneOf(b.c).inwards + " (of a stretched, lifted or compressed wall: as it is then)", Head: []string{"layer", "top mm", "bottom mm", "thickness mm", "role"}}
	for _, name := range b.layers() {
		of := func(value func(l thermal.Layer, topM float64) float64) string {
			return b.over(func(c *thermal.Case) float64 {
				if i := slices.IndexFunc(c.Layers, func(l thermal.Layer) bool { return l.Name == name }); i >= 0 {
					return 1e3 * value(c.Layers[i], c.Edges()[i])
				}
				return math.NaN()
			})
		}
		t.Rows = append(t.Rows, []string{name, of(func(_ thermal.Layer, topM float64) float64 { return topM }),
			of(func(l thermal.Layer, topM float64) float64 { return topM + l.ThicknessM }), of(func(l thermal.Layer, _ float64) float64 { return l.ThicknessM }),
			b.each(func(c *thermal.Case) string { return roleOf(c, name) })})
	}
	deep := b.over(func(c *thermal.Case) float64 { return 1e3 * c.Edges()[len(c.Layers)] })
	beside := b.over(func(c *thermal.Case) float64 { return 1e3 * c.Domain.RadiusM })
	around := b.each(func(c *thermal.Case) string {
		if c.Motion.Moving() && sceneOf(c).along || c.Domain.ThreeD {
			return beside + " mm ahead of, behind and beside the track"
		}
		return "outer radius " + beside + " mm"
	})
	return document.Section{ID: "geometry", Title: "Geometry", Blocks: []document.Block{
		document.Text(fmt.Sprintf("Computed part of the body: %s, %s, %s mm deep in all.", geometry, around, deep)),
		t, settingsTable(b.settings, "geometry", "Wall, electrode, motion and domain")}}
}

// layers returns the names of the layers of all cases, from the lumen outwards.
func (b *dossier) layers() (names []string) {
	for _, c := range b.cases {
		at := 0
		for _, l := range c.Layers {
			if n := slices.Index(names, l.Name); n >= 0 {
				at = n + 1
				continue
			}
			names = slices.Insert(names, at, l.Name)
			at++
		}
	}
	return names
}

// roleOf says what a layer of a case is there for.
func roleOf(c *thermal.Case, name string) string {
	i := slices.IndexFunc(c.Layers, func(l thermal.Layer) bool { return l.Name == name })
	if i < 0 {
		return "not there"
	}
	switch l := c.Layers[i]; {
	case l.Muscle:
		return "muscle, whose injury is judged"
	case l.Beyond:
		return "beyond the outer surface"
	case l.Above:
		return fmt.Sprintf("above the wall, radius %s mm", digits(1e3*l.RadiusM))
	}
	return sceneOf(c).layer
}

func (b *dossier) propertiesSection() document.Section {
	return document.Section{ID: "properties", Title: "Properties with sources", Blocks: append(propertyTables(b.settings),
		document.Text("Ranges, species and confidence of each number of the library: muralheat tissues."))}
}

func (b *dossier) boundariesSection() document.Section {
	edge := func(e thermal.Edge) string {
		switch e {
		case thermal.Grounded:
			return "zero potential"
		case thermal.Insulated:
			return "no current passes"
		}
		return "open: the body goes on, the potential falls as 1/distance"
	}
	below := func(c *thermal.Case) (electric, heat string) {
		if !c.Layers[len(c.Layers)-1].Beyond {
			return "no current passes", fmt.Sprintf("h = %s W/(m² K) to %s °C", digits(c.Beyond.HeatTransferWM2K), digits(c.Beyond.TemperatureC))
		}
		return edge(c.Domain.Bottom), fmt.Sprintf("%s °C", digits(c.Body.TemperatureC))
	}
	rows := [][]string{
		{"electrode", "one potential over its contact, set so that the source holds its quantity", b.each(func(c *thermal.Case) string { return metalWords(c.Electrode) })},
		{sceneOf(b.c).surface, "no current passes", b.each(func(c *thermal.Case) string {
			return fmt.Sprintf("h = %s W/(m² K) to %s °C", digits(c.Lumen.HeatTransferWM2K), digits(c.Lumen.TemperatureC))
		})},
		{"side of the domain", b.each(func(c *thermal.Case) string { return edge(c.Domain.Side) }), "no heat passes"},
		{"bottom of the domain", b.each(func(c *thermal.Case) string { e, _ := below(c); return e }), b.each(func(c *thermal.Case) string { _, h := below(c); return h })},
		{"start", "no current", b.each(func(c *thermal.Case) string {
			return whenElse(c.Rest, "balance of body, blood and surroundings", fmt.Sprintf("%s °C everywhere", digits(c.Body.TemperatureC)))
		})},
	}
	return document.Section{ID: "boundaries", Title: "Boundary and initial conditions", Blocks: []document.Block{
		document.Table{Caption: "Conditions", Head: []string{"where", "electric", "thermal"}, Rows: rows, Stacked: true},
		settingsTable(b.settings, "boundaries", "Their values"),
		document.Text("The size of the computed part of the body is an assumption; muralheat guide results shows what it changes in an example. To test it for this case, double domain.radius_mm and compare.")}}
}

func (b *dossier) driveSection(more ...document.Block) document.Section {
	of := func(value func(d drive.Drive) float64) string {
		return b.over(func(c *thermal.Case) float64 { return value(c.Drive) })
	}
	rows := [][]string{{"what is held", b.each(func(c *thermal.Case) string { return phrase.Given(c.Drive) })},
		{"duty cycle of the bursts", of(func(d drive.Drive) float64 { return 100 * d.DutyCycle }) + " %"}, {"frequency", of(func(d drive.Drive) float64 { return d.FrequencyHz / 1e3 }) + " kHz"}}
	any := func(value func(d drive.Drive) float64) bool {
		return slices.ContainsFunc(b.cases, func(c *thermal.Case) bool { return value(c.Drive) > 0 })
	}
	for _, x := range []struct {
		what, unit string
		value, is  func(d drive.Drive) float64
	}{
		{"crest factor of a gated sine, sqrt(2/duty cycle)", "", func(d drive.Drive) float64 { return math.Sqrt(2 / d.DutyCycle) }, func(d drive.Drive) float64 { return d.DutyCycle }},
		{"in series between terminals and electrode", " ohm", func(d drive.Drive) float64 { return d.Path.SeriesOhm }, func(d drive.Drive) float64 { return d.Path.SeriesOhm }},
		{"lost beside the tissue, of the power at the terminals", " %", func(d drive.Drive) float64 { return 100 * d.Path.LostShare }, func(d drive.Drive) float64 { return d.Path.LostShare }},
	} {
		if any(x.is) {
			rows = append(rows, []string{x.what, of(x.value) + x.unit})
		}
	}
	blocks := append([]document.Block{document.Table{Caption: "Source", Head: []string{"what", "value"}, Rows: rows, Stacked: true},
		settingsTable(b.settings, "drive", "Its settings")}, more...)
	loses := slices.ContainsFunc(b.cases, func(c *thermal.Case) bool { return c.Drive.Path.Loses() })
	blocks = append(blocks, document.Text(onDelivered(loses)))
	return document.Section{ID: "drive", Title: "Drive", Blocks: blocks}
}

// onDelivered says what stands between a setting and what is delivered; loses: something is lost before the tissue.
func onDelivered(loses bool) string {
	text := "Delivered means into the tissue. The output of a generator may differ from what is disclosed by " + digits(100*drive.OutputTolerance) + " % (" + drive.OutputClause + "). "
	if loses {
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
		document.Text(fmt.Sprintf("For this report muralheat %s ran the solver on problems with known answers: %d of %d checks hold. The first table gives, for each group, the largest share of its tolerance that a check uses; the second gives every check with its tolerance. Observed orders of accuracy are in the group of that name.", versionOf(record.Describe(b.Build, "")), all-len(failed), all)),
		sum, full,
		document.Text("A test also compares complete cases with finite elements computed by two other programs (testdata/reference); muralheat guide credibility says within what."))
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
