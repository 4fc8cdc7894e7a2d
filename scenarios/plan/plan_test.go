package plan

import (
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

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
		"nothing varies": {"", []string{""}},
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

// TestLaws compares draws with the moments and quantiles of gonum's distributions, by the
// standard error of each over 4000 draws, five of them allowed.
func TestLaws(t *testing.T) {
	const draws = 4000
	tri := distuv.NewTriangle(1, 4, 2, nil)
	for name, tt := range map[string]struct {
		law      string
		mean, sd float64
		low, top float64 // no draw beyond
	}{
		"normal":     {"normal: {mean: 10, sd: 0.5}", 10, 0.5, 7, 13},
		"lognormal":  {"lognormal: {median: 2, gsd: 1.3}", distuv.LogNormal{Mu: math.Log(2), Sigma: math.Log(1.3)}.Mean(), distuv.LogNormal{Mu: math.Log(2), Sigma: math.Log(1.3)}.StdDev(), 0, 10},
		"uniform":    {"uniform: {low: 2, high: 5}", 3.5, 3 / math.Sqrt(12), 2, 5},
		"triangular": {"triangular: {low: 1, mode: 2, high: 4}", tri.Mean(), tri.StdDev(), 1, 4},
		// The upper half of a normal law: mean sqrt(2/pi) sd, variance (1 - 2/pi) sd2.
		"half normal": {"normal: {mean: 10, sd: 1}, within: {low: 10, high: 99}", 10 + math.Sqrt(2/math.Pi), math.Sqrt(1 - 2/math.Pi), 10, 99},
		"cut off":     {"normal: {mean: 10, sd: 100}, within: {low: 9, high: 11}", 10, 2 / math.Sqrt(12), 9, 11},
	} {
		s := mustPlan(t, "uncertain: [{key: current.power_W, "+tt.law+"}]\ndraws: 4000\nseed: 11\n")
		var x []float64
		for i := range s.Len() {
			v, _ := s.Sets(i)[0].Value.Number()
			x = append(x, v)
		}
		mean, sd := stat.MeanStdDev(x, nil)
		if se := tt.sd / math.Sqrt(draws); math.Abs(mean-tt.mean) > 5*se {
			t.Errorf("%s: mean %.4f, want %.4f within %.4f", name, mean, tt.mean, 5*se)
		}
		if math.Abs(sd/tt.sd-1) > 0.06 {
			t.Errorf("%s: sd %.4f, want %.4f", name, sd, tt.sd)
		}
		if slices.Min(x) < tt.low || slices.Max(x) > tt.top {
			t.Errorf("%s: draws from %g to %g leave %g to %g", name, slices.Min(x), slices.Max(x), tt.low, tt.top)
		}
	}
}

// TestDraws: the draws are the same at every point, differ between keys and with the
// seed, and are still the same when there are more of them.
func TestDraws(t *testing.T) {
	const text = "vary: [{key: current.on_s, values: [1, 2]}]\nuncertain: [{key: current.power_W, uniform: {low: 1, high: 2}}, {key: afterwards_s, uniform: {low: 1, high: 2}}]\n"
	s := mustPlan(t, text+"draws: 5\nseed: 2\n")
	if s.Len() != 10 || s.Points() != 2 {
		t.Fatalf("%d cases, %d points", s.Len(), s.Points())
	}
	seen := map[string]bool{}
	for d := range 5 {
		a, b := s.Sets(d), s.Sets(5+d)
		if a[1].Value.String() != b[1].Value.String() || a[2].Value.String() != b[2].Value.String() {
			t.Errorf("draw %d differs between points", d)
		}
		seen[a[1].Value.String()], seen[a[2].Value.String()] = true, true
	}
	if len(seen) != 10 {
		t.Errorf("%d different values in 10 draws", len(seen))
	}
	if more := mustPlan(t, text+"draws: 9\nseed: 2\n"); !slices.Equal(said(s)[:5], said(more)[:5]) {
		t.Error("more draws change the first ones")
	}
	if other := mustPlan(t, text+"draws: 5\nseed: 3\n"); slices.Equal(said(s), said(other)) {
		t.Error("another seed gives the same draws")
	}
}

func TestIdentity(t *testing.T) {
	s := mustPlan(t, "cases: [{name: a}, {name: b, set: {current.power_W: 10}}, {name: c, set: {current.power_W: 11}}]\n")
	var id []string
	for i := range s.Len() {
		of, err := s.Scenario(i)
		if err != nil {
			t.Fatal(err)
		}
		id = append(id, of.Identity())
	}
	if id[0] != id[1] || id[0] == id[2] {
		t.Errorf("identities %q: the first two cases are the same, the third is not", id)
	}
}

func TestDigest(t *testing.T) {
	const text = "vary: [{key: current.power_W, values: [1, 2]}]\nuncertain: [{key: current.on_s, normal: {mean: 2, sd: 0.1}}]\ndraws: 2\nseed: 1\n"
	digest := func(plan, scenario string) string {
		s, err := Parse("p.yaml", []byte("title: Plan\nscenario: s.yaml\n"+plan), func(string) (*scenarios.Scenario, error) { return scenarios.Parse("s.yaml", []byte(scenario)) })
		if err != nil {
			t.Fatalf("%s: %v", plan, err)
		}
		return s.Digest()
	}
	first := digest(text, sound)
	for _, same := range [][2]string{
		{"# a remark\n" + text, sound},
		{text, strings.Replace(sound, "title: Case", "title: Other", 1)},
		{text, strings.Replace(sound, "title: Case", "title: Case\nquestion: How deep?\ncontext_of_use: a lecture", 1)},
		{"question: How deep?\ncontext_of_use: a lecture\n" + text, sound},
		{strings.Replace(text, "[1, 2]}", "[1.0, 2e0], title: Power}", 1), sound},
		{strings.Replace(text, "values: [1, 2]", "from: 1, to: 2, steps: 2", 1), sound},
	} {
		if digest(same[0], same[1]) != first {
			t.Errorf("other digest, but the same cases:\n%s", same[0])
		}
	}
	seen := map[string]string{first: "the first plan"}
	for _, r := range []struct{ old, new string }{
		{"[1, 2]", "[1, 3]"}, {"[1, 2]", "[2, 1]"}, {"[1, 2]", "[1, 2, 3]"}, {"power_W", "peak_voltage_V"}, {"power_W", "duty_cycle_percent"},
		{"mean: 2", "mean: 2.1"}, {"sd: 0.1", "sd: 0.2"}, {"sd: 0.1}", "sd: 0.1}, within: {low: 1.9, high: 3}"},
		{"draws: 2", "draws: 3"}, {"seed: 1", "seed: 2"}, {"normal: {mean: 2, sd: 0.1}", "uniform: {low: 1, high: 2}"},
		{"vary:", "design: paired\nvary:"}, {"vary:", "design: one-at-a-time\nvary:"},
		{"vary:", "design: halton\npoints: 2\nvary:"}, {"vary:", "design: halton\npoints: 3\nvary:"}, {"vary:", "design: latin-hypercube\npoints: 2\nvary:"},
		{"vary: [{key: current.power_W, values: [1, 2]}]", "cases: [{name: a, set: {current.power_W: 1}}]"},
		{"vary: [{key: current.power_W, values: [1, 2]}]", "cases: [{name: b, set: {current.power_W: 1}}]"},
		{"vary: [{key: current.power_W, values: [1, 2]}]", "cases: [{name: a, set: {current.power_W: 2}}]"},
	} {
		scenario := sound
		if r.new == "peak_voltage_V" {
			scenario = strings.Replace(sound, "power_W: 10", "peak_voltage_V: 10", 1)
		}
		d := digest(strings.Replace(text, r.old, r.new, 1), scenario)
		if seen[d] != "" {
			t.Errorf("%q has the digest of %q", r.new, seen[d])
		}
		seen[d] = r.new
	}
	for _, new := range []string{"power_W: 10\n  duty_cycle_percent: 50", "power_W: 10\n  duty_cycle_percent: 100", "power_W: 9"} {
		d := digest(text, strings.Replace(sound, "power_W: 10", new, 1))
		if seen[d] != "" {
			t.Errorf("scenario with %q has the digest of %q", new, seen[d])
		}
		seen[d] = new
	}
}

func TestPlanProblems(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"vary: [{key: curent.power_W, values: [1]}]\n",
			`p.yaml:3:14: vary[1].key: "curent.power_W" is not a key of s.yaml; did you mean current.power_W?`},
		{"vary: [{key: wall.layers.mucossa.thickness_mm, values: [1]}]\n",
			`p.yaml:3:14: vary[1].key: "wall.layers.mucossa.thickness_mm" is not a key of s.yaml; did you mean wall.layers.mucosa.thickness_mm?`},
		{"vary: [{key: title, values: [a]}]\n",
			"p.yaml:3:14: vary[1].key: \"title\" is not a key of s.yaml; `muralheat check` lists the keys of a scenario"},
		{"varry: [{key: current.power_W, values: [1]}]\n",
			`p.yaml:3:1: varry: unknown key; did you mean vary?`},
		{"vary: [{key: current.power_W, values: [1, 1000]}]\n",
			`p.yaml:3:43: vary[1].values[2]: 1000 is out of range; give a number from 0 to 500 W`},
		{"vary: [{key: current.power_W, values: [1, a]}]\n",
			`p.yaml:3:43: vary[1].values[2]: the text "a" where a number is needed; give a number from 0 to 500 W`},
		{"vary: [{key: current.power_W, values: [1, 1.0]}]\n",
			`p.yaml:3:43: vary[1].values[2]: 1 is already in the list; give each value once`},
		{"vary: [{key: wall.site, values: [rectumm]}]\n", `p.yaml:3:34: vary[1].values[1]: `},
		{"vary: [{key: current.power_W, from: 1, to: 900, steps: 3}]\n",
			`p.yaml:3:44: vary[1].to: 900 is out of range; give a number from 0 to 500 W`},
		{"vary: [{key: current.power_W, from: 1, to: 9}]\n",
			`p.yaml:3:8: vary[1]: a range without steps; give steps, the number of values`},
		{"vary: [{key: current.power_W, from: 0, to: 9, steps: 3, spacing: log}]\n",
			`p.yaml:3:66: vary[1].spacing: log needs both ends above 0; write linear, or move the ends`},
		{"vary: []\n", `p.yaml:3:1: vary: an empty list; give at least one item`},
		{"cases: []\n", `p.yaml:3:1: cases: an empty list; give at least one item`},
		{"design: paired\nvary: [{key: current.power_W, values: [1, 2]}, {key: current.on_s, values: [1]}]\n",
			`p.yaml:4:48: vary[2]: 1 values, but the first key has 2; a paired design needs the same number of each`},
		{"design: halton\nvary: [{key: current.power_W, from: 1, to: 2}]\n",
			`p.yaml:3:9: design: halton without points; give points, their number`},
		{"vary: [{key: current.power_W, values: [1]}, {key: current.power_W, values: [2]}]\n",
			`p.yaml:3:51: vary[2].key: "current.power_W" is already in the plan; name each key once`},
		{"draws: 3\n", `p.yaml:3:8: draws: nothing is uncertain; give uncertain, or leave it out`},
		{"uncertain: [{key: wall.site, uniform: {low: 1, high: 2}}]\ndraws: 2\n",
			`p.yaml:3:19: uncertain[1].key: "wall.site" is not a number; only numbers can be drawn`},
		{"uncertain: [{key: current.on_s, normal: {mean: 1, sd: 1}, within: {low: 80, high: 90}}]\ndraws: 2\n",
			`p.yaml:3:59: uncertain[1].within: the whole distribution is cut off; move the ends`},
		{"cases: [{name: a, set: {curent.power_W: 1}}]\n",
			`p.yaml:3:25: cases.a.set.curent.power_W.key: "curent.power_W" is not a key of s.yaml; did you mean current.power_W?`},
		{"cases: [{name: a, set: {\"curent\\npower\\e[31m_W\": 1}}]\n",
			`p.yaml:3:25: cases.a.set.curent\npower\x1b[31m_W.key: "curent\npower\x1b[31m_W" is not a key of s.yaml; ` + "`muralheat check` lists the keys of a scenario"},
		{"limit: {key: current.power_W, from: -5, to: 9, above: 1}\n",
			`p.yaml:3:37: limit.from: -5 is out of range; give a number from 0 to 500 W`},
		{"limit: {key: current.power_W, from: 5, to: 900, above: 1}\n",
			`p.yaml:3:44: limit.to: 900 is out of range; give a number from 0 to 500 W`},
		{"cases: [{name: a, set: {current.power_W: 1, current.peak_voltage_V: 100}}]\n",
			`p.yaml:3:9: cases.a: with this current.peak_voltage_V: is given together with power_W; give only one of power_W, burst_power_W, peak_voltage_V and current_A`},
		{"design: one-at-a-time\nvary: [{key: current.on_s, values: [1]}, {key: numerics.finest_um, values: [50, 900]}]\n",
			`p.yaml:4:42: vary[2]: with this numerics.finest_um: 900 um leaves fewer than two cells per contact radius; at most 500, half the contact radius`},
		{"vary: [{key: numerics.finest_um, values: [50, 900]}]\n",
			`p.yaml:3:47: vary[1].values[2]: with this numerics.finest_um: 900 um leaves fewer than two cells per contact radius; at most 500, half the contact radius`},
		{"vary: [{key: current.power_W, from: 1, to: 2, steps: 10000}, {key: current.on_s, from: 1, to: 2, steps: 10000}]\n",
			`p.yaml:3:1: vary: 100000000 cases; at most 10000000: give fewer values or draws, or a design that fills the range`},
	} {
		_, err := planned(tt.text)
		if err == nil {
			t.Errorf("no problem found in\n%s", tt.text)
			continue
		}
		if got := err.Error(); got != tt.want && !(strings.HasSuffix(tt.want, ": ") && strings.HasPrefix(got, tt.want)) {
			t.Errorf("%s got  %s\nwant %s", tt.text, got, tt.want)
		}
	}
}

func TestPlanFiles(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	scenario := write("s.yaml", sound)
	plan := write("p.yaml", "title: Plan\nscenario: s.yaml\nvary: [{key: current.power_W, values: [3]}]\n")
	for path, want := range map[string]bool{plan: true, scenario: false} {
		data, err := scenarios.Read(path, "plan")
		if err != nil || keys.IsPlanText(path, data) != want {
			t.Errorf("%s: %v, taken for a plan: %t", path, err, !want)
		}
	}
	if s, err := Load(plan); err != nil || s.Len() != 1 {
		t.Errorf("%v", err)
	}
	lost := write("lost.yaml", "title: Plan\nscenario: none.yaml\n")
	if _, err := Load(lost); err == nil || err.Error() != filepath.Join(dir, "none.yaml")+": no such file or directory; name a scenario file that can be read" {
		t.Errorf("%v", err)
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
