package study

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/scenarios/limit"
	"muralheat/scenarios/plan"
)

// shortTable is a made-up sweep of powers and times in which what was delivered is as given.
func shortTable(t *testing.T, delivered [9]string) *SweepTable {
	t.Helper()
	dir := t.TempDir()
	rows := "case,point,current.power_W,current.on_s,status,reason,injury_depth_mm,margin_to_muscle_mm,mean_power_W,set_power_W,limited_percent\n"
	for n, got := range delivered {
		power, seconds := []string{"1", "2", "3"}[n/3], []string{"5", "10", "20"}[n%3]
		set := power
		if got == "volts" { // a voltage was held, and limited for half of the time
			got, set = "0.4", ""
		}
		number := string(rune('0' + n))
		rows += strings.Join([]string{number, number, power, seconds, "ok", "", "1." + number, "0." + number, got, set, "50"}, ",") + "\n"
	}
	for name, text := range map[string]string{
		SweepName: `{"title":"Made up","draws":1,"cases":9,"design":"grid",
"inputs":[{"key":"current.power_W","title":"power","unit":"W"},{"key":"current.on_s","title":"time","unit":"s"}],"columns":[],"layers":[]}`,
		ResultName: rows,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	table, err := ReadSweep(dir)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

var (
	asSet  = [9]string{"1", "1", "0.96", "2", "2", "2", "3", "3", "3"}
	fewers = [9]string{"1", "1", "0.94", "2", "volts", "2", "3", "2", "0.98"}
)

// The cases that got less than was set are counted and named; nothing is said where all got it.
func TestLimitedCasesAreNamed(t *testing.T) {
	got := shortTable(t, fewers).Limited()
	want := []string{"Less was delivered than was set in 4 of 9 cases; the column remark says why:",
		"case 2 (1 W, 20 s): 0.94 of 1 W", "case 4 (2 W, 10 s): limited for 50 % of the time with current", "case 7 (3 W, 10 s): 2 of 3 W", "case 8 (3 W, 20 s): 0.98 of 3 W"}
	if !slices.Equal(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
	if got := shortTable(t, asSet).Limited(); got != nil {
		t.Errorf("%q", got)
	}
	if got := shortTable(t, [9]string{"0", "0", "0", "0", "0", "0", "0", "3", "3"}).Limited(); len(got) != 1+mostNamed+1 || got[len(got)-1] != "and 1 more" {
		t.Errorf("%q", got)
	}
}

// Curves and maps mark the points that got less than was set, and say what the mark means.
func TestShortPointsAreRinged(t *testing.T) {
	for _, c := range []struct {
		delivered [9]string
		rings     int
	}{{fewers, 3}, {asSet, 0}} {
		figs := map[string]chart.Figure{}
		for _, f := range SweepFigures(chart.ForDocument, shortTable(t, c.delivered)) {
			figs[f.Name] = f
		}
		for _, name := range []string{"depth", "map"} {
			if c.rings > 0 {
				fixture.Says(t, name, figs[name], []string{"Ringed: less power was delivered"}, nil)
			} else {
				fixture.Says(t, name, figs[name], nil, []string{"Ringed"})
			}
			svg, err := chart.Svg(figs[name])
			if err != nil {
				t.Fatal(err)
			}
			if n := strings.Count(string(svg), "stroke:#FFFFFF;stroke-width:2.4"); n != c.rings {
				t.Errorf("%s: %d rings, want %d", name, n, c.rings)
			}
		}
	}
}

// A limit that is the source's is not called that of the tissue.
func TestLimitOfTheSourceInWords(t *testing.T) {
	s := &plan.Sweep{Draws: 1, Limit: &plan.LimitSearch{Key: "current.power_W", Unit: "W", Largest: true, Column: "margin_to_muscle_mm"}}
	a := limit.Answer{Kind: limit.AllSafe, Limit: 4, Unsafe: math.NaN(), Measure: 0.3, ShortFrom: 2.1}
	if got := LimitAnswer(s, a); got != "no limit up to 4 W (margin_to_muscle_mm 0.3 there); the source could not deliver what was set from 2.1 W on." {
		t.Error(got)
	}
	a.ShortFrom = math.NaN()
	if got := LimitAnswer(s, a); got != "it holds for all that was tried, up to 4 W (margin_to_muscle_mm 0.3 there)." {
		t.Error(got)
	}
	a.Kind, a.Unsafe, a.ShortFrom, s.Limit.Largest = limit.Found, 4.1, 3, false
	if got := LimitAnswer(s, a); !strings.Contains(got, "at 4.1 W no more); the source could not deliver what was set from 3 W down.") {
		t.Error(got)
	}
}

// Walls of their own are shown down to their own outer surface, and bars say what was delivered of what was set.
func TestWallsEndWhereTheyEnd(t *testing.T) {
	dir := t.TempDir()
	table := func(wall [2]string) *SweepTable {
		for name, text := range map[string]string{
			SweepName: `{"title":"Made up","draws":1,"cases":2,"design":"grid","titles":["Thick wall","Thin wall"],"inputs":[{"key":"wall.site","title":"site"}],"columns":[],"layers":[]}`,
			ResultName: "case,name,point,wall.site,status,reason,injury_depth_mm,margin_to_muscle_mm,wall_mm,mean_power_W,set_power_W\n" +
				"0,a,0,rectum,ok,,1.4,0.15," + wall[0] + ",2.45,3\n1,b,1,right-colon,ok,,1.8,-0.95," + wall[1] + ",3,3\n",
		} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		s, err := ReadSweep(dir)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	const note = "grey: beyond the wall"
	known := table([2]string{"2.75", "1.25"})
	f := SweepFigures(chart.ForDocument, known)[0]
	fixture.Says(t, "known", f, []string{note, "Thick wall", "2.45 of 3 W"}, []string{">and<", "3 of 3 W", "Ringed"})
	fixture.Says(t, "unknown", SweepFigures(chart.ForDocument, table([2]string{"", ""}))[0], []string{">muscle<", ">beyond<"}, []string{note})

	s := known.Shape()
	facets, _ := s.facets(false)
	p := chart.NewPanel(chart.ForDocument, draw.Canvas{}, 0, 0, 100, 100, -0.5, 1.5, 3, 0)
	got := known.edgeBehind(p, facets[0], known.outerSurface)
	want := []chart.Point{{X: -0.5, Y: 2.75}, {X: -0.5, Y: 2.75}, {X: 0.5, Y: 2.75}, {X: 0.5, Y: 1.25}, {X: 1.5, Y: 1.25}, {X: 1.5, Y: 1.25}}
	if !slices.Equal(got, want) {
		t.Errorf("outer surface %v, want %v", got, want)
	}
	if bottom, _ := known.depthExtent(0, 1.8); bottom < 2.75 {
		t.Errorf("the axis ends at %g mm, within the thick wall", bottom)
	}
}
