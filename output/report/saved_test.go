package report

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"muralheat/output"
	"muralheat/output/chart"
	"muralheat/output/document"
	"muralheat/output/internal/fixture/bench"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/thermal"
	"muralheat/thermal/checks"
)

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
	dir, _, err := output.Save(t.Context(), f, run, r, false, chart.ForDocument)
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
