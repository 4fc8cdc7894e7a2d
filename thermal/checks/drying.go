package checks

import (
	"context"
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal"
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/exact"
	"muralheat/thermal/heat"
	"muralheat/thermal/tissue"
)

// Drying checks where liquid water goes, and what dried tissue conducts.
func Drying() []Check {
	var l list
	l.step()
	l.capacitor()
	return l
}

// step boils the upper half of a column dry in an instant and lets water flow from the lower
// one. Nothing conducts heat.
func (l *list) step() {
	const d, edge, depth, h = 5e-9, 2 * mm, 4 * mm, 0.025 * mm
	const source = "Crank 1975, The Mathematics of Diffusion, 2.2"
	m := column(mesh.Grading{FinestM: h}.Axis(0, edge, depth))
	material := heat.Material{KWetWMK: 1e-9, KDryWMK: 1e-9, CWetJM3K: 3.8e6, CDryJM3K: 1e6, LatentJM3: 1.7e9}
	s := heat.New(m, make([]int, m.NZ), []heat.Material{material}, heat.Phases{BoilC: 100, CarbonC: inf, CeilingC: inf}, bodyC)
	s.SetDiffusivity(d)
	src := make([]float64, m.Len())
	const instant = 1e-9
	for k := range m.NZ {
		if m.Z.Centres[k] < edge {
			src[m.Index(0, 0, k)] = (material.CWetJM3K*(100-bodyC) + material.LatentJM3) * m.Volume(0, 0, k) / instant
		}
	}
	s.Step(instant, src)
	clear(src)
	const dt = 0.01
	now := 0.0
	for _, t := range []float64{2, 10, 30} {
		for range int(math.Round((t - now) / dt)) {
			s.Step(dt, src)
		}
		now = t
		for _, x := range []float64{-0.5 * mm, -0.1 * mm, 0.1 * mm, 0.5 * mm} {
			k := m.Z.Find(edge + x)
			c := m.Z.Centres[k] - edge
			l.add(fmt.Sprintf("water beside a dried half: share at %.4g mm after %g s", c/mm, t), source,
				exact.StepProfile(d, c, t), s.Water[m.Index(0, 0, k)], 5e-4, "1")
		}
	}
	// What crossed the edge: the integral of d/sqrt(4 pi d t).
	crossed := 0.0
	for k := range m.NZ {
		if m.Z.Centres[k] < edge {
			crossed += s.Water[m.Index(0, 0, k)] * m.Z.Width(k)
		}
	}
	l.relative("water beside a dried half: what crossed in 30 s", source, math.Sqrt(d*30/math.Pi)/mm, crossed/mm, 2e-3, "mm")
	l.add("water beside a dried half: missing less boiled off", "conservation of mass", 0, s.WaterResidual(), 1e-12, "1")
	stored, steam, _ := s.Stores()
	l.relative("water beside a dried half: heat stored and gone with the steam", "conservation of energy", s.JouleJ, stored+steam, 1e-12, "J/m2")
}

// capacitor dries a sheet between an electrode and a good conductor, both as wide: what passes
// then is the current of a parallel-plate capacitor.
func (l *list) capacitor() {
	const radius, sheet, base, sigma, frequency = 3 * mm, 0.1 * mm, 6 * mm, 1.0, 400e3
	for _, permittivity := range []float64{5, 10} {
		c := thermal.Case{
			Electrode: thermal.Electrode{Tip: thermal.Disc, ContactRadiusM: radius - 0.01*mm, TipRadiusM: radius},
			Drive:     drive.Drive{Mode: drive.Mode{DutyCycle: 1, PeakVoltageV: 60}, FrequencyHz: frequency, OnS: 0.4},
			Body:      thermal.Body{TemperatureC: bodyC, BloodHeatCapacityJKgK: 3600},
			Physics: thermal.Physics{
				PerfusionStops: thermal.Never, Boiling: true, BoilC: 100, LatentJKg: 1000, DryKWMK: 1e-3, SparkOnsetV: 1e6,
				Drying: thermal.Percolation, SigmaExponent: 1.5, SigmaThreshold: 0.1,
				DryLeakSM: tissue.DisplacementSM(frequency, permittivity),
			},
			Damage:   thermal.Damage{Kinetics: damage.Kinetics{Name: "none", Segments: []damage.Segment{{LnA: 0, ThetaK: 1e5}}}},
			Domain:   thermal.Domain{RadiusM: radius, Side: thermal.Insulated, Bottom: thermal.Grounded},
			Numerics: thermal.Numerics{FinestM: 0.1 * mm, Tolerance: 1e-6, Resolve: 0.02, MaxStepS: 1e-3},
			Layers: []thermal.Layer{
				{Name: "sheet", ThicknessM: sheet, Material: tissue.Material{SigmaSM: 0.05, KWMK: 1e-3, DensityKgM3: 1000, HeatCapacityJKgK: 100, WaterFraction: 0.02}},
				{Name: "base", ThicknessM: base, Material: tissue.Material{SigmaSM: sigma, KWMK: 1e-3, DensityKgM3: 1000, HeatCapacityJKgK: 20000, WaterFraction: 0.5}, Beyond: true},
			},
		}
		r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
		if err != nil {
			panic("checks: drying: " + err.Error())
		}
		const vacuum = 8.8541878128e-12 // F/m, CODATA 2018
		const area = math.Pi * radius * radius
		capacitance := vacuum * permittivity * area / sheet
		// The field knows no phase: it takes the displacement current as conducted.
		l.relative(fmt.Sprintf("dried sheet of %g mm, permittivity %g: impedance", sheet/mm, permittivity),
			"parallel-plate capacitor, 1/(2 pi f C); Griffiths, Introduction to Electrodynamics, 2.5, from memory",
			1/(2*math.Pi*frequency*capacitance)+base/(sigma*area), r.Summary.ResistanceEndOhm, 0.005, "ohm")
	}
}
