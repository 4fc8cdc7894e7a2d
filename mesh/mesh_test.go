package mesh

import (
	"math"
	"math/rand/v2"
	"testing"
)

const mm = 1e-3

// graded is an axis with unlike cells.
func graded(lo, hi float64) Axis {
	return Grading{From: lo, To: lo + (hi-lo)/4, FinestM: (hi - lo) / 40, Slope: 0.2}.Axis(lo, hi)
}

func cylinder() *Mesh { return New(Axisymmetric, graded(0, 10*mm), Axis{}, graded(0, 6*mm)) }
func box() *Mesh {
	return New(Track, graded(-4*mm, 8*mm), graded(0, 5*mm), graded(0, 6*mm))
}

func within(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g within %g", what, got, want, rel)
	}
}

func TestVolumesAndAreas(t *testing.T) {
	for _, c := range []struct {
		m                    *Mesh
		volume, top, outside float64
	}{
		// The box counts its mirrored half: 12 x 10 x 6 mm.
		{cylinder(), math.Pi * 100 * 6 * 1e-9, math.Pi * 100 * 1e-6, 2 * math.Pi * 10 * 6 * 1e-6},
		{box(), 12 * 10 * 6 * 1e-9, 12 * 10 * 1e-6, 2 * (12 + 10) * 6 * 1e-6},
	} {
		name := c.m.Geometry.String()
		sum := 0.0
		for k := range c.m.NZ {
			for j := range c.m.NY {
				for i := range c.m.NX {
					sum += c.m.Volume(i, j, k)
				}
			}
		}
		within(t, name+" volume", sum, c.volume, 1e-12)
		for _, f := range []struct {
			what  string
			faces []EdgeFace
			area  float64
		}{{"top", c.m.Top(), c.top}, {"bottom", c.m.Bottom(), c.top}, {"side", c.m.Side(), c.outside}} {
			area := 0.0
			for _, e := range f.faces {
				area += e.AreaM2
				if n := e.Out; n[0]*n[0]+n[1]*n[1]+n[2]*n[2] != 1 {
					t.Errorf("%s %s: normal %v", name, f.what, n)
				}
			}
			within(t, name+" "+f.what, area, f.area, 1e-12)
		}
	}
}

func TestIndexIsInvertible(t *testing.T) {
	for _, m := range []*Mesh{cylinder(), box()} {
		seen := 0
		for k := range m.NZ {
			for j := range m.NY {
				for i := range m.NX {
					a, b, c := m.Cell(m.Index(i, j, k))
					if a != i || b != j || c != k {
						t.Fatalf("Cell(Index(%d,%d,%d)) = %d,%d,%d", i, j, k, a, b, c)
					}
					seen++
				}
			}
		}
		if seen != m.Cells() || m.Len() != m.Cells()+2*m.Plane() {
			t.Errorf("%v: %d cells seen, Cells %d, Len %d", m.Geometry, seen, m.Cells(), m.Len())
		}
	}
}

// The half cells between two faces or centres must add up to the resistance of the
// shell, slab or series between them: ln(r2/r1)/(2 pi l sigma), d/(A sigma).
func TestCoupleIsExactInSeries(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, m := range []*Mesh{cylinder(), box()} {
		layer := make([]float64, m.NZ) // resistivity by depth
		for k := range layer {
			layer[k] = 0.5 + rng.Float64()
		}
		rho := make([]float64, m.Len())
		for k := range m.NZ {
			for p := m.Index(0, 0, k); p < m.Index(0, 0, k+1); p++ {
				rho[p] = layer[k]
			}
		}
		g := m.NewFaces()
		m.Couple(rho, g)
		series := func(a []float64, p, stride, n int) float64 {
			r := 0.0
			for i := range n - 1 {
				r += 1 / a[p+i*stride]
			}
			return r
		}
		k := m.NZ / 2
		x, z := m.X.Centres, m.Z.Centres
		dz := m.Z.Width(k)
		// Along x (the radius) within one depth.
		want := layer[k] * math.Log(x[m.NX-1]/x[0]) / (2 * math.Pi * dz)
		if m.Geometry == Track {
			want = layer[k] * (x[m.NX-1] - x[0]) / (2 * m.Y.Width(1) * dz)
			wantY := layer[k] * (m.Y.Centres[m.NY-1] - m.Y.Centres[0]) / (2 * m.X.Width(3) * dz)
			within(t, "along y", series(g.Y, m.Index(3, 0, k), m.NX, m.NY), wantY, 1e-12)
		}
		within(t, m.Geometry.String()+" along x", series(g.X, m.Index(0, min(1, m.NY-1), k), 1, m.NX), want, 1e-12)
		// Down one column through all layers.
		want = -(layer[0]*m.Z.Width(0) + layer[m.NZ-1]*m.Z.Width(m.NZ-1)) / 2
		for k := range layer {
			want += layer[k] * m.Z.Width(k)
		}
		within(t, m.Geometry.String()+" down", series(g.Z, m.Index(2, 0, 0), m.Plane(), m.NZ), want/m.Area(2, 0), 1e-12)
		if len(z) != m.NZ {
			t.Fatal("axis length")
		}
	}
}

func random(m *Mesh, rng *rand.Rand) []float64 {
	v := make([]float64, m.Len())
	for k := range m.NZ {
		for p := m.Index(0, 0, k); p < m.Index(0, 0, k+1); p++ {
			v[p] = math.Exp(3 * rng.NormFloat64())
		}
	}
	return v
}

// Property: updating one cell gives what coupling everything again gives, and
// nothing couples across the ends of rows, planes or the body.
func TestCoupleCellEqualsCouple(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for _, m := range []*Mesh{cylinder(), box()} {
		rho := random(m, rng)
		g := m.NewFaces()
		m.Couple(rho, g)
		for range 200 {
			p := m.Index(rng.IntN(m.NX), rng.IntN(m.NY), rng.IntN(m.NZ))
			rho[p] = math.Exp(3 * rng.NormFloat64())
			m.CoupleCell(p, rho, g)
		}
		full := m.NewFaces()
		m.Couple(rho, full)
		for name, pair := range map[string][2][]float64{"x": {g.X, full.X}, "y": {g.Y, full.Y}, "z": {g.Z, full.Z}} {
			for p := range pair[0] {
				if math.Abs(pair[0][p]-pair[1][p]) > 1e-12*pair[1][p] {
					t.Fatalf("%v %s face of cell %d: %g after CoupleCell, %g after Couple", m.Geometry, name, p, pair[0][p], pair[1][p])
				}
			}
		}
		for k := range m.NZ {
			for j := range m.NY {
				for i := range m.NX {
					p := m.Index(i, j, k)
					if (full.X[p] > 0) != (i+1 < m.NX) || (full.Y[p] > 0) != (j+1 < m.NY) || (full.Z[p] > 0) != (k+1 < m.NZ) {
						t.Fatalf("%v cell %d,%d,%d couples %g %g %g", m.Geometry, i, j, k, full.X[p], full.Y[p], full.Z[p])
					}
				}
			}
		}
	}
}

// Property: no heat is lost or made when it is split between cells, whatever the
// potential and the resistivity; the better conductor of a pair gets less.
func TestSplitJouleKeepsThePower(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for _, m := range []*Mesh{cylinder(), box()} {
		rho, phi := random(m, rng), random(m, rng)
		g := m.NewFaces()
		m.Couple(rho, g)
		q := make([]float64, m.Len())
		total := m.SplitJoule(rho, phi, g, q)
		want, sum := 0.0, 0.0
		for p := range q {
			if q[p] < 0 {
				t.Fatalf("negative heat in cell %d", p)
			}
			sum += q[p]
			for _, f := range []struct {
				g      []float64
				stride int
			}{{g.X, 1}, {g.Y, m.NX}, {g.Z, m.Plane()}} {
				if c := f.g[p]; c > 0 {
					d := phi[p] - phi[p+f.stride]
					want += c * d * d
				}
			}
		}
		within(t, m.Geometry.String()+" returned", total, want, 1e-12)
		within(t, m.Geometry.String()+" in cells", sum, want, 1e-12)
	}
	// Two cells in series: heat as their resistances, 3:1.
	m := New(Track, NewAxis([]float64{0, 1, 2}), NewAxis([]float64{0, 1}), NewAxis([]float64{0, 1}))
	rho, phi := make([]float64, m.Len()), make([]float64, m.Len())
	a, b := m.Index(0, 0, 0), m.Index(1, 0, 0)
	rho[a], rho[b], phi[a] = 3, 1, 1
	g := m.NewFaces()
	m.Couple(rho, g)
	q := make([]float64, m.Len())
	m.SplitJoule(rho, phi, g, q)
	within(t, "heat of a series", q[a]/q[b], 3, 1e-12)
}
