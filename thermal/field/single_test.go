package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"muralheat/mesh"
)

// shell is tissue of 2 ohm m with a shell of resistivity rho about the electrode.
func shell(m *mesh.Mesh, rho float64) []float64 {
	v := constant(m, 2)
	for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
		i, j, k := m.Cell(p)
		d := math.Hypot(m.X.Centres[i], m.Z.Centres[k])
		if m.NY > 1 {
			d = math.Hypot(d, m.Y.Centres[j])
		}
		if d > 1.5*mm && d < 2.5*mm {
			v[p] = rho
		}
	}
	return v
}

// conductances returns those of a circuit as Solve finds it and as double precision does, and
// the solver.
func conductances(m *mesh.Mesh, rho []float64, tol float64) (found, exact float64, s *Solver) {
	q := make([]float64, m.Len())
	s = open(m)
	s.Assemble(rho, m.Disc(nil, 0, 1*mm), 0)
	s.Solve(tol)
	found = s.Heat(q).ConductanceS()
	d := open(m)
	d.Assemble(rho, m.Disc(nil, 0, 1*mm), 0)
	d.Solve(1e-9)
	return found, d.Heat(q).ConductanceS(), s
}

// A tolerance further off than single precision follows the residual is reached by beginning
// anew, and is reached indeed: the conductance is right to its square.
func TestSingleBeginsAnew(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for _, m := range meshes() {
		const tol = 1e-4
		found, exact, s := conductances(m, uneven(m, rng), tol)
		if s.last != inSingle || s.single.starts < 2 {
			t.Errorf("%v: begun %d times, want more; last in precision %d", m.Geometry, s.single.starts, s.last)
		}
		if d := math.Abs(found/exact - 1); d > 4*tol*tol+1e-7 { // 6e-8 is one rounding
			t.Errorf("%v: conductance off by %.2g", m.Geometry, d)
		}
	}
}

// Where potentials next to the metal come so near to it that single precision cannot tell
// power, or its iteration stalls, double precision takes over, from there and for that solution
// only; the conductance is right either way.
func TestFallsBackToDouble(t *testing.T) {
	for _, m := range meshes() {
		for _, c := range []struct {
			rho, tol float64
			want     precision
		}{
			{200, 1e-2, inSingle}, {1e4, 1e-3, inSingle},
			{1e6, 1e-2, inDouble}, {1e7, 1e-3, inDouble}, {1e9, 1e-2, inDouble},
		} {
			found, exact, s := conductances(m, shell(m, c.rho), c.tol)
			if d := math.Abs(found/exact - 1); d > 4*c.tol*c.tol || s.last != c.want {
				t.Errorf("%v: shell of %g ohm m, tolerance %g: conductance off by %.2g in precision %d, want %d",
					m.Geometry, c.rho, c.tol, d, s.last, c.want)
			}
			rho := constant(m, 2)
			s.Assemble(rho, m.Disc(nil, 0, 1*mm), 0)
			if n := s.Solve(1e-3); s.last != inSingle || n == MostIterations {
				t.Errorf("%v: after a shell of %g ohm m the next solution took %d iterations in precision %d", m.Geometry, c.rho, n, s.last)
			}
		}
	}
}

// What does not converge at all is handed on as it was, and told.
func TestSingleStalls(t *testing.T) {
	for _, m := range meshes() {
		s := open(m)
		rho := constant(m, 2)
		s.Assemble(rho, m.Disc(nil, 0, 1*mm), 0)
		s.Solve(1e-3)
		if n, ok := s.single.solve(s.Phi, 1e-12); ok || n >= MostIterations {
			t.Errorf("%v: single precision claims a tolerance of 1e-12 after %d iterations", m.Geometry, n)
		}
		if n := s.Solve(1e-12); s.last != inDouble || n >= MostIterations {
			t.Errorf("%v: %d iterations in precision %d", m.Geometry, n, s.last)
		}
	}
}

// A solution that comes to no number does not spoil the next.
func TestRecoversFromWhatIsNoNumber(t *testing.T) {
	for _, m := range meshes() {
		s := open(m)
		contacts := m.Disc(nil, 0, 1*mm)
		s.Assemble(constant(m, 2), contacts, 0)
		s.Solve(1e-3)
		bad := constant(m, 2)
		bad[contacts[0].P] = math.NaN()
		s.Assemble(bad, contacts, 0)
		if _, ok := s.single.solve(s.Phi, 1e-3); ok {
			t.Fatalf("%v: solved with a resistivity that is no number", m.Geometry)
		}
		s.Assemble(shell(m, 20), contacts, 0)
		if n, ok := s.single.solve(s.Phi, 1e-3); !ok || n == 0 {
			t.Errorf("%v: %d iterations afterwards, reached: %v", m.Geometry, n, ok)
		}
	}
}

// Films, and tolerances that single precision cannot hold, are for double precision.
func TestDoubleFromTheStart(t *testing.T) {
	for _, m := range meshes() {
		s := open(m)
		s.Assemble(constant(m, 2), m.Disc(nil, 0, 1*mm), 0)
		s.Solve(tightest / 2)
		if s.last != inDouble {
			t.Errorf("%v: a tolerance of %g in single precision", m.Geometry, tightest/2)
		}
		s.FilmOhmM2, s.FilmHeatShare = 0.01, 1
		s.Assemble(constant(m, 2), m.Disc(nil, 0, 1*mm), 0)
		s.Solve(1e-2)
		if s.last != inDouble {
			t.Errorf("%v: a film in single precision", m.Geometry)
		}
	}
}

// Current in is current out to rounding, whatever the tolerance.
func TestChargeCloses(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	for _, m := range meshes() {
		for _, tol := range []float64{1e-4, 1e-2, 0.3} {
			s := open(m)
			q := make([]float64, m.Len())
			for range 4 {
				s.Assemble(uneven(m, rng), m.Disc(nil, 0, 1*mm), 0)
				s.Solve(tol)
				if sol := s.Heat(q); s.last != inSingle || math.Abs(sol.InS-sol.OutS) > 1e-13*sol.InS {
					t.Errorf("%v: tolerance %g leaves %.2g of the current missing", m.Geometry, tol, math.Abs(sol.InS-sol.OutS)/sol.InS)
				}
			}
		}
	}
}

// Combine finds the solution where it lies in the span, and leaves out what is in it twice.
func TestCombine(t *testing.T) {
	a := [3][3]float64{{4, 1, 0.5}, {1, 3, 0.2}, {0.5, 0.2, 2}}
	want := [3]float64{1, -2, 0.5}
	var b [3]float64
	for i := range a {
		for j := range a {
			b[i] += a[i][j] * want[j]
		}
	}
	x := combine(a, b)
	for i := range x {
		if math.Abs(x[i]-want[i]) > 1e-12 {
			t.Errorf("%g, want %g", x, want)
		}
	}
	twice := [3][3]float64{{4, 4, 1}, {4, 4, 1}, {1, 1, 2}}
	if x := combine(twice, [3]float64{4, 4, 1}); x != [3]float64{1, 0, 0} {
		t.Errorf("%g, want the first direction alone", x)
	}
	if x := combine([3][3]float64{{4}}, [3]float64{2}); x != [3]float64{0.5, 0, 0} {
		t.Errorf("%g without past solutions", x)
	}
}

// Each precision starts from what the other has found, and from what came before that.
func TestPrecisionsShareTheirPast(t *testing.T) {
	for _, m := range meshes() {
		one, other, third := constant(m, 2), shell(m, 20), shell(m, 50)
		contacts := m.Disc(nil, 0, 1*mm)
		solve := func(s *Solver, rho []float64, tol float64) int {
			s.Assemble(rho, contacts, 0)
			return s.Solve(tol)
		}
		coldSingle, coldDouble := solve(open(m), one, 1e-3), solve(open(m), one, tightest/2)
		s := open(m)
		solve(s, one, 1e-4)
		solve(s, other, 1e-4)
		if n := solve(s, one, tightest/2); n > coldDouble/2 {
			t.Errorf("%v: double precision takes %d iterations after single ones of the same, %d without", m.Geometry, n, coldDouble)
		}
		solve(s, other, tightest/2)
		if n := solve(s, one, 1e-3); n > coldSingle/4 {
			t.Errorf("%v: single precision takes %d iterations after double ones of the same, %d without", m.Geometry, n, coldSingle)
		}
		solve(s, third, tightest/2)
		if n := solve(s, third, 1e-3); n > 0 {
			t.Errorf("%v: %d iterations in single precision for what double has found", m.Geometry, n)
		}
	}
}
