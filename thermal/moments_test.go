package thermal_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"testing"

	"muralheat/mesh"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// kept computes a case and keeps moments of it.
func kept(t *testing.T, c thermal.Case, n int) *thermal.Result {
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{Moments: n})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The last moment is what the result holds of the plane that is drawn, within the rounding of a picture; keeping
// moments changes nothing of the result.
func TestTheLastMomentIsTheResult(t *testing.T) {
	burnt := with(draft(antrum(thermal.Disc, 0.5e-3, 10, 0.6)), interrupted)
	burnt.AfterS = 0.4
	line := burnt.Damage.Kinetics
	burnt.Damage.AtOnce = &line
	pulled := pull(draft(antrum(thermal.Needle, 0.25e-3, 6, 0)), 2e-3, 4e-3)
	pulled.Domain.RadiusM = 5e-3
	for name, c := range map[string]thermal.Case{"burnt": burnt, "pulled": pulled} {
		r := kept(t, c, 12)
		if len(r.Moments) < 10 || len(r.Moments) > 12 {
			t.Errorf("%s: %d moments of 12", name, len(r.Moments))
		}
		last := r.Moments[len(r.Moments)-1]
		if s := r.History[last.Row].TimeS; s != c.TotalS() {
			t.Errorf("%s: ends at %g s", name, s)
		}
		m, f, n, removed := r.Mesh, r.Fields, 0, 0
		near := func(what string, got float32, want, step float64) {
			if !(math.Abs(float64(got)-want) <= step/2+1e-6) {
				t.Errorf("%s: %s of %d: %g, want %g", name, what, n, got, want)
			}
		}
		ln := func(omega float64) float64 {
			return math.Min(math.Max(math.Log(omega), -thermal.LnSeen), thermal.LnSeen)
		}
		var cells []int // of the plane along the track, or of the radius, then of that across its middle
		for k := range m.NZ {
			for i := range m.NX {
				cells = append(cells, m.Index(i, 0, k))
			}
		}
		for k := 0; k < m.NZ && m.Geometry == mesh.Track; k++ {
			for j := range m.NY {
				cells = append(cells, m.Index(c.MiddleColumn(m), j, k))
			}
		}
		if m.Geometry == mesh.Track && math.Abs(m.X.Centres[c.MiddleColumn(m)]-c.Motion.LengthM/2) > c.Grid().FinestM {
			t.Errorf("%s: across at %g m of a track of %g m", name, m.X.Centres[c.MiddleColumn(m)], c.Motion.LengthM)
		}
		for _, p := range cells {
			near("temperature", last.TemperatureC[n], f.TemperatureC[p], 1./64)
			near("ln Omega", last.LnOmega[n], ln(f.Omega[p]), 1./64)
			if f.OmegaAtOnce != nil {
				near("ln Omega at once", last.LnOmegaAtOnce[n], ln(f.OmegaAtOnce[p]), 1./64)
			}
			near("water", last.Water[n], f.Water[p], 1./256)
			near("solid", last.Solid[n], f.Solid[p], 1./256)
			if last.Removed[n] != f.Removed[p] {
				t.Errorf("%s: cell %d removed: %v", name, n, last.Removed[n])
			}
			if f.Removed[p] {
				removed++
			}
			n++
		}
		if name == "pulled" && removed == 0 || name == "burnt" && r.Summary.DriedDepthM == 0 {
			t.Errorf("%s: removes or dries nothing: the case tests less than it should", name)
		}
		without := simulate(t, c)
		if r.Summary.Steps != without.Summary.Steps || !reflect.DeepEqual(r.Fields, without.Fields) {
			t.Errorf("%s: another result with moments", name)
		}
	}
}

// Each moment is a row of history; they are closer together while current flows, with one where it ends.
func TestMomentsAreCloserWhileCurrentFlows(t *testing.T) {
	c := draft(antrum(thermal.Disc, 1e-3, 2, 1))
	c.AfterS = 3
	r := kept(t, c, 31)
	on, ended := 0, false
	for n, m := range r.Moments {
		s := r.History[m.Row].TimeS
		if n > 0 && !(m.Row > r.Moments[n-1].Row) {
			t.Fatalf("moment %d is row %d", n, m.Row)
		}
		if s <= c.Drive.OnS {
			on++
		}
		ended = ended || s == c.Drive.OnS
	}
	if len(r.Moments) != 31 || on != 21 || !ended || r.Moments[0].Row != 0 {
		t.Errorf("%d moments, %d with current, one at its end: %v, first row %d; want 31, 21", len(r.Moments), on, ended, r.Moments[0].Row)
	}
	c.AfterS = 0
	if r := kept(t, c, 31); len(r.Moments) != 31 || r.History[r.Moments[30].Row].TimeS != 1 {
		t.Errorf("without time after the current %d moments", len(r.Moments))
	}
	if r := simulate(t, c); r.Moments != nil {
		t.Errorf("%d moments that nobody asked for", len(r.Moments))
	}
}

// Moments take the memory that was announced, however many steps and switches a run has, and a run that lacks it is
// refused.
func TestMomentsAreBounded(t *testing.T) {
	c := draft(antrum(thermal.Disc, 0.5e-3, 4, 0.4))
	c.AfterS = 0.4
	line := c.Damage.Kinetics
	c.Damage.AtOnce = &line
	c.Drive.Pulses = &drive.Pulses{LengthS: 2e-3, PeriodS: 4e-3}
	const n = 9
	r := kept(t, c, n)
	bytes := 0
	for _, m := range r.Moments {
		bytes += 4*(cap(m.TemperatureC)+cap(m.LnOmega)+cap(m.LnOmegaAtOnce)+cap(m.Water)+cap(m.Solid)) + cap(m.Removed)
	}
	g := c.Grid()
	if most := g.MomentBytes(n); len(r.Moments) != n || len(r.History) < 150 || float64(bytes) != most {
		t.Errorf("%d moments of %d rows in %d bytes, announced %g", len(r.Moments), len(r.History), bytes, most)
	}
	var large *thermal.TooLarge
	if _, err := thermal.Simulate(context.Background(), &c, thermal.Options{Moments: n, MaxBytes: g.Bytes() + 1}); !errors.As(err, &large) {
		t.Errorf("moments without memory for them: %v", err)
	}
}
