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
	"muralheat/scenarios/experiments"
	"muralheat/thermal"
	"muralheat/thermal/checks"
)

func evidence() Evidence {
	return Evidence{
		Verified: []checks.Ran{{Group: "drive", Checks: checks.Drive()}, {Group: hostileWords, Checks: []checks.Check{{ID: "x", What: hostileWords, Source: hostileWords, Expected: 1, Ours: 1, Tolerance: 0.1, Unit: "1"}}}},
		Experiments: []experiments.Result{
			compared(hostileWords, "fit", "injury_depth", 1.25, 1.5, 0.447), compared("another", "apart", "injury_depth", 1.25, 3, 3.13),
			compared("of another kind", "apart", "beside_cut", 1, 2, 1),
		},
	}
}

// compared is a made-up experiment beside the model.
func compared(title string, part experiments.Part, quantity string, mean, ours, residual float64) experiments.Result {
	r := experiments.Result{Experiment: experiments.Experiment{ID: title, Title: title, Source: hostileWords, Read: hostileWords, Part: part, Remark: hostileWords, Regime: []string{"contact"}}}
	wide := experiments.Range{Low: 0.01, High: 1000}
	r.Place = experiments.Place{Kind: "contact", Tissue: "colon", Tip: "ball", Size: wide, Energy: wide, Peak: wide, Duty: experiments.Range{Low: 100, High: 100}, Time: experiments.Range{Low: 0.25, High: 0.4}, Wet: 1}
	if quantity == "beside_cut" {
		r.Place.Kind, r.Regime[0] = "cut", "cut"
	}
	r.Rows = []experiments.RowResult{{Row: experiments.Row{ID: "x", Measured: title, Quantity: quantity, Mean: mean, SD: 0.5}, Unit: "mm", Ours: ours, InputSD: 0.25, Residual: residual}}
	return r
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
	for n, p := range paths[:2] {
		b, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		text[n] = string(b)
	}
	return text[0], text[1]
}
