package study

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/record"
	"muralheat/thermal/refine"
)

// refinedSweep is a made-up sweep of power, 12 values, with draws or without, of which some cases are refined: on each finer mesh
// the depth is less by a share of the cells, so that all errors are known: error(case) mm at 1 of the three sizes 1, 1.5, 2.25.
func refinedSweep(t *testing.T, draws int, errorMM func(i int) float64) string {
	t.Helper()
	dir := t.TempDir()
	m := madeUps["thick-draws"]
	m.draws = draws
	if draws == 1 {
		m.inputs, m.points = m.inputs[:1], every(between(5, 60, 12, false))
	}
	m.write(t, dir)
	table, err := ReadSweep(dir)
	if err != nil {
		t.Fatal(err)
	}
	r := Refined{Of: table.SHA256, Near: 2, Spread: 3}
	rows := [][]string{{"case", "name", "point", "status", "reason", record.DepthColumn}}
	add := func(name string, depth float64) string {
		rows = append(rows, []string{fmt.Sprint(len(rows) - 1), name, fmt.Sprint(len(rows) - 1), "ok", "", record.Number(depth)})
		return name
	}
	for _, c := range table.choose(2, 3) {
		i, depth := table.Case[c.row], table.cell(record.DepthColumn, c.row)
		x := RefinedCase{Case: i, Why: c.why, SizeUM: [3]float64{100 / 2.25, 100 / 1.5, 100}, Own: 2, Kinetics: map[string]string{}}
		for k, size := range x.SizeUM[:2] { // the error goes with the cells
			x.Meshes[k] = add(fmt.Sprintf("case-%d-%s", i, meshNames[k]), depth-errorMM(i)*(1-size/100))
		}
		x.Kinetics["skin-1947"] = add(fmt.Sprintf("case-%d-skin-1947", i), depth+0.3)
		r.Cases = append(r.Cases, x)
	}
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, RefinedFolder), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{RefinedName: b, filepath.Join(RefinedFolder, ResultName): record.Table(rows)} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// A refined case has its own error, 1.25 times what is left at an order of 1; the others the largest of the refined ones.
func TestRefinedErrors(t *testing.T) {
	of := func(i int) float64 { return 0.01 * float64(1+i) }
	dir := refinedSweep(t, 1, of)
	s, err := ReadSweep(dir)
	if err != nil {
		t.Fatal(err)
	}
	chosen, most := map[int]bool{}, 0.0
	for _, c := range s.refined.Cases {
		chosen[c.Case], most = true, max(most, of(c.Case))
		if e := s.refined.errors[record.DepthColumn][c.Case]; e.Verdict != refine.Converges || !(math.Abs(e.Order-1) < 1e-6) {
			t.Errorf("case %d: %+v", c.Case, e.Estimate)
		}
	}
	if len(chosen) != 7 {
		t.Fatalf("%d cases refined", len(chosen))
	}
	for row, i := range s.Case {
		want := 1.25 * most
		if chosen[i] {
			want = 1.25 * of(i)
		}
		for _, column := range []string{record.DepthColumn, record.MarginColumn} {
			if got := s.errorOf(column, row); math.Abs(got-want) > 1e-8 {
				t.Errorf("case %d: error %g of %s, want %g", i, got, column, want)
			}
		}
	}
	says := strings.Join(s.Numerical(), " ")
	for _, want := range []string{fmt.Sprintf("wet ±%s mm (7 cases)", record.Two(1.25*most)), "Measured by two more meshes each on 7 of 12 cases"} {
		if !strings.Contains(says, want) {
			t.Errorf("%q does not say %q", says, want)
		}
	}
	if strings.Contains(says, "not measured") {
		t.Error(says)
	}
}

// What is read belongs to the table, or is not used; a case without a result on a mesh has no error of its own.
func TestRefinedOfAnotherTable(t *testing.T) {
	dir := refinedSweep(t, 1, func(int) float64 { return 0.1 })
	path := filepath.Join(dir, SweepName)
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(strings.Replace(string(b), `"results_sha256":""`, `"results_sha256":"00"`, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := ReadSweep(dir)
	if err != nil {
		t.Fatal(err)
	}
	says := strings.Join(s.Numerical(), " ")
	if s.refined != nil || s.Measured() != "" || !strings.Contains(says, "refined.json is of another table and is not used") || !strings.Contains(says, "not measured for this sweep") {
		t.Error(says)
	}
	if s.NumericalCSV() != nil || s.UncertaintyCSV() != nil || s.Combined() != nil {
		t.Error("a model is made of it")
	}
}

// Those nearest to the decision on both sides, then one of each end of the design.
func TestChoose(t *testing.T) {
	m := madeUps["power"]
	m.points = every(between(5, 60, 12, false))
	s := m.shape(t)
	var at []int
	for _, c := range s.choose(2, 2) {
		at = append(at, s.Case[c.row])
	}
	margin := s.Column[record.MarginColumn]
	first := slices.IndexFunc(margin, func(v float64) bool { return v <= 0 })
	if want := []int{first - 1, first - 2, first, first + 1}; !slices.Equal(at[:4], want) {
		t.Errorf("cases %v, nearest are %v", at, want)
	}
	if want := []int{0, 11}; !(slices.Contains(want, at[4])) {
		t.Errorf("%v: not an end of the design", at)
	}
	// Regimes that are rare are among them.
	s.Column[sparkColumn] = make([]float64, len(s.Point))
	s.Column[sparkColumn][5], s.Column[sparkColumn][6] = 0.2, 0.1
	found := 0
	for _, c := range s.choose(0, 6) {
		if s.regime(c.row) == sparking {
			found++
		}
	}
	if found != 2 {
		t.Errorf("%d of the 2 cases that spark", found)
	}
}

// The numerical error counts draws that could change sides; what a person reads follows what was measured.
func TestOpenDraws(t *testing.T) {
	for _, tt := range []struct {
		error float64
		open  bool
	}{{0.2, true}, {1e-6, false}} {
		s, err := ReadSweep(refinedSweep(t, 16, func(int) float64 { return tt.error }))
		if err != nil {
			t.Fatal(err)
		}
		shape := s.Shape()
		f := shape.riskFigures()[0]
		b, err := chart.Svg(f)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(string(b), "The numerical error could bring up to"); got != tt.open {
			t.Errorf("error %g mm: says open draws: %v", tt.error, got)
		}
		for p, rows := range s.byPoint() {
			sure, could := 0, 0
			for _, r := range rows {
				if m := s.cell(record.MarginColumn, r); m <= -1.25*tt.error {
					sure++
				}
				if m := s.cell(record.MarginColumn, r); m <= 1.25*tt.error {
					could++
				}
			}
			got := s.openOf(record.MarginColumn, rows, 4)
			if got.count != could-sure {
				t.Errorf("point %d: %d open, want %d", p, got.count, could-sure)
			}
			if got.count > 0 && (!near(got.low, 100*float64(sure)/20) || !near(got.high, 100*float64(could+4)/20)) {
				t.Errorf("point %d: %+v, %d sure, %d possible", p, got, sure, could)
			}
		}
	}
}

// Numerical error, inputs and damage kinetics stand side by side, and together as the root of their squares.
func TestCombined(t *testing.T) {
	s, err := ReadSweep(refinedSweep(t, 16, func(int) float64 { return 0.08 }))
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range s.uncertainties() {
		input := deviation(s.values(record.MarginColumn, u.rows))
		want := math.Sqrt(0.05*0.05 + input*input + 0.3*0.3/3)
		if math.Abs(u.Numerical-0.05) > 1e-8 || !near(u.Input, input) || math.Abs(u.Kinetics-0.3/math.Sqrt(3)) > 1e-8 || math.Abs(u.combined()-want) > 1e-8 {
			t.Errorf("%+v, combined %g, want %g", u, u.combined(), want)
		}
	}
	if got := deviation([]float64{2, 4, 4, 4, 5, 5, 7, 9}); !near(got, math.Sqrt(32./7)) { // by hand: mean 5, squares 32
		t.Errorf("standard deviation %g", got)
	}
	says := s.Combined()
	for _, want := range []string{"Margin to the muscle, median of 16 draws, at ", "numerical ±0.1 mm", "damage kinetics ±0.35 mm"} {
		if !strings.Contains(says[0], want) {
			t.Errorf("%q does not say %q", says[0], want)
		}
	}
	if figs := s.Shape().uncertaintyFigures(); len(figs) != 1 || figs[0].Name != "uncertainty" {
		t.Fatal("no figure")
	}
	if n := strings.Count(string(s.UncertaintyCSV()), "\n"); n != 13 {
		t.Errorf("%d lines of uncertainty.csv", n)
	}
}
