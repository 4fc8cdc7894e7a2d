package thermal

import (
	"context"
	"math"
	"testing"

	"muralheat/thermal/drive"
)

// Cells far from an electrode that moves step less often: with them a run gives the same injury, dose and temperatures as
// one whose cells all step together, and at each row of history all cells are at its time, so that energy closes there.
func TestRunsWithFarCells(t *testing.T) {
	far := moving(Disc)
	far.Domain.RadiusM, far.AfterS, far.Drive.PowerW = 8e-3, 0.5, 4
	far.Motion.LengthM = 2e-3
	far.Probes = []Probe{{XM: 2e-3, YM: 3.5e-3, ZM: 2e-3}}
	pulsed := *far
	pulsed.Physics.MetabolicHeat, pulsed.Drive.PowerW = false, 20
	pulsed.Drive.Pulses = &drive.Pulses{LengthS: 0.05, PeriodS: 0.3, Between: drive.Mode{PowerW: 2, DutyCycle: 1}}
	for name, c := range map[string]*Case{"metabolic heat": far, "pulsed": &pulsed} {
		run := func(mostK float64) *run {
			r := newRun(c, c.Grid())
			r.heat.SetFar(mostK)
			metabolicW := 0.0
			r.each(func(p, i, j, k int) { metabolicW += c.Layers[0].Material.MetabolicWM3 * r.m.Volume(i, j, k) })
			waited := false
			check := func(float64, float64) {
				if h := r.res.History; h[len(h)-1].TimeS != r.timeS {
					cells := 0
					for _, c := range r.heat.Moved() {
						cells += c.End - c.First
					}
					waited = waited || cells < r.m.Cells()
					return
				}
				stored, _, _ := r.heat.Stores()
				out := stored + r.heat.PerfusionJ + r.heat.ElectrodeJ + r.heat.LumenJ + r.heat.OuterJ
				made := r.conduction.heatJ
				if c.Physics.MetabolicHeat {
					made += metabolicW * r.timeS
				}
				if d := math.Abs(made/r.heat.JouleJ - 1); d > 1e-12 && r.timeS > 0.1 {
					t.Errorf("%s: at the row of %g s what the current made is off by %.2g", name, r.timeS, d)
				}
				if d := math.Abs(out/r.heat.JouleJ - 1); d > 1e-12 && r.timeS > 0.1 {
					t.Errorf("%s: at the row of %g s energy is off by %.2g", name, r.timeS, d)
				}
			}
			if err := r.simulate(context.Background(), c, true, Options{Progress: check}); err != nil {
				t.Fatal(err)
			}
			if waited != (mostK > 0) {
				t.Errorf("%s: changes of %g K allowed, some cells waited: %v", name, mostK, waited)
			}
			r.injury.report(r.res)
			return r
		}
		one, two := run(0), run(farK)
		if a, b := one.res.Summary.InjuryDepthM, two.res.Summary.InjuryDepthM; math.Abs(a-b) > 2e-6 || a < 0.2e-3 {
			t.Errorf("%s: injury %.4f mm deep, %.4f mm with far cells", name, a*1e3, b*1e3)
		}
		kelvin, dose := 0.0, 0.0
		one.each(func(p, i, j, k int) {
			kelvin = max(kelvin, math.Abs(one.heat.T[p]-two.heat.T[p]), math.Abs(one.peakC[p]-two.peakC[p]))
			if d := one.injury.dose.Sum[p]; d > 1e-3 && d < 1e3 {
				dose = max(dose, math.Abs(two.injury.dose.Sum[p]/d-1))
			}
		})
		if kelvin > 0.1 || dose > 0.05 {
			t.Errorf("%s: temperatures differ by up to %.2g K, doses by up to %.2g", name, kelvin, dose)
		}
		for i, row := range one.res.History {
			if d := math.Abs(row.ProbeC[0] - two.res.History[i].ProbeC[0]); d > 0.02 {
				t.Errorf("%s: probe among far cells off by %.2g K at %g s", name, d, row.TimeS)
			}
		}
	}
}
