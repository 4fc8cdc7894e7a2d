package heat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"muralheat/mesh"
)

const mm = 1e-3

// gut is wet tissue that boils, dries and carbonises; numbers of the right order,
// invented.
var gut = Material{
	KWetWMK: 0.5, KDryWMK: 0.2, CWetJM3K: 3.8e6, CDryJM3K: 0.6e6,
	LatentJM3: 1.8e9, SmokeJM3: 0.7e9, PerfusionWM3K: 4e4,
}

var phases = Phases{BoilC: 100, CarbonC: 350, CeilingC: 500}

func meshes() []*mesh.Mesh {
	axis := mesh.Grading{To: 2 * mm, FinestM: 0.25 * mm, Slope: 0.3}.Axis(0, 1*mm, 5*mm)
	return []*mesh.Mesh{
		mesh.New(mesh.Axisymmetric, axis, mesh.Axis{}, axis),
		mesh.New(mesh.Track, mesh.Grading{To: 2 * mm, FinestM: 0.4 * mm, Slope: 0.3}.Axis(-2*mm, 4*mm), axis, axis),
	}
}

// layered has a second layer, of unlike material, below 1 mm.
func layered(m *mesh.Mesh, ph Phases) *Solver {
	fat := gut
	fat.KWetWMK, fat.PerfusionWM3K, fat.LatentJM3 = 0.2, 1e4, 0.4e9
	of := make([]int, m.NZ)
	for k, z := range m.Z.Centres {
		if z > 1*mm {
			of[k] = 1
		}
	}
	return New(m, of, []Material{gut, fat}, ph, 37)
}

// Every joule put in is stored, carried off or booked, to rounding, whatever happens
// in between: boiling, carbon, smoke above the ceiling, perfusion that stops, a
// needle driven in, losses on all sides.
func TestEnergyCloses(t *testing.T) {
	for _, m := range meshes() {
		s := layered(m, phases)
		s.SetBottom(50, 30)
		src := make([]float64, m.Len())
		rng := rand.New(rand.NewPCG(1, 1))
		peak := 37.0
		for step := range 400 {
			if step == 250 {
				metal, contacts := m.Needle(nil, nil, 0, 0.6*mm, 1.2*mm)
				s.Insert(metal, contacts, 500, 30)
			}
			s.SetSurface(25, 22, m.Disc(nil, 0.3*mm*math.Sin(float64(step)), 0.8*mm), 300, 30)
			if step%10 == 0 {
				for range 20 {
					p := m.Index(rng.IntN(m.NX), rng.IntN(m.NY), rng.IntN(m.NZ/2))
					i, j, k := m.Cell(p)
					src[p] = 4e9 * rng.Float64() * m.Volume(i, j, k)
					s.Perfuse(m.Index(rng.IntN(m.NX), rng.IntN(m.NY), rng.IntN(m.NZ)), rng.Float64())
				}
			}
			for p := range src {
				if s.Gone(p) {
					src[p] = 0
				}
			}
			s.Step(0.03, src)
			for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
				peak = math.Max(peak, s.T[p])
			}
		}
		stored, steam, smoke := s.Stores()
		out := stored + steam + smoke + s.PerfusionJ + s.ElectrodeJ + s.LumenJ + s.OuterJ + s.RemovedJ
		if d := math.Abs(s.JouleJ-out) / s.JouleJ; d > 1e-12 {
			t.Errorf("%v: %g J in, %g J accounted for, off by %.2g", m.Geometry, s.JouleJ, out, d)
		}
		for what, j := range map[string]float64{
			"stored": stored, "steam": steam, "smoke": smoke, "perfusion": s.PerfusionJ, "electrode": s.ElectrodeJ,
			"lumen": s.LumenJ, "outer": s.OuterJ, "removed": s.RemovedJ, "surplus": s.SurplusJ,
		} {
			if j <= 0 {
				t.Errorf("%v: the case was meant to have every kind of heat, but %s is %g J", m.Geometry, what, j)
			}
		}
		if peak > phases.CeilingC+1e-9 {
			t.Errorf("%v: %g C, above the ceiling", m.Geometry, peak)
		}
	}
}

// A body in balance with all around it stays as it is, to the last digit.
func TestNothingHappensAtRest(t *testing.T) {
	for _, m := range meshes() {
		s := layered(m, phases)
		s.SetSurface(25, 37, m.Disc(nil, 0, 1*mm), 500, 37)
		s.SetBottom(math.Inf(1), 37)
		src := make([]float64, m.Len())
		for range 50 {
			s.Step(0.1, src)
		}
		for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
			if s.T[p] != 37 || s.Water[p] != 1 || s.Solid[p] != 1 {
				t.Fatalf("%v: cell %d at %g C, water %g", m.Geometry, p, s.T[p], s.Water[p])
			}
		}
	}
}

// Without a source no cell leaves the range of temperatures of before, however long
// the step asked for: the explicit scheme is sub-stepped as it must be.
func TestMaximumPrinciple(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for _, m := range meshes() {
		s := layered(m, NoPhases)
		s.SetSurface(1e4, 20, nil, 0, 0)
		s.SetBottom(math.Inf(1), 60)
		for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
			s.T[p] = 20 + 70*rng.Float64()
		}
		lo, hi := 20.0, 90.0
		src := make([]float64, m.Len())
		for _, dt := range []float64{0.01, 0.1, 1, 5} {
			if n := s.Step(dt, src); dt/float64(n) > s.Limit()*(1+1e-12) {
				t.Errorf("%v: steps of %g s, stable to %g s", m.Geometry, dt/float64(n), s.Limit())
			}
			a, b := math.Inf(1), math.Inf(-1)
			for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
				a, b = math.Min(a, s.T[p]), math.Max(b, s.T[p])
			}
			if a < lo-1e-9 || b > hi+1e-9 {
				t.Errorf("%v: %g to %g C after being within %g to %g", m.Geometry, a, b, lo, hi)
			}
			lo, hi = a, math.Max(b, 60)
			lo = math.Min(lo, 20)
		}
	}
}

// One cell heated alone passes through its phases at the times of the arithmetic:
// warm, boil, warm dry, decompose, warm to the ceiling, smoke.
func TestPhasesOfOneCell(t *testing.T) {
	m := mesh.New(mesh.Axisymmetric, mesh.NewAxis([]float64{0, 1 * mm}), mesh.Axis{}, mesh.NewAxis([]float64{0, 1 * mm}))
	material := gut
	material.PerfusionWM3K = 0
	s := New(m, []int{0}, []Material{material}, phases, 37)
	p, vol := m.Index(0, 0, 0), m.Volume(0, 0, 0)
	const q = 1e9 // W/m3
	src := make([]float64, m.Len())
	src[p] = q * vol
	var at [5]float64
	at[0] = material.CWetJM3K * 63 / q            // reaches 100 C
	at[1] = at[0] + material.LatentJM3/q          // dry
	at[2] = at[1] + material.CDryJM3K*250/q       // reaches 350 C
	at[3] = at[2] + material.SmokeJM3/q           // carbon
	at[4] = at[3] + material.CDryJM3K*(500-350)/q // reaches 500 C
	const dt = 1e-4
	now, water := 0.0, 1.0
	for now < at[4]+0.2 {
		s.Step(dt, src)
		now += dt
		if s.Water[p] > water {
			t.Fatalf("water came back at %g s", now)
		}
		water = s.Water[p]
		want, wet, solid := 0.0, 1.0, 1.0
		switch {
		case now < at[0]:
			want = 37 + q*now/material.CWetJM3K
		case now < at[1]:
			want, wet = 100, 1-(now-at[0])/(at[1]-at[0])
		case now < at[2]:
			want, wet = 100+q*(now-at[1])/material.CDryJM3K, 0
		case now < at[3]:
			want, wet, solid = 350, 0, 1-(now-at[2])/(at[3]-at[2])
		case now < at[4]:
			want, wet, solid = 350+q*(now-at[3])/material.CDryJM3K, 0, 0
		default:
			want, wet, solid = 500, 0, 0
		}
		if math.Abs(s.T[p]-want) > 1e-6 || math.Abs(s.Water[p]-wet) > 1e-9 || math.Abs(s.Solid[p]-solid) > 1e-9 {
			t.Fatalf("at %g s: %g C, water %g, solid %g; want %g, %g, %g", now, s.T[p], s.Water[p], s.Solid[p], want, wet, solid)
		}
	}
}

// Loss through half a cell in series with a film: 1/(h/2k + 1/h), over the share of
// the face in contact and the share that is free.
func TestSurfaceConductance(t *testing.T) {
	const d, r = 1 * mm, 2 * mm
	m := mesh.New(mesh.Axisymmetric, mesh.NewAxis([]float64{0, r}), mesh.Axis{}, mesh.NewAxis([]float64{0, d}))
	s := New(m, []int{0}, []Material{{KWetWMK: 0.5, KDryWMK: 0.5, CWetJM3K: 3.8e6, CDryJM3K: 3.8e6}}, NoPhases, 37)
	const dt = 1e-3
	under, free := math.Pi*1e-6, math.Pi*3e-6
	for range 3 { // set again after each step, as a moving electrode asks for
		s.SetSurface(25, 20, m.Disc(nil, 0, 1*mm), 1000, 30)
		t0, was := s.T[m.Index(0, 0, 0)], s.Ledger
		s.Step(dt, make([]float64, m.Len()))
		electrode := dt * (t0 - 30) * under / (d/2/0.5 + 1.0/1000)
		lumen := dt * (t0 - 20) * free / (d/2/0.5 + 1.0/25)
		gotE, gotL := s.ElectrodeJ-was.ElectrodeJ, s.LumenJ-was.LumenJ
		if math.Abs(gotE-electrode) > 1e-9*electrode || math.Abs(gotL-lumen) > 1e-9*lumen {
			t.Errorf("electrode %g J, lumen %g J; want %g, %g", gotE, gotL, electrode, lumen)
		}
	}
}

// Metal that was driven in lets no heat through, takes its own tissue's heat along,
// and stays empty when the electrode goes on.
func TestInsert(t *testing.T) {
	m := meshes()[1]
	s := layered(m, NoPhases)
	for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
		s.T[p] = 57
	}
	metal, _ := m.Needle(nil, nil, 0, 0.6*mm, 1*mm)
	want := 0.0
	for _, p := range metal {
		i, j, k := m.Cell(p)
		want += gut.CWetJM3K * 20 * m.Volume(i, j, k)
	}
	s.Insert(metal, nil, 0, 37)
	if len(metal) == 0 || math.Abs(s.RemovedJ-want) > 1e-9*want {
		t.Fatalf("%d cells, %g J removed, want %g", len(metal), s.RemovedJ, want)
	}
	s.T[metal[0]] = 1e4 // must not be felt next door
	src := make([]float64, m.Len())
	src[metal[len(metal)-1]] = 0
	s.Step(1, src)
	for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
		if !s.Gone(p) && s.T[p] > 57+1e-9 {
			t.Fatalf("heat came out of the metal: %g C", s.T[p])
		}
	}
	further, _ := m.Needle(nil, nil, 1*mm, 0.6*mm, 1*mm)
	s.Insert(further, nil, 0, 37)
	for _, p := range append(metal, further...) {
		if !s.Gone(p) {
			t.Fatalf("cell %d filled up again", p)
		}
	}
}

// Wetting and drying change conduction: a dry cell conducts with its dry value, a
// half-dry one half way, in series with its neighbours.
func TestDryingLowersConduction(t *testing.T) {
	m := mesh.New(mesh.Axisymmetric, mesh.NewAxis([]float64{0, 1 * mm}), mesh.Axis{}, mesh.NewAxis([]float64{0, 1 * mm, 2 * mm}))
	material := gut
	material.PerfusionWM3K = 0
	s := New(m, []int{0, 0}, []Material{material}, Phases{100, math.Inf(1), math.Inf(1)}, 37)
	a, b, vol := m.Index(0, 0, 0), m.Index(0, 0, 1), m.Volume(0, 0, 0)
	src := make([]float64, m.Len())
	src[a] = (material.CWetJM3K*63 + material.LatentJM3*0.5) * vol / 1e-6 // to half its water in an instant
	s.Step(1e-6, src)
	src[a] = 0
	water, before := s.Water[a], s.T[b]
	if math.Abs(water-0.5) > 1e-3 {
		t.Fatalf("water %g, meant to be half", water)
	}
	const dt = 1e-3
	hot := s.T[a]
	s.Step(dt, src)
	k := material.KDryWMK + water*(material.KWetWMK-material.KDryWMK)
	flow := (hot - before) * m.Area(0, 0) / (0.5*mm/k + 0.5*mm/material.KWetWMK)
	if got := (s.T[b] - before) * material.CWetJM3K * vol / dt; math.Abs(got-flow) > 1e-6*flow {
		t.Errorf("%g W into the neighbour, want %g", got, flow)
	}
}

func TestStepDoesNotAllocate(t *testing.T) {
	for _, m := range meshes() {
		s := layered(m, phases)
		contacts := m.Disc(nil, 0, 1*mm)
		src := make([]float64, m.Len())
		src[m.Index(0, 0, 0)] = 5
		step := func() {
			s.SetSurface(25, 22, contacts, 300, 30)
			s.SetBottom(math.Inf(1), 37)
			s.Step(0.05, src)
		}
		for range 100 {
			step()
		}
		if n := testing.AllocsPerRun(20, step); n > 0 {
			t.Errorf("%v: %g allocations a step", m.Geometry, n)
		}
	}
}

// Liquid water flows into what has dried, across layers of unlike water and heat capacity,
// and boils off there: no joule and no gram is lost, and the share of water stays within 0 and 1.
func TestWaterThatFlowsIsConserved(t *testing.T) {
	for _, m := range meshes() {
		s := layered(m, phases)
		s.materials[1].CDryJM3K = 1.5e6 // water of another heat capacity than that above
		s.SetDiffusivity(2e-8)
		src := make([]float64, m.Len())
		for k := range m.NZ {
			if z := m.Z.Centres[k]; z > 0.7*mm && z < 1.2*mm {
				p := m.Index(m.NX/4, 0, k)
				src[p] = 2e9 * m.Volume(m.NX/4, 0, k)
			}
		}
		inflow := false
		for step := range 400 {
			if step == 200 {
				clear(src)
			}
			if step == 300 { // cells that have given and got water are removed with what they hold
				metal, contacts := m.Needle(nil, nil, m.X.Centres[m.NX/4], 0.4*mm, 1*mm)
				s.Insert(metal, contacts, 500, 30)
			}
			least := 1.0
			for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
				least = math.Min(least, s.Water[p])
				if w := s.Water[p]; w < 0 || w > 1+1e-12 {
					t.Fatalf("%v: share of water %g", m.Geometry, w)
				}
			}
			s.SetSurface(25, 22, nil, 0, 0)
			s.Step(0.05, src)
			after := 1.0
			for _, w := range s.Water[m.Plane() : m.Plane()+m.Cells()] {
				after = math.Min(after, w)
			}
			inflow = inflow || after > least && least < 0.5
		}
		if !inflow {
			t.Fatalf("%v: nothing dried and was wetted again: the case tests nothing", m.Geometry)
		}
		stored, steam, smoke := s.Stores()
		out := stored + steam + smoke + s.PerfusionJ + s.ElectrodeJ + s.LumenJ + s.OuterJ + s.RemovedJ
		if d := math.Abs(s.JouleJ-out) / s.JouleJ; d > 1e-12 {
			t.Errorf("%v: %g J in, %g J accounted for, off by %.2g", m.Geometry, s.JouleJ, out, d)
		}
		if r := s.WaterResidual(); math.Abs(r) > 1e-12 {
			t.Errorf("%v: share %.2g of the water is unaccounted for", m.Geometry, r)
		}
	}
}

// A dried cell draws the same water from each of its six neighbours: D h w's difference over the
// distance, in kg/(rho W).
func TestWaterFlowsFromAllSides(t *testing.T) {
	const h, d, dt = 0.1 * mm, 5e-9, 0.02
	axis := mesh.Grading{FinestM: h}.Axis(0, 0.5*mm)
	m := mesh.New(mesh.Track, axis, axis, axis)
	material := gut
	material.PerfusionWM3K, material.KWetWMK, material.KDryWMK = 0, 1e-9, 1e-9
	s := New(m, make([]int, m.NZ), []Material{material}, Phases{100, math.Inf(1), math.Inf(1)}, 37)
	s.SetDiffusivity(d)
	p, vol := m.Index(2, 2, 2), m.Volume(2, 2, 2)
	src := make([]float64, m.Len())
	src[p] = (material.CWetJM3K*63 + material.LatentJM3) * vol / 1e-6
	s.Step(1e-6, src)
	clear(src)
	s.Step(dt, src)
	for name, q := range map[string]int{"west": p - 1, "east": p + 1, "north": p - m.NX, "south": p + m.NX, "above": p - m.Plane(), "below": p + m.Plane()} {
		if got, want := 1-s.Water[q], d*dt/(h*h); math.Abs(got-want) > 1e-3*want {
			t.Errorf("%s: lost %.6g of its water, want %.6g", name, got, want)
		}
	}
}

// The loss at the bottom follows the conductivity of the cells there, and what it is set to.
func TestBottomFollowsItsCells(t *testing.T) {
	x, z := mesh.Grading{From: 0, To: 1e-3, FinestM: 0.5e-3, Slope: 1}, mesh.Grading{From: 0, To: 1e-3, FinestM: 0.5e-3, Slope: 1}
	m := mesh.New(mesh.Axisymmetric, x.Axis(0, 1e-3), mesh.Axis{}, z.Axis(0, 1e-3))
	s := New(m, make([]int, m.NZ), []Material{{KWetWMK: 0.5, KDryWMK: 0.2, CWetJM3K: 4e6, CDryJM3K: 1e6, LatentJM3: 1e9}}, Phases{BoilC: 100, CarbonC: 350, CeilingC: 500}, 37)
	p := m.Index(0, 0, m.NZ-1)
	bottom := func(h, ambientC float64) float64 {
		s.SetBottom(h, ambientC)
		return s.k.Z[p]
	}
	wet := bottom(math.Inf(1), 37)
	s.Water[p] = 0
	s.stain(p)
	s.refresh()
	if dry := bottom(math.Inf(1), 37); math.Abs(dry/wet-0.4) > 1e-12 {
		t.Errorf("a cell at the bottom that dried passes %g of what it did, want 0.4", dry/wet)
	}
	if bottom(10, 37) >= wet/2 || s.T[p+m.Plane()] != 37 {
		t.Error("the loss is not what it was set to")
	}
	if bottom(10, 20); s.T[p+m.Plane()] != 20 {
		t.Errorf("ambient temperature %g C, want 20", s.T[p+m.Plane()])
	}
}

// The loss at the surface is that of where the electrode is now, and of what the cells there are now, whatever it was before.
func TestSurfaceFollowsTheElectrode(t *testing.T) {
	m := meshes()[1]
	s := layered(m, phases)
	s.SetSteam(flowing)
	pl := m.Plane()
	state := func() []float64 {
		all := slices.Concat(s.k.Z[:pl], s.T[:pl], s.next[:pl], s.steam.top)
		for _, w := range s.lumen {
			all = append(all, float64(w.p), w.g, w.tC)
		}
		return all
	}
	for n := range 12 {
		contacts, h, ambient := m.Disc(nil, float64(n%8)*0.1*mm, 0.9*mm), 20.0, 25.0
		switch n {
		case 5: // off the tissue
			contacts = nil
		case 7:
			s.Water[pl+1] = 0.2
			s.stain(pl + 1)
			s.refresh()
		case 8:
			s.Insert([]int{pl + 3, pl + m.NX}, nil, 0, 37)
		case 9:
			h = 30
		case 10:
			ambient = 22
		}
		set := func() { s.SetSurface(h, ambient, contacts, 500, 37+float64(n)) }
		set()
		got := state()
		s.lumen = nil // all of it
		set()
		if want := state(); !slices.Equal(got, want) {
			t.Errorf("call %d: the surface is not what it is when all is set", n)
		}
		for i, w := range s.lumen {
			if w.g > s.k.Z[i] {
				t.Errorf("call %d: cell %d loses by %g W/K to the air, %g in all", n, w.p, w.g, s.k.Z[i])
			}
		}
	}
}

// SourceScale multiplies the source in what it heats, in what is booked of it, and where the body comes to rest.
func TestSourceScale(t *testing.T) {
	for _, m := range meshes() {
		end := func(scale float64) (stepped, settled []float64, jouleJ float64) {
			src := make([]float64, m.Len())
			for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
				src[p] = 1e-3 / scale
			}
			s := layered(m, NoPhases)
			s.SourceScale = scale
			s.Step(0.1, src)
			stepped, jouleJ = append(stepped, s.T...), s.JouleJ
			s.Settle(src)
			return stepped, s.T, jouleJ
		}
		a, restA, jouleA := end(1)
		b, restB, jouleB := end(0.25) // a power of two: nothing is rounded
		if want := 1e-3 * 0.1 * float64(m.Cells()); math.Abs(jouleA/want-1) > 1e-9 || jouleA != jouleB {
			t.Errorf("%v: booked %g and %g J, want %g", m.Geometry, jouleA, jouleB, want)
		}
		if !slices.Equal(a, b) || !slices.Equal(restA, restB) || slices.Max(a) < 37.001 {
			t.Errorf("%v: a quarter of four times the source does not heat like it", m.Geometry)
		}
	}
}
