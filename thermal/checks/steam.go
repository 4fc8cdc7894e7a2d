package checks

import (
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal/heat"
)

// Steam checks where steam goes, and at what temperature tissue boils under its pressure. All columns
// are 1 m2 wide and heated evenly by a source that only boils them.
func Steam() []Check {
	var l list
	l.condensation()
	l.split()
	l.pressurised()
	return l
}

// steamy is tissue whose steam flows as easily wet as dried, and that tears at once.
var steamy = heat.Steam{PermeabilityM2: 1e-16, WetShare: 1, TearPa: 1}

// boilingColumn returns a column with a closed bottom, one layer for each material, and the source, W, that
// boils off perM3 watts per m3 in its first metres.
func boilingColumn(m *mesh.Mesh, materials []heat.Material, v heat.Steam, metres, perM3 float64) (*heat.Solver, []float64) {
	layerOf := make([]int, m.NZ)
	src := make([]float64, m.Len())
	for k := range m.NZ {
		if len(materials) > 1 && m.Z.Centres[k] > metres {
			layerOf[k] = 1
		}
		if m.Z.Centres[k] < metres {
			src[m.Index(0, 0, k)] = perM3 * m.Volume(0, 0, k)
		}
	}
	s := heat.New(m, layerOf, materials, heat.Phases{BoilC: 100, CarbonC: inf, CeilingC: inf}, bodyC)
	s.SetSteam(v)
	return s, src
}

// condensation heats a sealed column at its top: all steam condenses at the end of the boiling zone, which moves at
// the speed at which the power brings new tissue to the boiling point, with a profile ahead that keeps its shape.
func (l *list) condensation() {
	const (
		flux   = 3e4 // W/m2
		depth  = 20 * mm
		finest = 0.05 * mm
		source = "conservation of energy, and Carslaw and Jaeger 1959, 1.7: steady state in the frame of a front"
	)
	m := column(mesh.Grading{FinestM: finest}.Axis(0, 9*mm, depth))
	wet := heat.Material{KWetWMK: 0.5, KDryWMK: 0.5, CWetJM3K: 3.8e6, CDryJM3K: 3.8e6, LatentJM3: 1.7e10}
	s, src := boilingColumn(m, []heat.Material{wet}, steamy, 0.5*mm, flux/(0.5*mm))
	speed, alpha := flux/(wet.CWetJM3K*(100-bodyC)), wet.KWetWMK/wet.CWetJM3K
	front := func() float64 {
		k := 0
		for s.T[m.Index(0, 0, k)] > 99.5 {
			k++
		}
		return m.Z.Centres[k-1]
	}
	const dt = 0.005
	from := 0.0
	for n := 1; n <= 8000; n++ { // 40 s
		s.Step(dt, src)
		if n == 5000 {
			from = front()
		}
	}
	end := front()
	l.relative("sealed column: speed of the boiling front between 25 and 40 s", source, speed/mm, (end-from)/(3000*dt)/mm, 0.02, "mm/s")
	for _, x := range []float64{0.5 * mm, mm, 2 * mm} {
		k := m.Z.Find(end + x)
		l.add(fmt.Sprintf("sealed column: temperature %.4g mm ahead of the front", (m.Z.Centres[k]-end)/mm), source,
			bodyC+(100-bodyC)*math.Exp(-speed*(m.Z.Centres[k]-end)/alpha), s.T[m.Index(0, 0, k)], 0.5, "C")
	}
	stored, steam, _ := s.Stores()
	l.add("sealed column: share of the heat that left with steam", "conservation of energy: there is no way out", 0, steam/s.JouleJ, 1e-12, "1")
	l.relative("sealed column: heat stored", "conservation of energy", s.JouleJ, stored, 1e-12, "J/m2")
	l.add("sealed column: missing water less what left", "conservation of mass", 0, s.WaterResidual(), 1e-9, "1")
}

// split boils a slab between an open surface and tissue that stays cool: by symmetry half of the steam goes either way.
func (l *list) split() {
	const slab = 2 * mm
	m := column(mesh.Grading{FinestM: 0.05 * mm}.Axis(0, slab, 2*slab))
	hot := heat.Material{KWetWMK: 1e-9, KDryWMK: 1e-9, CWetJM3K: 3.8e6, CDryJM3K: 3.8e6, LatentJM3: 1.7e9}
	cool := hot
	cool.CWetJM3K, cool.CDryJM3K = 1e10, 1e10
	for _, open := range []bool{true, false} {
		s, src := boilingColumn(m, []heat.Material{hot, cool}, steamy, slab, 1e8)
		want := 1.0
		if open {
			s.SetSurface(0, bodyC, nil, 0, 0)
			want = 0.5
		}
		for range 1200 { // boils from 2.4 s on
			s.Step(0.005, src)
		}
		stored, steam, _ := s.Stores()
		l.add(fmt.Sprintf("boiling slab, surface open %v: share of the steam that condenses below", open),
			"symmetry of the pressure between two sinks", want, s.CondensedJ/(s.CondensedJ+s.BoiledJ), 0.02, "1")
		l.relative(fmt.Sprintf("boiling slab, surface open %v: heat stored and left with steam", open), "conservation of energy", s.JouleJ, stored+steam, 1e-12, "J/m2")
	}
}

// pressurised boils a closed column whose steam leaves at the top. The pressure is a parabola, with its top where tissue
// tears; each depth is at the boiling point of its pressure.
func (l *list) pressurised() {
	const (
		depth  = 2 * mm
		source = "saturation line of water, steam tables (100.0, 109.3, 120.2 C at 101.3, 140, 200 kPa), from memory; a parabola of pressure: Darcy"
	)
	m := column(mesh.Grading{FinestM: 0.02 * mm}.Axis(0, depth))
	tissue := heat.Material{KWetWMK: 1e-9, KDryWMK: 1e-9, CWetJM3K: 3.8e6, CDryJM3K: 3.8e6, LatentJM3: 1.7e9}
	for _, bottom := range []struct{ pa, tC float64 }{{38.7e3, 109.3}, {98.7e3, 120.2}} {
		v := steamy
		v.TearPa = bottom.pa
		s, src := boilingColumn(m, []heat.Material{tissue}, v, depth, 1e8)
		s.SetSurface(0, bodyC, nil, 0, 0)
		for range 2000 { // 10 s, of which 2.4 s to the boiling point
			s.Step(0.005, src)
		}
		l.add(fmt.Sprintf("boiling column that tears at %g kPa: temperature at its bottom", bottom.pa/1e3), source, bottom.tC, s.T[m.Index(0, 0, m.NZ-1)], 0.5, "C")
		// Where p is 38.7 kPa of 98.7: 1 - sqrt(1 - 0.392) of the depth.
		if bottom.pa > 50e3 {
			k := m.Z.Find((1 - math.Sqrt(1-38.7/98.7)) * depth)
			l.add(fmt.Sprintf("boiling column that tears at %g kPa: temperature %.3g mm deep", bottom.pa/1e3, m.Z.Centres[k]/mm), source, 109.3, s.T[m.Index(0, 0, k)], 0.5, "C")
		}
		stored, steam, _ := s.Stores()
		l.relative(fmt.Sprintf("boiling column that tears at %g kPa: heat stored and left with steam", bottom.pa/1e3), "conservation of energy", s.JouleJ, stored+steam, 1e-12, "J/m2")
	}
}
