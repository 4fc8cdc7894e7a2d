package batch

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

// quick is a scenario that computes in some ten milliseconds.
const quick = `title: Quick
wall: {site: right-colon}
electrode: {tip: disc, radius_mm: 1}
current: {sparks: false, power_W: 1, on_s: 0.1}
afterwards_s: 0
domain: {radius_mm: 5}
numerics: {quality: draft, finest_um: 200, max_step_ms: 50}
`

// mixed has words and numbers, draws, a key without a value, and pairs that are one case.
const mixed = `title: Mixed
scenario: quick.yaml
vary:
  - {key: current.power_W, values: [1, 2, 3], title: Power}
  - {key: wall.site, values: [right-colon, rectum]}
uncertain: [{key: current.on_s, uniform: {low: 0.05, high: 0.2}}]
draws: 3
seed: 5
`

func sweepOf(t testing.TB, text string) *plan.Sweep {
	t.Helper()
	s, err := plan.Parse("plan.yaml", []byte(text), func(string) (*scenarios.Scenario, error) {
		return scenarios.Parse("quick.yaml", []byte(quick))
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// tell is a small table: another column for power above 2 W, as cases may differ in theirs.
func tell(r *thermal.Result) (cols []Column, cells []string, doubt string) {
	cols = []Column{{Name: "peak_C", Unit: "C", Text: "hottest"}, {Name: "deepest_layer", Text: "layer", Word: true}}
	cells = []string{fmt.Sprint(r.Summary.PeakC), r.Summary.DeepestLayer}
	if r.Case.Drive.PowerW > 2 {
		cols, cells = append(cols, Column{Name: "energy_J", Unit: "J", Text: "energy"}), append(cells, fmt.Sprint(r.Balance.ElectricJ))
	}
	if math.Abs(r.Balance.EnergyResidual) > 1e-6 {
		doubt = "energy"
	}
	return cols, cells, doubt
}

func options(workers int) Options { return Options{Program: "test", Tell: tell, Workers: workers} }

func mustRun(t testing.TB, s *plan.Sweep, dir string, opt Options) Count {
	t.Helper()
	c, err := Run(t.Context(), s, dir, opt)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func read(t testing.TB, dir, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// sameBytes compares all files that a sweep leaves to be read.
func sameBytes(t *testing.T, want, got string) {
	t.Helper()
	for _, name := range []string{recordName, planName, scenarioName, tableName, meaningName} {
		if a, b := read(t, want, name), read(t, got, name); a != b {
			t.Errorf("%s differs:\n%s\n%s", name, a, b)
		}
	}
}

func TestTable(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	c := mustRun(t, sweepOf(t, mixed), dir, options(2))
	if c != (Count{Of: 18, Done: 18}) {
		t.Errorf("%+v", c)
	}
	lines := strings.Split(read(t, dir, tableName), "\r\n")
	if want := "case,point,draw,current.power_W,wall.site,current.on_s,status,reason,peak_C,deepest_layer,energy_J"; lines[0] != want {
		t.Errorf("header %s", lines[0])
	}
	if len(lines) != 20 || lines[19] != "" {
		t.Fatalf("%d lines", len(lines))
	}
	for i, want := range []string{"0,0,0,1,right-colon,", "1,0,1,1,right-colon,", "2,0,2,1,right-colon,", "3,1,0,1,rectum,"} {
		if !strings.HasPrefix(lines[1+i], want) || !strings.Contains(lines[1+i], ",ok,,") || !strings.HasSuffix(lines[1+i], ",") {
			t.Errorf("row %d: %s", i, lines[1+i])
		}
	}
	if strings.HasSuffix(lines[18], ",") {
		t.Errorf("no energy in row %s", lines[18])
	}
	if r, err := readRecord(dir); err != nil || len(r.Columns) != 3 || len(r.Layers) < 3 || r.Inputs[0].Title != "Power" || r.Cases != 18 || r.Design != "grid" || r.Inputs[0].Levels != 3 {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestSameBytes(t *testing.T) {
	s, root := sweepOf(t, mixed), t.TempDir()
	one := filepath.Join(root, "one")
	mustRun(t, s, one, options(1))

	four := filepath.Join(root, "four")
	mustRun(t, s, four, options(4))
	sameBytes(t, one, four)

	var parts []string
	for i := range 3 {
		opt := options(2)
		opt.Slice = Slice{i, 3}
		part := filepath.Join(root, "part"+opt.Slice.Suffix())
		if c := mustRun(t, s, part, opt); c.Of != 6 {
			t.Errorf("slice %d: %+v", i, c)
		}
		parts = append(parts, part)
	}
	merged := filepath.Join(root, "merged")
	for range 2 { // the second time nothing is left to do
		if c, err := Merge(merged, []string{parts[2], parts[0], parts[1]}); err != nil || !c.Complete() {
			t.Fatal(c, err)
		}
		sameBytes(t, one, merged)
	}
	if c := mustRun(t, s, merged, options(1)); c.Done != 18 {
		t.Errorf("%+v", c)
	}
	sameBytes(t, one, merged)

	for name, tt := range map[string]struct {
		parts []string
		want  string
	}{
		"a gap":      {parts[:2], "slice 2/3 is missing; give all 3"},
		"twice":      {[]string{parts[0], parts[1], parts[1]}, "are both slice 1/3"},
		"a whole":    {[]string{one}, "holds a whole sweep"},
		"no sweep":   {[]string{root}, "is not the folder of a sweep"},
		"own folder": {append(parts[:3:3], one), "holds a whole sweep"},
	} {
		var refused Refusal
		if _, err := Merge(filepath.Join(root, "none"), tt.parts); !errors.As(err, &refused) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := os.Stat(filepath.Join(root, "none")); err == nil {
		t.Error("a refused merge left a folder")
	}
}

func TestOneCase(t *testing.T) {
	s, root := sweepOf(t, "title: One\nscenario: quick.yaml\ncases: [{name: only, set: {current.power_W: 1}}]\n"), t.TempDir()
	dir := filepath.Join(root, "out")
	if c := mustRun(t, s, dir, options(4)); c != (Count{Of: 1, Done: 1}) {
		t.Errorf("%+v", c)
	}
	opt := options(1) // a slice without a case
	opt.Slice = Slice{1, 2}
	if c := mustRun(t, s, filepath.Join(root, "empty"), opt); c != (Count{}) || !c.Complete() {
		t.Errorf("%+v", c)
	}
	opt.Slice = Slice{0, 2}
	mustRun(t, s, filepath.Join(root, "first"), opt)
	merged := filepath.Join(root, "merged")
	if _, err := Merge(merged, []string{filepath.Join(root, "empty"), filepath.Join(root, "first")}); err != nil {
		t.Fatal(err)
	}
	sameBytes(t, dir, merged)
}
