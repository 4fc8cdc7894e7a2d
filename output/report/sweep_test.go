package report

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/output/record"
	"muralheat/scenarios/batch"
	"muralheat/thermal"
)

// sweepBench is the folder of a made-up sweep with one setting at a time and draws, all cases on benchScenario.
type sweepBench struct {
	dir, sweep string // its folder and sweep.json
	table      []byte
	planned    Planned
}

// casesOf are those of a sweep whose cases are all alike.
func casesOf(c thermal.Case, settings []record.Setting) (s Cases) {
	s.Add(c, settings)
	return s
}

func newSweepBench(t *testing.T) *sweepBench {
	t.Helper()
	var table bytes.Buffer
	table.WriteString("case,point,draw,current.power_W,electrode.radius_mm,body.temperature_C,status,reason,injury_depth_mm,energy_residual_percent\n")
	n := 0
	for p, set := range [][2]float64{{2, 1}, {1, 1}, {3, 1}, {2, 0.8}, {2, 1.2}} {
		for d := range 10 {
			depth := 0.5*set[0]/2 + 0.1*(1-set[1]) + 0.01*float64(d)
			fmt.Fprintf(&table, "%d,%d,%d,%g,%g,%g,ok,,%.4f,%g\n", n, p, d, set[0], set[1], 36+0.1*float64(d), depth, -1e-9)
			n++
		}
	}
	b := &sweepBench{dir: t.TempDir(), table: table.Bytes(), sweep: `{"title": "What it depends on", "program": "test", "digest": "d", "points": 5, "draws": 10, "cases": 50, "design": "one-at-a-time", "columns": [{"name": "injury_depth_mm", "unit": "mm", "text": "depth"}],
		"inputs": [{"key": "current.power_W", "title": "power", "unit": "W", "levels": 2}, {"key": "electrode.radius_mm", "title": "radius", "unit": "mm", "levels": 2}, {"key": "body.temperature_C", "title": "body", "unit": "C", "uncertain": true}]}`}
	b.write(t, "sweep.json", b.sweep)
	b.write(t, "results.csv", table.String())
	run, r := simulated(t, benchScenario)
	b.planned = Planned{Cases: casesOf(*r.Case, run.Settings)}
	return b
}

func (b *sweepBench) write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(b.dir, name), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// report returns the report of the folder as Markdown.
func (b *sweepBench) report(t *testing.T, p Planned) string {
	t.Helper()
	d, err := SweepReport(b.dir, b.dir, p, evidence())
	if err != nil {
		t.Fatal(err)
	}
	_, md := filesOf(t, b.dir, d)
	return md
}

// A sweep with one setting at a time and draws tells what the depth hangs on, in numbers.
func TestSweepReport(t *testing.T) {
	b := newSweepBench(t)
	p := b.planned
	p.Question, p.Plan = "Which?", []byte("title: What it depends on\n")
	md := b.report(t, p)
	for _, want := range []string{
		"Injury depth of 50 cases: 0.25 to 0.84 mm, median 0.545 mm.", "| power, base 2 W | 1 W | -0.250 | mm |", "| radius, base 1 mm | 0.8 mm | +0.020 | mm |",
		"| body | +1.00 | +1.00, +1.00 | 10 draws | ±0.6", "| current.power_W | W | varied | 2, 1, 3 |", "| body.temperature_C | °C | uncertain, drawn | 36 to 36.9 |", "| energy balance | 1e-09 | 0.0001 | % |", "](<change.svg>)", "Question of interest: Which?",
	} {
		if !strings.Contains(md, want) {
			t.Errorf("no %q", want)
		}
	}
}

// What was changed since is told, and nothing where all is as it was.
func TestReportOfAChangedSweep(t *testing.T) {
	b := newSweepBench(t)
	for _, c := range [][2]string{{record.Digest(nil), "e"}, {record.Digest(b.table), "d"}} {
		sum, meant := c[0], c[1]
		b.write(t, "sweep.json", strings.Replace(b.sweep, `"digest": "d",`, `"digest": "d", "results_sha256": "`+sum+`",`, 1))
		p := b.planned
		p.Digest = meant
		md := b.report(t, p)
		for _, told := range []string{"results.csv was CHANGED", "does not describe what was computed", "Changed since the sweep:"} {
			if strings.Contains(md, told) != (meant == "e") {
				t.Errorf("plan %q: %q told: %v", meant, told, meant != "e")
			}
		}
	}
}

// What the journal says is told.
func TestSweepReportOfTheJournal(t *testing.T) {
	b := newSweepBench(t)
	b.write(t, "sweep.json", strings.Replace(b.sweep, `"digest": "d",`, `"digest": "d", "results_sha256": "`+record.Digest(b.table)+`",`, 1))
	for want, j := range map[string]Journal{
		"3 lines of the journal are of another plan, scenario or program: CHANGED": {Inspection: batch.Inspection{Foreign: 3}},
		"2 cases are not in the journal":                                           {Inspection: batch.Inspection{Missing: 2}},
		"results.csv is not the table that the journal makes: CHANGED":             {Inspection: batch.Inspection{SHA256: "0"}},
		"4 damaged lines of the journal count for nothing":                         {Inspection: batch.Inspection{Damaged: 4}},
		"no journal, so that the table cannot be compared":                         {None: true},
	} {
		p := b.planned
		p.Digest, p.Journal = "d", j
		harmless := j.None || j.Damaged > 0
		if md := b.report(t, p); !strings.Contains(md, want) || strings.Contains(md, "Changed since the sweep:") == harmless {
			t.Errorf("%q is not told, or the wrong way", want)
		}
	}
}

// Nothing of sensitivity where settings vary together.
func TestSweepReportGaps(t *testing.T) {
	b := newSweepBench(t)
	b.write(t, "sweep.json", strings.Replace(b.sweep, "one-at-a-time", "paired", 1))
	b.write(t, "results.csv", "case,point,draw,current.power_W,electrode.radius_mm,body.temperature_C,status,reason,injury_depth_mm\n0,0,0,1,1,36,ok,,0.5\n1,1,0,2,2,36,ok,,0.6\n2,2,0,3,3,36,failed,,\n")
	if md := b.report(t, b.planned); !strings.Contains(md, "**Not computed:** This plan varies settings together") || !strings.Contains(md, "1 of 50 cases failed and are left out") {
		t.Error("gaps of a sweep are not told")
	}
}

// What draws without a result leave open is told beside the results.
func TestReportOfMissingDraws(t *testing.T) {
	dir := t.TempDir()
	table := "case,point,draw,body.temperature_C,status,reason,injury_depth_mm,margin_to_muscle_mm\n"
	for d := range 12 {
		table += fmt.Sprintf("%d,0,%d,%g,", d, d, 36+0.1*float64(d))
		table += whenElse(d < 3, "failed,too thin,,\n", fmt.Sprintf("ok,,1.%02d,%g\n", d, 0.25-0.04*float64(d)))
	}
	for name, text := range map[string]string{"results.csv": table, "sweep.json": `{"title": "Draws", "program": "test", "points": 1, "draws": 12, "cases": 12, "design": "none",
		"inputs": [{"key": "body.temperature_C", "title": "body", "unit": "C", "uncertain": true}]}`} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run, r := simulated(t, benchScenario)
	d, err := SweepReport(dir, dir, Planned{Cases: casesOf(*r.Case, run.Settings)}, evidence())
	if err != nil {
		t.Fatal(err)
	}
	// Margins are 0.13 to -0.19 mm: 5 of 9 are nothing or less, so 5 to 8 of 12.
	if _, md := filesOf(t, dir, d); !strings.Contains(md, "**Missing draws:** Share of the draws that have a result: up to 3 of 12 draws at a place have none, and the share there is 41.7 % if none of them reach the muscle, 66.7 % if all do.") {
		t.Error("missing draws are not told")
	}
}
