package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"muralheat/mesh"
)

const mm = 1e-3

func meshes() []*mesh.Mesh {
	g := mesh.Grading{To: 2 * mm, FinestM: 0.2 * mm, Slope: 0.3}
	return []*mesh.Mesh{
		mesh.New(mesh.Axisymmetric, g.Axis(0, 1*mm, 12*mm), mesh.Axis{}, g.Axis(0, 12*mm)),
		mesh.New(mesh.Track, mesh.Grading{From: -2 * mm, To: 2 * mm, FinestM: 0.2 * mm, Slope: 0.3}.Axis(-12*mm, 0, 12*mm), g.Axis(0, 1*mm, 12*mm), g.Axis(0, 12*mm)),
	}
}

func open(m *mesh.Mesh) *Solver {
	s := New(m)
	s.Open(m.Side(), 0)
	s.Open(m.Bottom(), 0)
	return s
}

func constant(m *mesh.Mesh, rho float64) []float64 {
	v := make([]float64, m.Len())
	for p := range v {
		v[p] = rho
	}
	return v
}

// uneven is tissue whose resistivity jumps a hundredfold from cell to cell.
func uneven(m *mesh.Mesh, rng *rand.Rand) []float64 {
	v := make([]float64, m.Len())
	for p := range v {
		v[p] = 2
		if rng.IntN(4) == 0 {
			v[p] = 200
		}
	}
	return v
}

// The energy balance of any solution, converged or not: heat of the cells adds up to the
// total, and the conductance from the power is right to the square of the tolerance;
// of a converged one: current in is current out, power is V I.
func TestPowerAndCharge(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, m := range meshes() {
		rho := uneven(m, rng)
		q := make([]float64, m.Len())
		exact := 0.0
		for _, tol := range []float64{1e-10, 1e-3, 1e-2, 5e-2} {
			s := open(m)
			s.Assemble(rho, m.Disc(nil, 0, 1*mm), 0)
			s.Solve(tol)
			sol := s.Heat(q)
			sum := 0.0
			for _, v := range q {
				sum += v
			}
			if math.Abs(sum-sol.HeatS) > 1e-12*sum || !(sol.FarS > 0) {
				t.Errorf("%v: cells hold %g, total %g, far %g W/V2", m.Geometry, sum, sol.HeatS, sol.FarS)
			}
			if tol == 1e-10 {
				exact = sol.ConductanceS()
				if gap, d := math.Abs(sol.OutS/sol.InS-1), math.Abs(exact/sol.InS-1); gap > 1e-8 || d > 1e-8 {
					t.Errorf("%v: %.2g of the current missing, power over current off by %.2g", m.Geometry, gap, d)
				}
			}
			if d := math.Abs(sol.ConductanceS()/exact - 1); d > 4*tol*tol+1e-9 {
				t.Errorf("%v: tolerance %g leaves a conductance off by %.2g", m.Geometry, tol, d)
			}
		}
	}
}

// Where it starts from does not change where it ends: after a history of other
// tissues and contacts, and from nothing, the solutions agree.
func TestSolutionForgetsItsStart(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for _, m := range meshes() {
		used, fresh := open(m), open(m)
		for i := range 6 {
			used.Assemble(uneven(m, rng), m.Disc(nil, 0, float64(1+i%2)*0.8*mm), 0)
			used.Solve(1e-3)
		}
		rho, contacts := uneven(m, rng), m.Disc(nil, 0, 1*mm)
		for _, s := range []*Solver{used, fresh} {
			s.Assemble(rho, contacts, 0)
			s.Solve(1e-11)
		}
		for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
			if math.Abs(used.Phi[p]-fresh.Phi[p]) > 1e-7 {
				t.Fatalf("%v: cell %d at %g V or %g V", m.Geometry, p, used.Phi[p], fresh.Phi[p])
			}
		}
	}
}

// The tolerance is of the heat in the tissue, however small the cells at the contact and however
// little changes from one solution to the next: the conductance stays right to its square, where
// tissue warms from the contact and the field starts from the last one.
func TestToleranceOfWarmStarts(t *testing.T) {
	const tol = 5e-3
	for _, h := range []float64{0.1 * mm, 0.025 * mm} {
		g := mesh.Grading{To: 2 * mm, FinestM: h, Slope: 0.3}
		m := mesh.New(mesh.Axisymmetric, g.Axis(0, 1*mm, 12*mm), mesh.Axis{}, g.Axis(0, 12*mm))
		contacts, rho, q := m.Disc(nil, 0, 1*mm), constant(m, 2), make([]float64, m.Len())
		s := open(m)
		for i := range 40 {
			for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
				c, _, k := m.Cell(p)
				d := math.Hypot(m.X.Centres[c], m.Z.Centres[k])
				rho[p] = 2 / (1 + 0.015*float64(i)*math.Exp(-d/(1*mm)))
			}
			s.Assemble(rho, contacts, 0)
			s.Solve(tol)
			exact := open(m)
			exact.Assemble(rho, contacts, 0)
			exact.Solve(1e-8)
			if d := s.Heat(q).ConductanceS()/exact.Heat(q).ConductanceS() - 1; math.Abs(d) > 4*tol*tol {
				t.Errorf("cells of %.3g mm, solution %d: conductance off by %.2g, tolerance squared %.2g", h/mm, i, d, tol*tol)
			}
		}
	}
}

// Rayleigh's law of monotony: more resistivity anywhere never gives more current;
// twice everywhere gives half. The potential keeps between ground and electrode.
func TestMonotony(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for _, m := range meshes() {
		s := open(m)
		contacts := m.Disc(nil, 0, 1*mm)
		conductance := func(rho []float64) float64 {
			s.Assemble(rho, contacts, 0)
			s.Solve(1e-10)
			for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
				if s.Phi[p] < -1e-9 || s.Phi[p] > 1+1e-9 {
					t.Fatalf("%v: %g V between 0 and 1 V", m.Geometry, s.Phi[p])
				}
			}
			return s.Heat(make([]float64, m.Len())).ConductanceS()
		}
		rho := constant(m, 2)
		last := conductance(rho)
		twice := conductance(constant(m, 4))
		if math.Abs(twice/last-0.5) > 1e-8 {
			t.Errorf("%v: doubling the resistivity divides the current by %g", m.Geometry, last/twice)
		}
		for range 8 {
			for range 30 {
				rho[m.Index(rng.IntN(m.NX), rng.IntN(m.NY), rng.IntN(m.NZ/2))] *= 1 + 9*rng.Float64()
			}
			g := conductance(rho)
			if g > last*(1+1e-9) {
				t.Errorf("%v: conductance rose from %g to %g S", m.Geometry, last, g)
			}
			last = g
		}
	}
}

// Both geometries see the same disc: 500 ohm for 0.5 S/m and 1 mm (Holm, Electric
// Contacts); the finer check is in package checks.
func TestGeometriesAgree(t *testing.T) {
	var g [2]float64
	for i, m := range meshes() {
		s := open(m)
		s.Assemble(constant(m, 2), m.Disc(nil, 0, 1*mm+mesh.RimOverhang*0.2*mm), 0)
		s.Solve(1e-9)
		g[i] = s.Heat(make([]float64, m.Len())).ConductanceS()
		if math.Abs(1/g[i]/500-1) > 0.015 {
			t.Errorf("%v: %g ohm, want 500", m.Geometry, 1/g[i])
		}
	}
	if math.Abs(g[1]/g[0]-1) > 0.01 {
		t.Errorf("%g S axisymmetric, %g S in 3-D", g[0], g[1])
	}
}

// Metal and missing tissue carry nothing, and do not stop the iteration.
func TestVoid(t *testing.T) {
	for _, m := range meshes() {
		s := open(m)
		rho := constant(m, 2)
		metal, contacts := m.Needle(nil, nil, 0, 0.9*mm, 1.5*mm)
		for _, p := range metal {
			rho[p] = Void
		}
		hole := m.Index(m.X.Find(3*mm), 0, 3)
		rho[hole] = Void
		s.Assemble(rho, contacts, 0)
		for _, tol := range []float64{1e-3, 1e-8} {
			s.Solve(tol)
			q := make([]float64, m.Len())
			sol := s.Heat(q)
			if math.Abs(sol.InS-sol.OutS) > 1e-6*sol.InS || !(sol.InS > 0) {
				t.Errorf("%v, tolerance %g: %g S in, %g S out", m.Geometry, tol, sol.InS, sol.OutS)
			}
			for _, p := range append(metal, hole) {
				if !(q[p] <= 1e-12*sol.HeatS) {
					t.Fatalf("%v, tolerance %g: %g W/V2 where there is no tissue", m.Geometry, tol, q[p])
				}
			}
			if tol == 1e-3 && s.last != inSingle {
				t.Errorf("%v: metal in precision %d, want single", m.Geometry, s.last)
			}
		}
	}
}

// A field that is even in the mirror plane of the track stays so.
func TestMirror(t *testing.T) {
	m := meshes()[1]
	s := open(m)
	s.Assemble(constant(m, 2), m.Disc(nil, 0, 1*mm), 0)
	s.Solve(1e-10)
	for k := range m.NZ {
		for j := range m.NY {
			for i := range m.NX {
				a, b := s.Phi[m.Index(i, j, k)], s.Phi[m.Index(m.NX-1-i, j, k)]
				if math.Abs(a-b) > 1e-8 {
					t.Fatalf("cell %d,%d,%d: %g V here, %g V in the mirror", i, j, k, a, b)
				}
			}
		}
	}
}

func TestSolveDoesNotAllocate(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for _, m := range meshes() {
		s := open(m)
		tissues := [][]float64{uneven(m, rng), uneven(m, rng)}
		contacts := m.Disc(nil, 0, 1*mm)
		q := make([]float64, m.Len())
		n := 0
		solve := func() {
			s.Assemble(tissues[n%2], contacts, 0)
			s.Solve(1e-3)
			s.Heat(q)
			n++
		}
		for range 5 {
			solve()
		}
		if a := testing.AllocsPerRun(5, solve); a > 0 {
			t.Errorf("%v: %g allocations a solve", m.Geometry, a)
		}
	}
}
