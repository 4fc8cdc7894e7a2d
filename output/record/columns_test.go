package record

import (
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"muralheat/output/internal/fixture"
	"muralheat/thermal"
)

// The headers are an interface that scripts rely on: a change here is a change for
// the people who wrote them.
func TestHeaders(t *testing.T) {
	r := fixture.Synthetics["track"].Result()
	want := map[string]string{
		"summary": "injury_depth_mm,injury_depth_mm_liver,injury_half_width_mm,removed_depth_mm,dried_depth_mm," +
			"margin_to_muscle_mm,muscle_injured_percent,wall_mm,transmural,deepest_layer,peak_C,outer_surface_peak_C," +
			"max_C_mucosa,omega_max_mucosa,injured_mm3_mucosa,cem43_max_mucosa," +
			"max_C_submucosa,omega_max_submucosa,injured_mm3_submucosa,cem43_max_submucosa," +
			"max_C_muscularis,omega_max_muscularis,injured_mm3_muscularis,cem43_max_muscularis," +
			"max_C_serosa,omega_max_serosa,injured_mm3_serosa,cem43_max_serosa," +
			"max_C_fat,omega_max_fat,injured_mm3_fat,cem43_max_fat,contact_radius_mm," +
			"energy_J,terminal_energy_J,energy_leads_J,energy_far_J,energy_metabolic_J,energy_stored_J,energy_steam_J,energy_smoke_J,energy_removed_J,energy_cutting_J," +
			"energy_perfusion_J,energy_electrode_J,energy_surfaces_J,current_rms_A,heating_factor_A2s,mean_power_W,set_power_W,resistance_start_ohm,resistance_end_ohm," +
			"resistance_rise,dry_out_s,steam_condensed_percent,electrode_peak_C,spark_share,limited_percent,outside_load_line_percent,peak_voltage_V,crest_factor,energy_residual_percent,source_residual_percent,water_residual_percent,charge_residual_percent,cells,steps,solves,remark",
		"history": "time_s,power_W,voltage_V,current_A,resistance_ohm,spark_percent,position_mm,T_surface_C,T_mucosa-submucosa_C," +
			"T_submucosa-muscularis_C,T_muscularis-serosa_C,T_outer-surface_C,depth_mm,T_rim_C,omega_rim",
		"layers": "layer,top_mm,bottom_mm,thickness_mm,max_C,omega_max,cem43_max_min,injured_mm3,injured_percent",
	}
	for name, b := range map[string][]byte{"summary": summaryCSV(r), "history": historyCSV(r), "layers": layersCSV(r)} {
		if got, _, _ := strings.Cut(string(b), "\r\n"); got != want[name] {
			t.Errorf("%s.csv: header\n%s\nwant\n%s", name, got, want[name])
		}
	}
	still := fixture.Synthetics["mild"].Result()
	if head, _, _ := strings.Cut(string(historyCSV(still)), "\r\n"); strings.Contains(head, "position_mm") {
		t.Error("history.csv: a position of an electrode that does not move")
	}
}

// Columns follow the case, not the result, so that the rows of many runs fit below
// each other: those of a cut only for a needle that moves, those of pressing only if it
// is stated.
func TestColumnsFollowTheCase(t *testing.T) {
	const cut = ",cut_sustained,cut_parted_percent,held_up_percent,kerf_width_mm,removed_mm3,injury_beside_cut_mm,injury_below_cut_mm," +
		"injured_beside_mm2,path_mm,mean_speed_mm_s,energy_per_removed_J_mm3,heat_in_removed_J_mm3,contact_radius_mm,energy_J,"
	const press = ",contact_radius_mm,pressure_kPa,indentation_mm,energy_J,"
	for name, want := range map[string][2]bool{"pulsed": {true, false}, "slot": {true, false}, "track": {}, "needle": {}, "pressed": {false, true}} {
		head, _, _ := strings.Cut(string(summaryCSV(fixture.Synthetics[name].Result())), "\r\n")
		if got := [2]bool{strings.Contains(head, cut), strings.Contains(head, press)}; got != want ||
			!want[0] && strings.Contains(head, "cut_") || !want[1] && strings.Contains(head, "pressure") {
			t.Errorf("%s: columns of cut, of pressing %v, want %v:\n%s", name, got, want, head)
		}
	}
}

// Margins beside and below a cut, speed and energies by hand from the numbers of the
// made-up cut.
func TestColumnsOfACut(t *testing.T) {
	r := fixture.Synthetics["pulsed"].Result()
	r.Summary.InjuryHalfWidthM, r.Summary.InjuryDepthM, r.Summary.RemovedDepthM = 1.3e-3, 1.75e-3, 1.1e-3
	value := func() map[string]string {
		v := map[string]string{}
		for _, c := range SummaryColumns(r.Case) {
			v[c.Name] = c.Cell(r)
		}
		return v
	}
	for name, want := range map[string]string{
		"injury_beside_cut_mm": "0.5", "injury_below_cut_mm": "0.65", "path_mm": "8", "mean_speed_mm_s": "2",
		"energy_per_removed_J_mm3": "3.1", "heat_in_removed_J_mm3": "0.9", "cut_sustained": "1", "cut_parted_percent": "100",
		"kerf_width_mm": "1.6", "dry_out_s": "0.041", "steam_condensed_percent": "37", "spark_share": "0.31", "limited_percent": "2",
	} {
		if got := value()[name]; got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	// Nothing swept: no share of it and no energy for it.
	r.Summary.Cut = thermal.Cut{PartedShare: math.NaN()}
	r.Summary.DryOutS, r.Summary.ResistanceRise, r.Summary.SteamCondensed = math.NaN(), math.NaN(), math.NaN()
	for name, want := range map[string]string{
		"energy_per_removed_J_mm3": "", "heat_in_removed_J_mm3": "", "cut_parted_percent": "", "cut_sustained": "0",
		"mean_speed_mm_s": "0", "dry_out_s": "", "resistance_rise": "", "steam_condensed_percent": "",
	} {
		if got := value()[name]; got != want {
			t.Errorf("nothing swept, %s: %q, want %q", name, got, want)
		}
	}
}

func TestColumnsAreDeclaredInFull(t *testing.T) {
	for _, of := range []string{"hot", "pulsed", "pressed"} {
		var names []string
		for _, c := range SummaryColumns(fixture.Synthetics[of].Result().Case) {
			if slices.Contains(names, c.Name) {
				t.Errorf("%s: twice", c.Name)
			}
			names = append(names, c.Name)
			if c.Text == "" || (c.Number == nil) == (c.Word == nil) {
				t.Errorf("%s: no text, or not one value", c.Name)
			}
			// Thermal dose carries its unit in its definition.
			sign := map[string]string{"%": "percent", "min": "cem43", "A2 s": "A2s"}[c.Unit]
			if sign == "" {
				sign = strings.ReplaceAll(c.Unit, "/", "_")
			}
			if !strings.Contains(c.Name, sign) {
				t.Errorf("%s: unit %s not in the name", c.Name, c.Unit)
			}
		}
	}
}

// TestTablesReadBack parses the tables with the standard reader and compares
// every number with its source bit for bit.
func TestTablesReadBack(t *testing.T) {
	r := fixture.Synthetics["hot"].Result()
	r.Summary.MarginToMuscleM = math.NaN()
	read := func(b []byte) [][]string {
		t.Helper()
		rows, err := csv.NewReader(strings.NewReader(string(b))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		return rows
	}
	same := func(what, cell string, want float64) {
		t.Helper()
		if math.IsNaN(want) {
			if cell != "" {
				t.Errorf("%s: %q where there is no value", what, cell)
			}
			return
		}
		if got, err := strconv.ParseFloat(cell, 64); err != nil || got != want {
			t.Errorf("%s: %q, want %v", what, cell, want)
		}
	}
	rows := read(summaryCSV(r))
	for i, c := range SummaryColumns(r.Case) {
		if c.Number != nil {
			same(c.Name, rows[1][i], c.Number(r))
		}
	}
	if len(rows) != 2 {
		t.Errorf("summary.csv: %d rows", len(rows))
	}
	rows = read(historyCSV(r))
	if len(rows) != len(r.History)+1 {
		t.Fatalf("history.csv: %d rows of %d samples", len(rows)-1, len(r.History))
	}
	last := r.History[len(r.History)-1]
	for i, want := range []float64{last.TimeS, last.PowerW, last.VoltageV, last.CurrentA, math.NaN(), 0, last.BorderC[0]} {
		same(rows[0][i], rows[len(rows)-1][i], want)
	}
	rows = read(layersCSV(r))
	if got := rows[3][:4]; !slices.Equal(got, []string{"muscularis", "1.3", "2.08", "0.78"}) {
		t.Errorf("layers.csv: %v", got)
	}
}

func TestCellsAreNoFormulas(t *testing.T) {
	c := Column{Word: func(*thermal.Result) string { return "=1+1" }}
	if got := c.Cell(nil); got != "'=1+1" {
		t.Errorf("%q", got)
	}
	for v, want := range map[float64]string{math.Inf(1): "INF", 0.1: "0.1", 1e-20: "1e-20", math.NaN(): ""} {
		if got := Number(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
}
