package thermal

import (
	"math"
	"testing"

	"muralheat/mesh"
)

// injuryMeshes are graded, with a border between two layers at 1 mm.
func injuryMeshes() []*mesh.Mesh {
	z := mesh.Grading{To: 1e-3, FinestM: 0.13e-3, Slope: 0.3}.Axis(0, 1e-3, 4e-3)
	return []*mesh.Mesh{
		mesh.New(mesh.Axisymmetric, mesh.Grading{To: 1e-3, FinestM: 0.2e-3, Slope: 0.3}.Axis(0, 5e-3), mesh.Axis{}, z),
		mesh.New(mesh.Track, mesh.Grading{From: -1e-3, To: 1e-3, FinestM: 0.3e-3, Slope: 0.3}.Axis(-3e-3, 3e-3),
			mesh.Grading{To: 1e-3, FinestM: 0.2e-3, Slope: 0.3}.Axis(0, 5e-3), z),
	}
}

// sheet is a surface of ln Omega = f(across, depth).
func sheet(m *mesh.Mesh, f func(across, z float64) float64) surface {
	omega := make([]float64, m.Len())
	for k := range m.NZ {
		for j := range m.NY {
			for i := range m.NX {
				across := m.X.Centres[i]
				if m.Geometry == mesh.Track {
					across = m.Y.Centres[j]
				}
				omega[m.Index(i, j, k)] = math.Exp(f(across, m.Z.Centres[k]))
			}
		}
	}
	never := func(int) bool { return false }
	return surface{m, omega, make([]bool, m.Len()), never, 0, 0}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-12 {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// Injury above the wall alone, in a stalk, has no depth, however slowly it falls off within.
func TestNoDepthAboveTheWall(t *testing.T) {
	z := mesh.Grading{From: -2e-3, To: 1e-3, FinestM: 0.13e-3, Slope: 0.3}.Axis(-4e-3, 0, 4e-3)
	m := mesh.New(mesh.Axisymmetric, mesh.Grading{To: 1e-3, FinestM: 0.2e-3, Slope: 0.3}.Axis(0, 5e-3), mesh.Axis{}, z)
	s := sheet(m, func(_, z float64) float64 {
		if z < -0.8e-3 {
			return 2 - 50*z // hardly less from cell to cell
		}
		return -5
	})
	if !s.injured(m.Index(0, 0, m.Z.Find(-1e-3))) {
		t.Fatal("no injury: the case tests nothing")
	}
	near(t, "depth", s.depth(), 0)
}

// A front on which ln Omega is a plane is found exactly, wherever it lies between
// the cells' centres; so are the volumes it bounds in each layer.
func TestPlaneFrontIsExact(t *testing.T) {
	const slope = 4e3 // per m: six decades over the wall
	for _, m := range injuryMeshes() {
		area := math.Pi * 25e-6
		if m.Geometry == mesh.Track {
			area = 6e-3 * 10e-3
		}
		for _, d := range []float64{0.2e-3, 0.51e-3, 0.97e-3, 1.4e-3, 2.9e-3} {
			s := sheet(m, func(_, z float64) float64 { return slope * (d - z) })
			near(t, "depth", s.depth(), d)
			v, _, deepest := s.volumes([]float64{0, 1e-3, 4e-3})
			near(t, "volume of the first layer", v[0]/area, math.Min(d, 1e-3))
			near(t, "volume of the second layer", v[1]/area, math.Max(0, d-1e-3))
			near(t, "deepest in the first layer", deepest[0], math.Min(d, 1e-3))
			near(t, "deepest in the second layer", deepest[1], math.Max(d, 1e-3))
			near(t, "half width of a front that reaches the side", s.halfWidth(), 5e-3)
		}
		for _, w := range []float64{0.31e-3, 1.1e-3, 2.2e-3} {
			s := sheet(m, func(across, _ float64) float64 { return slope * (w - across) })
			near(t, "half width", s.halfWidth(), w)
			near(t, "depth of a front that reaches the bottom", s.depth(), 4e-3)
		}
	}
}

// An injury that ends above the wall, within a stalk, has no depth in it, however evenly ln Omega lies in the stalk.
func TestInjuryOfAStalkOnly(t *testing.T) {
	z := mesh.Grading{From: -1e-3, To: 1e-3, FinestM: 0.13e-3, Slope: 0.3}.Axis(-2e-3, 0, 4e-3)
	m := mesh.New(mesh.Axisymmetric, mesh.Grading{To: 1e-3, FinestM: 0.2e-3, Slope: 0.3}.Axis(0, 5e-3), mesh.Axis{}, z)
	for _, d := range []float64{-1.3e-3, -0.5e-3, 0.4e-3} {
		s := sheet(m, func(_, z float64) float64 { return math.Min(4e3*(d-z), 1-z) })
		near(t, "depth", s.depth(), math.Max(d, 0))
	}
}

// A sheet of injury within the wall is bounded on both sides.
func TestBuriedInjury(t *testing.T) {
	const top, bottom = 0.63e-3, 1.38e-3
	for _, m := range injuryMeshes() {
		s := sheet(m, func(_, z float64) float64 { return 4e3 * math.Min(z-top, bottom-z) })
		near(t, "depth", s.depth(), bottom)
		v, _, _ := s.volumes([]float64{0, 4e-3})
		area := 0.0
		for j := range m.NY {
			for i := range m.NX {
				area += m.Area(i, j)
			}
		}
		if d := math.Abs(v[0]/area - (bottom - top)); d > 1e-12 {
			t.Errorf("thickness off by %g m", d)
		}
	}
}

// No injury, no depth; a hole is none, but tissue cut away is injured, to its faces.
func TestNoneAndGone(t *testing.T) {
	for _, m := range injuryMeshes() {
		s := sheet(m, func(_, _ float64) float64 { return -3 })
		if s.depth() != 0 || s.halfWidth() != 0 {
			t.Errorf("no injury, but %g m deep, %g m wide", s.depth(), s.halfWidth())
		}
		for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
			i, j, k := m.Cell(p)
			s.gone[p] = i < m.NX/2+1 && j < 2 && k < 3
		}
		if s.depth() != 0 || s.halfWidth() != 0 {
			t.Errorf("a hole without injury is %g m deep, %g m wide", s.depth(), s.halfWidth())
		}
		s.cut = func(p int) bool { return s.gone[p] }
		near(t, "depth of a cut", s.depth(), m.Z.Faces[3])
		if m.Geometry == mesh.Track {
			near(t, "half width of a cut", s.halfWidth(), m.Y.Faces[2])
		} else {
			near(t, "half width of a cut", s.halfWidth(), m.X.Faces[m.NX/2+1])
		}
	}
}
