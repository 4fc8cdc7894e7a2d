package thermal_test

import (
	"math"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

const cm2 = 1e-4

// padCase is a gel-coupled pad of the given area on skin, fat and muscle: invented values
// of the usual size.
func padCase(areaM2 float64) thermal.Case {
	a := math.Sqrt(areaM2 / math.Pi)
	soft := func(sigma, k, blood float64) tissue.Material {
		return tissue.Material{SigmaSM: sigma, KWMK: k, DensityKgM3: 1050, HeatCapacityJKgK: 3500, PerfusionKgM3S: blood, WaterFraction: 0.65}
	}
	return thermal.Case{
		Title: "pad",
		Layers: []thermal.Layer{
			{Name: "skin", ThicknessM: 1.5e-3, Material: soft(0.2, 0.37, 2)},
			{Name: "fat", ThicknessM: 10e-3, Material: tissue.Material{SigmaSM: 0.043, KWMK: 0.21, DensityKgM3: 911, HeatCapacityJKgK: 2348, PerfusionKgM3S: 0.5, WaterFraction: 0.15}},
			{Name: "muscle", ThicknessM: 150e-3, Material: soft(0.42, 0.49, 0.7), Beyond: true},
		},
		Lumen:     thermal.Surface{HeatTransferWM2K: 8, TemperatureC: 22},
		Electrode: thermal.Electrode{Tip: thermal.Pad, ContactRadiusM: a, TipRadiusM: a, Film: thermal.Film{OhmM2: 20 * cm2, HeatShare: 1}, Surface: thermal.Surface{HeatTransferWM2K: 5, TemperatureC: 22}},
		Drive:     drive.Drive{Mode: drive.Mode{DutyCycle: 1, CurrentA: 0.7}, FrequencyHz: 400e3, OnS: 60},
		AfterS:    15,
		Body:      thermal.Body{TemperatureC: 37, BloodHeatCapacityJKgK: 3617},
		Physics:   thermal.Physics{SigmaPerK: 0.018, BoilC: 100, PerfusionStops: thermal.WithDamage},
		Damage:    thermal.Damage{Kinetics: antrum(thermal.Disc, 1e-3, 1, 1).Damage.Kinetics},
		Domain:    thermal.Domain{RadiusM: math.Max(0.3, 4*a), Side: thermal.Open, Bottom: thermal.Open},
		Numerics:  thermal.Numerics{FinestM: 250e-6, Tolerance: 1e-5, Resolve: 0.02, MaxStepS: 0.1},
		Rest:      true,
	}
}

func TestPadLook(t *testing.T) {
	for _, h := range []float64{1e-3, 500e-6, 250e-6, 125e-6} {
		for _, film := range []float64{0, 20 * cm2} {
			c := padCase(100 * cm2)
			c.Numerics.FinestM = h
			c.Electrode.Film.OhmM2 = film
			c.Numerics.MaxStepS = h / 250e-6 * 0.1
			r := simulate(t, c)
			s := r.Summary
			t.Logf("h %g film %g cells %d steps %d: %+v R %.3f I %.3f HF %.3f E %.4g res %g charge %g skin rest %.2f", h, film, s.Cells, s.Steps, s.Pad, s.ResistanceStartOhm, s.CurrentRMSA, s.HeatingFactorA2S, r.Balance.ElectricJ, r.Balance.EnergyResidual, r.Balance.ChargeResidual, r.Fields.RestC[r.Mesh.Index(0, 0, 0)])
			t.Logf("%+v", r.Balance)
		}
	}
	for _, a := range []float64{20, 50, 100, 200} {
		c := padCase(a * cm2)
		r := simulate(t, c)
		t.Logf("area %g: %+v R %g", a, r.Summary.Pad, r.Summary.ResistanceStartOhm)
	}
}
