package report

import (
	"fmt"
	"strconv"

	"muralheat/output/document"
	"muralheat/output/record"
	"muralheat/thermal"
)

// deliveredTable says what the source really gave.
func deliveredTable(all []record.Quoted) document.Table {
	t := document.Table{Caption: "Delivered", Head: []string{"quantity", "value", "unit", "what it is"}, Stacked: true}
	for _, q := range all {
		switch q.Name {
		case "energy_J", "terminal_energy_J", "energy_leads_J", "mean_power_W", "set_power_W", "limited_percent", "outside_load_line_percent", "peak_voltage_V", "crest_factor", "resistance_start_ohm", "resistance_end_ohm", "resistance_rise", "spark_share", "dry_out_s", "energy_far_J", "current_rms_A", "heating_factor_A2s":
			t.Rows = append(t.Rows, []string{q.Name, quotedValue(q), q.Unit, q.Text})
		}
	}
	return t
}

func meshTable(m record.Manifest, r *thermal.Result) document.Table {
	n := m.Numerics
	y := ""
	if r.Mesh.NY > 1 {
		y = fmt.Sprintf(" x %d", r.Mesh.NY)
	}
	return document.Table{Caption: "Mesh and steps", Head: []string{"what", "value", "unit"}, Rows: [][]string{
		{"method", "finite volumes on a graded tensor-product mesh; explicit Euler within the positivity limit for heat, conjugate gradients for the field", ""},
		{"geometry", n.Geometry, ""},
		{"cells", fmt.Sprint(n.Cells), ""},
		{"cells along each axis", fmt.Sprintf("%d%s x %d", r.Mesh.NX, y, r.Mesh.NZ), ""},
		{"finest cell, as set", digits(float64(n.FinestUM)), "um"},
		{"growth of cells with distance from the lesion", digits(float64(n.GrowthPercent)), "%"},
		{"time steps", fmt.Sprint(n.Steps), ""},
		{"longest time step between new states of field and heat while they change", digits(1e3 * float64(n.MaxStepS)), "ms"},
		{"field solutions", fmt.Sprint(n.Solves), ""},
		{"tolerance of a field solution, energy norm", digits(float64(n.Tolerance)), ""},
		{"change of resistivity that calls for a new one", digits(100 * float64(n.ResistivityShare)), "%"},
	}, Stacked: true}
}

func selfCheckTable(all []record.QuotedCheck) document.Table {
	t := document.Table{Caption: "Self-checks of this run", Head: []string{"check", "value", "limit", "verdict"}, Stacked: true}
	for _, c := range all {
		t.Rows = append(t.Rows, []string{c.Name, strconv.FormatFloat(float64(c.Value), 'g', 2, 64), digits(float64(c.Limit)), whenElse(c.OK, "passed", "FAILED")})
	}
	return t
}

func selfChecked(m record.Manifest) string {
	bad := 0
	for _, c := range m.Checks {
		if !c.OK {
			bad++
		}
	}
	switch {
	case m.Failure != "":
		return "the run stopped early: do not use it"
	case bad > 0:
		return fmt.Sprintf("%d of %d FAILED: do not use this result", bad, len(m.Checks))
	}
	return fmt.Sprintf("all %d passed (energy, charge, coldest tissue, numbers)", len(m.Checks))
}
