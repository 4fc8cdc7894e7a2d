package output

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/output/internal/fixture/bench"
	"muralheat/output/record"
)

// TestBrokenFieldsAreSaved: a run that went wrong is kept for finding out why, and
// drawing it must not get in the way.
func TestBrokenFieldsAreSaved(t *testing.T) {
	for name, v := range map[string]float64{"NaN": math.NaN(), "Inf": math.Inf(1)} {
		t.Run(name, func(t *testing.T) {
			r := fixture.Synthetics["mild"].Result()
			f := &r.Fields
			for _, cells := range [][]float64{f.TemperatureC, f.PeakC, f.Omega, f.CEM43Min, f.PotentialV, f.PowerWM3} {
				for p := range cells {
					cells[p] = v
				}
			}
			last := &r.History[len(r.History)-1]
			last.BorderC[0], last.ResistanceOhm, last.DepthM, last.PowerW = v, v, v, v
			r.Summary.PeakC, r.Summary.InjuryDepthM, r.Balance.EnergyResidual = v, v, v
			run := bench.Run()
			run.Failure = "not a temperature"
			folder, err := record.Open(filepath.Join(t.TempDir(), "out"))
			if err != nil {
				t.Fatal(err)
			}
			dir, _, err := Save(t.Context(), folder, run, r, true, chart.ForDocument)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := os.Stat(filepath.Join(dir, "fields.vtr")); err != nil {
				t.Error(err)
			}
			record.Report(run, r, dir, nil)
			if record.Passed(record.Checks(r)) {
				t.Error("passed its checks")
			}
		})
	}
}
