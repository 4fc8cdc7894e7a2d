package output

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strings"

	"muralheat/thermal"
	"muralheat/thermal/refine"
)

// Refinement is a run on three meshes: what each quantity does as cells and steps shrink.
type Refinement struct {
	Stated int // which of the meshes is the run's own
	Meshes [3]Mesh
	Rows   []RefinedRow
}

// Mesh is what one of them cost.
type Mesh struct {
	FinestUM     float64 `json:"finest_um"`
	Cells, Steps int
}

// RefinedRow is one quantity on the meshes, finest first.
type RefinedRow struct {
	Column    Column
	Study     refine.Study
	Estimate  refine.Estimate
	Dependent bool     // on the mesh: at a rim there is no limit to come to
	Words     []string // in place of numbers, or of 0 and 1
}

const refineName = "refine.csv"

// uncounted are columns that tell of the computation, not of the tissue.
var uncounted = []string{"cells", "steps", "solves", "energy_residual_percent", "charge_residual_percent", "energy_metabolic_J"}

// NewRefinement compares the results of thermal.Case.Refined.
func NewRefinement(results [3]*thermal.Result, stated int) *Refinement {
	f := &Refinement{Stated: stated}
	var study refine.Study
	for i, r := range results {
		h := r.Case.Grid().FinestM
		f.Meshes[i] = Mesh{1e6 * h, r.Summary.Cells, r.Summary.Steps}
		study.SizeM[i] = h
	}
	own := results[stated]
	dependent := atRim(own.Case)
	for _, c := range SummaryColumns(own.Case) {
		if contains(uncounted, c.Name) {
			continue
		}
		row := RefinedRow{Column: c, Study: study, Dependent: dependent(c.Name)}
		for i, r := range results {
			if c.Word != nil {
				row.Words = append(row.Words, c.Word(r))
				continue
			}
			row.Study.Value[i] = c.Number(r)
		}
		if c.Word == nil && c.Unit == "" && isFlag(row.Study.Value) {
			for _, v := range row.Study.Value {
				row.Words = append(row.Words, number(v))
			}
		}
		if row.Words == nil {
			row.Estimate = row.Study.At(stated)
		}
		f.Rows = append(f.Rows, row)
	}
	return f
}

func contains(list []string, s string) bool {
	for _, l := range list {
		if l == s {
			return true
		}
	}
	return false
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
	touched := c.Layers[0].Name
	if c.Electrode.Tip == thermal.Loop {
		touched = "stalk"
	}
	names := []string{"peak_C", "highest_rise_K", "rise_rim_K", "skin_peak_C", "stalk_peak_C", "max_C_" + touched, "omega_max_" + touched, "cem43_max_" + touched}
	if c.Electrode.Tip == thermal.Needle {
		in := 0.0
		for _, l := range c.Layers {
			if in < c.Electrode.InsertionM {
				names = append(names, "max_C_"+l.Name, "omega_max_"+l.Name, "cem43_max_"+l.Name)
			}
			in += l.ThicknessM
		}
	}
	return func(name string) bool { return contains(names, name) }
}

// verdict says in a few words what the meshes show of a row.
func (r RefinedRow) verdict() string {
	if r.Words != nil {
		for _, w := range r.Words {
			if w != r.Words[0] {
				return "differs between meshes"
			}
		}
		return string(refine.Same)
	}
	if r.Dependent && r.Estimate.Verdict != refine.Same && r.Estimate.Verdict != refine.None {
		return "depends on the mesh (rim)"
	}
	return string(r.Estimate.Verdict)
}

// csv is a row for each quantity.
func (f *Refinement) csv() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	head := []string{"quantity", "unit"}
	for i, m := range f.Meshes {
		name := []string{"fine", "medium", "coarse"}[i]
		head = append(head, fmt.Sprintf("%s_%.4gum", name, m.FinestUM))
	}
	rows := [][]string{append(head, "reported", "observed_order", "extrapolated", "uncertainty", "gci_percent", "verdict")}
	for _, r := range f.Rows {
		row := []string{guarded(r.Column.Name), r.Column.Unit}
		if r.Words != nil {
			for _, v := range r.Words {
				row = append(row, guarded(v))
			}
			rows = append(rows, append(row, guarded(r.Words[f.Stated]), "", "", "", "", r.verdict()))
			continue
		}
		for _, v := range r.Study.Value {
			row = append(row, number(v))
		}
		own := r.Study.Value[f.Stated]
		e := r.Estimate
		rows = append(rows, append(row, number(own), number(e.Order), number(e.Extrapolated), number(e.Uncertainty), percent(e, own), r.verdict()))
	}
	err := w.WriteAll(rows)
	return b.Bytes(), err
}

func percent(e refine.Estimate, own float64) string {
	if own == 0 {
		return ""
	}
	return number(e.GCIPercent(own))
}

// mainColumn is the quantity a case is judged by.
func mainColumn(c *thermal.Case) string {
	if c.Electrode.Tip == thermal.Pad {
		return riseColumn
	}
	return depthColumn
}

// Statement is the numerical uncertainty of the quantity the case is judged by, in one
// sentence.
func (f *Refinement) Statement(c *thermal.Case) string {
	for _, r := range f.Rows {
		if r.Column.Name != mainColumn(c) {
			continue
		}
		own, e := r.Study.Value[f.Stated], r.Estimate
		name, _ := strings.CutSuffix(r.Column.Name, "_"+r.Column.Unit)
		s := fmt.Sprintf("%s %s %s", strings.ReplaceAll(name, "_", " "), short(own), r.Column.Unit)
		switch {
		case e.Verdict == refine.None:
			return s + ": no numerical uncertainty, a mesh has no value"
		case e.Verdict == refine.Same:
			return s + ": the same on all three meshes"
		case e.Verdict == refine.Oscillates:
			return fmt.Sprintf("%s ± %s %s (does not converge evenly: the spread of three meshes)", s, two(e.Uncertainty), r.Column.Unit)
		case e.Verdict == refine.Unsure:
			return fmt.Sprintf("%s ± %s %s (three meshes; observed order %.2g is not credible, order 1 and a safety factor of 3 taken)", s, two(e.Uncertainty), r.Column.Unit, e.Order)
		}
		return fmt.Sprintf("%s ± %s %s (grid convergence index, three meshes, observed order %.2g, extrapolated %s %s)",
			s, two(e.Uncertainty), r.Column.Unit, e.Order, short(e.Extrapolated), r.Column.Unit)
	}
	return ""
}

// lines tell the table of a run what the meshes show.
func (f *Refinement) lines(b *strings.Builder, r *thermal.Result) {
	row := rowsOf(b)
	b.WriteString("Numerical uncertainty\n")
	paragraph(b, "  ", capital(f.Statement(r.Case))+".")
	var sizes []string
	for _, m := range f.Meshes {
		sizes = append(sizes, short(m.FinestUM))
	}
	row("meshes", "finest cells %s um; this run is that of %s um", strings.Join(sizes, ", "), short(f.Meshes[f.Stated].FinestUM))
	var dependent, differ []string
	for _, x := range f.Rows {
		switch x.verdict() {
		case "depends on the mesh (rim)":
			dependent = append(dependent, x.Column.Name)
		case "differs between meshes":
			differ = append(differ, x.Column.Name)
		}
		switch x.Column.Name {
		case "injury_half_width_mm", "margin_to_muscle_mm", "outer_surface_peak_C", "resistance_start_ohm", "cut_through_s":
			if u := x.Estimate.Uncertainty; x.Words == nil && !math.IsNaN(u) {
				row(x.Column.Name, "%s ± %s %s (%s)", short(x.Study.Value[f.Stated]), two(u), x.Column.Unit, x.verdict())
			}
		}
	}
	if len(dependent) > 0 {
		row("depend on the mesh", "%s: read at the rim of the metal, where the density of heat has no limit; compare at a stated distance instead", strings.Join(dependent, ", "))
	}
	if len(differ) > 0 {
		row("differ between meshes", "%s", strings.Join(differ, ", "))
	}
}
