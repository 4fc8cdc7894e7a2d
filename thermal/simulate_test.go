package thermal_test

import (
	"math"
	"os"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
	"muralheat/thermal/exact"
	"muralheat/thermal/tissue"
)

// draft coarsens a case to what the tests can afford.
func draft(c thermal.Case) thermal.Case {
	c.Numerics = thermal.Numerics{FinestM: 200e-6, Tolerance: 1e-2, Resolve: 0.1, MaxStepS: 20e-3}
	return c
}

// with returns c after a change.
func with(c thermal.Case, change func(*thermal.Case)) thermal.Case {
	change(&c)
	return c
}

// More power, a longer time or cooling never undo injury.
func TestMoreIsNeverLess(t *testing.T) {
	base := with(draft(antrum(thermal.Disc, 1e-3, 3, 2)), func(c *thermal.Case) { c.Drive.Limits = drive.Limits{} })
	for what, change := range map[string]func(c *thermal.Case, step float64){
		"power":   func(c *thermal.Case, step float64) { c.Drive.PowerW += 2 * step },
		"time":    func(c *thermal.Case, step float64) { c.Drive.OnS += step },
		"cooling": func(c *thermal.Case, step float64) { c.AfterS += step },
	} {
		first, last := 0.0, 0.0
		for step := range 4 {
			s := simulate(t, with(base, func(c *thermal.Case) { change(c, float64(step)) })).Summary
			// Power and time move the planned mesh too: allow for what that changes.
			if s.InjuryDepthM < last-0.01e-3 || s.InjuryDepthM == 0 {
				t.Errorf("%s: %g mm after %g mm", what, s.InjuryDepthM*1e3, last*1e3)
			}
			if step == 0 {
				first = s.InjuryDepthM
			}
			last = s.InjuryDepthM
		}
		if what != "cooling" && last < first+0.05e-3 {
			t.Errorf("%s makes little difference: %g mm, then %g mm", what, first*1e3, last*1e3)
		}
	}
}

// The same electrode in both geometries: the two depths must not differ by more
// than 0.05 mm.
func TestThreeDimensionsAgainstTwo(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG") == "" { // .ci/run sets it
		t.Skip("some seconds")
	}
	for _, flat := range []thermal.Case{antrum(thermal.Disc, 1e-3, 6, 3), antrum(thermal.Needle, 0.25e-3, 4, 3)} {
		flat.Domain.RadiusM = 8e-3
		solid := with(flat, func(c *thermal.Case) { c.Domain.ThreeD = true })
		a, b := simulate(t, flat), simulate(t, solid)
		d := (b.Summary.InjuryDepthM - a.Summary.InjuryDepthM) * 1e3
		w := (b.Summary.InjuryHalfWidthM - a.Summary.InjuryHalfWidthM) * 1e3
		t.Logf("%s: depth %.4f mm axisymmetric, %+.4f in 3-D; half width %.4f, %+.4f; resistance %.1f, %.1f ohm; %d and %d cells", flat.Electrode.Tip,
			a.Summary.InjuryDepthM*1e3, d, a.Summary.InjuryHalfWidthM*1e3, w, a.Summary.ResistanceStartOhm, b.Summary.ResistanceStartOhm, a.Summary.Cells, b.Summary.Cells)
		if math.Abs(d) > 0.05 || math.Abs(w) > 0.05 {
			t.Errorf("%s: depths differ by %.4f mm, half widths by %.4f mm", flat.Electrode.Tip, d, w)
		}
		if r := b.Summary.ResistanceStartOhm/a.Summary.ResistanceStartOhm - 1; math.Abs(r) > 0.03 {
			t.Errorf("%s: resistances differ by %.1f %%", flat.Electrode.Tip, 100*r)
		}
	}
}

// A stationary electrode in 3-D heats both sides of it alike.
func TestMirror(t *testing.T) {
	for _, c := range []thermal.Case{draft(antrum(thermal.Disc, 1e-3, 5, 1)), draft(antrum(thermal.Needle, 0.25e-3, 3, 1))} {
		c.Domain.ThreeD, c.Domain.RadiusM, c.Numerics.Tolerance = true, 7e-3, 1e-9
		r := simulate(t, c)
		m := r.Mesh
		for k := range m.NZ {
			for j := range m.NY {
				for i := range m.NX / 2 {
					a, b := r.Fields.PeakC[m.Index(i, j, k)], r.Fields.PeakC[m.Index(m.NX-1-i, j, k)]
					if math.Abs(a-b) > 0.01 {
						t.Fatalf("%s: cell %d,%d,%d peaks at %g C, its mirror image at %g C", c.Electrode.Tip, i, j, k, a, b)
					}
				}
			}
		}
	}
}

// Halving cells, steps and tolerances closes in on one depth.
func TestRefinement(t *testing.T) {
	c := antrum(thermal.Disc, 1e-3, 5, 3)
	depth := func(c thermal.Case) float64 { return simulate(t, c).Summary.InjuryDepthM * 1e3 }
	cells := func(h float64) float64 {
		return depth(with(c, func(c *thermal.Case) {
			c.Numerics = thermal.Numerics{FinestM: h, Tolerance: 1e-3, Resolve: 0.01, MaxStepS: 2.5e-3}
		}))
	}
	a, b, d := cells(200e-6), cells(100e-6), cells(50e-6)
	t.Logf("depth at 200, 100, 50 um: %.4f, %.4f, %.4f mm", a, b, d)
	if math.Abs(b-d) > 0.03 || math.Abs(b-d) > math.Abs(a-b) {
		t.Errorf("cells: %.4f, %.4f, %.4f mm", a, b, d)
	}
	steps := func(dt float64) float64 {
		return depth(with(c, func(c *thermal.Case) {
			c.Numerics = thermal.Numerics{FinestM: 100e-6, Tolerance: 1e-3, Resolve: 0.01, MaxStepS: dt}
		}))
	}
	a, b, d = steps(10e-3), steps(5e-3), steps(1.25e-3)
	t.Logf("depth at 10, 5, 1.25 ms: %.4f, %.4f, %.4f mm", a, b, d)
	if math.Abs(a-d) > 0.02 || math.Abs(b-d) > math.Abs(a-d)+0.001 {
		t.Errorf("steps: %.4f, %.4f, %.4f mm", a, b, d)
	}
	couple := func(tol, resolve float64) float64 {
		return depth(with(c, func(c *thermal.Case) { c.Numerics.Tolerance, c.Numerics.Resolve = tol, resolve }))
	}
	a, d = couple(5e-3, 0.05), couple(1e-5, 0.002)
	t.Logf("depth at the standard tolerances and far below: %.4f, %.4f mm", a, d)
	if math.Abs(a-d) > 0.02 {
		t.Errorf("tolerances: %.4f, %.4f mm", a, d)
	}
}

// A probe at a cell's centre reads the cell, between centres the line or plane
// through them.
func TestProbes(t *testing.T) {
	c := draft(antrum(thermal.Disc, 1e-3, 5, 1))
	m := c.Grid().Mesh()
	x, z := m.X.Centres, m.Z.Centres
	c.Probes = []thermal.Probe{
		{Name: "centre", XM: x[3], ZM: z[2]},
		{Name: "between", XM: (x[3] + x[4]) / 2, ZM: (3*z[2] + z[3]) / 4},
		{Name: "axis", XM: 0, ZM: z[1]},
		{Name: "surface", XM: x[5], ZM: 0},
	}
	r := simulate(t, c)
	at := func(v []float64, i, k int) float64 { return v[r.Mesh.Index(i, 0, k)] }
	for _, f := range []struct {
		field, probe []float64
	}{{r.Fields.TemperatureC, r.History[len(r.History)-1].ProbeC}, {r.Fields.Omega, r.History[len(r.History)-1].ProbeOmega}} {
		v := f.field
		want := []float64{
			at(v, 3, 2),
			(3*(at(v, 3, 2)+at(v, 4, 2)) + at(v, 3, 3) + at(v, 4, 3)) / 8,
			at(v, 0, 1),
			at(v, 5, 0),
		}
		for i := range want {
			if math.Abs(f.probe[i]-want[i]) > 1e-9*want[i] {
				t.Errorf("%s: %g, want %g", c.Probes[i].Name, f.probe[i], want[i])
			}
		}
	}
	for _, h := range r.History[1:] {
		if len(h.ProbeC) != 4 || len(h.ProbeOmega) != 4 || len(h.BorderC) != len(c.Borders()) {
			t.Fatalf("row at %g s is not whole", h.TimeS)
		}
	}
}

// Blood cools: flow that never stops carries away the most and leaves the least.
func TestPerfusionStops(t *testing.T) {
	run := func(stop thermal.PerfusionStop) *thermal.Result {
		return simulate(t, with(draft(antrum(thermal.Disc, 1e-3, 3, 4)), func(c *thermal.Case) {
			c.Physics.PerfusionStops, c.AfterS = stop, 6
			c.Layers = append([]thermal.Layer(nil), c.Layers...)
			for i := range c.Layers {
				c.Layers[i].Material.PerfusionKgM3S = 20 // high, to see it
			}
		}))
	}
	never, injured, damaged := run(thermal.Never), run(thermal.AtInjury), run(thermal.WithDamage)
	for _, r := range []*thermal.Result{injured, damaged} {
		if never.Balance.PerfusionJ <= r.Balance.PerfusionJ*1.01 || never.Summary.InjuryDepthM > r.Summary.InjuryDepthM {
			t.Errorf("never: %g J, %g mm; stopping: %g J, %g mm", never.Balance.PerfusionJ, never.Summary.InjuryDepthM*1e3,
				r.Balance.PerfusionJ, r.Summary.InjuryDepthM*1e3)
		}
	}
}

// The same case gives the same bits.
func TestRepeatable(t *testing.T) {
	c := draft(antrum(thermal.Needle, 0.25e-3, 6, 1))
	a, b := simulate(t, c), simulate(t, c)
	for p, v := range a.Fields.TemperatureC {
		if b.Fields.TemperatureC[p] != v {
			t.Fatalf("cell %d at %v, then at %v C", p, v, b.Fields.TemperatureC[p])
		}
	}
	if a.Summary.InjuryDepthM != b.Summary.InjuryDepthM || a.Summary.Steps != b.Summary.Steps {
		t.Error("two runs of a case differ")
	}
}

// A case stated by hand: its resistance before anything is warm is that of a disc
// on a stack of sheets above ground (Sneddon 1966), its rise in the first moments
// that of heat that has not moved.
func TestByHand(t *testing.T) {
	layer := func(name string, mm, sigma, k, rho, c, blood float64) thermal.Layer {
		return thermal.Layer{Name: name, ThicknessM: mm * 1e-3, Material: tissue.Material{
			SigmaSM: sigma, KWMK: k, DensityKgM3: rho, HeatCapacityJKgK: c, PerfusionKgM3S: blood, WaterFraction: 0.7,
		}}
	}
	c := antrum(thermal.Disc, 1e-3, 1.2, 3)
	c.Layers = []thermal.Layer{
		layer("mucosa", 1, 0.35, 0.5, 1050, 3600, 6), layer("submucosa", 0.8, 0.25, 0.45, 1050, 3400, 1),
		layer("muscularis", 1.8, 0.4, 0.5, 1070, 3600, 3), layer("backing", 12, 0.05, 0.22, 920, 2300, 0.3),
	}
	c.Layers[3].Beyond = true
	c.Lumen, c.Electrode.Surface = thermal.Surface{TemperatureC: 37}, thermal.Surface{TemperatureC: 37}
	c.AfterS, c.Drive.Limits = 7, drive.Limits{}
	c.Physics = thermal.Physics{PerfusionStops: thermal.Never, BoilC: 100}
	c.Domain = thermal.Domain{RadiusM: 300e-3, Side: thermal.Insulated, Bottom: thermal.Grounded}
	c.Numerics.Tolerance = 1e-6
	var sheets []exact.Sheet
	for _, l := range c.Layers {
		sheets = append(sheets, exact.Sheet{SigmaSM: l.Material.SigmaSM, ThicknessM: l.ThicknessM})
	}
	r := simulate(t, c)
	if want := exact.LayeredDiscResistance(1e-3, sheets); math.Abs(r.Summary.ResistanceStartOhm/want-1) > 0.005 {
		t.Errorf("%g ohm, want %g", r.Summary.ResistanceStartOhm, want)
	}
	if r.Summary.ResistanceEndOhm != r.Summary.ResistanceStartOhm || r.Summary.Solves != 1 {
		t.Errorf("conductivity is constant, but the field was solved %d times: %g, then %g ohm", r.Summary.Solves, r.Summary.ResistanceStartOhm, r.Summary.ResistanceEndOhm)
	}
	// Twice the power, twice the rise: the case is linear.
	twice := simulate(t, with(c, func(c *thermal.Case) { c.Drive.PowerW *= 2; c.Numerics.FinestM = r.Mesh.X.Width(0) }))
	if r.Mesh.Cells() == twice.Mesh.Cells() {
		for p := range r.Fields.PeakC {
			if d := (twice.Fields.PeakC[p] - 37) - 2*(r.Fields.PeakC[p]-37); math.Abs(d) > 1e-6 {
				t.Fatalf("not linear: off by %g K in cell %d", d, p)
			}
		}
	}
}

// A small hot contact dries within a coupling step and then answers several times as
// fast: temperatures must stay between those around them all the same.
func TestDryingWithinAStepStaysStable(t *testing.T) {
	for _, radius := range []float64{0.05e-3, 0.1e-3} {
		c := draft(antrum(thermal.Disc, radius, 5, 0.2))
		c.AfterS = 0.2
		r := simulate(t, c)
		if r.Summary.DriedDepthM == 0 {
			t.Fatal("nothing dried: the case tests nothing")
		}
		for p := r.Mesh.Plane(); p < r.Mesh.Plane()+r.Mesh.Cells(); p++ {
			if v := r.Fields.TemperatureC[p]; v < 37-1e-6 || v > c.Physics.CarbonCeilingC {
				t.Fatalf("radius %g: cell %d at %g C", radius, p, v)
			}
		}
	}
}
