package checks

import (
	"context"
	"fmt"
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

	l.travelling()

	// A whole cut: what the removed tissue took with it. The front pays for what it removes, and the current in
	// the tissue has dried little before.
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
			PerfusionStops: thermal.Never, SparkOnsetV: 200, VaporisedShare: 1,
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
	l.add("a needle that waits for tissue to be removed drags none", "by construction of the case", 1, cut.PartedShare, 1e-12, "1")
	l.add("heat in what a needle removed, over that of drying it", source, 1, cut.HeatJM3/wet, 0.02, "1")
	l.add("a cut: energy residual", "conservation of energy", 0, r.Balance.EnergyResidual, 1e-9, "1")
	l.add("a cut: the removed volume is kerf x depth x path (less the half-round end, plus a cell)", "geometry", 1,
		cut.RemovedM3/(cut.KerfWidthM*r.Summary.RemovedDepthM*cut.PathM), math.Max(0.1, 0.13*mm/cut.PathM), "1")
	return l
}

// travelling draws a face at the boiling point through a column, cell by cell: ahead of it the rise
// falls off as that of a front that travels steadily.
func (l *list) travelling() {
	const source = "Carslaw and Jaeger 1959, Conduction of Heat in Solids, 1.7 with a moving face: rise exp(-v x/alpha), from memory"
	const k, rhoC, h, depth = 0.5, 3.8e6, 0.004 * mm, 2.4 * mm
	const alpha = k / rhoC
	m := column(mesh.Grading{FinestM: h}.Axis(0, depth))
	for _, v := range []float64{0.5 * mm, 1 * mm} {
		s := heat.New(m, make([]int, m.NZ), []heat.Material{{KWetWMK: k, KDryWMK: k, CWetJM3K: rhoC, CDryJM3K: rhoC}}, heat.NoPhases, bodyC)
		src := make([]float64, m.Len())
		area := m.Area(0, 0)
		n, dt := 0, h/v
		for ; float64(n)*h < 1.2*mm; n++ {
			s.Insert([]int{m.Index(0, 0, n)}, []mesh.Contact{{P: m.Index(0, 0, n+1), AreaM2: area, Squares: h / 2 / area, Step: m.Plane()}}, 1e9, 100)
			s.Step(dt/2, src)
			if float64(n+1)*h < 1.2*mm {
				s.Step(dt/2, src)
			}
		}
		// Half way through the dwell of the face at Faces[n].
		for _, x := range []float64{0.05 * mm, 0.1 * mm, 0.2 * mm} {
			at := m.Z.Find(m.Z.Faces[n] + x)
			c := m.Z.Centres[at] - m.Z.Faces[n]
			l.relative(fmt.Sprintf("ahead of a face at 100 C that travels at %g mm/s: rise at %.3g mm", v/mm, c/mm), source,
				63*math.Exp(-v*c/alpha), s.T[m.Index(0, 0, at)]-bodyC, 0.03, "K")
		}
	}
}
