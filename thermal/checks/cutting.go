package checks

import (
	"context"
	"math"

	"muralheat/mesh"
	"muralheat/thermal"
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/heat"
	"muralheat/thermal/tissue"
)

// Cutting checks what it costs to take tissue away.
func Cutting() []Check {
	var l list
	const source = "heat from 37 to 100 C and all water boiled off, from density, heat capacity and water of the tissue"
	// Heat to dry a block, tissue by tissue, against sums by hand (J/mm3).
	for _, c := range []struct {
		name string
		want float64
	}{{"stomach-mucosa", 0.2529 + 1.9154}, {"stomach-muscularis", 0.2529 + 1.8663}, {"fat", 0.1348 + 0.4112}} {
		t, ok := tissue.FindTissue(c.name)
		if !ok {
			panic("checks: no tissue " + c.name)
		}
		mt := t.At(400e3)
		m := mesh.New(mesh.Axisymmetric, mesh.NewAxis([]float64{0, 1 * mm}), mesh.Axis{}, mesh.NewAxis([]float64{0, 1 * mm}))
		rhoC := mt.DensityKgM3 * mt.HeatCapacityJKgK
		s := heat.New(m, []int{0}, []heat.Material{{
			KWetWMK: mt.KWMK, KDryWMK: mt.KWMK, CWetJM3K: rhoC, CDryJM3K: rhoC / 4, LatentJM3: mt.DensityKgM3 * mt.WaterFraction * tissue.LatentHeat.Value,
		}}, heat.Phases{BoilC: 100, CarbonC: inf, CeilingC: inf}, bodyC)
		src := make([]float64, m.Len())
		p := m.Index(0, 0, 0)
		src[p] = 1
		spent := 0.0
		for dt := 1e-3; s.Water[p] > 0; spent += dt {
			s.Step(dt, src)
		}
		l.add("heat that dries "+c.name+" from 37 C", source, c.want, spent/(m.Volume(0, 0, 0)*1e9), 0.03, "J/mm3")
	}

	// A whole cut: what the removed tissue took with it. It was dried at the boiling
	// point and is swept no hotter: conduction out of it is fast against the cut.
	stomach, _ := tissue.FindTissue("stomach-mucosa")
	mt := stomach.At(400e3)
	c := thermal.Case{
		Layers:    []thermal.Layer{{Name: "wall", ThicknessM: 8 * mm, Material: mt}},
		Electrode: thermal.Electrode{Tip: thermal.Needle, ContactRadiusM: 0.25 * mm, TipRadiusM: 0.25 * mm, InsertionM: 1 * mm},
		Motion:    thermal.Motion{LengthM: 10 * mm, SpeedMS: 5 * mm, Waits: true},
		Drive:     drive.Drive{Mode: drive.Mode{DutyCycle: 1, PowerW: 10, Limits: drive.Limits{PeakVoltageV: 300}}, OnS: 0.8},
		Body:      thermal.Body{TemperatureC: bodyC, BloodHeatCapacityJKgK: 3617},
		Physics: thermal.Physics{
			SigmaPerK: 0.018, Boiling: true, BoilC: 100, LatentJKg: tissue.LatentHeat.Value, DrySigmaShare: 1e-3, DryKWMK: 0.2,
			PerfusionStops: thermal.Never, SparkOnsetV: 200, SparkVM: 1.1e6,
			Carbonisation: true, CarbonC: 350, CarbonJKg: 2.5e6, CarbonCeilingC: 500,
		},
		Damage:   thermal.Damage{Kinetics: damage.Kinetics{Name: "none", Segments: []damage.Segment{{LnA: 0, ThetaK: 1e5}}}},
		Domain:   thermal.Domain{RadiusM: 6 * mm, Side: thermal.Open, Bottom: thermal.Grounded},
		Numerics: thermal.Numerics{FinestM: 0.125 * mm, Tolerance: 1e-2, Resolve: 0.1, MaxStepS: 10e-3},
	}
	c.Layers[0].Beyond = true
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		panic("checks: cutting: " + err.Error())
	}
	cut := r.Summary.Cut
	wet := mt.DensityKgM3 * (mt.HeatCapacityJKgK*63 + mt.WaterFraction*tissue.LatentHeat.Value)
	l.add("a needle that waits for tissue to part sweeps none that has not", "by construction of the case", 1, cut.PartedShare, 1e-12, "1")
	// From boiling to 350 C dried tissue takes up to 0.4 J/mm3 more, and 0.6 if it chars.
	l.add("heat in what a needle swept, over that of drying it (up to 1.4 with dried tissue at 350 C and charred in part)", source, 1.2, cut.HeatJM3/wet, 0.2, "1")
	l.add("a cut: energy residual", "conservation of energy", 0, r.Balance.EnergyResidual, 1e-9, "1")
	l.add("a cut: the removed volume is kerf x depth x path (less the half-round end, plus a cell)", "geometry", 1,
		cut.RemovedM3/(cut.KerfWidthM*r.Summary.RemovedDepthM*cut.PathM), math.Max(0.1, 0.13*mm/cut.PathM), "1")
	return l
}
