package thermal_test

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

// anyCase draws a wall, a tip and a source from what a scenario allows, small enough to be
// computed in a blink.
func anyCase(rng *rand.Rand) thermal.Case {
	between := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, rng.Float64()) }
	c := draft(antrum(thermal.Disc, between(0.1e-3, 4e-3), 0, between(0.01, 1)))
	c.AfterS = rng.Float64()
	c.Layers = nil
	for i := range 1 + rng.IntN(6) {
		c.Layers = append(c.Layers, thermal.Layer{
			Name: strconv.Itoa(i), ThicknessM: between(10e-6, 8e-3), Muscle: i == 1,
			Material: tissue.Material{
				SigmaSM: between(0.01, 3), KWMK: between(0.1, 1), DensityKgM3: between(500, 2000), HeatCapacityJKgK: between(1000, 4500),
				PerfusionKgM3S: 30 * rng.Float64(), WaterFraction: between(0.05, 0.95), MetabolicWM3: 1e4 * rng.Float64(),
			}})
	}
	if rng.IntN(2) == 0 {
		c.Layers = append(c.Layers, thermal.Layer{Name: "beyond", ThicknessM: between(1e-3, 20e-3), Material: c.Layers[0].Material, Beyond: true})
	} else {
		c.Domain.Bottom, c.Beyond = thermal.Grounded, thermal.Surface{HeatTransferWM2K: between(1, 1000), TemperatureC: 20 + 20*rng.Float64()}
	}
	c.Lumen = thermal.Surface{HeatTransferWM2K: between(0.1, 2000), TemperatureC: 10 + 40*rng.Float64()}
	c.Electrode.Surface = thermal.Surface{HeatTransferWM2K: between(1, 10000), TemperatureC: 10 + 40*rng.Float64()}
	c.Physics.MetabolicHeat = rng.IntN(3) == 0
	c.Physics.PerfusionStops = []thermal.PerfusionStop{thermal.Never, thermal.AtInjury, thermal.WithDamage}[rng.IntN(3)]
	c.Physics.Carbonisation = rng.IntN(4) > 0
	m := &c.Drive.Mode
	m.DutyCycle = between(0.05, 1)
	switch rng.IntN(3) {
	case 0:
		m.PowerW = between(0.01, 100)
	case 1:
		m.PeakVoltageV = between(1, 2000)
	case 2:
		m.CurrentA = between(1e-3, 1)
	}
	m.Limits = drive.Limits{PeakVoltageV: between(10, 3000)}
	if rng.IntN(3) == 0 {
		c.Drive.Pulses = &drive.Pulses{LengthS: 0.02, PeriodS: 0.05}
	}
	depth := 0.0
	for _, l := range c.Layers {
		depth += l.ThicknessM
	}
	switch a := c.Electrode.ContactRadiusM; rng.IntN(6) {
	case 0:
		c.Electrode.Tip, c.Electrode.TipRadiusM = thermal.Ball, 1.5*a
	case 1:
		c.Electrode.Tip, c.Electrode.ContactRadiusM = thermal.Needle, between(0.1e-3, 0.5e-3)
		c.Electrode.InsertionM = depth * (0.1 + 0.8*rng.Float64())
	case 2:
		c.Electrode.Tip, c.Electrode.TipRadiusM, c.Rest = thermal.Pad, a, true
		c.Electrode.Film = thermal.Film{OhmM2: between(1e-6, 1), HeatShare: rng.Float64()}
	case 3:
		stalk := c.Layers[0]
		stalk.Name, stalk.Above, stalk.Muscle, stalk.RadiusM, stalk.ThicknessM = "stalk", true, false, between(1e-3, 4e-3), between(3e-3, 8e-3)
		c.Layers = append([]thermal.Layer{stalk}, c.Layers...)
		ring := stalk.RadiusM * (0.5 + 0.5*rng.Float64())
		c.Electrode.Tip, c.Electrode.ContactRadiusM, c.Electrode.TipRadiusM, c.Electrode.HeightM = thermal.Loop, 0.2e-3, ring, stalk.ThicknessM/2
		c.Motion = thermal.Motion{LengthM: ring, SpeedMS: between(0.1e-3, 5e-3)}
	}
	return c
}

// Whatever the wall, tip and source: temperatures are finite and above the coldest
// surroundings, the books close, charge is kept, and damage never heals. More cases:
// MURALHEAT_CASES=5000 go test ./thermal -run AnyCase.
func TestAnyCase(t *testing.T) {
	cases := 60
	if n, err := strconv.Atoi(os.Getenv("MURALHEAT_CASES")); err == nil {
		cases = n
	}
	for seed := range cases {
		c := anyCase(rand.New(rand.NewPCG(uint64(seed), 11)))
		r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
		if err != nil {
			t.Errorf("seed %d, %s: %v", seed, c.Electrode.Tip, err)
			continue
		}
		fail := func(format string, a ...any) {
			t.Helper()
			t.Errorf("seed %d, %s: "+format, append([]any{seed, c.Electrode.Tip}, a...)...)
		}
		if b := r.Balance; !(math.Abs(b.EnergyResidual) < 1e-6 && b.ChargeResidual < 1e-2) {
			fail("energy residual %g, charge residual %g", b.EnergyResidual, b.ChargeResidual)
		}
		coldest := math.Min(c.Body.TemperatureC, math.Min(c.Lumen.TemperatureC, c.Electrode.TemperatureC))
		if !c.Layers[len(c.Layers)-1].Beyond {
			coldest = math.Min(coldest, c.Beyond.TemperatureC)
		}
		for p := r.Mesh.Index(0, 0, 0); p < r.Mesh.Index(0, 0, r.Mesh.NZ); p++ {
			if r.Fields.Removed[p] {
				continue
			}
			now, peak := r.Fields.TemperatureC[p], r.Fields.PeakC[p]
			if !(now >= coldest-1e-6) || math.IsInf(now, 0) || !(peak >= now-1e-9) {
				fail("%g C now, %g C at most, surroundings %g C", now, peak, coldest)
				break
			}
			if w, o := r.Fields.Water[p], r.Fields.Omega[p]; !(w >= 0 && w <= 1) || !(o >= 0) {
				fail("water %g, Omega %g", w, o)
				break
			}
		}
		depth := 0.0
		for _, h := range r.History {
			if h.DepthM < depth-1e-12 {
				fail("the injury heals: %g m after %g m at %g s", h.DepthM, depth, h.TimeS)
				break
			}
			depth = h.DepthM
		}
	}
}

// Below boiling more power never injures less, everything else equal.
func TestMorePowerNeverInjuresLess(t *testing.T) {
	for seed := range 15 {
		c := anyCase(rand.New(rand.NewPCG(uint64(seed), 12)))
		c.Electrode.Tip, c.Electrode.Film, c.Motion, c.Rest = thermal.Disc, thermal.Film{}, thermal.Motion{}, false
		if c.Layers[0].Above {
			c.Layers = c.Layers[1:]
		}
		c.Electrode.ContactRadiusM = 1e-3
		c.Drive = drive.Drive{Mode: drive.Mode{DutyCycle: 1}, OnS: 1}
		c.Physics.Boiling, c.Physics.SigmaPerK = false, 0
		last := thermal.Summary{}
		for _, w := range []float64{0.1, 0.3, 1, 3} {
			c.Drive.PowerW = w
			s := simulate(t, c).Summary
			if s.InjuryDepthM < last.InjuryDepthM-1e-12 || s.PeakC < last.PeakC-1e-9 {
				t.Errorf("seed %d: %g W injure %g m and reach %g C, less power %g m and %g C", seed, w, s.InjuryDepthM, s.PeakC, last.InjuryDepthM, last.PeakC)
			}
			last = s
		}
	}
}
