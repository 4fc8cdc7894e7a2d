package thermal_test

import (
	"context"
	"errors"
	"math"
	"os"
	"runtime"
	"testing"
	"time"

	"muralheat/mesh"
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

// Whatever the case, the energy balance closes, charge is kept, time goes on, injury only
// grows and no number is missing.
func TestBooksClose(t *testing.T) {
	disc := draft(antrum(thermal.Disc, 1e-3, 10, 2))
	needle := draft(antrum(thermal.Needle, 0.25e-3, 6, 2))
	for name, c := range map[string]thermal.Case{
		"disc":            disc,
		"disc, cooling":   with(disc, func(c *thermal.Case) { c.AfterS = 3 }),
		"needle":          needle,
		"ball":            with(disc, func(c *thermal.Case) { c.Electrode.Tip, c.Electrode.TipRadiusM = thermal.Ball, 3e-3 }),
		"disc in 3-D":     with(disc, func(c *thermal.Case) { c.Domain.ThreeD, c.Domain.RadiusM = true, 7e-3 }),
		"disc moving":     pull(disc, 4e-3, 2e-3),
		"needle moving":   pull(needle, 3e-3, 2e-3),
		"moving, cooling": with(pull(disc, 3e-3, 3e-3), func(c *thermal.Case) { c.AfterS = 2 }),
		"low duty cycle":  with(disc, func(c *thermal.Case) { c.Drive.DutyCycle = 0.06 }),
		"no limit":        with(disc, func(c *thermal.Case) { c.Drive.Limits = drive.Limits{} }),
		"current limit":   with(disc, func(c *thermal.Case) { c.Drive.Limits = drive.Limits{CurrentA: 0.08} }),
		"no boiling":      with(disc, func(c *thermal.Case) { c.Physics.Boiling = false }),
		"metabolic heat":  with(disc, func(c *thermal.Case) { c.Physics.MetabolicHeat = true }),
		"at injury":       with(disc, func(c *thermal.Case) { c.Physics.PerfusionStops = thermal.AtInjury }),
		"water, cold":     with(disc, func(c *thermal.Case) { c.Lumen = thermal.Surface{HeatTransferWM2K: 500, TemperatureC: 20} }),
		"nothing beyond": with(disc, func(c *thermal.Case) {
			c.Layers, c.Beyond = wallOnly(c.Layers), thermal.Surface{HeatTransferWM2K: 25, TemperatureC: 37}
		}),
		"sparks":           with(disc, interrupted),
		"sparks, needle":   with(needle, interrupted),
		"sparks, moving":   with(pull(disc, 2e-3, 2e-3), interrupted),
		"pulsed":           with(disc, pulsed),
		"pulsed cut":       waiting(needle, 3e-3),
		"held voltage":     with(disc, func(c *thermal.Case) { c.Drive.PowerW, c.Drive.PeakVoltageV, c.Drive.Limits = 0, 150, drive.Limits{} }),
		"grounded below":   with(disc, func(c *thermal.Case) { c.Domain.Bottom, c.Domain.Side = thermal.Grounded, thermal.Insulated }),
		"insulated bottom": with(disc, func(c *thermal.Case) { c.Domain.Bottom = thermal.Insulated }),
	} {
		t.Run(name, func(t *testing.T) {
			r := simulate(t, c)
			b, s := r.Balance, r.Summary
			if math.Abs(b.EnergyResidual) > 1e-9 || math.Abs(b.ChargeResidual) > 1e-2 {
				t.Errorf("energy residual %.2g, charge residual %.2g", b.EnergyResidual, b.ChargeResidual)
			}
			for what, v := range map[string]float64{
				"depth": s.InjuryDepthM, "width": s.InjuryHalfWidthM, "peak": s.PeakC, "resistance": s.ResistanceStartOhm,
				"resistance at the end": s.ResistanceEndOhm, "peak voltage": s.PeakVoltageV, "energy": b.ElectricJ, "power": s.MeanPowerW,
			} {
				if !(v > 0) || math.IsInf(v, 0) {
					t.Errorf("%s is %g", what, v)
				}
			}
			if c.Drive.Limits.PeakVoltageV > 0 && s.PeakVoltageV > c.Drive.Limits.PeakVoltageV*(1+1e-9) {
				t.Errorf("peak voltage %g V over its limit", s.PeakVoltageV)
			}
			last := r.History[0]
			for _, h := range r.History[1:] {
				if h.TimeS < last.TimeS || h.DepthM < last.DepthM-1e-12 {
					t.Fatalf("from %g s, %g mm to %g s, %g mm", last.TimeS, last.DepthM*1e3, h.TimeS, h.DepthM*1e3)
				}
				last = h
			}
			if last.TimeS != c.TotalS() {
				t.Errorf("ends at %.17g s, not %.17g s", last.TimeS, c.TotalS())
			}
			if d := math.Abs(last.DepthM - s.InjuryDepthM); d > 1e-12 {
				t.Errorf("history ends at another depth, by %g m", d)
			}
			for p := r.Mesh.Plane(); p < r.Mesh.Plane()+r.Mesh.Cells(); p++ {
				if !r.Fields.Removed[p] && r.Fields.PeakC[p] < r.Fields.TemperatureC[p] {
					t.Fatalf("cell %d is at %g C but peaked at %g", p, r.Fields.TemperatureC[p], r.Fields.PeakC[p])
				}
			}
		})
	}
}

// wallOnly leaves out what lies beyond the wall.
func wallOnly(layers []thermal.Layer) []thermal.Layer {
	for i, l := range layers {
		if l.Beyond {
			return layers[:i]
		}
	}
	return layers
}

// Without power a body at rest stays at rest, to the last digit.
func TestNoPowerNoChange(t *testing.T) {
	for _, c := range []thermal.Case{
		draft(antrum(thermal.Disc, 1e-3, 0, 2)), draft(antrum(thermal.Needle, 0.25e-3, 0, 2)), pull(draft(antrum(thermal.Disc, 1e-3, 0, 0)), 2e-3, 2e-3),
	} {
		r := simulate(t, c)
		for p := r.Mesh.Plane(); p < r.Mesh.Plane()+r.Mesh.Cells(); p++ {
			if r.Fields.TemperatureC[p] != 37 || r.Fields.PeakC[p] != 37 || r.Fields.Water[p] != 1 {
				t.Fatalf("%s: cell %d at %g C", c.Electrode.Tip, p, r.Fields.TemperatureC[p])
			}
		}
		s := r.Summary
		if s.InjuryDepthM != 0 || s.InjuryHalfWidthM != 0 || s.DeepestLayer != "" || s.PeakC != 37 || r.Balance.ElectricJ != 0 {
			t.Errorf("%s: %+v", c.Electrode.Tip, s)
		}
	}
}

// The energy is the power times the time, exactly, at switching times that no step
// divides; and both times are met in the history.
func TestSwitchingIsExact(t *testing.T) {
	for _, on := range []float64{0.7333, 1.0 / 3, 0.0471} {
		c := with(draft(antrum(thermal.Disc, 1e-3, 3, on)), func(c *thermal.Case) { c.AfterS, c.Drive.Limits = 0.5117, drive.Limits{} })
		r := simulate(t, c)
		if d := r.Balance.ElectricJ/(3*on) - 1; math.Abs(d) > 1e-12 {
			t.Errorf("%g s: energy off by %.2g", on, d)
		}
		with, without := false, false
		for _, h := range r.History {
			if h.TimeS == on {
				with, without = with || h.PowerW > 0, without || h.PowerW == 0
			}
			if h.TimeS < on && math.Abs(h.PowerW-3) > 1e-9 || h.TimeS > on && h.PowerW != 0 {
				t.Errorf("%g W at %g s", h.PowerW, h.TimeS)
			}
		}
		if !with || !without {
			t.Errorf("%g s: the switch is not in the history on both sides", on)
		}
	}
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

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	c := draft(antrum(thermal.Disc, 1e-3, 5, 60))
	steps, last := 0, 0.0
	r, err := thermal.Simulate(ctx, &c, thermal.Options{Progress: func(done, total float64) {
		if done < last || total != 60 {
			t.Errorf("progress %g of %g s after %g s", done, total, last)
		}
		last = done
		if steps++; steps == 7 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || r == nil || r.Summary.Steps != 7 || len(r.History) == 0 {
		t.Fatalf("%v after %d steps", err, steps)
	}
	if math.Abs(r.Balance.EnergyResidual) > 1e-9 {
		t.Errorf("energy balance left open: %g", r.Balance.EnergyResidual)
	}
}

func TestTooLarge(t *testing.T) {
	c := pull(antrum(thermal.Disc, 1e-3, 5, 0), 50e-3, 1e-3)
	c.Numerics.FinestM = 5e-6
	start := time.Now()
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{MaxBytes: 1e9})
	var large *thermal.TooLarge
	if !errors.As(err, &large) || r != nil {
		t.Fatalf("got %v", err)
	}
	if g := c.Grid(); large.Grid.Cells() != g.Cells() || g.Bytes() < 1e9 {
		t.Errorf("%+v", large)
	}
	if d := time.Since(start); d > time.Second {
		t.Errorf("refused after %v: before allocating?", d)
	}
}

// The planned mesh is the one that is made, and its estimate of memory is no lie.
func TestGridIsThePlan(t *testing.T) {
	for _, c := range []thermal.Case{
		antrum(thermal.Disc, 1e-3, 10, 10), antrum(thermal.Disc, 0.15e-3, 1, 1), antrum(thermal.Needle, 0.25e-3, 10, 10),
		pull(antrum(thermal.Disc, 1e-3, 10, 0), 8e-3, 2e-3), pull(antrum(thermal.Needle, 0.2e-3, 10, 0), 8e-3, 2e-3),
	} {
		g := c.Grid()
		m := g.Mesh()
		if m.Cells() != g.Cells() || m.NX != g.NX || m.NY != g.NY || m.NZ != g.NZ {
			t.Errorf("planned %d x %d x %d, made %d x %d x %d", g.NX, g.NY, g.NZ, m.NX, m.NY, m.NZ)
		}
		borders := append([]thermal.Border{}, c.Borders()...)
		if c.Electrode.Tip == thermal.Needle {
			borders = append(borders, thermal.Border{Name: "end of the needle", DepthM: c.Electrode.InsertionM})
		}
		for _, b := range borders {
			near := math.Inf(1)
			for _, f := range m.Z.Faces {
				near = math.Min(near, math.Abs(f-b.DepthM))
			}
			if near > 1e-12 {
				t.Errorf("%s lies %g m from a face", b.Name, near)
			}
		}
		if m.Geometry == mesh.Axisymmetric {
			if i := m.X.Find(c.Electrode.ContactRadiusM); math.Abs(m.X.Faces[i]-c.Electrode.ContactRadiusM) > 1e-12 {
				t.Error("the rim is not on a face")
			}
		}
	}
}

// A material that is not a number ends in a Failure that says where, soon.
func TestNotANumber(t *testing.T) {
	nan := math.NaN()
	for name, spoil := range map[string]func(*tissue.Material){
		"conductivity":         func(m *tissue.Material) { m.SigmaSM = nan },
		"thermal conductivity": func(m *tissue.Material) { m.KWMK = nan },
		"density":              func(m *tissue.Material) { m.DensityKgM3 = nan },
		"heat capacity":        func(m *tissue.Material) { m.HeatCapacityJKgK = nan },
		"perfusion":            func(m *tissue.Material) { m.PerfusionKgM3S = nan },
	} {
		for layer := range 2 {
			c := draft(antrum(thermal.Disc, 1e-3, 5, 1))
			c.Layers = append([]thermal.Layer(nil), c.Layers...)
			spoil(&c.Layers[layer].Material)
			ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
			_, err := thermal.Simulate(ctx, &c, thermal.Options{})
			cancel()
			var f *thermal.Failure
			if !errors.As(err, &f) {
				t.Errorf("%s of layer %d: %v", name, layer, err)
				continue
			}
			if f.Error() == "" || f.TimeS > 0.1 {
				t.Errorf("%s of layer %d: found at %g s", name, layer, f.TimeS)
			}
		}
	}
}

// What no solver can follow ends in a Failure that says so, soon, not in numbers.
func TestNothingToSolve(t *testing.T) {
	for name, spoil := range map[string]func(*thermal.Case){
		"heat spreads at once": func(c *thermal.Case) {
			c.Layers[0].Material.KWMK, c.Layers[0].Material.DensityKgM3, c.Layers[0].Material.HeatCapacityJKgK = 500, 1, 1
		},
		"nothing left once dried": func(c *thermal.Case) {
			c.Layers[0].Material.WaterFraction, c.Layers[0].Material.DensityKgM3 = 1-1e-9, 1
		},
		"conductivity below zero": func(c *thermal.Case) { c.Physics.SigmaPerK, c.Body.TemperatureC = 0.1, 5 },
	} {
		t.Run(name, func(t *testing.T) {
			c := draft(antrum(thermal.Disc, 1e-3, 10, 1))
			c.Layers = append([]thermal.Layer(nil), c.Layers...)
			spoil(&c)
			ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
			defer cancel()
			_, err := thermal.Simulate(ctx, &c, thermal.Options{})
			var f *thermal.Failure
			if !errors.As(err, &f) {
				t.Fatalf("no failure: %v", err)
			}
			if f.TimeS > 0.5 {
				t.Errorf("found at %g s", f.TimeS)
			}
			t.Log(f)
		})
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

// The memory that check and the refusal speak of is what a run allocates.
func TestMemoryEstimate(t *testing.T) {
	for _, also := range []int{0, 4} {
		c := pull(antrum(thermal.Disc, 1e-3, 5, 0), 2e-3, 2e-3)
		for range also {
			c.Damage.Also = append(c.Damage.Also, c.Damage.Kinetics)
		}
		if also == 0 {
			c.Physics.WaterM2S = 5e-9
		}
		ctx, cancel := context.WithCancel(context.Background())
		cancel() // allocate, compute nothing
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if _, err := thermal.Simulate(ctx, &c, thermal.Options{}); !errors.Is(err, context.Canceled) {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		used, said := float64(after.TotalAlloc-before.TotalAlloc), c.Grid().Bytes()
		if used > 1.05*said || used < 0.85*said {
			t.Errorf("%d further laws, water %g m2/s: %.1f MB allocated, %.1f MB foreseen", also, c.Physics.WaterM2S, used/1e6, said/1e6)
		}
	}
}
