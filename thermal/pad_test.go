package thermal_test

import (
	"math"
	"os"
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
		Numerics:  thermal.Numerics{FinestM: 250e-6, Tolerance: 1e-5, Resolve: 0.02, Growth: 0.2, MaxStepS: 0.1},
		Rest:      true,
	}
}

func rise(t *testing.T, c thermal.Case) thermal.PadSummary {
	t.Helper()
	r := simulate(t, c)
	if b := r.Balance; math.Abs(b.EnergyResidual) > 1e-9 || b.ChargeResidual > 1e-6 {
		t.Errorf("energy residual %g, charge residual %g", b.EnergyResidual, b.ChargeResidual)
	}
	return r.Summary.Pad
}

// A quarter of the cell size moves the mean over a square centimetre by less than 0.02 K,
// with a film and without; the rim converges too, if slower.
func TestPadRefinement(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG") == "" { // .ci/run sets it
		t.Skip("some seconds")
	}
	for _, film := range []float64{0, 20 * cm2} {
		c := padCase(100 * cm2)
		c.Electrode.Film.OhmM2 = film
		fine := c
		fine.Numerics.FinestM, fine.Numerics.MaxStepS = c.Numerics.FinestM/4, c.Numerics.MaxStepS/4
		a, b := rise(t, c), rise(t, fine)
		if d := math.Abs(a.MeanRiseK - b.MeanRiseK); d > 0.02 {
			t.Errorf("film %g: mean over 1 cm2 %g K, finer %g K", film, a.MeanRiseK, b.MeanRiseK)
		}
		if d := math.Abs(a.RimRiseK - b.RimRiseK); d > 0.15 {
			t.Errorf("film %g: rim %g K, finer %g K", film, a.RimRiseK, b.RimRiseK)
		}
	}
}

// A body at rest stays as it is without current, and warms with the square of the current
// while nothing changes with temperature.
func TestPadRest(t *testing.T) {
	c := padCase(60 * cm2)
	c.Physics.SigmaPerK = 0
	still := c
	still.Drive.CurrentA = 0
	if w := rise(t, still); w.HighestRiseK > 1e-6 {
		t.Errorf("no current, but a rise of %g K", w.HighestRiseK)
	}
	c.Drive.CurrentA = 0.3
	twice := c
	twice.Drive.CurrentA = 0.6
	one, two := rise(t, c), rise(t, twice)
	if ratio := two.MeanRiseK / one.MeanRiseK; math.Abs(ratio-4) > 1e-3 {
		t.Errorf("twice the current: %g times the rise", ratio)
	}
}

// What is known of pads from practice: less contact is hotter, wherever it is lost; a rim is
// hotter than a centre, and more so over thicker fat (Pearce 2015, read in abstract: the
// thickness of fat is critical).
func TestPadDirections(t *testing.T) {
	full := padCase(100 * cm2)
	whole := rise(t, full)
	if !(whole.RimRiseK > 2*whole.CentreRiseK && whole.HighestRiseK >= whole.MeanRiseK) {
		t.Errorf("%+v", whole)
	}
	peeled, dried, thick := full, full, full
	peeled.Electrode.ContactRadiusM *= math.Sqrt(0.5)
	dried.Electrode.Own = thermal.Own{thermal.PadInner: full.Electrode.ContactRadiusM * math.Sqrt(0.5)}
	if p, d := rise(t, peeled), rise(t, dried); !(p.MeanRiseK > 1.5*whole.MeanRiseK && d.MeanRiseK > whole.MeanRiseK && p.MeanRiseK > d.MeanRiseK) {
		t.Errorf("half the contact lost: at the rim %g K, at the centre %g K, none %g K", p.MeanRiseK, d.MeanRiseK, whole.MeanRiseK)
	}
	thick.Layers = append([]thermal.Layer(nil), full.Layers...)
	thick.Layers[1].ThicknessM = 30e-3
	if k := rise(t, thick); !(k.RimRiseK/k.CentreRiseK > whole.RimRiseK/whole.CentreRiseK) {
		t.Errorf("thicker fat: %+v instead of %+v", k, whole)
	}
	// A ring with a small hole is a disc.
	tiny := full
	tiny.Electrode.Own = thermal.Own{thermal.PadInner: 1e-3}
	if k := rise(t, tiny); math.Abs(k.MeanRiseK-whole.MeanRiseK) > 0.01*whole.MeanRiseK {
		t.Errorf("ring with a hole of 1 mm: %g K, disc %g K", k.MeanRiseK, whole.MeanRiseK)
	}
}

// The time course of the hottest square centimetre begins at rest and peaks at what the
// summary judges.
func TestPadRiseAgainstTime(t *testing.T) {
	r := simulate(t, padCase(60*cm2))
	most := 0.0
	for _, s := range r.History {
		most = math.Max(most, s.MeanRiseK)
	}
	if first := r.History[0].MeanRiseK; math.Abs(first) > 1e-9 || most != r.Summary.Pad.MeanRiseK || !(most > 1) {
		t.Errorf("from %g K to %g K, summary %g K", first, most, r.Summary.Pad.MeanRiseK)
	}
}

// Capacitance in the film makes no heat: what a source gives is what the body gets.
func TestFilmHeat(t *testing.T) {
	c := padCase(100 * cm2)
	c.Physics.SigmaPerK = 0
	c.Electrode.Film = thermal.Film{OhmM2: 1, HeatShare: 1}
	all := simulate(t, c)
	c.Electrode.Film.HeatShare = 0
	none := simulate(t, c)
	want := 0.7 * 0.7 * 1 / (100 * cm2) * 60 // I2 R t of the film
	if got := all.Balance.ElectricJ - none.Balance.ElectricJ; math.Abs(got-want) > 0.02*want {
		t.Errorf("heat of the film %g J, want %g J", got, want)
	}
	if math.Abs(none.Balance.EnergyResidual) > 1e-9 {
		t.Errorf("energy residual %g", none.Balance.EnergyResidual)
	}
}
