package thermal

import (
	"math"
	"strings"
	"testing"

	"muralheat/thermal/drive"
)

// A run tells when the terminals met loads outside the load line of the source, leads counted in.
func TestOutsideLoadLine(t *testing.T) {
	for _, tt := range []struct {
		name           string
		from, to, lead float64 // ohm
		want           float64
	}{{"within", 1, 1e6, 0, 0}, {"above its end", 1, 100, 0, 1}, {"below its begin", 1e5, 1e6, 0, 1}, {"within by its leads", 1e5, 1e6, 2e5, 0}} {
		c := small(Disc)
		c.Drive.Path.SeriesOhm = tt.lead
		c.Drive.Limits.LoadLine = []drive.Load{{ResistanceOhm: tt.from, PowerW: 10}, {ResistanceOhm: tt.to, PowerW: 10}}
		r, err := Simulate(t.Context(), c, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.Summary.OutsideLine; got != tt.want || strings.Contains(strings.Join(r.Notes, " "), "Outside the load line") != (tt.want > 0) {
			t.Errorf("%s: outside for a share of %g, notes %q", tt.name, got, r.Notes)
		}
	}
}

// Leads take what they take: behind a resistance as large as the tissue's half of the energy at the terminals is lost, and
// of a source of power the tissue gets that half.
func TestLeadsTakeTheirShare(t *testing.T) {
	c := small(Disc)
	c.Physics.SigmaPerK = 0 // the resistance stays
	c.Drive.Limits = drive.Limits{}
	plain, err := Simulate(t.Context(), c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	c.Drive.Path = drive.Path{SeriesOhm: plain.Summary.ResistanceStartOhm, LostShare: 0.1}
	r, err := Simulate(t.Context(), c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for name, x := range map[string][2]float64{
		"at the terminals": {r.Balance.TerminalJ, plain.Balance.ElectricJ}, "in the tissue": {r.Balance.ElectricJ, 0.45 * plain.Balance.ElectricJ},
		"lost": {r.Balance.LeadsJ, 0.55 * plain.Balance.ElectricJ},
	} {
		if math.Abs(x[0]-x[1]) > 1e-4*x[1] { // the square of the tolerance of the field, by which its resistance may be off
			t.Errorf("%s: %g J, want %g", name, x[0], x[1])
		}
	}
}
