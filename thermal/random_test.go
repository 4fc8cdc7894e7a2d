package thermal_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"muralheat/thermal"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

// someCase is a case as somebody might state it, small enough to be computed in a moment: any
// wall, tip, hand and source. Ranges span what the library holds, and a good way beyond.
func someCase(r *rand.Rand) thermal.Case {
	between := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) } // even in the logarithm
	yes := func(share float64) bool { return r.Float64() < share }

	tip := []thermal.Tip{thermal.Disc, thermal.Ball, thermal.Needle}[r.IntN(3)]
	radius := between(0.25e-3, 2e-3)
	if tip == thermal.Needle {
		radius = between(0.25e-3, 0.5e-3)
	}
	c := draft(antrum(tip, radius, between(0.1, 40), between(0.02, 0.5)))
	c.AfterS = between(0.01, 1)
	c.Electrode.Surface = thermal.Surface{HeatTransferWM2K: between(1, 1e4), TemperatureC: 10 + 40*r.Float64()}
	if tip == thermal.Ball {
		c.Electrode.TipRadiusM = radius * between(1, 4)
	}
	material := func() tissue.Material {
		return tissue.Material{
			SigmaSM: between(0.02, 2), KWMK: between(0.1, 1), DensityKgM3: between(500, 1500), HeatCapacityJKgK: between(1500, 4500),
			PerfusionKgM3S: between(0.01, 50), WaterFraction: 0.05 + 0.9*r.Float64(), MetabolicWM3: between(1, 3e4),
		}
	}
	c.Layers = nil
	for n := range 1 + r.IntN(5) {
		c.Layers = append(c.Layers, thermal.Layer{Name: fmt.Sprint("layer", n), ThicknessM: between(0.05e-3, 3e-3), Material: material(), Muscle: n == 1})
	}
	c.Domain = thermal.Domain{RadiusM: between(8e-3, 30e-3), Side: thermal.Open, Bottom: thermal.Open}
	if yes(0.7) || tip == thermal.Needle {
		c.Layers = append(c.Layers, thermal.Layer{Name: "beyond", ThicknessM: between(2e-3, 15e-3), Material: material(), Beyond: true})
	} else {
		c.Beyond = thermal.Surface{HeatTransferWM2K: between(1, 1000), TemperatureC: 10 + 40*r.Float64()}
		c.Domain.Bottom = thermal.Insulated
	}
	if yes(0.2) {
		c.Domain.Bottom = thermal.Grounded
	}
	c.Lumen = thermal.Surface{HeatTransferWM2K: between(1, 1000), TemperatureC: 10 + 40*r.Float64()}
	c.Body.TemperatureC = 15 + 25*r.Float64()

	d := &c.Drive
	d.DutyCycle = between(0.05, 1)
	switch r.IntN(4) {
	case 0:
		d.PowerW, d.PeakVoltageV = 0, between(10, 1500)
	case 1:
		d.PowerW, d.CurrentA = 0, between(0.01, 0.5)
	}
	d.Limits = drive.Limits{}
	if yes(0.5) && d.PeakVoltageV == 0 {
		d.Limits.PeakVoltageV = between(50, 2000)
	}
	if yes(0.3) {
		d.Limits.CurrentA = between(0.05, 2)
	}
	if yes(0.3) {
		d.Limits.PowerW = between(1, 60)
	}
	if yes(0.2) {
		d.Limits.LoadLine = []drive.Load{{ResistanceOhm: 50, PowerW: between(1, 60)}, {ResistanceOhm: 500, PowerW: between(1, 60)}}
	}
	if yes(0.3) {
		period := d.OnS * between(0.05, 0.8)
		d.Pulses = &drive.Pulses{LengthS: period * (0.1 + 0.8*r.Float64()), PeriodS: period}
		if yes(0.5) {
			d.Pulses.Between = drive.Mode{PowerW: between(0.1, 5), DutyCycle: 1, Limits: drive.Limits{PeakVoltageV: 190}}
		}
	}
	p := &c.Physics
	p.SigmaPerK = 0.02 * r.Float64()
	p.Boiling = yes(0.8)
	if p.Carbonisation = p.Boiling && yes(0.7); !p.Carbonisation { // nothing else keeps temperatures within reason
		d.Mode = drive.Mode{PowerW: between(0.1, 2), DutyCycle: d.DutyCycle, Limits: drive.Limits{PeakVoltageV: 190}}
	}
	p.MetabolicHeat = yes(0.5)
	p.PerfusionStops = []thermal.PerfusionStop{thermal.Never, thermal.AtInjury, thermal.WithDamage}[r.IntN(3)]
	if yes(0.25) { // along a track
		c.Domain.RadiusM, c.Domain.ThreeD = between(4e-3, 8e-3), true
		c.Numerics.FinestM = 300e-6
		if yes(0.8) {
			c.Motion = thermal.Motion{LengthM: between(0.5e-3, 3e-3), SpeedMS: between(1e-3, 10e-3), Waits: tip == thermal.Needle && yes(0.5)}
		}
	}
	c.Numerics.FinestM = math.Min(c.Numerics.FinestM, radius/2)
	switch { // on skin, or round a stalk
	case tip == thermal.Disc && c.Motion.SpeedMS == 0 && !c.Domain.ThreeD && yes(0.3):
		c.Electrode.Tip, c.Electrode.TipRadiusM, c.Rest = thermal.Pad, radius, true
		c.Electrode.Film = thermal.Film{OhmM2: between(1e-6, 1), HeatShare: r.Float64()}
	case tip == thermal.Disc && c.Motion.SpeedMS == 0 && !c.Domain.ThreeD && yes(0.3):
		stalk := thermal.Layer{Name: "stalk", Above: true, RadiusM: between(1e-3, 4e-3), ThicknessM: between(3e-3, 8e-3), Material: material()}
		ring := stalk.RadiusM * (0.5 + 0.5*r.Float64())
		c.Layers = append([]thermal.Layer{stalk}, c.Layers...)
		e := &c.Electrode
		e.Tip, e.ContactRadiusM, e.TipRadiusM, e.Own = thermal.Loop, 0.2e-3, ring, thermal.Own{thermal.LoopHeight: stalk.ThicknessM / 2}
		c.Motion = thermal.Motion{LengthM: ring, SpeedMS: between(0.1e-3, 5e-3)}
	}
	if yes(0.5) { // on an edge of the domain too
		c.Probes = []thermal.Probe{{Name: "in", ZM: between(0.01e-3, 2e-3)}, {Name: "corner", XM: c.Domain.RadiusM}}
	}
	return c
}

// soaked calls f with the seeds named, then with one after another: n of them, or as many as
// MURALHEAT_SOAK=10m has time for.
func soaked(t *testing.T, n int, f func(t *testing.T, seed uint64), more ...uint64) {
	var soak time.Duration
	if text := os.Getenv("MURALHEAT_SOAK"); text != "" {
		var err error
		if soak, err = time.ParseDuration(text); err != nil {
			t.Fatal(err)
		}
	}
	end := time.Now().Add(soak)
	for _, seed := range more {
		f(t, seed)
	}
	seed := uint64(0)
	for ; seed < uint64(n) || time.Now().Before(end); seed++ {
		f(t, seed)
	}
	t.Log(seed, "cases")
}

// cases is how many random cases are tried: 300 where MURALHEAT_LONG is set, as .ci/run does.
func cases() int {
	if os.Getenv("MURALHEAT_LONG") == "" {
		return 60
	}
	return 300
}

// TestAnyCase: whatever the wall, the tip and the source, temperatures are finite and above the
// lowest around, the energy balance closes, what went in came out, time goes on and injury only grows.
func TestAnyCase(t *testing.T) {
	soaked(t, cases(), func(t *testing.T, seed uint64) {
		c := someCase(rand.New(rand.NewPCG(seed, 1)))
		if seed%5 == 0 {
			leads(&c)
		}
		r, err := thermal.Simulate(t.Context(), &c, thermal.Options{})
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			return
		}
		ordinary(t, seed, c, r)
	}, runaway...)
}

// TestAnySequence: the same of cases one after another on the same tissue, one of them repeated, back and forth if it
// moves, and the last of another current.
func TestAnySequence(t *testing.T) {
	soaked(t, cases(), func(t *testing.T, seed uint64) {
		random := rand.New(rand.NewPCG(seed, 4))
		first := someCase(random)
		if first.Scene() == thermal.AroundStalk { // a loop closes once
			return
		}
		first.Drive.OnS /= 3
		first.AfterS = 0.3 * random.Float64() * float64(random.IntN(2))
		second, third := first, first
		second.Repeat = thermal.Repeat{Times: 2 + random.IntN(2), PauseS: 0.2 * random.Float64() * float64(random.IntN(2)), BackAndForth: first.Motion.Moving() && random.IntN(2) == 0}
		third.Drive.Mode = drive.Mode{DutyCycle: 0.1 + 0.9*random.Float64(), PowerW: 10 * random.Float64(), Limits: drive.Limits{PeakVoltageV: 900 * random.Float64()}}
		third.Drive.Pulses = nil
		results, err := thermal.SimulateSequence(t.Context(), thermal.Sequence{&first, &second, &third}, thermal.Options{AllFields: true})
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			return
		}
		held := 0.0
		for n, r := range results {
			if math.Abs(r.Balance.HeldJ-held) > 1e-9*math.Max(1, math.Abs(held)) {
				t.Errorf("seed %d: case %d begins with %g J, not %g J", seed, n+1, r.Balance.HeldJ, held)
			}
			held = r.Balance.StoredJ
			ordinary(t, seed, *r.Case, r)
		}
	})
}

// ordinary holds a result to what is true of any.
func ordinary(t *testing.T, seed uint64, c thermal.Case, r *thermal.Result) {
	if e, s, q := r.Balance.EnergyResidual, r.Balance.SourceResidual, r.Balance.ChargeResidual; !(math.Abs(e) < 1e-7 && math.Abs(s) < 1e-7 && q < 1e-5) {
		t.Errorf("seed %d: energy residual %g, of the source %g, charge residual %g", seed, e, s, q)
	}
	coldest := math.Min(c.Body.TemperatureC, math.Min(c.Lumen.TemperatureC, c.Electrode.TemperatureC))
	if c.Beyond.HeatTransferWM2K > 0 {
		coldest = math.Min(coldest, c.Beyond.TemperatureC)
	}
	first := r.Mesh.Index(0, 0, 0)
	for p := first; p < first+r.Mesh.Cells(); p++ {
		temp, omega := r.Fields.TemperatureC[p], r.Fields.Omega[p]
		if r.Fields.Removed[p] {
			continue
		}
		if !(temp > coldest-1e-6 && temp <= r.Fields.PeakC[p]+1e-9 && temp < 5e3 && omega >= 0) {
			t.Errorf("seed %d: cell %d is at %g C (coldest around %g C, hottest so far %g C), omega %g", seed, p, temp, coldest, r.Fields.PeakC[p], omega)
			break
		}
	}
	last := r.History[0]
	for _, h := range r.History[1:] {
		if h.TimeS < last.TimeS || h.DepthM < last.DepthM-1e-12 || h.PowerW < 0 || math.IsInf(h.PowerW, 0) {
			t.Errorf("seed %d: at %g s injury is %g m deep, at %g s %g m; power %g W", seed, last.TimeS, last.DepthM, h.TimeS, h.DepthM, h.PowerW)
			break
		}
		for i, o := range h.ProbeOmega {
			if o < last.ProbeOmega[i]*(1-1e-12) { // it is read off between cells
				t.Errorf("seed %d: omega of probe %d fell from %g to %g at %g s", seed, i, last.ProbeOmega[i], o, h.TimeS)
			}
		}
		last = h
	}
}

// runaway are seeds of cases whose sparks once ran away, to 1e20 S/m and on to no number.
var runaway = []uint64{1018, 1743, 3621}

// TestMorePowerInjuresMore: with everything else fixed and nothing boiling, more power leaves no
// cell with less injury. Conductivity is taken constant: the field then scales with the power,
// and the heat equation keeps order. Perfusion that stops only adds to it. The mesh follows
// the injury that is expected, so cells are compared where that is the same for both.
func TestMorePowerInjuresMore(t *testing.T) {
	compared, injured := 0, 0
	soaked(t, cases(), func(t *testing.T, seed uint64) {
		r := rand.New(rand.NewPCG(seed, 2))
		c := someCase(r)
		c.Physics.Boiling, c.Physics.Carbonisation, c.Physics.SigmaPerK = false, false, 0
		c.Motion.Waits = false
		c.Drive.Pulses, c.Drive.Mode = nil, drive.Mode{DutyCycle: c.Drive.DutyCycle, PowerW: 0.2 + 2*r.Float64()}
		c.Drive.OnS = (0.05 + 0.6*r.Float64()) / c.Drive.PowerW
		more := c
		more.Drive.PowerW *= 1.02 + 0.4*r.Float64()
		g, h := c.Grid(), more.Grid()
		if g.NX != h.NX || g.NY != h.NY || g.NZ != h.NZ || g.ReachM != h.ReachM {
			return
		}
		a, b := simulate(t, c), simulate(t, more)
		if a.Summary.PeakC > c.Physics.BoilC {
			return
		}
		compared++
		if a.Summary.InjuryDepthM > 0 {
			injured++
		}
		for p := range a.Fields.Omega {
			if x, y := a.Fields.Omega[p], b.Fields.Omega[p]; y < x*(1-1e-6)-1e-9 && !b.Fields.Removed[p] {
				t.Errorf("seed %d: %g instead of %g W: omega %g instead of %g in cell %d", seed, more.Drive.PowerW, c.Drive.PowerW, y, x, p)
				break
			}
		}
		if x, y := a.Summary.InjuryDepthM, b.Summary.InjuryDepthM; y < x {
			t.Errorf("seed %d: %g instead of %g W: %g instead of %g m deep", seed, more.Drive.PowerW, c.Drive.PowerW, y, x)
		}
	})
	if t.Log(compared, "compared,", injured, "of them injured"); compared < 20 || injured < 5 {
		t.Errorf("%d compared, %d of them injured: too few to say anything", compared, injured)
	}
}
