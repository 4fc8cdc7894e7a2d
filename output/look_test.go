package output

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"muralheat/output/internal/fixture"
	"muralheat/output/internal/fixture/bench"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/thermal"
)

// TestLook writes the folders of every example and of the synthetic results below
// the folder named by MURALHEAT_LOOK, for the eye.
func TestLook(t *testing.T) {
	dir := os.Getenv("MURALHEAT_LOOK")
	if dir == "" {
		t.Skip("MURALHEAT_LOOK not set")
	}
	save := func(name string, run *record.Run, r *thermal.Result) {
		f, err := record.Open(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		path, files, err := Save(t.Context(), f, run, r, true)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Print(record.Report(run, r, path, files), "\n")
	}
	for name, s := range fixture.Synthetics {
		save("synthetic-"+name, bench.Run(), s.Result())
	}
	for _, e := range scenarios.Examples() {
		s, err := e.Scenario()
		if err != nil {
			t.Fatal(err)
		}
		c := s.Case()
		run := bench.Run()
		run.ScenarioName, run.Scenario, run.Resolved, run.Notes = e.Name, e.Text, s.ResolvedYAML(), s.Notes()
		start := time.Now()
		r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
		if err != nil {
			t.Error(err)
			run.Failure = err.Error()
		}
		fmt.Println(e.Name, time.Since(start))
		save(e.Name, run, r)
	}
}
