package record

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"muralheat/output/internal/fixture"
	"muralheat/thermal"
)

// onThreeMeshes is a made-up result on three meshes of ratio 2, finest first, changed by set.
func onThreeMeshes(s fixture.Synthetic, set func(i int, r *thermal.Result)) [3]*thermal.Result {
	var three [3]*thermal.Result
	for i := range three {
		three[i] = s.Result()
		three[i].Case.Numerics.FinestM = 25e-6 * math.Pow(2, float64(i))
		set(i, three[i])
	}
	return three
}

// refinedRows reads refine.csv back, by quantity.
func refinedRows(t *testing.T, f *Refinement) map[string]map[string]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(string(f.csv()))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]map[string]string{}
	for _, r := range rows[1:] {
		told[r[0]] = map[string]string{}
		for i, head := range rows[0] {
			told[r[0]][head] = r[i]
		}
	}
	return told
}

func TestRefinementTellsEachQuantity(t *testing.T) {
	three := onThreeMeshes(fixture.Synthetics["hot"], func(i int, r *thermal.Result) {
		h := math.Pow(2, float64(i)) // of the finest cells
		s := &r.Summary
		s.InjuryDepthM = 1e-3 + 0.01e-3*h // first order, from 1 mm
		s.InjuryHalfWidthM = 2e-3 + []float64{0.1e-3, 0, 0.02e-3}[i]
		s.PeakC = 100 * float64(i+1) // no limit
		s.OuterSurfacePeakC = 40
		s.Transmural = i == 0
		s.DeepestLayer = "serosa"
		s.DryOutS = math.NaN()
	})
	f := NewRefinement(three, 2)
	rows := refinedRows(t, f)
	for _, want := range []struct{ quantity, column, value string }{
		{"finest_um", "coarse", "100"}, {"finest_um", "reported", "100"}, {"finest_um", "ratio_medium_fine", "2"},
		{"injury_depth_mm", "fine", "1.01"}, {"injury_depth_mm", "reported", "1.04"}, {"injury_depth_mm", "verdict", "converges"},
		{"injury_half_width_mm", "verdict", "oscillates"}, {"injury_half_width_mm", "observed_order", ""}, {"injury_half_width_mm", "gci_percent", ""},
		{"outer_surface_peak_C", "verdict", "same"}, {"outer_surface_peak_C", "uncertainty", "0"},
		{"peak_C", "verdict", "depends on the mesh (rim)"}, {"peak_C", "extrapolated", ""}, {"peak_C", "uncertainty", ""}, {"peak_C", "coarse", "300"},
		{"max_C_mucosa", "verdict", "depends on the mesh (rim)"},
		{"transmural", "verdict", "differs between meshes"}, {"transmural", "fine", "1"}, {"transmural", "reported", "0"},
		{"deepest_layer", "verdict", "same"}, {"deepest_layer", "medium", "serosa"},
		{"dry_out_s", "verdict", "no value"}, {"dry_out_s", "fine", ""},
	} {
		if got := rows[want.quantity][want.column]; got != want.value {
			t.Errorf("%s, %s: %q, want %q", want.quantity, want.column, got, want.value)
		}
	}
	for column, want := range map[string]float64{"observed_order": 1, "extrapolated": 1, "uncertainty": 0.05, "gci_percent": 100 * 0.05 / 1.04} {
		if got := Parsed(rows["injury_depth_mm"][column]); math.Abs(got-want) > 1e-6 {
			t.Errorf("injury depth, %s: %g, want %g", column, got, want)
		}
	}
	if got := Parsed(rows["injury_half_width_mm"]["uncertainty"]); math.Abs(got-0.3) > 1e-9 {
		t.Errorf("injury half-width: uncertainty %g, want three times the spread, 0.3", got)
	}
	if max := rows["max_C_submucosa"]["verdict"]; strings.Contains(max, "rim") {
		t.Errorf("the submucosa does not touch the tip: %s", max)
	}

	if s := f.Statement(three[2].Case); s != "injury depth 1.04 mm ± 0.05 mm (three meshes: observed order 1, extrapolated 1 mm, grid convergence index 4.8 %)" {
		t.Errorf("statement %q", s)
	}
	var b strings.Builder
	f.lines(&b, three[2])
	for _, want := range []string{"this run is that of\n", "peak_C", "read at the rim of the metal", "differ between meshes   transmural"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
	text, err := json.Marshal(f.JSON(three[2].Case))
	if err != nil || !strings.Contains(string(text), `{"name":"dry_out_s","unit":"s","values":[null,null,null],"observed_order":null`) {
		t.Errorf("%v %s", err, text)
	}
}

// Every layer a needle goes through touches metal, and none below its end.
func TestRimOfANeedle(t *testing.T) {
	at := atRim(fixture.Synthetics["needle"].Result().Case) // 1 mm in, layers of 1, 1, 1.2 and 0.2 mm
	for name, want := range map[string]bool{"max_C_mucosa": true, "max_C_submucosa": false, "omega_max_serosa": false, "peak_C": true, "injury_depth_mm": false} {
		if at(name) != want {
			t.Errorf("%s: %t", name, at(name))
		}
	}
}

// Metal in a liquid touches the mucosa under it too, and a needle goes as far into the wall as without it.
func TestRimInALiquid(t *testing.T) {
	for name, c := range map[string]struct {
		insertionM float64
		want       map[string]bool
	}{
		"disc":   {0, map[string]bool{"max_C_liquid": true, "max_C_mucosa": true, "omega_max_mucosa": true, "cem43_max_mucosa": true, "max_C_submucosa": false}},
		"needle": {1.5e-3, map[string]bool{"max_C_liquid": true, "max_C_mucosa": true, "max_C_submucosa": true, "max_C_muscularis": false}},
	} {
		k := thermal.Case{Layers: []thermal.Layer{{Name: "liquid", ThicknessM: 2e-3, Above: true, Liquid: true},
			{Name: "mucosa", ThicknessM: 1e-3}, {Name: "submucosa", ThicknessM: 1e-3}, {Name: "muscularis", ThicknessM: 1e-3}}}
		k.Electrode = thermal.Electrode{Tip: thermal.Tip(name), InsertionM: c.insertionM}
		at := atRim(&k)
		for column, want := range c.want {
			if at(column) != want {
				t.Errorf("%s: %s: %t", name, column, at(column))
			}
		}
	}
}

// What cannot be said of the quantity a case is judged by is not said.
func TestStatements(t *testing.T) {
	for name, c := range map[string]struct {
		depthMM [3]float64
		want    string
	}{
		"same":   {[3]float64{1, 1, 1}, "injury depth 1 mm: the same on all three meshes"},
		"uneven": {[3]float64{1, 1.1, 1.05}, "± 0.3 mm (three meshes; it does not converge evenly: three times their spread)"},
		"unsure": {[3]float64{1, 1.1, 1.2}, "(three meshes; the observed order of 0 is not credible: order 1 with a safety factor of 3)"},
	} {
		three := onThreeMeshes(fixture.Synthetics["mild"], func(i int, r *thermal.Result) { r.Summary.InjuryDepthM = 1e-3 * c.depthMM[i] })
		if got := NewRefinement(three, 0).Statement(three[0].Case); !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// An order that leads below nothing, or above all of a share, is none; a margin may change
// its sign, and then says that the verdict hangs on the mesh.
func TestExtrapolatedToWhatCannotBe(t *testing.T) {
	three := onThreeMeshes(fixture.Synthetics["mild"], func(i int, r *thermal.Result) {
		r.Summary.InjuryDepthM = 1e-3 * []float64{0.02, 0.1, 0.25}[i]
		r.Summary.MarginToMuscleM = 1e-3 * []float64{0.02, -0.06, -0.21}[i]
		r.Summary.MuscleInjuredShare = []float64{0.98, 0.9, 0.75}[i]
	})
	f := NewRefinement(three, 2)
	rows := refinedRows(t, f)
	for name, want := range map[string]string{"injury_depth_mm": "order unsure", "muscle_injured_percent": "order unsure", "margin_to_muscle_mm": "converges"} {
		r := rows[name]
		if r["verdict"] != want || (r["extrapolated"] == "") != (want != "converges") {
			t.Errorf("%s: %s, extrapolated %q, want %s", name, r["verdict"], r["extrapolated"], want)
		}
	}
	const open = "whether the injury reaches the muscle is open"
	if s := f.Statement(three[2].Case); !strings.Contains(s, open) {
		t.Errorf("margin of -0.21 mm: %q", s)
	}
	for i, r := range three {
		r.Summary.MarginToMuscleM = 1 + 1e-5*float64(i)
	}
	if s := NewRefinement(three, 2).Statement(three[2].Case); strings.Contains(s, open) {
		t.Errorf("margin far from the muscle: %q", s)
	}
}
