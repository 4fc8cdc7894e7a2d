package thermal_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// inSequence computes cases one after another.
func inSequence(t *testing.T, cases ...thermal.Case) []*thermal.Result {
	t.Helper()
	var s thermal.Sequence
	for i := range cases {
		s = append(s, &cases[i])
	}
	results, err := thermal.SimulateSequence(context.Background(), s, thermal.Options{AllFields: true})
	if err != nil {
		t.Fatal(err)
	}
	return results
}

// wetAndSparks dries, moves steam and liquid water, and strikes sparks.
func wetAndSparks(c *thermal.Case) {
	interrupted(c)
	c.Physics.WaterM2S = 1e-9
	c.Physics.Drying, c.Physics.SigmaExponent, c.Physics.SigmaThreshold = thermal.Percolation, 1.5, 0.2
	c.Physics.Steam.PermeabilityM2, c.Physics.Steam.WetShare, c.Physics.Steam.TearPa, c.Physics.Steam.VentShare = 1e-15, 0.02, 50e3, 0.5
	c.Electrode.CapacityJK, c.Electrode.LossWK = 0.05, 0.01
}

// probeAll returns probes about every cell of the round mesh of a case: so damage is integrated at each row, not each quarter kelvin.
func probeAll(c *thermal.Case) (all []thermal.Probe) {
	m := c.Grid().Mesh()
	for k := 0; k < m.NZ; k += 2 {
		for i := 0; i < m.NX; i += 2 {
			all = append(all, thermal.Probe{Name: "in", XM: m.X.Centres[i], ZM: m.Z.Centres[k]})
		}
	}
	return all
}

// Activations without a pause are one that is as long as all of them, to the bit: with steps that end where
// activations do (pulses that fill their period), drying, steam, sparks and metal that warms.
func TestNoPause(t *testing.T) {
	const times, each = 4, 0.5
	disc := with(draft(antrum(thermal.Disc, 1e-3, 10, each)), wetAndSparks)
	needle := with(draft(antrum(thermal.Needle, 0.25e-3, 6, each)), wetAndSparks)
	for name, one := range map[string]thermal.Case{"disc": disc, "needle": needle} {
		t.Run(name, func(t *testing.T) {
			long := one
			long.Drive.OnS = times * each
			long.Drive.Pulses = &drive.Pulses{LengthS: each, PeriodS: each, Between: one.Drive.Mode}
			one.Probes = probeAll(&long)
			long.Probes = one.Probes
			want := simulate(t, long)
			repeated := one
			repeated.Repeat = thermal.Repeat{Times: times}
			same(t, "repeated", simulate(t, repeated), want)
			same(t, "in sequence", inSequence(t, one, one, one, one)[times-1], want)
			if want.Summary.SparkShare == 0 || want.Summary.DriedDepthM == 0 || !(want.Summary.SteamCondensed > 0) {
				t.Errorf("sparks %g, dried %g m, condensed %g: nothing to compare", want.Summary.SparkShare, want.Summary.DriedDepthM, want.Summary.SteamCondensed)
			}
		})
	}
}

// same holds fields to be those of another result, to the bit.
func same(t *testing.T, what string, r, want *thermal.Result) {
	t.Helper()
	for name, v := range map[string][2][]float64{
		"temperature": {r.Fields.TemperatureC, want.Fields.TemperatureC}, "water": {r.Fields.Water, want.Fields.Water},
		"dry mass": {r.Fields.Solid, want.Fields.Solid}, "omega": {r.Fields.Omega, want.Fields.Omega}, "potential": {r.Fields.PotentialV, want.Fields.PotentialV},
	} {
		worst, n := 0.0, 0
		for p := range v[1] {
			if v[0][p] != v[1][p] {
				worst, n = math.Max(worst, math.Abs(v[0][p]-v[1][p])), n+1
			}
		}
		if n > 0 {
			t.Errorf("%s: %s differs in %d of %d cells, by up to %g", what, name, n, len(v[1]), worst)
		}
	}
}

// The energy balance closes over every case of a sequence, which begins with what the tissue holds from those before,
// and so over all of them.
func TestSequenceBalance(t *testing.T) {
	disc := with(draft(antrum(thermal.Disc, 1e-3, 10, 1)), func(c *thermal.Case) { wetAndSparks(c); c.AfterS = 0.5; c.Physics.MetabolicHeat = true })
	cutter := with(pull(draft(antrum(thermal.Needle, 0.25e-3, 6, 1)), 1e-3, 3e-3), func(c *thermal.Case) { c.AfterS = 0.2 })
	slide := pull(draft(antrum(thermal.Disc, 1e-3, 8, 1)), 1e-3, 2e-3)
	for name, cases := range map[string][]thermal.Case{
		"one spot":      {disc, disc, disc},
		"two currents":  {disc, with(disc, func(c *thermal.Case) { c.Drive.Mode = drive.Mode{PowerW: 3, DutyCycle: 1}; c.Lumen.TemperatureC = 20 })},
		"two discs":     {disc, with(disc, func(c *thermal.Case) { c.Electrode.ContactRadiusM, c.Electrode.TipRadiusM = 1.5e-3, 1.5e-3 })},
		"a cut, again":  {cutter, cutter, back(cutter)},
		"deeper":        {cutter, with(cutter, func(c *thermal.Case) { c.Electrode.InsertionM = 1.5e-3 })},
		"rest and pull": {with(slide, func(c *thermal.Case) { c.Motion = thermal.Motion{}; c.AfterS = 0.3 }), slide},
		"repeated":      {with(disc, func(c *thermal.Case) { c.Repeat = thermal.Repeat{Times: 2, PauseS: 0.3} }), disc},
	} {
		t.Run(name, func(t *testing.T) {
			results := inSequence(t, cases...)
			all, held := thermal.Balance{}, 0.0
			for n, r := range results {
				sound(t, r)
				b := r.Balance
				if math.Abs(b.HeldJ-held) > 1e-9 || n > 0 && !(b.HeldJ > 0.01) {
					t.Errorf("case %d begins with %g J, the one before ended with %g", n+1, b.HeldJ, held)
				}
				held = b.StoredJ
				all.ElectricJ += b.ElectricJ
				all.SteamJ += b.ElectricJ - b.FarJ + b.MetabolicJ - b.SteamJ - b.SmokeJ - b.RemovedJ - b.CuttingJ - b.PerfusionJ - b.ElectrodeJ - b.SurfacesJ
				if math.Abs(b.WaterResidual) > 1e-9 {
					t.Errorf("case %d: water residual %g", n+1, b.WaterResidual)
				}
				if n > 0 && r.Summary.InjuryDepthM < results[n-1].Summary.InjuryDepthM {
					t.Errorf("case %d: the injury shrank", n+1)
				}
			}
			if math.Abs(all.SteamJ-held) > 1e-9*all.ElectricJ {
				t.Errorf("all cases leave %g J in the tissue, which holds %g J", all.SteamJ, held)
			}
		})
	}
}

// After long pauses each activation finds the tissue as cool as the first did: temperatures are those of separate ones
// while damage adds up.
func TestLongPauses(t *testing.T) {
	const times = 3
	one := with(draft(antrum(thermal.Disc, 1e-3, 1, 2)), func(c *thermal.Case) {
		c.Physics.Boiling, c.Physics.Carbonisation, c.Physics.SigmaPerK, c.Physics.PerfusionStops = false, false, 0, thermal.Never
		c.AfterS = 600
	})
	one.Probes = probeAll(&one)
	r := inSequence(t, one, one, one)
	worst, top := 0.0, 0.0
	for _, first := range r[0].History {
		for _, last := range r[times-1].History {
			if math.Abs(first.TimeS-last.TimeS) < 1e-9 && (first.PowerW > 0) == (last.PowerW > 0) {
				worst = math.Max(worst, math.Abs(first.BorderC[0]-last.BorderC[0]))
			}
		}
		top = math.Max(top, first.BorderC[0]-37)
	}
	p, least := 0, math.Inf(1)
	for q, o := range r[0].Fields.Omega {
		if o > 1e-2 {
			least = math.Min(least, r[times-1].Fields.Omega[q]/o)
			p = max(p, q)
		}
	}
	t.Logf("rise of up to %.4g K, %.2g K apart; at least %.5g times the damage", top, worst, least)
	if worst > 0.001*top || math.Abs(least-times) > 0.01*times || p == 0 {
		t.Errorf("temperatures differ by %g K of %g K; damage is %g times that of one", worst, top, least)
	}
	if a, b := r[0].Balance.ElectricJ, r[times-1].Balance.ElectricJ; math.Abs(a-b) > 1e-9 {
		t.Errorf("%g J, then %g J", a, b)
	}
}

// At equal energy a shorter pause burns deeper than a longer one.
func TestShorterPauseBurnsDeeper(t *testing.T) {
	last := math.Inf(1)
	for _, pauseS := range []float64{0, 1, 4, 20} {
		s := simulate(t, with(draft(antrum(thermal.Ball, 0.8e-3, 1.5, 1)), func(c *thermal.Case) {
			c.Physics.Boiling, c.Physics.Carbonisation, c.AfterS = false, false, 20
			c.Drive.Limits = drive.Limits{}
			c.Repeat = thermal.Repeat{Times: 4, PauseS: pauseS}
		}))
		if d := s.Summary.InjuryDepthM; !(d > 0) || d > last-0.005e-3 {
			t.Errorf("pauses of %g s: %.4f mm deep, after %.4f mm with shorter ones", pauseS, d*1e3, last*1e3)
		} else {
			last = d
		}
		if e := s.Balance.ElectricJ; math.Abs(e-6) > 1e-9 {
			t.Errorf("%g J", e)
		}
	}
}

// The history of repeated activations tells when current flowed, and ends when the case does.
func TestRepeatedHistory(t *testing.T) {
	c := with(draft(antrum(thermal.Disc, 1e-3, 2, 0.7)), func(c *thermal.Case) {
		c.Repeat = thermal.Repeat{Times: 3, PauseS: 0.3}
		c.AfterS = 0.1
	})
	r := simulate(t, c)
	starts := c.StartsS()
	if len(starts) != 3 || math.Abs(starts[2]-2) > 1e-12 || math.Abs(c.OffS()-2.7) > 1e-12 || math.Abs(c.TotalS()-2.8) > 1e-12 || math.Abs(c.OnS()-2.1) > 1e-12 {
		t.Errorf("starts %v, off at %g, ends at %g, on for %g s", starts, c.OffS(), c.TotalS(), c.OnS())
	}
	sound(t, r)
	for n, h := range r.History[1:] {
		if r.History[n].TimeS == h.TimeS {
			continue // a switch has a row on either side
		}
		mid, on := (r.History[n].TimeS+h.TimeS)/2, false
		for _, s := range starts {
			on = on || mid > s && mid < s+0.7
		}
		if on != (h.PowerW > 0) {
			t.Fatalf("%g W at %g s", h.PowerW, h.TimeS)
		}
	}
	if w := r.Summary.MeanPowerW; math.Abs(w-2) > 0.01 {
		t.Errorf("mean power %g W over the time with current", w)
	}
	if n := len(r.History); n < 100 || n > 400 {
		t.Errorf("%d rows", n)
	}
}

// What cannot share a mesh and a state is refused, with both activations and the reason.
func TestApart(t *testing.T) {
	disc := draft(antrum(thermal.Disc, 1e-3, 2, 1))
	for want, c := range map[string]thermal.Case{
		"tip":      with(disc, func(c *thermal.Case) { c.Electrode.Tip = thermal.Ball }),
		"layers":   with(disc, func(c *thermal.Case) { c.Layers = wallOnly(c.Layers) }),
		"cell":     with(disc, func(c *thermal.Case) { c.Electrode.ContactRadiusM += 10e-6 }),
		"kinetics": with(disc, func(c *thermal.Case) { c.Physics.BoilC = 99 }),
		"numerics": with(disc, func(c *thermal.Case) { c.Numerics.FinestM = 150e-6 }),
		"probes":   with(disc, func(c *thermal.Case) { c.Probes = []thermal.Probe{{Name: "a"}} }),
		"beyond":   with(disc, func(c *thermal.Case) { c.Rest = true }),
	} {
		_, err := thermal.SimulateSequence(context.Background(), thermal.Sequence{&disc, &disc, &c}, thermal.Options{})
		var apart *thermal.Apart
		if !errors.As(err, &apart) || apart.First != 0 || apart.Second != 2 || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
	thick := draft(antrum(thermal.Needle, 0.25e-3, 2, 1))
	thin := with(thick, func(c *thermal.Case) { c.Electrode.ContactRadiusM = 0.2e-3 })
	if err := (thermal.Sequence{&thick, &thin}).Check(); err == nil || !strings.Contains(err.Error(), "radius of 0.2 mm, not of 0.25 mm") {
		t.Errorf("needles: %v", err)
	}
}

// A sequence ends when its context does, and says so.
func TestSequenceInterrupted(t *testing.T) {
	c := draft(antrum(thermal.Disc, 1e-3, 2, 1))
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	r, err := thermal.SimulateSequence(ctx, thermal.Sequence{&c, &c}, thermal.Options{Progress: func(done, total float64) {
		if total != 2 {
			t.Fatalf("%g s in all", total)
		}
		if done > 1.2 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || len(r) != 2 || r[0].Balance.ElectricJ < 1.9 {
		t.Errorf("%v, %d results", err, len(r))
	}
}

// Another electrode on the same place finds its own resistance from its first step on, and is as warm as it starts.
func TestOtherElectrode(t *testing.T) {
	small := with(draft(antrum(thermal.Disc, 1e-3, 1, 1)), func(c *thermal.Case) {
		c.Physics.Boiling, c.Physics.Carbonisation, c.Physics.SigmaPerK, c.AfterS = false, false, 0, 2
		c.Electrode.CapacityJK, c.Electrode.LossWK = 0.05, 0.001
	})
	large := with(small, func(c *thermal.Case) { c.Electrode.ContactRadiusM, c.Electrode.TipRadiusM = 1.6e-3, 1.6e-3 })
	results := inSequence(t, small, large, small)
	first, second, third := results[0].History[0], results[1].History[0], results[2].History[0]
	if alone := simulate(t, large).History[0].ResistanceOhm; math.Abs(second.ResistanceOhm/alone-1) > 0.01 || math.Abs(third.ResistanceOhm/first.ResistanceOhm-1) > 1e-3 {
		t.Errorf("%g, then %g, then %g ohm; the second alone %g ohm", first.ResistanceOhm, second.ResistanceOhm, third.ResistanceOhm, alone)
	}
	if warm := results[0].History[len(results[0].History)-1].ElectrodeC; second.ElectrodeC != 37 || !(warm > 37.5) {
		t.Errorf("the second electrode begins at %g C, the first ended at %g C", second.ElectrodeC, warm)
	}
}
