package report

import (
	"slices"
	"strings"
	"testing"

	"muralheat/output/document"
	"muralheat/output/record"
)

// What differs between cases is shown from the least to the largest value, never as one case or the scenario has it alone.
func TestCasesShowWhatDiffers(t *testing.T) {
	_, r := simulated(t, benchScenario)
	var s Cases
	for n, power := range []string{"2", "5", "3"} {
		c := *r.Case
		c.Layers = slices.Clone(c.Layers)
		c.Drive.PowerW = 2 + float64(n)
		c.Layers[0].ThicknessM = 1e-3 * float64(1+n)
		c.Physics.SigmaPerK, c.Physics.Carbonisation = 0.01*float64(1+n/2), n == 1
		settings := []record.Setting{{Key: "current.power_W", Value: power, Unit: "W", Given: true}, {Key: "electrode.tip", Value: "disc", Given: true}, {Key: "wall.site", Value: "site " + power, Source: "source " + power}}
		if n == 2 {
			settings = slices.Insert(settings, 1, record.Setting{Key: "current.on_s", Value: "1", Unit: "s", Given: true})
		}
		s.Add(c, settings)
	}
	got := s.Settings(func(key string) string { return whenElse(key == "current.power_W", "varied by the plan", "") })
	want := []record.Setting{{Key: "current.power_W", Value: "2 to 5", Unit: "W", Source: "varied by the plan"}, {Key: "current.on_s", Value: "1 (in 1 of 3 cases)", Unit: "s", Given: true},
		{Key: "electrode.tip", Value: "disc", Given: true}, {Key: "wall.site", Value: "site 2, site 5, site 3", Source: "follows what varies; source 2; source 5; and others"}}
	if !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	p := Planned{Cases: s}
	d := p.dossier(Evidence{}, "", func(string) string { return "" })
	text := string((&document.Document{Sections: []document.Section{d.equationsSection(), d.geometrySection("axisymmetric"), d.driveSection()}}).Markdown())
	for _, w := range []string{"| " + r.Case.Layers[0].Name + " | 0 | 1 to 3 | 1 to 3 |", "2 W for ", "; or 4 W for ", "a = 0.01 1/K; or a = 0.02 1/K", "Carbonisation (in 1 of 3 cases)"} {
		if !strings.Contains(text, w) {
			t.Errorf("no %q in\n%s", w, text)
		}
	}
}

// A report of a sweep begins with what was asked: how many cases reach the muscle, and each point's margin; of draws the median.
func TestPointsLeadASweep(t *testing.T) {
	b := newSweepBench(t)
	in := func(text string, words ...string) {
		t.Helper()
		at := 0
		for _, w := range append(words, "Evidence at hand") {
			n := strings.Index(text[at:], w)
			if n < 0 {
				t.Fatalf("no %q where it should be in\n%s", w, text[:min(len(text), 3000)])
			}
			at += n
		}
	}
	in(b.report(t, b.planned), "What each point came to: median of the draws", "| power 3 W | 10 | 0.795 (0.755 to 0.835) |")
	b.write(t, "sweep.json", `{"title": "No draws", "program": "test", "points": 3, "draws": 1, "cases": 3, "design": "grid", "inputs": [{"key": "current.power_W", "title": "power", "unit": "W"}]}`)
	b.write(t, "results.csv", "case,point,draw,current.power_W,status,reason,injury_depth_mm,margin_to_muscle_mm\n0,0,0,1,ok,,1.1,0.6\n1,1,0,2,ok,,1.9,-0.2\n2,2,0,3,ok,,1.66,0.04\n")
	in(b.report(t, b.planned), "**The injury reaches the muscle in 1 of 3 cases. Least margin: –0.2 mm, at power 2 W.**", "| power 3 W | 0.04 | not known | 1.66 |")
}
