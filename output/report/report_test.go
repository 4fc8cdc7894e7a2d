package report

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"muralheat/output/record"
)

// What a reviewer looks for is there, with the numbers of the run.
func TestRunReport(t *testing.T) {
	run, r := simulated(t, benchScenario)
	dir := savedRun(t, run, r)
	page, md := reported(t, dir)
	for _, want := range []string{
		"Question of interest: Does it stay short of the muscle?", "Context of use: A lecture", "Pennes 1948", "| mucosa | 0 | 0.45 | 0.45 | wall |",
		"all 6 passed", "all 11 have the checksums of the record", fmt.Sprintf("| injury_depth_mm | %s | mm |", digits(1e3*r.Summary.InjuryDepthM)), "h = 10000 W/(m² K) to metal of 37 °C at the start, that warms", "| side of the domain | open: the body goes on, the potential falls as 1/distance | no heat passes |", "| bottom of the domain | open: the body goes on, the potential falls as 1/distance | 37 °C |",
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
