package field

import (
	"math"

	"muralheat/mesh"
	"muralheat/thermal/field/kernel"
)

// double is the method in double precision: for tolerances, and circuits, that single
// precision does not get to.
type double struct {
	*circuit
	g      mesh.Faces // conductances, S
	coarse coarse

	diag, b    []float64
	scale      []float64  // 1/sqrt of the pivots of the incomplete factor
	l          mesh.Faces // scaled couplings
	dd         []float64  // scaled diagonal - 2
	rHat, pHat []float64
	t, u, w    []float64 // guard planes stay zero
}

func newDouble(c *circuit) *double {
	m := c.m
	v := func() []float64 { return make([]float64, m.Len()) }
	return &double{
		circuit: c, g: m.NewFaces(), l: m.NewFaces(), coarse: newCoarse(m.Len()),
		diag: v(), b: v(), scale: v(), dd: v(), rHat: v(), pHat: v(), t: v(), u: v(), w: v(),
	}
}

// assemble sets up the equations and their factor.
func (s *double) assemble() {
	m := s.m
	m.Couple(s.rho, s.g)
	n0, n1 := m.Plane(), m.Plane()+m.Cells()
	gx, gy, gz := s.g.X, s.g.Y, s.g.Z
	row, pl := m.NX, m.Plane()
	for p := n0; p < n1; p++ {
		s.diag[p] = gx[p] + gx[p-1] + gz[p] + gz[p-pl]
		s.b[p] = 0
	}
	if m.NY > 1 {
		for p := n0; p < n1; p++ {
			s.diag[p] += gy[p] + gy[p-row]
		}
	}
	for i, c := range s.contacts {
		s.diag[c.P] += s.contactS[i]
		s.b[c.P] += s.contactS[i]
	}
	for _, f := range s.far {
		s.diag[f.p] += f.g
	}
	s.factor()
}

// factor computes the modified incomplete Cholesky factor without fill, MIC(0),
// as pivots e, then scales the system by 1/sqrt(e) so that all pivots are 1.
func (s *double) factor() {
	m := s.m
	gx, gy, gz := s.g.X, s.g.Y, s.g.Z
	row, pl := m.NX, m.Plane()
	n0, n1 := pl, pl+m.Cells()
	flat := m.NY == 1
	e := s.t // pivots, only needed here
	for p := n0; p < n1; p++ {
		d := s.diag[p]
		if d < kernel.Hollow { // metal or missing tissue: a row of its own
			e[p], s.scale[p] = 1, 1
			continue
		}
		v := d
		if g := gx[p-1]; g > 0 {
			q := p - 1
			v -= g * (g + kernel.Relax*(gy[q]+gz[q])) * e[q]
		}
		if !flat {
			if g := gy[p-row]; g > 0 {
				q := p - row
				v -= g * (g + kernel.Relax*(gx[q]+gz[q])) * e[q]
			}
		}
		if g := gz[p-pl]; g > 0 {
			q := p - pl
			v -= g * (g + kernel.Relax*(gx[q]+gy[q])) * e[q]
		}
		if v < kernel.Least*d {
			v = 1e-3 * d
		}
		e[p] = 1 / v
		s.scale[p] = math.Sqrt(e[p])
	}
	sc := s.scale
	for p := n0; p < n1; p++ {
		c := sc[p]
		s.l.X[p] = gx[p] * c * sc[p+1]
		s.l.Z[p] = gz[p] * c * sc[p+pl]
		s.dd[p] = s.diag[p]*c*c - 2
		if s.diag[p] < kernel.Hollow {
			s.dd[p] = -1
		}
	}
	if !flat {
		for p := n0; p < n1; p++ {
			s.l.Y[p] = gy[p] * sc[p] * sc[p+row]
		}
	}
}
