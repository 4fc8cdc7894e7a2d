package study

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

// A site brings layers of its own: where it is changed, a layer that varies too has another
// thickness, and still one thing was changed at a time.
func TestOneAtATimeOverSites(t *testing.T) {
	layer := sweepInput{Key: "wall.layers.mucosa.thickness_mm", Title: "mucosa", Unit: "mm"}
	m := madeUp{title: "Sites one at a time, invented", inputs: []sweepInput{siteIn, layer, powerIn}, top: bySite(0), design: "one-at-a-time", levels: []int{2, 2, 1},
		points: [][]string{{"rectum", "0.5", "20"}, {"left-colon", "0.7", "20"}, {"right-colon", "0.4", "20"}, {"rectum", "0.3", "20"}, {"rectum", "0.6", "20"}, {"rectum", "0.5", "40"}}}
	s := m.shape(t)
	if s.Design != OneAtATime {
		t.Fatalf("design %d", s.Design)
	}
	for n, want := range []string{"rectum left-colon right-colon", "0.3 mm 0.5 mm 0.6 mm", "20 W 40 W"} {
		if got := strings.Join(s.Factors[n].names, " "); got != want {
			t.Errorf("levels %q, want %q", got, want)
		}
	}
	all, base, ok := s.Changes(s.Outcome())
	if !ok || len(all) != 3 || math.Abs(base-0.75*math.Pow(20.0/15, 0.6)) > 1e-12 {
		t.Fatalf("%v, base %g", all, base)
	}
	if e := all[2].Effects; len(e) != 1 || e[0].Name != "40 W" || math.Abs(e[0].Size-0.75*(math.Pow(40.0/15, 0.6)-math.Pow(20.0/15, 0.6))) > 1e-12 {
		t.Errorf("power: %+v", e)
	}
	m.status = func(n int) string { return map[bool]string{true: "failed", false: "ok"}[n == 0] }
	if _, _, ok := m.shape(t).Changes(s.Outcome()); ok {
		t.Error("changes from a base that has no result")
	}
}

// read writes a made-up sweep and reads its table back.
func (m madeUp) read(t *testing.T) *SweepTable {
	t.Helper()
	dir := t.TempDir()
	m.write(t, dir)
	table, err := ReadSweep(dir)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

func (m madeUp) shape(t *testing.T) *SweepShape {
	table := m.read(t)
	return table.Shape()
}

// What is drawn follows from the shape of the plan.
func TestSweepFiguresCalledFor(t *testing.T) {
	for name, want := range map[string]string{
		"power":         "depth margin",
		"one-value":     "depth margin",
		"speed-power":   "depth margin map cut",
		"large-grid":    "depth margin map",
		"three":         "depth margin cut",
		"sites-power":   "depth margin",
		"draws":         "depth margin risk map sensitivity",
		"draws-only":    "depth margin sensitivity",
		"named":         "depth margin",
		"named-draws":   "depth margin risk sensitivity",
		"one-at-a-time": "depth margin change",
		"space":         "depth margin cut sensitivity",
		"paired":        "depth margin",
		"no-muscle":     "depth map",
		"all-failed":    "",
		"blank":         "",
	} {
		var got []string
		for _, f := range SweepFigures(chart.ForDocument, madeUps[name].read(t)) {
			got = append(got, f.Name)
		}
		if g := strings.Join(got, " "); g != want {
			t.Errorf("%s: %q, want %q", name, g, want)
		}
	}
}

// The design is that of the plan, whatever the values look like.
func TestSweepDesignIsThatOfThePlan(t *testing.T) {
	for name, want := range map[string]design{
		"power": grid, "speed-power": grid, "three": grid, "draws": grid, "named": grid, "draws-only": grid,
		"one-at-a-time": OneAtATime, "space": scattered, "paired": scattered,
	} {
		if s := madeUps[name].shape(t); s.Design != want {
			t.Errorf("%s: design %d, want %d", name, s.Design, want)
		}
	}
	s := madeUps["one-at-a-time"].shape(t)
	for n, want := range []string{"20 W", "1 s", "2 mm/s", "rectum"} {
		if got := s.Factors[n].names[s.Base[n]]; got != want {
			t.Errorf("base %s, want %s", got, want)
		}
	}
}

// What a reader is told: titles with units, counts of what is left out, the caution.
func TestSweepFiguresSay(t *testing.T) {
	for _, c := range []struct{ of, figure, want string }{
		{"speed-power", "depth", "Injury depth against speed|by power.|speed (mm/s, log scale)|10 W|40 W|mucosa|muscularis|3 of 28 cases failed and are left out.|1 of 28 cases did not pass their self-checks and are left out."},
		{"speed-power", "map", "power (W)|injury reaches the muscle|Darker than the line, it is in the muscle.|1.66"},
		{"speed-power", "cut", "speed of the needle (mm/s)|injury left beside the cut (mm²)|0.5 mm/s|the needle drags"},
		{"speed-power", "margin", "margin to the muscle (mm)|muscle injured (%)|injury in the muscle"},
		{"sites-power", "depth", "a panel for each site|stomach-antrum|muscle and beyond"},
		{"draws", "depth", "Median of 64 draws; shade: 5 to 95 %.|The layers drawn are those of the first case."},
		{"draws", "risk", "Probability that the injury reaches the muscle|dies within a day (% of draws)|the 95 % intervals of both (exact, Clopper and Pearson)"},
		{"thick-draws", "risk", "Share of 64 draws; lines: 95 % interval for that number of draws (exact, Clopper and Pearson)."},
		{"draws", "sensitivity", "contact radius|–1.00|muscularis thickness|Thin line: from the least to the largest of the points"},
		{"named", "depth", "Injury depth, case by case.|0.59 mm|short-and-strong"},
		{"one-at-a-time", "change", "Change of the margin to the muscle|power, base 20 W|40 W: –0.37 mm|10 W: +0.25 mm"},
		{"large-grid", "depth", "6 of the 20 values of power are shown."},
		{"no-muscle", "map", "injury depth (mm)"},
		{"one-value", "depth", "power 10 W"},
	} {
		figs := SweepFigures(chart.ForDocument, madeUps[c.of].read(t))
		i := slices.IndexFunc(figs, func(f chart.Figure) bool { return f.Name == c.figure })
		if i < 0 {
			t.Errorf("%s: no figure %s", c.of, c.figure)
			continue
		}
		b, err := chart.Svg(figs[i])
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range append(strings.Split(c.want, "|"), phrase.Caution, "invented") {
			if w == "invented" && c.of == "draws" {
				continue // its title does not fit
			}
			if !strings.Contains(string(b), w) {
				t.Errorf("%s: %s does not say %q", c.of, c.figure, w)
			}
		}
		if bytes.Contains(b, []byte("NaN")) {
			t.Errorf("%s: not a number in %s", c.of, c.figure)
		}
	}
}

// The made-up depth of a case without draws is 0.75 mm (P/15 W)^0.6 (t/1 s)^0.35, the
// muscle begins at 1.4 mm: by hand.
func TestSweepPlaces(t *testing.T) {
	s := madeUps["power"].shape(t)
	facets, _ := s.facets(false)
	if len(facets) != 1 || facets[0].series != nil {
		t.Fatalf("%d facets", len(facets))
	}
	for _, c := range []struct {
		q    quantity
		want func(depth float64) float64
	}{
		{depthOf(s.SweepTable), func(d float64) float64 { return d }},
		{marginOf(), func(d float64) float64 { return 1.4 - d }},
	} {
		places := facets[0].places(s.SweepTable, 0, c.q)
		if len(places) != 4 {
			t.Fatalf("%d places", len(places))
		}
		for n, p := range places {
			power := 10 * float64(n+1)
			if want := c.want(0.75 * math.Pow(power/15, 0.6)); p.x != power || math.Abs(p.mid-want) > 1e-12 {
				t.Errorf("%s: %g at %g, want %g at %g", c.q.label, p.mid, p.x, want, power)
			}
		}
	}
}

// Each curve holds the cases of its level, panel by panel.
func TestSweepCurves(t *testing.T) {
	for _, name := range []string{"large-grid", "three"} {
		s := madeUps[name].shape(t)
		facets, _ := s.facets(false)
		for _, f := range facets {
			for n := range f.curves() {
				for l, p := range f.places(s.SweepTable, n, depthOf(s.SweepTable)) {
					rows := f.split(n)[l]
					if len(rows) != 1 {
						t.Fatalf("%s: %d cases at a place, want 1", name, len(rows))
					}
					in := func(i int) float64 { return s.InputCells[i].Number[rows[0]] }
					want := 0.75 * math.Pow(in(0)/15, 0.6) * math.Pow(in(1), 0.35)
					if name == "three" {
						want *= math.Pow(in(2), -0.3)
					}
					if got := f.series.names[f.shown[n]]; !strings.HasPrefix(got, phrase.Short(in(slices.Index(s.Factors, f.series)))) {
						t.Errorf("%s: a case with %v stands at %s", name, in(0), got)
					}
					if math.Abs(p.mid-want) > 1e-12 {
						t.Errorf("%s: %g, want %g", name, p.mid, want)
					}
				}
			}
		}
	}
}

// The risk at a place is the counted share of its draws.
func TestSweepRisk(t *testing.T) {
	s := madeUps["thick-draws"].shape(t)
	facets, _ := s.facets(false)
	var last float64
	for _, p := range facets[0].places(s.SweepTable, 0, riskOf()) {
		k, n := 0, 0
		for _, r := range s.rows() {
			if s.InputCells[0].Number[r] == p.x {
				n++
				if s.Column[record.DepthColumn][r] >= 1.4 {
					k++
				}
			}
		}
		w := shareOfDraws(k, n)
		if p.n != 64 || p.mid != 100*w.mid || p.low != 100*w.low || p.high != 100*w.high {
			t.Errorf("%g W: %v, want %d of %d", p.x, p.stats, k, n)
		}
		last = p.mid
	}
	if last < 50 {
		t.Errorf("%g %% at the highest power: the test shows nothing", last)
	}
	if got := riskOf().of([]float64{0, -1, 1, math.NaN()}, 0); got.n != 3 || math.Abs(got.mid-200.0/3) > 1e-9 {
		t.Errorf("margins 0, -1, 1: %v, want 2 of 3", got)
	}
}

// The line of the map lies where the made-up depth is 1.4 mm: at 1 s,
// P = 15 W (1.4/0.75)^(1/0.6).
func TestMapLineLiesWhereTheMuscleIsReached(t *testing.T) {
	s := madeUps["large-grid"].shape(t)
	margin := s.over(s.Factors[1], s.Factors[0], record.MarginColumn, func(s stats) float64 { return s.mid })
	lines := margin.Isoline(0)
	if len(lines) != 1 {
		t.Fatalf("%d lines", len(lines))
	}
	want, near := 15*math.Pow(1.4/0.75, 1/0.6), 0
	for _, q := range lines[0] {
		if math.Abs(q.X) < 0.05 { // log10 of 1 s
			near++
			at := want / math.Pow(10, 0.35*q.X/0.6)
			if math.Abs(q.Y-at) > 0.15 { // W; a twentieth of a cell
				t.Errorf("at %.2f s the line is at %.2f W, want %.2f W", math.Pow(10, q.X), q.Y, at)
			}
		}
	}
	if near == 0 {
		t.Error("the line does not pass 1 s")
	}
}

func TestFactors(t *testing.T) {
	s := chart.TextStyle(chart.ForDocument.Word, chart.Ink, text.XLeft, text.YTop)
	for _, c := range []struct {
		f    factor
		w    vg.Length
		want string
	}{
		{factor{title: "power", unit: "W"}, 40 * chart.MM, "power (W)"},
		{factor{title: "speed", unit: "mm/s", log: true}, 60 * chart.MM, "speed (mm/s, log scale)"},
		{factor{title: "site"}, 40 * chart.MM, "site"},
		{factor{title: "pulse length", unit: "ms"}, s.Width("length (ms)"), "pulse\nlength (ms)"},
	} {
		if got := strings.Join(c.f.label(s, c.w), "\n"); got != c.want {
			t.Errorf("axis %q, want %q", got, c.want)
		}
	}
	for _, c := range []struct {
		values []float64
		log    bool
	}{
		{[]float64{10, 20, 30, 40}, false},
		{[]float64{1, 2, 5, 10}, true},
		{[]float64{10, 20, 40, 80}, true},
		{[]float64{0, 1, 10, 100}, false},
		{[]float64{1, 100}, false},
		{[]float64{0.5, 1.75, 3, 4.25, 5.5}, false},
	} {
		if got := logSpaced(c.values); got != c.log {
			t.Errorf("%v: log %v", c.values, got)
		}
	}
	for _, c := range []struct {
		in   sweepInput
		want string
	}{
		{powerIn, "power"},
		{speedIn, "speed"},
		{muscleIn, "muscularis thickness"},
		{sweepInput{Key: "current.duty_cycle_percent", Title: "current.duty_cycle_percent", Unit: "percent"}, "duty cycle"},
		{sweepInput{Key: "wall.layers.mucosa.material.k_W_mK", Unit: "W/(m K)"}, "mucosa thermal conductivity"},
		{sweepInput{Key: "wall.beyond.material.sigma_S_m", Unit: "S/m"}, "beyond conductivity"},
		{sweepInput{Key: "wall.lumen.temperature_C", Unit: "C"}, "lumen temperature"},
		{sweepInput{Key: "motion.mobility_mm_s_kPa", Unit: "mm/(s kPa)"}, "mobility"},
		{sweepInput{Key: "physics.conductivity_per_K", Unit: "1/K"}, "conductivity"},
		{sweepInput{Key: "wall.site"}, "site"},
		{sweepInput{Key: "pad.area_cm2", Unit: "cm2"}, "pad area"},
		{sweepInput{Key: "motion.length_mm", Unit: "mm"}, "path length"},
		{sweepInput{Key: "current.pulses.length_ms", Unit: "ms"}, "pulse length"},
		{sweepInput{Key: "current.pulses.between.power_W", Unit: "W"}, "power between pulses"},
		{sweepInput{Key: "current.limits.peak_voltage_V", Unit: "V"}, "limit of peak voltage"},
		{sweepInput{Key: "wall.layers.mucosa.thickness_mm", Title: "inner layer", Unit: "mm", Uncertain: true}, "inner layer"},
	} {
		if got := c.in.heading(); got != c.want {
			t.Errorf("%s: %q, want %q", c.in.Key, got, c.want)
		}
	}
	all := func(int) bool { return true }
	f := newFactor("", "W", inputCells{[]float64{20, math.NaN(), 10, 20}, make([]string, 4)}, all)
	if f.words || !slices.Equal(f.of, []int{1, -1, 0, 1}) || !slices.Equal(f.names, []string{"10 W", "20 W"}) {
		t.Errorf("levels %v %v", f.names, f.of)
	}
	if f := newFactor("", "", inputCells{[]float64{1, math.NaN()}, []string{"", "many"}}, all); !f.words || f.names[0] != "1" {
		t.Error("a word among numbers is no word")
	}
}

// What a spreadsheet was kept from comes back as it was.
func TestUnguarded(t *testing.T) {
	for _, w := range []string{"-5", "=x", "plain", "'quoted", "", "'"} {
		if got := record.Unguarded(record.Guarded(w)); got != w {
			t.Errorf("%q became %q", w, got)
		}
	}
}

func TestSweepTableErrors(t *testing.T) {
	for _, c := range []struct{ csv, want string }{
		{"", "EOF"},
		{"a,b\r\n1,2\r\n", "no column case, status or point: not the table of a sweep"},
		{"case,point,status\r\n", "no column current.power_W, which sweep.json names as an input"},
		{"case,point,current.power_W,status\r\n0,0,1,ok\r\n1,1,2,fine\r\n", `line 3: status "fine"; ok, failed or doubtful is right`},
		{"case,point,current.power_W,status\r\n0,x,1,ok\r\n", `line 2: point "x"; a whole number is right`},
		{"case,point,current.power_W,status\r\nx,0,1,ok\r\n", `line 2: case "x"; a whole number is right`},
		{"case,point,current.power_W,status\r\n0,0,1\r\n", "wrong number of fields"},
	} {
		table := &SweepTable{sweepRecord: sweepRecord{Inputs: []sweepInput{powerIn}}}
		if err := table.read(strings.NewReader(c.csv)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %s", c.csv, err, c.want)
		}
	}
}

// TestLookSweeps writes the figures of every made-up sweep below the folder named by
// MURALHEAT_LOOK, for the eye.
func TestLookSweeps(t *testing.T) {
	look := os.Getenv("MURALHEAT_LOOK")
	if look == "" {
		t.Skip("MURALHEAT_LOOK not set")
	}
	for name, m := range madeUps {
		dir := filepath.Join(look, "sweep-"+name)
		m.write(t, dir)
		names, err := drawInto(dir, chart.ForDocument)
		fmt.Println(name, strings.Join(names, " "), err)
		for _, name := range chart.PageNames {
			page, _ := chart.PageFor(name)
			drawInto(dir, page) // what there is nothing of has been said
		}
	}
}
