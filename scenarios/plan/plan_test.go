package plan

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/stat"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// planned reads a plan over the sound scenario.
func planned(text string) (*Sweep, error) {
	return Parse("p.yaml", []byte("title: Plan\nscenario: s.yaml\n"+text), func(path string) (*scenarios.Scenario, error) {
		return scenarios.Parse(path, []byte(sound))
	})
}

func mustPlan(t testing.TB, text string) *Sweep {
	t.Helper()
	s, err := planned(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// said returns what every case sets, as "key=value key=value".
func said(s *Sweep) []string {
	var all []string
	for i := range s.Len() {
		var one []string
		for _, x := range s.Sets(i) {
			one = append(one, x.Key+"="+x.Value.String())
		}
		all = append(all, strings.Join(one, " "))
	}
	return all
}

func TestDesigns(t *testing.T) {
	const vary = "vary:\n- {key: current.power_W, values: [1, 2]}\n- {key: wall.site, values: [rectum, right-colon]}\n"
	for name, tt := range map[string]struct {
		text string
		want []string
	}{
		"grid, the first key slowest": {vary, []string{
			"current.power_W=1 wall.site=rectum", "current.power_W=1 wall.site=right-colon",
			"current.power_W=2 wall.site=rectum", "current.power_W=2 wall.site=right-colon"}},
		"paired": {"design: paired\n" + vary, []string{
			"current.power_W=1 wall.site=rectum", "current.power_W=2 wall.site=right-colon"}},
		"one at a time": {"design: one-at-a-time\n" + vary, []string{
			"", "current.power_W=1", "current.power_W=2", "wall.site=rectum", "wall.site=right-colon"}},
		"linear range": {"vary: [{key: current.on_s, from: 1, to: 2, steps: 3}]\n", []string{
			"current.on_s=1", "current.on_s=1.5", "current.on_s=2"}},
		"log range, downwards": {"vary: [{key: current.on_s, from: 4, to: 1, steps: 3, spacing: log}]\n", []string{
			"current.on_s=4", "current.on_s=2", "current.on_s=1"}},
		"named": {"cases: [{name: as-is}, {name: gentle, set: {current.power_W: 1, current.on_s: 3}}]\n", []string{
			"", "current.power_W=1 current.on_s=3"}},
		"only a limit": {"limit: {key: current.power_W, from: 1, to: 2, above: 0}\n", []string{""}},
		"a layer of the site": {"vary: [{key: wall.layers.mucosa.thickness_mm, values: [0.9]}]\n", []string{
			"wall.layers.mucosa.thickness_mm=0.9"}},
	} {
		s := mustPlan(t, tt.text)
		if d := cmp.Diff(tt.want, said(s)); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
		for i := range s.Len() {
			if _, err := s.Scenario(i); err != nil {
				t.Errorf("%s: case %d: %v", name, i, err)
			}
		}
	}
}

// A value of 0 that is not the least of its key is told before a figure misleads.
func TestPlanNotes(t *testing.T) {
	for text, want := range map[string]string{
		"vary: [{key: current.limits.current_A, values: [0, 2]}]\n":      "current.limits.current_A: 0 means no limit; tables and figures have it below the least value.",
		"cases: [{name: a, set: {electrode.heat_capacity_J_K: 0}}]\n":    "electrode.heat_capacity_J_K: 0 means metal held at its temperature; tables and figures have it below the least value.",
		"vary: [{key: current.limits.current_A, values: [1, 2]}]\n":      "",
		"vary: [{key: current.duty_cycle_percent, values: [0.5, 50]}]\n": "",
		"cases: [{name: a, set: {current.duty_cycle_percent: 0.5}}]\n":   "current.duty_cycle_percent: 0.5 %: did you mean 50?",
		"vary: [{key: current.power_W, values: [0, 2]}]\n":               "",
	} {
		if got := strings.Join(mustPlan(t, text).Notes(), "\n"); got != want {
			t.Errorf("%s got  %s\nwant %s", text, got, want)
		}
	}
}

// TestSetValues: what a case sets arrives in the computation, and its table row says so.
func TestSetValues(t *testing.T) {
	s := mustPlan(t, "cases: [{name: as-is}, {name: strong, set: {current.power_W: 25, wall.layers.mucosa.thickness_mm: 0.8}}]\n")
	for i, want := range []struct {
		power, mucosa float64
		name          string
	}{{10, math.NaN(), "as-is"}, {25, 0.8e-3, "strong"}} {
		of, err := s.Scenario(i)
		if err != nil {
			t.Fatal(err)
		}
		c := of.Case()
		if math.IsNaN(want.mucosa) { // of the library
			base := s.Base.Case()
			want.mucosa = base.Layers[0].ThicknessM
		}
		if c.Drive.PowerW != want.power || c.Layers[0].ThicknessM != want.mucosa || s.CaseName(i) != want.name {
			t.Errorf("case %d: %v W, %v m, name %q; want %+v", i, c.Drive.PowerW, c.Layers[0].ThicknessM, s.CaseName(i), want)
		}
		row := s.Values(i, of)
		if row[0] != keys.Text(want.power) || row[1] != keys.Text(want.mucosa*1000) {
			t.Errorf("case %d: row %q", i, row)
		}
	}
}

// TestValuesOnlyRead: the row of a case without a cushion beside one with it leaves the
// first without.
func TestValuesOnlyRead(t *testing.T) {
	s := mustPlan(t, "cases: [{name: as-is}, {name: lifted, set: {wall.cushion.fluid: saline, wall.cushion.thickness_mm: 3}}]\n")
	of, err := s.Scenario(0)
	if err != nil {
		t.Fatal(err)
	}
	before := of.Identity()
	if row := s.Values(0, of); row[0] != "" || row[1] != "" {
		t.Errorf("row %q of a wall without a cushion", row)
	}
	if of.File.Wall.Cushion != nil || of.Identity() != before {
		t.Error("making the row gave the wall a cushion")
	}
}

// places returns the places from 0 to 1 of a filling design over one key per axis.
func places(s *Sweep, axis int) []float64 {
	var u []float64
	for p := range s.Points() {
		x, _ := s.Sets(p * s.Draws)[axis].Value.Number()
		u = append(u, x-1) // from 1 to 2
	}
	return u
}

const filled = "vary: [{key: current.power_W, from: 1, to: 2}, {key: current.on_s, from: 1, to: 2}, {key: afterwards_s, from: 1, to: 2}]\n"

func TestHalton(t *testing.T) {
	long := mustPlan(t, "design: halton\npoints: 128\nseed: 3\n"+filled)
	short := mustPlan(t, "design: halton\npoints: 64\nseed: 3\n"+filled)
	if d := cmp.Diff(said(short), said(long)[:64]); d != "" {
		t.Errorf("the first half of twice as many points is another design:\n%s", d)
	}
	other := mustPlan(t, "design: halton\npoints: 64\nseed: 4\n"+filled)
	if slices.Equal(said(short), said(other)) {
		t.Error("another seed gives the same points")
	}
	// Any b^m points in a row from the start put one into each of b^m equal slices: the
	// property that makes it a van der Corput sequence (Niederreiter 1992, Random Number
	// Generation and Quasi-Monte Carlo Methods, section 3.1), scrambled or not.
	for axis, n := range []int{64, 81, 125} { // 2^6, 3^4, 5^3
		seen := make([]bool, n)
		for _, u := range places(long, axis)[:n] {
			if k := int(u * float64(n) * (1 + 1e-12)); seen[k] {
				t.Errorf("axis %d: slice %d of %d holds two points", axis, k, n)
			} else {
				seen[k] = true
			}
		}
	}
}

func TestLatinHypercube(t *testing.T) {
	const n = 50
	s := mustPlan(t, "design: latin-hypercube\npoints: 50\nseed: 3\n"+filled)
	for axis := range 3 {
		seen := map[int]bool{}
		for _, u := range places(s, axis) {
			seen[int(u*n)] = true
		}
		if len(seen) != n {
			t.Errorf("axis %d: points in %d of %d slices", axis, len(seen), n)
		}
	}
	if slices.Equal(said(s), said(mustPlan(t, "design: latin-hypercube\npoints: 50\nseed: 4\n"+filled))) {
		t.Error("another seed gives the same points")
	}
}

// TestLatinHypercubeIsNotCorrelated: what chance gives between keys is 1/sqrt(n-1), here 0.18.
func TestLatinHypercubeIsNotCorrelated(t *testing.T) {
	for seed := range 20 {
		s := mustPlan(t, fmt.Sprintf("design: latin-hypercube\npoints: 31\nseed: %d\n", seed)+filled)
		for a := range 3 {
			for b := range a {
				if r := stat.Correlation(places(s, a), places(s, b), nil); math.Abs(r) > 0.07 {
					t.Errorf("seed %d: keys %d and %d are correlated by %.2f", seed, a, b, r)
				}
			}
		}
	}
	for n := 1; n < 6; n++ { // too few to be arranged is no error
		mustPlan(t, fmt.Sprintf("design: latin-hypercube\npoints: %d\n", n)+filled)
	}
}

// TestLargePlan: a million cases are planned, and any of them looked up, without making
// them all.
func TestLargePlan(t *testing.T) {
	const n = 1_000_000
	for name, text := range map[string]string{
		"grid":            "vary: [{key: current.power_W, from: 1, to: 2, steps: 100}, {key: current.on_s, from: 1, to: 2, steps: 100}, {key: afterwards_s, from: 1, to: 2, steps: 100}]\n",
		"halton":          "design: halton\npoints: 1000000\n" + filled,
		"latin-hypercube": "design: latin-hypercube\npoints: 1000000\n" + filled,
		"draws":           "vary: [{key: current.power_W, values: [1]}]\nuncertain: [{key: current.on_s, uniform: {low: 1, high: 2}}]\ndraws: 1000000\n",
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		s := mustPlan(t, text)
		runtime.GC()
		runtime.ReadMemStats(&after)
		if s.Len() != n || len(s.Sets(n-1)) == 0 {
			t.Errorf("%s: %d cases", name, s.Len())
		}
		if held := int64(after.HeapAlloc) - int64(before.HeapAlloc); held > 100e6 {
			t.Errorf("%s: holds %d MB", name, held/1e6)
		}
		runtime.KeepAlive(s)
	}
}

// BenchmarkLargePlan plans a million cases of a design over ranges.
func BenchmarkLargePlan(b *testing.B) {
	for b.Loop() {
		mustPlan(b, "design: halton\npoints: 1000000\n"+filled)
	}
}

// Figures call a case by its title, or by its name where it has none.
func TestTitles(t *testing.T) {
	s := mustPlan(t, "cases: [{name: a, title: \"1 mm/s, slow\"}, {name: b}]\n")
	if got := s.Titles(); !slices.Equal(got, []string{"1 mm/s, slow", "b"}) || s.CaseTitle(1) != "b" || s.CaseName(0) != "a" {
		t.Errorf("titles %q", got)
	}
	if got := mustPlan(t, "cases: [{name: a}, {name: b}]\n").Titles(); got != nil {
		t.Errorf("titles %q where none is given", got)
	}
}
