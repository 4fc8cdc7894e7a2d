package thermal_test

import (
	"context"
	"math"
	"os"
	"runtime"
	"sync"
	"testing"
	"time"

	"muralheat/scenarios"
	"muralheat/thermal"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

// antrum is a case on the wall of the gastric antrum backed by fat, its physics and
// constants those of the tissue library.
func antrum(tip thermal.Tip, radiusM, powerW, onS float64) thermal.Case {
	const frequencyHz = 400e3
	c := thermal.Case{
		Electrode: thermal.Electrode{
			Tip: tip, ContactRadiusM: radiusM, TipRadiusM: radiusM,
			Surface: thermal.Surface{HeatTransferWM2K: 500, TemperatureC: 37}, // held: a long thin wire as a fin
		},
		Lumen:  thermal.Surface{HeatTransferWM2K: tissue.LumenGasHeatTransfer.Value, TemperatureC: 37},
		Drive:  drive.Drive{Mode: drive.Mode{PowerW: powerW, DutyCycle: 1, Limits: drive.Limits{PeakVoltageV: 200}}, FrequencyHz: frequencyHz, OnS: onS},
		AfterS: 0,
		Body:   thermal.Body{TemperatureC: 37, BloodHeatCapacityJKgK: tissue.BloodHeatCapacity.Value},
		Physics: thermal.Physics{
			SigmaPerK: tissue.SigmaSlope.Value, Boiling: true, BoilC: tissue.BoilTemperature.Value,
			LatentJKg: tissue.LatentHeat.Value, DrySigmaShare: tissue.DrySigmaShare.Value, DryKWMK: tissue.DryConductivity.Value,
			Carbonisation: true, CarbonC: tissue.CarbonTemperature.Value, CarbonJKg: tissue.CarbonHeat.Value,
			CarbonCeilingC: tissue.CarbonCeiling.Value, PerfusionStops: thermal.WithDamage,
			SparkOnsetV: tissue.SparkOnset.Value, SparkVM: tissue.SparkStrength.Value * 1e6, VaporisedShare: tissue.VaporisedShare.Value,
		},
		Domain:   thermal.Domain{RadiusM: 60e-3, Side: thermal.Open, Bottom: thermal.Open},
		Numerics: thermal.Numerics{FinestM: 100e-6, Tolerance: 1e-3, Resolve: 0.05, MaxStepS: 10e-3},
	}
	if tip == thermal.Needle {
		c.Electrode.InsertionM = 1e-3
	}
	site, _ := tissue.FindSite("stomach-antrum")
	for _, l := range site.Layers {
		t, _ := tissue.FindTissue(l.Tissue)
		c.Layers = append(c.Layers, thermal.Layer{Name: l.Name, ThicknessM: l.ThicknessMM.Value * 1e-3, Material: t.At(frequencyHz), Muscle: l.Muscle})
	}
	fat, _ := tissue.FindTissue("fat")
	c.Layers = append(c.Layers, thermal.Layer{Name: "fat", ThicknessM: 8e-3, Material: fat.At(frequencyHz), Beyond: true})
	set, _ := tissue.FindKinetics("skin-1947")
	c.Damage.Kinetics = set.Kinetics
	return c
}

// pull lets the electrode of c move.
func pull(c thermal.Case, lengthM, speedMS float64) thermal.Case {
	c.Motion = thermal.Motion{LengthM: lengthM, SpeedMS: speedMS}
	c.Drive.OnS = lengthM / speedMS
	c.Domain.RadiusM = 20e-3
	c.Numerics.Tolerance, c.Numerics.Resolve = 1.5e-2, 0.1
	return c
}

// rhythm makes the source give pulses of 50 ms every 600 ms at 60 W and up to 600 V, with
// 5 W at low voltage between them.
func rhythm(c thermal.Case) thermal.Case {
	c.Drive.PowerW, c.Drive.Limits.PeakVoltageV = 60, 600
	c.Drive.Pulses = &drive.Pulses{LengthS: 0.05, PeriodS: 0.6, Between: drive.Mode{PowerW: 5, DutyCycle: 1, Limits: drive.Limits{PeakVoltageV: 190}}}
	return c
}

func simulate(t testing.TB, c thermal.Case) *thermal.Result {
	t.Helper()
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// standard gives c the numerics of quality standard (scenarios/rules.go).
func standard(c thermal.Case) thermal.Case {
	c.Numerics.Growth = 0.4
	if !c.Motion.Moving() {
		c.Numerics.Growth, c.Numerics.Resolve = 0.2, 0.005
	}
	return c
}

func finer(c thermal.Case, by float64) thermal.Case {
	c.Numerics.FinestM /= by
	c.Numerics.Growth /= by
	c.Numerics.MaxStepS /= by
	c.Numerics.Tolerance /= 2
	c.Numerics.Resolve /= 2
	return c
}

// bench times a case, in processor time too, which a neighbour's load disturbs less. With MURALHEAT_ERROR it says beside it
// how far the depth lies from that of a mesh and steps finer by a factor. .ci/compare sets two commits side by side.
func bench(b *testing.B, c thermal.Case, by float64) {
	c = standard(c)
	benchAsIs(b, c)
	if os.Getenv("MURALHEAT_ERROR") != "" {
		b.ReportMetric(depthErrorM(b, short(c), by)*1e3, "error-mm")
	}
}

func benchAsIs(b *testing.B, c thermal.Case) {
	var r *thermal.Result
	before := cpuS()
	for b.Loop() {
		r = simulate(b, c)
	}
	b.ReportMetric((cpuS()-before)/float64(b.N), "cpu-s/op")
	steps := float64(r.Summary.Steps) * float64(r.Summary.Cells)
	b.ReportMetric(steps*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mcell/s")
	b.ReportMetric(float64(r.Summary.Cells), "cells")
	b.ReportMetric(r.Summary.InjuryDepthM*1e6, "depth-um")
	b.ReportMetric(float64(r.Summary.Solves), "solves")
	b.ReportMetric(float64(r.Summary.Iterations), "iterations")
	b.ReportMetric(math.Abs(r.Balance.EnergyResidual)*1e15, "residual-e-15")
}

// short is c on a track of 4 mm in a body of 6 mm: finer, the whole track takes too long.
func short(c thermal.Case) thermal.Case {
	if c.Motion.Moving() {
		c.Motion.LengthM, c.Domain.RadiusM = 4e-3, 6e-3
		c.Drive.OnS = c.Motion.LengthM / c.Motion.SpeedMS
	}
	return c
}

// depthErrorM is computed once, however often a benchmark is repeated.
func depthErrorM(b *testing.B, c thermal.Case, by float64) float64 {
	e, ok := depthErrors[b.Name()]
	if !ok {
		e = math.Abs(simulate(b, c).Summary.InjuryDepthM - simulate(b, finer(c, by)).Summary.InjuryDepthM)
		depthErrors[b.Name()] = e
	}
	return e
}

var depthErrors = map[string]float64{}

func BenchmarkStationaryDisc(b *testing.B)   { bench(b, antrum(thermal.Disc, 1e-3, 10, 10), 4) }
func BenchmarkStationaryNeedle(b *testing.B) { bench(b, antrum(thermal.Needle, 0.25e-3, 10, 10), 4) }
func BenchmarkMovingDisc(b *testing.B) {
	bench(b, pull(antrum(thermal.Disc, 1e-3, 10, 0), 8e-3, 2e-3), 2)
}
func BenchmarkMovingNeedle(b *testing.B) {
	bench(b, pull(antrum(thermal.Needle, 0.25e-3, 10, 0), 8e-3, 2e-3), 2)
}
func BenchmarkPulsedDisc(b *testing.B) {
	bench(b, rhythm(antrum(thermal.Disc, 1e-3, 0, 10)), 4)
}
func BenchmarkPulsedNeedle(b *testing.B) {
	bench(b, rhythm(pull(antrum(thermal.Needle, 0.25e-3, 0, 0), 8e-3, 1e-3)), 2)
}

// BenchmarkExample times examples as muralheat run computes them, without figures.
func BenchmarkExample(b *testing.B) {
	for _, name := range []string{"incision-pulses", "dissection-interrupted", "stalk-opposite"} {
		b.Run(name, func(b *testing.B) {
			s, err := scenarios.Load("../scenarios/examples/" + name + ".yaml")
			if err != nil {
				b.Fatal(err)
			}
			benchAsIs(b, s.Case())
		})
	}
}

// BenchmarkReference times the cases that finite elements compute too: testdata/reference/speed.py sets them side by side.
func BenchmarkReference(b *testing.B) {
	for _, name := range []string{"disc", "needle", "coupled", "track", "boiling", "drying"} {
		for _, quality := range []string{"draft", "standard", "fine"} {
			b.Run(name+"/"+quality, func(b *testing.B) {
				text, err := os.ReadFile("../testdata/reference/" + name + ".yaml")
				if err != nil {
					b.Fatal(err)
				}
				s, err := scenarios.Parse(name, append(text, "numerics: {quality: "+quality+"}\n"...))
				if err != nil {
					b.Fatal(err)
				}
				var r *thermal.Result
				before, c := cpuS(), s.Case()
				for b.Loop() {
					r = simulate(b, c)
				}
				b.ReportMetric((cpuS()-before)/float64(b.N), "cpu-s/op")
				b.ReportMetric(float64(r.Summary.Cells), "cells")
				b.ReportMetric(r.Summary.InjuryDepthM*1e9, "depth-nm")
			})
		}
	}
}

// BenchmarkThousand solves a thousand stationary cases of 5 s, one on each core.
func BenchmarkThousand(b *testing.B) {
	before := cpuS()
	defer func() { b.ReportMetric((cpuS()-before)/float64(b.N), "cpu-s/op") }()
	for b.Loop() {
		cases := make(chan thermal.Case)
		var wg sync.WaitGroup
		for range runtime.GOMAXPROCS(0) {
			wg.Go(func() {
				for c := range cases {
					if _, err := thermal.Simulate(context.Background(), &c, thermal.Options{}); err != nil {
						b.Error(err)
					}
				}
			})
		}
		for i := range 1000 {
			cases <- standard(antrum(thermal.Disc, 1e-3, 5+0.01*float64(i), 5))
		}
		close(cases)
		wg.Wait()
	}
}

// BenchmarkTwoCores computes tracks on one core and on two in turn, and gives the wall time of the second over that of the first, of the least
// of each.
func BenchmarkTwoCores(b *testing.B) {
	for _, of := range []struct {
		name string
		c    thermal.Case
	}{
		{"MovingDisc", pull(antrum(thermal.Disc, 1e-3, 10, 0), 8e-3, 2e-3)},
		{"PulsedNeedle", rhythm(pull(antrum(thermal.Needle, 0.25e-3, 0, 0), 8e-3, 1e-3))},
	} {
		b.Run(of.name, func(b *testing.B) {
			c, least := standard(of.c), [3]float64{}
			for b.Loop() {
				for cores := 1; cores <= 2; cores++ {
					began := time.Now()
					if _, err := thermal.Simulate(context.Background(), &c, thermal.Options{Cores: cores}); err != nil {
						b.Fatal(err)
					}
					if s := time.Since(began).Seconds(); least[cores] == 0 || s < least[cores] {
						least[cores] = s
					}
				}
			}
			b.ReportMetric(least[1], "one-core-s")
			b.ReportMetric(least[2], "two-cores-s")
			b.ReportMetric(least[2]/least[1], "two/one")
		})
	}
}
