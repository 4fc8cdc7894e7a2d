package report

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"muralheat/output"
	"muralheat/output/document"
	"muralheat/output/internal/fixture/bench"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/batch"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
	"muralheat/thermal/checks"
)

// hostileWords wants out of its place in HTML and in Markdown.
const hostileWords = `"><script>alert(1)</script><img src=x onerror=alert(1)> =1+1 | [a](javascript:alert(1)) {{.}}`

func evidence() Evidence {
	return Evidence{
		Verified: []checks.Ran{{Group: "drive", Checks: checks.Drive()}, {Group: hostileWords, Checks: []checks.Check{{ID: "x", What: hostileWords, Source: hostileWords, Expected: 1, Ours: 1, Tolerance: 0.1, Unit: "1"}}}},
		Compared: []Compared{
			{Part: "fit", Measured: hostileWords, Source: "a paper", Unit: "mm", Why: "why", Mean: 1.25, SD: 0.5, Ours: 1.5, OursSD: 0.25, Residual: 0.447},
			{Part: "apart", Measured: "another", Source: hostileWords, Unit: "mm", Why: hostileWords, Mean: 1.25, SD: 0.5, Ours: 3, OursSD: 0.25, Residual: 3.13},
		},
	}
}

// simulated computes a small scenario.
func simulated(t *testing.T, text string) (*record.Run, *thermal.Result) {
	t.Helper()
	s, err := scenarios.Parse("bench.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	c := s.Case()
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	run := bench.Run()
	run.Scenario, run.Resolved, run.Notes, run.Settings = []byte(text), s.ResolvedYAML(), s.Notes(), nil
	for _, x := range s.Settings() {
		run.Settings = append(run.Settings, record.Setting(x))
	}
	return run, r
}

const benchScenario = `title: A short touch
question: Does it stay short of the muscle?
context_of_use: A lecture
wall: {site: right-colon}
electrode: {tip: ball, radius_mm: 1}
current: {sparks: false, power_W: 3, on_s: 0.3}
afterwards_s: 0.2
numerics: {quality: draft}
`

// savedRun writes the folder of a run.
func savedRun(t *testing.T, run *record.Run, r *thermal.Result) string {
	t.Helper()
	f, err := record.Open(filepath.Join(t.TempDir(), "bench"))
	if err != nil {
		t.Fatal(err)
	}
	dir, _, err := output.Save(t.Context(), f, run, r, false)
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// reported writes the report of a run into its folder.
func reported(t *testing.T, dir string) (page, md string) {
	t.Helper()
	d, err := RunReport(dir, dir, evidence())
	if err != nil {
		t.Fatal(err)
	}
	return filesOf(t, dir, d)
}

func filesOf(t *testing.T, dir string, d *document.Document) (page, md string) {
	t.Helper()
	paths, err := WriteReport(dir, d)
	if err != nil {
		t.Fatal(err)
	}
	var text [2]string
	for n, p := range paths {
		b, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		text[n] = string(b)
	}
	return text[0], text[1]
}

// hostileRun is the folder of a run all of whose words are hostile, with its report.
func hostileRun(t *testing.T) string {
	t.Helper()
	run, r := simulated(t, benchScenario)
	r.Case.Title, run.Notes, run.Command = hostileWords, []string{hostileWords}, []string{"muralheat", hostileWords}
	run.ScenarioName, run.Scenario, run.Failure = hostileWords, []byte(hostileWords), hostileWords
	for i := range run.Settings {
		if s := &run.Settings[i]; s.Key == "question" || s.Key == "context_of_use" {
			s.Value = hostileWords
		}
		if run.Settings[i].Source != "" {
			run.Settings[i].Source += " " + hostileWords
		}
	}
	for i := range r.Case.Layers {
		r.Case.Layers[i].Name += hostileWords
		r.Summary.Layers[i].Name += hostileWords
	}
	dir := savedRun(t, run, r)
	reported(t, dir)
	return dir
}

// hostileSweep is that of a sweep.
func hostileSweep(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	title := strings.ReplaceAll(hostileWords, `"`, `\"`)
	record := `{"title": "` + title + `", "program": "` + title + `", "inputs": [{"key": "current.power_W", "title": "` + title + `", "unit": "W"}, {"key": "wall.site", "title": "site"}],
		"draws": 1, "cases": 3, "points": 3, "design": "paired", "columns": [{"name": "injury_depth_mm", "unit": "mm", "text": "` + title + `"}, {"name": "margin_to_muscle_mm", "unit": "mm", "text": "margin"}]}`
	table := "case,point,current.power_W,wall.site,status,reason,injury_depth_mm,margin_to_muscle_mm\n0,0,2,rectum,ok,,0.5,0.7\n1,1,3,rectum,ok,,0.8,0.4\n2,2,2,\"" + strings.ReplaceAll(hostileWords, `"`, `""`) + "\",ok,,0.6,0.6\n"
	for name, text := range map[string]string{"sweep.json": record, "results.csv": table} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run, r := simulated(t, benchScenario)
	d, err := SweepReport(dir, dir, Planned{Question: hostileWords, ContextOfUse: hostileWords, Case: *r.Case, Settings: run.Settings, Notes: []string{hostileWords}, Plan: []byte(hostileWords), Scenario: []byte(hostileWords)}, evidence())
	if err != nil {
		t.Fatal(err)
	}
	filesOf(t, dir, d)
	return dir
}

// What a reviewer looks for is there, with the numbers of the run.
func TestRunReport(t *testing.T) {
	run, r := simulated(t, benchScenario)
	dir := savedRun(t, run, r)
	page, md := reported(t, dir)
	for _, want := range []string{
		"Question of interest: Does it stay short of the muscle?", "Context of use: A lecture", "Pennes 1948", "| mucosa | 0 | 0.45 | 0.45 | wall |",
		"all 5 passed", "all 11 have the checksums of the record", fmt.Sprintf("| injury_depth_mm | %s | mm |", digits(1e3*r.Summary.InjuryDepthM)), "h = 10000 W/(m² K) to metal of 37 °C at the start, that warms", "| side of the domain | open: the body goes on, the potential falls as 1/distance | no heat passes |", "| bottom of the domain | open: the body goes on, the potential falls as 1/distance | 37 °C |",
		"current.power_W | 3 | W | given in the scenario", "muralheat run --refine", "muralheat run -o again scenario.yaml", "numerics.growth_percent | 40 | % | quality draft", "| growth of cells with distance from the lesion | 40 | % |", "design: one-at-a-time", "1 of 2 published values within twice the combined spread", "| apart | another | 1.25 ± 0.5 | 3 ± 0.25 | mm | 3.1 | MISSED |", "ASME V&amp;V 40-2018", "2030-01-02 03:04:05",
		"![Cross-section", "](<wall.svg>)", "jq -j .scenario.resolved manifest.json",
	} {
		if !strings.Contains(md, want) {
			t.Errorf("Markdown: no %q", want)
		}
	}
	if strings.Contains(md, "not stated") {
		t.Error("says that the question is not stated")
	}
	if n := strings.Count(page, "<svg "); n != 2 {
		t.Errorf("%d drawings", n)
	}
	for _, out := range regexp.MustCompile(`(?:src|href)="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		if !strings.HasPrefix(out[1], "#") && !strings.HasPrefix(out[1], "data:image/png;") {
			t.Errorf("leads elsewhere: %s", out[1])
		}
	}
	if again, md2 := reported(t, dir); again != page || md2 != md {
		t.Error("not the same bytes again")
	}

	// A file that was changed since is told.
	if err := os.WriteFile(filepath.Join(dir, "summary.csv"), []byte("better\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(dir, "wall.pdf")); err != nil {
		t.Fatal(err)
	}
	if _, md := reported(t, dir); !strings.Contains(md, "1 CHANGED and 1 missing of 11") {
		t.Error("a changed file is not told")
	}
}

// Without a question, after a failure, with three meshes: the report says so.
func TestRunReportGaps(t *testing.T) {
	run, r := simulated(t, strings.Replace(strings.Replace(benchScenario, "question: Does it stay short of the muscle?\n", "", 1), "context_of_use: A lecture\n", "", 1))
	run.Failure = "diverged"
	dir := savedRun(t, run, r)
	if err := os.WriteFile(filepath.Join(dir, record.RefineName), []byte("quantity,unit,fine,extrapolated,verdict\ninjury_depth_mm,mm,0.512345,0.5,converges\npeak_C,C,90,95,depends\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, md := reported(t, dir)
	for _, want := range []string{"NOT stated in full", "Question of interest not stated in the scenario", "**Stopped early:** diverged", "the run stopped early: do not use it", "| injury_depth_mm | mm | 0.5123 | 0.5 | converges |"} {
		if !strings.Contains(md, want) {
			t.Errorf("no %q", want)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, record.RefineName), []byte("quantity\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := RunReport(dir, dir, evidence()); err == nil || !strings.Contains(err.Error(), "refine.csv: no table") {
		t.Errorf("a broken table: %v", err)
	}
	if err := os.WriteFile(filepath.Join(dir, record.ManifestName), []byte("{"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := RunReport(dir, dir, evidence()); err == nil || !strings.Contains(err.Error(), "manifest.json") {
		t.Errorf("a broken record: %v", err)
	}
}

// The plan that a report offers is one, for every example that can be computed.
func TestStudyPlan(t *testing.T) {
	for _, e := range scenarios.Examples() {
		s, err := scenarios.Parse(e.Name, e.Text)
		if err != nil {
			continue // a plan
		}
		var settings []record.Setting
		for _, x := range s.Settings() {
			settings = append(settings, record.Setting(x))
		}
		resolved, err := scenarios.Parse("scenario.yaml", s.ResolvedYAML())
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan.Parse("sensitivity.yaml", []byte(studyPlan(settings, s.Title()+` "quoted": # \`)), func(string) (*scenarios.Scenario, error) { return resolved, nil })
		if err != nil {
			t.Errorf("%s: %v", e.Name, err)
			continue
		}
		if len(p.Inputs) < 5 {
			t.Errorf("%s: only %d inputs", e.Name, len(p.Inputs))
		}
	}
}

// A sweep with one setting at a time and draws tells what the depth hangs on, in numbers.
func TestSweepReport(t *testing.T) {
	dir := t.TempDir()
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
	sweep := `{"title": "What it depends on", "program": "test", "digest": "d", "points": 5, "draws": 10, "cases": 50, "design": "one-at-a-time", "columns": [{"name": "injury_depth_mm", "unit": "mm", "text": "depth"}],
		"inputs": [{"key": "current.power_W", "title": "power", "unit": "W", "levels": 2}, {"key": "electrode.radius_mm", "title": "radius", "unit": "mm", "levels": 2}, {"key": "body.temperature_C", "title": "body", "unit": "C", "uncertain": true}]}`
	for name, text := range map[string]string{"sweep.json": sweep, "results.csv": table.String()} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run, r := simulated(t, benchScenario)
	d, err := SweepReport(dir, dir, Planned{Question: "Which?", Case: *r.Case, Settings: run.Settings, Plan: []byte("title: What it depends on\n")}, evidence())
	if err != nil {
		t.Fatal(err)
	}
	_, md := filesOf(t, dir, d)
	for _, want := range []string{
		"Injury depth of 50 cases: 0.25 to 0.84 mm, median 0.545 mm.", "| power, base 2 W | 1 W | -0.250 | mm |", "| radius, base 1 mm | 0.8 mm | +0.020 | mm |",
		"| body | +1.00 | +1.00, +1.00 | 10 draws | ±0.6", "| current.power_W | W | varied | 2, 1, 3 |", "| body.temperature_C | °C | uncertain, drawn | 36 to 36.9 |", "| energy balance | 1e-09 | 0.0001 | % |", "](<change.svg>)", "Question of interest: Which?",
	} {
		if !strings.Contains(md, want) {
			t.Errorf("no %q", want)
		}
	}
	// What was changed since is told, and nothing where all is as it was.
	for _, c := range [][2]string{{record.Digest(nil), "e"}, {record.Digest(table.Bytes()), "d"}} {
		sum, meant := c[0], c[1]
		text := strings.Replace(sweep, `"digest": "d",`, `"digest": "d", "results_sha256": "`+sum+`",`, 1)
		if err := os.WriteFile(filepath.Join(dir, "sweep.json"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		d, err := SweepReport(dir, dir, Planned{Case: *r.Case, Settings: run.Settings, Digest: meant}, evidence())
		if err != nil {
			t.Fatal(err)
		}
		_, md := filesOf(t, dir, d)
		for _, told := range []string{"results.csv was CHANGED", "does not describe what was computed", "Changed since the sweep:"} {
			if strings.Contains(md, told) != (meant == "e") {
				t.Errorf("plan %q: %q told: %v", meant, told, meant != "e")
			}
		}
	}
	// So is what the journal says.
	for want, j := range map[string]Journal{
		"3 lines of the journal are of another plan, scenario or program: CHANGED": {Inspection: batch.Inspection{Foreign: 3}},
		"2 cases are not in the journal":                                           {Inspection: batch.Inspection{Missing: 2}},
		"results.csv is not the table that the journal makes: CHANGED":             {Inspection: batch.Inspection{SHA256: "0"}},
		"4 damaged lines of the journal count for nothing":                         {Inspection: batch.Inspection{Damaged: 4}},
		"no journal, so that the table cannot be compared":                         {None: true},
	} {
		d, err := SweepReport(dir, dir, Planned{Case: *r.Case, Settings: run.Settings, Digest: "d", Journal: j}, evidence())
		if err != nil {
			t.Fatal(err)
		}
		harmless := j.None || j.Damaged > 0
		if _, md := filesOf(t, dir, d); !strings.Contains(md, want) || strings.Contains(md, "Changed since the sweep:") == harmless {
			t.Errorf("%q is not told, or the wrong way", want)
		}
	}
	// Nothing of sensitivity where settings vary together.
	if err := os.WriteFile(filepath.Join(dir, "sweep.json"), []byte(strings.Replace(sweep, "one-at-a-time", "paired", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "results.csv"), []byte("case,point,draw,current.power_W,electrode.radius_mm,body.temperature_C,status,reason,injury_depth_mm\n0,0,0,1,1,36,ok,,0.5\n1,1,0,2,2,36,ok,,0.6\n2,2,0,3,3,36,failed,,\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	d, err = SweepReport(dir, dir, Planned{Case: *r.Case, Settings: run.Settings}, evidence())
	if err != nil {
		t.Fatal(err)
	}
	if _, md := filesOf(t, dir, d); !strings.Contains(md, "**Not computed:** This plan varies settings together") || !strings.Contains(md, "1 of 50 cases failed and are left out") {
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
	d, err := SweepReport(dir, dir, Planned{Case: *r.Case, Settings: run.Settings}, evidence())
	if err != nil {
		t.Fatal(err)
	}
	// Margins are 0.13 to -0.19 mm: 5 of 9 are nothing or less, so 5 to 8 of 12.
	if _, md := filesOf(t, dir, d); !strings.Contains(md, "**Missing draws:** Share of the draws that have a result: up to 3 of 12 draws at a place have none, and the share there is 41.7 % if none of them reach the muscle, 66.7 % if all do.") {
		t.Error("missing draws are not told")
	}
}

func TestDigits(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.891676: "0.8917", -0.041676: "-0.04168", 12892.8: "12893", 2.257e6: "2.257e+06", 100: "100", 1e-9: "1e-09", 0.1: "0.1"} {
		if got := digits(v); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
}

// What is said of errors and limits is said of the scene that was computed.
func TestWordsOfEachScene(t *testing.T) {
	for name, c := range map[string]struct {
		tip           thermal.Tip
		quality       string
		says, saysNot []string
	}{
		"disc": {thermal.Disc, "standard", []string{"guide accuracy", "gut wall"}, []string{"loop", "pad", "draft"}},
		"loop": {thermal.Loop, "draft", []string{"guide wire-loop", "does not converge", "Whether a pulled loop gets through", "quality draft: its error is larger"}, []string{"guide accuracy", "pads"}},
		"pad":  {thermal.Pad, "standard", []string{"guide neutral-electrode", "not a half-space", "cannot replace"}, []string{"gut wall", "guide accuracy", "injected", "loop"}},
	} {
		var k thermal.Case
		k.Electrode.Tip, k.Numerics.Quality, k.Physics.Boiling = c.tip, c.quality, true
		text := elsewhere(&k) + strings.Join(limits(&k), "\n")
		for _, want := range c.says {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q", name, want)
			}
		}
		for _, bad := range c.saysNot {
			if strings.Contains(text, bad) {
				t.Errorf("%s: has %q", name, bad)
			}
		}
	}
	pad := thermal.Case{Electrode: thermal.Electrode{Tip: thermal.Pad}}
	if got := answerTold(&pad, record.Manifest{Summary: []record.Quoted{{Name: record.DepthColumn, Value: 0.0, Unit: "mm"}, {Name: record.RiseColumn, Value: 9.97, Unit: "K"}}}); got != "Mean rise over 1 cm2 9.97 K." {
		t.Errorf("a pad is judged by its rise: %q", got)
	}
	for v, want := range map[float64]string{1063: "1060", 100: "100", 0.53: "0.53", 4.964: "4.96", 67.2: "67.2"} {
		if got := plain(v); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
}

// A record that somebody has edited is told, and what it calls a commit is no command.
func TestReportOfAnEditedRecord(t *testing.T) {
	run, r := simulated(t, benchScenario)
	dir := savedRun(t, run, r)
	path := filepath.Join(dir, record.ManifestName)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	depth := regexp.MustCompile(`"name": "injury_depth_mm",\s*"value": [0-9.]+`).FindString(string(data))
	for from, to := range map[string]string{
		`"ok": true`: `"ok": false`,
		`"version":`: `"commit": "; rm -rf ~", "version":`,
		depth:        `"name": "injury_depth_mm", "value": 0.1`,
	} {
		edited := strings.Replace(string(data), from, to, 1)
		if edited == string(data) {
			t.Fatalf("no %s in the record", from)
		}
		if err := os.WriteFile(path, []byte(edited), 0o644); err != nil {
			t.Fatal(err)
		}
		_, md := reported(t, dir)
		if told := strings.Contains(md, "the record itself was CHANGED"); told != !strings.Contains(to, "commit") {
			t.Errorf("%s: told %v", to, told)
		}
		if strings.Contains(md, "git checkout ;") {
			t.Error("tells to run what somebody wrote into the record")
		}
	}
}
