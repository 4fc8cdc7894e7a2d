package report

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// hostileWords wants out of its place in HTML and in Markdown.
const hostileWords = `"><script>alert(1)</script><img src=x onerror=alert(1)> =1+1 | [a](javascript:alert(1)) {{.}}`

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
	d, err := SweepReport(dir, dir, Planned{Question: hostileWords, ContextOfUse: hostileWords, Cases: casesOf(*r.Case, run.Settings), Notes: []string{hostileWords}, Plan: []byte(hostileWords), Scenario: []byte(hostileWords)}, evidence())
	if err != nil {
		t.Fatal(err)
	}
	filesOf(t, dir, d)
	return dir
}
