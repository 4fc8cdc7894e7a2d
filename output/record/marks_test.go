package record

import (
	"testing"

	"muralheat/output/internal/fixture"
	"muralheat/thermal"
)

// Each mark speaks where it should and is silent elsewhere.
func TestMarks(t *testing.T) {
	made := func(change func(*thermal.Result)) *thermal.Result {
		r := fixture.Synthetics["mild"].Result()
		r.Balance.ElectricJ, r.Summary.PeakVoltageV, r.Case.Drive.DutyCycle = 20, 120, 1 // as of experiments with such a contact
		change(r)
		return r
	}
	for _, c := range []struct {
		r    *thermal.Result
		want string
	}{
		{made(func(*thermal.Result) {}), ""},
		{made(func(r *thermal.Result) { r.Case.Invented = true }), "Invented data."},
		{made(func(r *thermal.Result) { r.Case.Numerics.Quality = "draft" }), "Draft mesh."},
		{made(func(r *thermal.Result) { r.Balance.ElectricJ = 0.1 }), "Outside the range compared with experiments."},
		{made(func(r *thermal.Result) { r.Summary.BeyondFine = true }), "Injury beyond the fine cells: less exact."},
		{made(func(r *thermal.Result) { r.Balance.EnergyResidual, r.Case.Invented = 0.1, true }), "Self-check FAILED: do not use these numbers. Invented data."},
	} {
		if got := Marks(c.r); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if got := MarksOf([]string{"Draft mesh.", "", "Invented data. Draft mesh."}); got != "Invented data. Draft mesh." {
		t.Errorf("of several: %q", got)
	}
	if got := SharedMarks([]string{"Draft mesh.", "Invented data. Draft mesh.", "Draft mesh. Injury beyond the fine cells: less exact."}); got != "Invented data. Draft mesh." {
		t.Errorf("shared: %q", got)
	}
	if got := OwnMarks("Invented data. Draft mesh.", InventedMark); got != "Draft mesh." {
		t.Errorf("its own: %q", got)
	}
}
