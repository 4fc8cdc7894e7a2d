package heat

import (
	"math"
	"math/rand/v2"
	"testing"

	"muralheat/mesh"
)

var flowing = Steam{PermeabilityM2: 1e-16, WetShare: 0.1, TearPa: 40e3, VentShare: 0.5}

// Steam flows, condenses and boils off again, liquid water flows, tissue is removed: no joule and no gram is lost.
func TestSteamIsConserved(t *testing.T) {
	for _, m := range meshes() {
		s := layered(m, phases)
		s.materials[1].CDryJM3K = 1.5e6 // steam of one tissue condenses as water of another
		s.SetDiffusivity(2e-8)
		s.SetSteam(flowing)
		src := make([]float64, m.Len())
		rng := rand.New(rand.NewPCG(3, 3))
		hottest, fullest := 0.0, 0.0
		for step := range 600 {
			if step == 400 {
				metal, contacts := m.Needle(nil, nil, 0, 0.6*mm, 1.2*mm)
				s.Insert(metal, contacts, 500, 30)
			}
			s.SetSurface(25, 22, m.Disc(nil, 0.3*mm*math.Sin(float64(step)), 0.8*mm), 300, 30)
			if step%10 == 0 {
				clear(src)
				for range 10 {
					p := m.Index(rng.IntN(m.NX/2), rng.IntN(m.NY), rng.IntN(m.NZ/2))
					i, j, k := m.Cell(p)
					if !s.Gone(p) {
						src[p] = 4e9 * rng.Float64() * m.Volume(i, j, k)
					}
				}
			}
			for p := range src {
				if s.Gone(p) {
					src[p] = 0
				}
			}
			s.Step(0.01, src)
			for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
				if s.Water[p] < 0 {
					t.Fatalf("%v: share of water %g", m.Geometry, s.Water[p])
				}
				if s.Water[p] > 0 && !s.gone[p] {
					hottest = math.Max(hottest, s.boilAt(p))
				}
				fullest = math.Max(fullest, s.Water[p])
			}
		}
		stored, steam, smoke := s.Stores()
		out := stored + steam + smoke + s.PerfusionJ + s.ElectrodeJ + s.LumenJ + s.OuterJ + s.RemovedJ
		if d := math.Abs(s.JouleJ-out) / s.JouleJ; d > 1e-12 {
			t.Errorf("%v: %g J in, %g J accounted for, off by %.2g", m.Geometry, s.JouleJ, out, d)
		}
		if r := s.WaterResidual(); math.Abs(r) > 1e-11 {
			t.Errorf("%v: share %.2g of the water is unaccounted for", m.Geometry, r)
		}
		if !(s.CondensedJ > 0.1*s.everBoiledJ) || !(s.BoiledJ > 0.01*s.everBoiledJ) || fullest < 1.01 {
			t.Errorf("%v: of %g J of steam %g condensed, %g left; the case was meant to have both", m.Geometry, s.everBoiledJ, s.CondensedJ, s.BoiledJ)
		}
		if top, _ := s.saturationC(flowing.TearPa); hottest > top+0.5 || hottest < top-8 {
			t.Errorf("%v: boils at up to %g C, the pressure at which it tears allows %g", m.Geometry, hottest, top)
		}
	}
}

// boilUnder boils a flat cell under a surface of which a share is covered, over a layer that stays cool, and
// returns the share of the steam that condenses there.
func boilUnder(t *testing.T, v Steam, covered float64, liquid bool) float64 {
	t.Helper()
	m := mesh.New(mesh.Axisymmetric, mesh.NewAxis([]float64{0, 1 / math.Sqrt(math.Pi)}), mesh.Axis{}, mesh.Grading{FinestM: 0.1 * mm}.Axis(0, 0.2*mm))
	hot := Material{KWetWMK: 1e-9, KDryWMK: 1e-9, CWetJM3K: 3.8e6, CDryJM3K: 3.8e6, LatentJM3: 1.7e9, Liquid: liquid}
	cool := hot
	cool.Liquid, cool.CWetJM3K, cool.CDryJM3K = false, 1e10, 1e10
	s := New(m, []int{0, 1}, []Material{hot, cool}, Phases{BoilC: 100, CarbonC: math.Inf(1), CeilingC: math.Inf(1)}, 37)
	s.SetSteam(v)
	p := m.Index(0, 0, 0)
	s.SetSurface(0, 37, []mesh.Contact{{P: p, AreaM2: covered, Squares: 0.05 * mm / covered}}, 0, 37)
	src := make([]float64, m.Len())
	src[p] = 1e8 * m.Volume(0, 0, 0)
	for range 800 {
		s.Step(0.005, src)
	}
	if !(s.everBoiledJ > 0) {
		t.Fatal("nothing boiled")
	}
	return s.CondensedJ / (s.CondensedJ + s.BoiledJ)
}

// From the middle of a cell of 0.1 mm it is half a cell to the open part of the surface, a whole one to the middle of its
// cool neighbour: of 1 m2 with the share f open, 1/(1 + 2 f) condenses. Bubbles in a liquid rise.
func TestContactVentsSteam(t *testing.T) {
	for _, c := range []struct{ vent, covered, want float64 }{{1, 0.5, 1. / 3}, {0, 0.5, 0.5}, {0.5, 1, 0.5}, {0, 1, 1}} {
		v := flowing
		v.WetShare, v.VentShare = 1, c.vent
		if got := boilUnder(t, v, c.covered, false); math.Abs(got-c.want) > 0.03 {
			t.Errorf("%g of a contact of %g m2 open: share %g condenses, want %g", c.vent, c.covered, got, c.want)
		}
	}
	if got := boilUnder(t, flowing, 1, true); got != 0 {
		t.Errorf("share %g of the steam of a liquid condenses, want none", got)
	}
}

// Metal in tissue lets out its share of the steam, what it left behind all of it.
func TestInsertVentsSteam(t *testing.T) {
	shares := map[string]float64{}
	for _, which := range []string{"metal", "empty"} {
		m := mesh.New(mesh.Axisymmetric, mesh.NewAxis([]float64{0, 1 / math.Sqrt(math.Pi)}), mesh.Axis{}, mesh.Grading{FinestM: 0.1 * mm}.Axis(0, 0.3*mm))
		hot := Material{KWetWMK: 1e-9, KDryWMK: 1e-9, CWetJM3K: 3.8e6, CDryJM3K: 3.8e6, LatentJM3: 1.7e9}
		cool := hot
		cool.CWetJM3K, cool.CDryJM3K = 1e10, 1e10
		s := New(m, []int{0, 0, 1}, []Material{hot, cool}, Phases{BoilC: 100, CarbonC: math.Inf(1), CeilingC: math.Inf(1)}, 37)
		v := flowing
		v.WetShare, v.VentShare = 1, 0
		s.SetSteam(v)
		s.Insert([]int{m.Index(0, 0, 0)}, nil, 0, 0)
		if which == "empty" {
			s.Insert(nil, nil, 0, 0)
		}
		src := make([]float64, m.Len())
		src[m.Index(0, 0, 1)] = 1e8 * m.Volume(0, 0, 1)
		for range 800 {
			s.Step(0.005, src)
		}
		shares[which] = s.CondensedJ / (s.CondensedJ + s.BoiledJ)
	}
	if math.Abs(shares["metal"]-1) > 0.03 || math.Abs(shares["empty"]-1./3) > 0.03 {
		t.Errorf("steam that condenses beside metal that seals, and beside an empty place: %v, want 1 and 1/3", shares)
	}
}

// The boiling point and its inverse agree, and follow the steam tables (IAPWS-IF97 values, from memory: 111.35 C at 150 kPa,
// 120.21 C at 200 kPa), within the half kelvin that a constant latent heat costs.
func TestSaturation(t *testing.T) {
	s := layered(meshes()[0], phases)
	for _, c := range []struct{ pa, tC float64 }{{0, 100}, {150e3 - airPa, 111.35}, {200e3 - airPa, 120.21}} {
		got, slope := s.saturationC(c.pa)
		if math.Abs(got-c.tC) > 0.5 {
			t.Errorf("%g Pa over the air: boils at %g C, want %g", c.pa, got, c.tC)
		}
		if back := s.saturationPa(got); math.Abs(back-c.pa) > 1e-6*airPa {
			t.Errorf("%g C: %g Pa, want %g", got, back, c.pa)
		}
		further, _ := s.saturationC(c.pa + 1)
		if math.Abs(further-got-slope) > 1e-3*slope {
			t.Errorf("slope at %g Pa: %g, want %g K/Pa", c.pa, slope, further-got)
		}
	}
}

func TestSteamDoesNotAllocate(t *testing.T) {
	m := meshes()[0]
	s := layered(m, phases)
	s.SetDiffusivity(2e-8)
	s.SetSteam(flowing)
	s.SetSurface(25, 22, nil, 0, 0)
	src := make([]float64, m.Len())
	src[m.Index(0, 0, 1)] = 1
	for range 400 {
		s.Step(0.01, src)
	}
	if n := testing.AllocsPerRun(20, func() { s.Step(0.01, src) }); n > 1 { // a list may grow
		t.Errorf("%g allocations a step", n)
	}
}

// Steam that condenses in matter that holds next to no heat does not heat it without end, and no joule is lost.
func TestSteamIntoNothing(t *testing.T) {
	m := mesh.New(mesh.Axisymmetric, mesh.NewAxis([]float64{0, 1 / math.Sqrt(math.Pi)}), mesh.Axis{}, mesh.Grading{FinestM: 0.1 * mm}.Axis(0, 0.2*mm))
	hot := Material{KWetWMK: 1e-9, KDryWMK: 1e-9, CWetJM3K: 3.8e6, CDryJM3K: 3.8e6, LatentJM3: 1.7e9}
	light := hot
	light.CWetJM3K, light.CDryJM3K = 1, 1
	s := New(m, []int{0, 1}, []Material{hot, light}, Phases{BoilC: 100, CarbonC: math.Inf(1), CeilingC: math.Inf(1)}, 37)
	s.SetSteam(flowing)
	src := make([]float64, m.Len())
	src[m.Index(0, 0, 0)] = 1e9 * m.Volume(0, 0, 0)
	for range 100 {
		s.Step(0.005, src)
		if tC := s.T[m.Index(0, 0, 1)]; !(tC <= 100+mostOverK+1) {
			t.Fatalf("%g C", tC)
		}
	}
	stored, steam, _ := s.Stores()
	if d := math.Abs(s.JouleJ-stored-steam) / s.JouleJ; d > 1e-12 || s.everBoiledJ == 0 {
		t.Errorf("off by %.2g of %g J, %g boiled off", d, s.JouleJ, s.everBoiledJ)
	}
}
