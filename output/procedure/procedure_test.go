package procedure

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/thermal"
)

// made is a record of made-up results: two procedures, of which the second has a step through the wall.
func made() *Record {
	step := func(n int, title, of string) Step {
		return Step{Number: n, Title: title, Name: title, Times: 1, RestS: 20, Folder: "cases/" + title, Result: fixture.Synthetics[of].Result()}
	}
	a := List{Title: "Gentle", Steps: []Step{step(1, "mark", "mild"), {Number: 2, Title: "lift", Wall: "cushion fluid saline", RestS: 5}, step(3, "cut", "thick")}}
	b := List{Title: "Strong", Steps: []Step{step(1, "mark", "mild"), step(2, "cut", "hot")}}
	b.Steps[1].Result.Summary.MarginToMuscleM = -0.4e-3
	a.Steps[0].Times, a.Steps[0].PauseS = 3, 2
	return &Record{Title: "A: Gentle. B: Strong", Procedures: []List{a, b}}
}

// The least margin is marked once, in words and by a frame; margins of the second list stand beside those of the first.
func TestFigureSays(t *testing.T) {
	r := made()
	if list, step := r.Riskiest(); list != 1 || step != 1 {
		t.Fatalf("riskiest: %d, %d", list, step)
	}
	fixture.Says(t, "document", r.Figure(chart.ForDocument), []string{"A1 mark", "A3 cut", "B2 cut", "0.40 mm into muscle", "Least: ", "B2 cut.", "3 times", "from 2 lift on: cushion fluid saline", "(+0.00)"}, []string{"2 lift</"})
	svg, err := chart.Svg(r.Figure(chart.ForSlide))
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(svg), "stroke-width:3\""); n != 1 && strings.Count(string(svg), "stroke-width:3;") != 1 {
		t.Errorf("%d heavy frames", n)
	}
	if !strings.Contains(string(svg), `height="540pt"`) {
		t.Errorf("not the size of a slide: %.150s", svg)
	}
}

// More steps than a row has room for stand in rows of about the same length; a slide shows those with the least margins.
func TestManySteps(t *testing.T) {
	r := &Record{Title: "Many", Procedures: []List{{Title: "Many"}}}
	l := &r.Procedures[0]
	for i := range 9 {
		s := Step{Number: i + 1, Title: string(rune('a' + i)), Name: "x", Times: 1, Result: fixture.Synthetics["mild"].Result()}
		s.Result.Summary.MarginToMuscleM = float64(9-i) * 1e-4
		l.Steps = append(l.Steps, s)
	}
	if got := l.riskiest([]int{0, 1, 2, 3, 4, 5, 6, 7, 8}, 3); !slices.Equal(got, []int{6, 7, 8}) {
		t.Errorf("%v", got)
	}
	if perRow(9, 6) != 5 || perRow(6, 6) != 6 || perRow(13, 6) != 5 || perRow(0, 6) != 1 || perRow(5, 2) != 2 {
		t.Errorf("%d, %d, %d in a row", perRow(9, 6), perRow(6, 6), perRow(13, 6))
	}
	fixture.Says(t, "document", r.Figure(chart.ForDocument), []string{"1 a", "9 i"}, nil)
	fixture.Says(t, "slide", r.Figure(chart.ForSlide), []string{"9 i", "3 steps with more margin are in the table only"}, []string{"1 a<"})
}

// Totals count each step as often as it is done; the rest after the last step does not count.
func TestTotals(t *testing.T) {
	r := made()
	l := &r.Procedures[0]
	mild, thick := l.Steps[0].Result, l.Steps[2].Result
	got := l.totals()
	onS := 3*mild.Case.Drive.OnS + thick.Case.Drive.OnS
	if got.activations != 4 || math.Abs(got.withCurrentS-onS) > 1e-12 || math.Abs(got.wholeS-(onS+2*2+20+5)) > 1e-9 {
		t.Errorf("%+v, current for %g s", got, onS)
	}
	if want := 3*mild.Balance.ElectricJ + thick.Balance.ElectricJ; math.Abs(got.energyJ-want) > 1e-9 {
		t.Errorf("%g J, want %g", got.energyJ, want)
	}
	rows, err := csv.NewReader(strings.NewReader(string(r.CSV()))).ReadAll()
	if err != nil || len(rows) != 6 {
		t.Fatalf("%d rows (%v)", len(rows), err)
	}
	at := func(row int, column string) string { return rows[row][slices.Index(rows[0], column)] }
	if at(1, "times") != "3" || at(2, "times") != "" || at(2, "wall_changes") != "cushion fluid saline" || at(2, "energy_J") != "" || at(5, "folder") != "cases/cut" {
		t.Errorf("%q", rows)
	}
}

// Of a step that failed the table says why, and no figure needs it.
func TestFailedStep(t *testing.T) {
	r := made()
	s := &r.Procedures[0].Steps[2]
	s.Result, s.Folder, s.Failed = nil, "", "failed: it diverged"
	if text := r.Report(); !strings.Contains(text, "cut: no result: failed: it diverged") {
		t.Error(text)
	}
	if !strings.Contains(string(r.CSV()), "failed: it diverged") {
		t.Error("the table does not say why")
	}
	fixture.Says(t, "figure", r.Figure(chart.ForDocument), []string{"A1 mark", "B2 cut"}, []string{"A3 cut<"})
}

// Draws in which the muscle is reached are counted by step and by list, paired: a draw is the same wall in every step.
func TestShares(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"sweep.json": `{"title": "T", "inputs": [{"key": "wall.layers.muscularis.thickness_mm", "title": "m", "unit": "mm", "uncertain": true}], "draws": 4, "cases": 8, "named": true, "design": "cases"}`,
		"results.csv": "case,name,point,draw,wall.layers.muscularis.thickness_mm,status,reason,injury_depth_mm,margin_to_muscle_mm\n" +
			"0,a,0,0,1,ok,,1,0.1\n1,a,0,1,1,ok,,1,-0.1\n2,a,0,2,1,ok,,1,0\n3,a,0,3,1,ok,,1,0.2\n" +
			"4,b,1,0,1,ok,,1,-0.3\n5,b,1,1,1,ok,,1,-0.1\n6,b,1,2,1,failed,why,,\n7,b,1,3,1,ok,,1,0.2\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	r := &Record{Procedures: []List{{Steps: []Step{{Name: "a", Case: 0}, {Title: "lift"}, {Name: "b", Case: 1}}}}}
	if err := r.readDraws(dir); err != nil {
		t.Fatal(err)
	}
	l := r.Procedures[0]
	if a, b := l.Steps[0].Reach, l.Steps[2].Reach; a.Percent != 50 || a.Draws != 4 || b.Draws != 3 || math.Abs(b.Percent-200./3) > 1e-9 {
		t.Errorf("%+v, %+v", a, b)
	}
	if any := l.AnyReach; any.Percent != 75 || any.Draws != 4 {
		t.Errorf("some step: %+v", any)
	}
	if s := l.Steps[0].Reach; math.Abs(s.Low-6.7586) > 1e-3 || math.Abs(s.High-93.2414) > 1e-3 { // exact, 2 of 4: Clopper and Pearson 1934, from memory
		t.Errorf("%+v", s)
	}
}

// Flows has an activation for each that a case repeats.
func TestFlows(t *testing.T) {
	r := fixture.Synthetics["mild"].Result()
	r.Case.Repeat = thermal.Repeat{Times: 3, PauseS: 4}
	r.Summary.CurrentRMSA = 0.2
	flows := Flows(r)
	if len(flows) != 3 || flows[0].RestS != 4 || flows[2].CurrentA != 0.2 || flows[1].OnS != r.Case.Drive.OnS {
		t.Errorf("%+v", flows)
	}
}
