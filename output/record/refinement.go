package record

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"muralheat/output/phrase"
	"muralheat/thermal"
	"muralheat/thermal/refine"
)

// Refinement is a run on three meshes: what each quantity does as cells and steps shrink.
type Refinement struct {
	Stated int // which of the meshes is the run's own
	Meshes [3]Mesh
	Rows   []RefinedRow
}

// Mesh is one of them.
type Mesh struct {
	FinestUM float64 `json:"finest_um"`
	Cells    int     `json:"cells"`
	Steps    int     `json:"steps"`
}

// RefinedRow is one quantity on the meshes, finest first.
type RefinedRow struct {
	Column    Column
	Study     refine.Study
	Estimate  refine.Estimate
	Dependent bool     // on the mesh: at a rim there is no limit to come to
	Words     []string // in place of numbers, or of 0 and 1
}

// RefineName is the file with the numerical uncertainty of a run on three meshes.
const RefineName = "refine.csv"

// uncounted are columns that tell of the computation, not of the tissue.
var uncounted = []string{"cells", "steps", "solves", "energy_residual_percent", "source_residual_percent", "water_residual_percent", "charge_residual_percent", "energy_metabolic_J", RemarkColumn}

// NewRefinement compares the results of thermal.Case.Refined.
func NewRefinement(results [3]*thermal.Result, stated int) *Refinement {
	f := &Refinement{Stated: stated}
	var sizes [3]float64
	for i, r := range results {
		sizes[i] = r.Case.Grid().FinestM
		f.Meshes[i] = Mesh{math.Round(1e9*sizes[i]) / 1e3, r.Summary.Cells, r.Summary.Steps}
	}
	own := results[stated]
	dependent := atRim(own.Case)
	for _, c := range SummaryColumns(own.Case) {
		if slices.Contains(uncounted, c.Name) {
			continue
		}
		row := RefinedRow{Column: c, Study: refine.Study{SizeM: sizes, Can: possible(c)}, Dependent: dependent(c.Name)}
		for i, r := range results {
			if c.Word != nil {
				row.Words = append(row.Words, c.Word(r))
				continue
			}
			row.Study.Value[i] = c.Number(r)
		}
		if c.Word == nil && c.Unit == "" && isFlag(row.Study.Value) {
			for _, v := range row.Study.Value {
				row.Words = append(row.Words, Number(v))
			}
		}
		if row.Words == nil {
			row.Estimate = row.Study.At(stated)
			if nan := math.NaN(); row.Dependent && row.Estimate.Verdict != refine.None {
				row.Estimate = refine.Estimate{Verdict: onMesh, Order: nan, Extrapolated: nan, GCI: nan, Uncertainty: nan}
			}
		}
		f.Rows = append(f.Rows, row)
	}
	return f
}

// possible tells what a quantity can be: no length, energy or share is below zero, no share
// above all of it. A margin has either sign.
func possible(c Column) func(float64) bool {
	most := math.Inf(1)
	switch {
	case c.Name == MarginColumn:
		return nil
	case c.Unit == "%":
		most = 100
	case strings.HasSuffix(c.Name, "_share"):
		most = 1
	}
	return func(v float64) bool { return v >= 0 && v <= most }
}

func isFlag(values [3]float64) bool {
	for _, v := range values {
		if v != 0 && v != 1 {
			return false
		}
	}
	return true
}

// atRim tells the quantities that are read where metal ends on tissue: the density of heat
// has no limit there, so that the hottest cell depends on how small it is.
func atRim(c *thermal.Case) func(name string) bool {
	names := []string{"peak_C", "highest_rise_K", "rise_rim_K", "skin_peak_C", "stalk_peak_C"}
	for _, touched := range scenes[c.Scene()].touched(c) {
		names = append(names, "max_C_"+touched, "omega_max_"+touched, "cem43_max_"+touched)
	}
	return func(name string) bool { return slices.Contains(names, name) }
}

// Verdicts besides those of package refine.
const (
	onMesh  refine.Verdict = "depends on the mesh (rim)"
	differs refine.Verdict = "differs between meshes"
)

// verdict says in a few words what the meshes show of a row.
func (r RefinedRow) verdict() refine.Verdict {
	if r.Words == nil {
		return r.Estimate.Verdict
	}
	for _, w := range r.Words {
		if w != r.Words[0] {
			return differs
		}
	}
	return refine.Same
}

// csv is a row for each quantity, after those that tell the meshes.
func (f *Refinement) csv() []byte {
	rows := [][]string{{"quantity", "unit", "fine", "medium", "coarse", "reported", "ratio_medium_fine", "ratio_coarse_medium",
		"observed_order", "extrapolated", "gci_percent", "uncertainty", "verdict"}}
	h := f.Meshes
	ratio := func(a, b Mesh) string { return fmt.Sprintf("%.4g", b.FinestUM/a.FinestUM) }
	ratios := []string{ratio(h[0], h[1]), ratio(h[1], h[2])}
	add := func(name, unit string, values []string, rest ...string) {
		row := append([]string{Guarded(name), unit}, values...)
		row = append(append(row, values[f.Stated]), ratios...)
		rows = append(rows, append(row, rest...))
	}
	mesh := func(name, unit string, of func(Mesh) float64) {
		add(name, unit, []string{Number(of(h[0])), Number(of(h[1])), Number(of(h[2]))}, "", "", "", "", "sets the mesh")
	}
	mesh("finest_um", "um", func(m Mesh) float64 { return m.FinestUM })
	mesh("cells", "", func(m Mesh) float64 { return float64(m.Cells) })
	mesh("steps", "", func(m Mesh) float64 { return float64(m.Steps) })
	for _, r := range f.Rows {
		var values []string
		for i := range h {
			if r.Words != nil {
				values = append(values, Guarded(r.Words[i]))
			} else {
				values = append(values, Number(r.Study.Value[i]))
			}
		}
		if r.Words != nil {
			add(r.Column.Name, r.Column.Unit, values, "", "", "", "", string(r.verdict()))
			continue
		}
		e := r.Estimate
		add(r.Column.Name, r.Column.Unit, values, Number(e.Order), Number(e.Extrapolated), Number(e.GCIPercent(r.Study.Value[f.Stated])),
			Number(e.Uncertainty), string(r.verdict()))
	}
	return Table(rows)
}

// RefinedJSON is a Refinement for a script.
type RefinedJSON struct {
	Statement  string         `json:"statement"`
	Meshes     [3]Mesh        `json:"meshes"` // finest first
	Stated     int            `json:"reported_mesh"`
	Quantities []quantityJSON `json:"quantities"`
}

type quantityJSON struct {
	Name         string `json:"name"`
	Unit         string `json:"unit,omitempty"`
	Values       [3]any `json:"values"`
	Order        real   `json:"observed_order"`
	Extrapolated real   `json:"extrapolated"`
	GCIPercent   real   `json:"gci_percent"`
	Uncertainty  real   `json:"uncertainty"`
	Verdict      string `json:"verdict"`
}

// JSON is all of it.
func (f *Refinement) JSON(c *thermal.Case) *RefinedJSON {
	j := &RefinedJSON{Statement: f.Statement(c), Meshes: f.Meshes, Stated: f.Stated}
	for _, r := range f.Rows {
		nan := real(math.NaN())
		q := quantityJSON{Name: r.Column.Name, Unit: r.Column.Unit, Order: nan, Extrapolated: nan, GCIPercent: nan, Uncertainty: nan, Verdict: string(r.verdict())}
		for i := range q.Values {
			if r.Words != nil {
				q.Values[i] = r.Words[i]
				continue
			}
			q.Values[i] = real(r.Study.Value[i])
		}
		if e := r.Estimate; r.Words == nil {
			q.Order, q.Extrapolated, q.GCIPercent, q.Uncertainty = real(e.Order), real(e.Extrapolated), real(e.GCIPercent(r.Study.Value[f.Stated])), real(e.Uncertainty)
		}
		j.Quantities = append(j.Quantities, q)
	}
	return j
}

// InWords is the name of a column without its unit.
func InWords(name, unit string) string {
	return strings.NewReplacer("_1cm2", " over 1 cm2", "_", " ").Replace(strings.TrimSuffix(name, "_"+unit))
}

// Statement is the numerical uncertainty of the quantity the case is judged by, in one
// sentence, and in another what it leaves open.
func (f *Refinement) Statement(c *thermal.Case) string { return f.uncertain(c) + f.open() }

// Certain is a statement of uncertainty as a sentence; none of "".
func Certain(statement string) []string {
	if statement == "" {
		return nil
	}
	return []string{phrase.Capital(statement) + "."}
}

// open says that a verdict hangs on the mesh: that the muscle is reached or not, or that a
// neutral electrode stays below the limit of its test.
func (f *Refinement) open() string {
	for _, r := range f.Rows {
		own, u := r.Study.Value[f.Stated], r.Estimate.Uncertainty
		switch {
		case r.Column.Name == MarginColumn && math.Abs(own) <= u:
			return fmt.Sprintf(". The margin to the muscle, %s mm, is no larger than its uncertainty, %s mm: whether the injury reaches the muscle is open", phrase.Short(own), Two(u))
		case r.Column.Name == RiseColumn && math.Abs(own-phrase.RiseLimitK) <= u:
			return fmt.Sprintf(". The limit of %g K is within it: whether the rise stays below is open", phrase.RiseLimitK)
		}
	}
	return ""
}

func (f *Refinement) uncertain(c *thermal.Case) string {
	for _, r := range f.Rows {
		if r.Column.Name != MainColumn(c) {
			continue
		}
		own, e := r.Study.Value[f.Stated], r.Estimate
		s := fmt.Sprintf("%s %s %s", InWords(r.Column.Name, r.Column.Unit), phrase.Short(own), r.Column.Unit)
		switch e.Verdict {
		case refine.None:
			return s + ": no numerical uncertainty, a mesh has no value"
		case refine.Same:
			return s + ": the same on all three meshes"
		case refine.Oscillates:
			return fmt.Sprintf("%s ± %s %s (three meshes; it does not converge evenly: three times their spread)", s, Two(e.Uncertainty), r.Column.Unit)
		case refine.Unsure:
			return fmt.Sprintf("%s ± %s %s (three meshes; the observed order of %.2g is not credible: order 1 with a safety factor of 3)", s, Two(e.Uncertainty), r.Column.Unit, math.Round(100*e.Order)/100+0) // no -0
		}
		return fmt.Sprintf("%s ± %s %s (three meshes: observed order %.2g, extrapolated %s %s, grid convergence index %s %%)",
			s, Two(e.Uncertainty), r.Column.Unit, e.Order, phrase.Short(e.Extrapolated), r.Column.Unit, Two(e.GCIPercent(own)))
	}
	return ""
}

// lines tell the table of a run what the meshes show.
func (f *Refinement) lines(b *strings.Builder, r *thermal.Result) {
	row := rowsOf(b)
	b.WriteString("Numerical uncertainty\n")
	Paragraph(b, "  ", phrase.Capital(f.Statement(r.Case))+".")
	var sizes []string
	for _, m := range f.Meshes {
		sizes = append(sizes, phrase.Short(m.FinestUM))
	}
	row("meshes", "finest cells %s um; this run is that of %s um", strings.Join(sizes, ", "), phrase.Short(f.Meshes[f.Stated].FinestUM))
	var dependent, differ []string
	for _, x := range f.Rows {
		switch x.verdict() {
		case onMesh:
			dependent = append(dependent, x.Column.Name)
		case differs:
			differ = append(differ, x.Column.Name)
		}
		switch x.Column.Name {
		case "injury_half_width_mm", "margin_to_muscle_mm", "outer_surface_peak_C", "resistance_start_ohm", "cut_through_s":
			if u := x.Estimate.Uncertainty; x.Words == nil && !math.IsNaN(u) {
				row(InWords(x.Column.Name, x.Column.Unit), "%s ± %s %s (%s)", phrase.Short(x.Study.Value[f.Stated]), Two(u), x.Column.Unit, x.verdict())
			}
		}
	}
	if len(dependent) > 0 {
		row("depend on the mesh", "%s: read at the rim of the metal, where the heat density has no limit; compare at a stated distance instead", strings.Join(dependent, ", "))
	}
	if len(differ) > 0 {
		row("differ between meshes", "%s", strings.Join(differ, ", "))
	}
}
