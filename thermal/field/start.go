package field

import (
	"math"

	"muralheat/thermal/field/kernel"
)

// Two kinds of smooth error converge slowly: the tissue as a whole at a wrong
// potential behind a dried contact, and what a moving electrode or a drying contact
// changed everywhere a little. Both are nearly known beforehand. The start is the
// best in the energy norm within the span of a constant and the last two solutions
// (Fischer 1998, Comput Methods Appl Mech Eng 163:193), and the iteration is kept
// orthogonal to the constant (deflation; Saad, Yeung, Erhel and Guyomarc'h 2000, SIAM
// J Sci Comput 21:1909). The residual then sums to zero over all cells: the current in
// equals the current out to rounding, whatever the tolerance.

// memory is how many earlier solutions the start draws on.
const memory = 2

// coarse is the space of the start for the current equations.
type coarse struct {
	past   [memory][]float64     // earlier solutions, newest first
	basis  [memory + 1][]float64 // directions of unit energy, A-orthogonal to each other
	image  [memory + 1][]float64 // A basis
	kept   int
	energy float64 // of the start: phi.A phi, W/V2
}

func newCoarse(n int) (c coarse) {
	for i := range c.basis {
		c.basis[i], c.image[i] = make([]float64, n), make([]float64, n)
	}
	for i := range c.past {
		c.past[i] = make([]float64, n)
	}
	return c
}

// start replaces phi, the last solution, by the projected start and sets r to its
// residual b - A phi.
func (s *double) start(phi, r []float64) {
	m, c := s.m, &s.coarse
	n0, n1 := m.Plane(), m.Plane()+m.Cells()
	last := c.past[memory-1]
	copy(c.past[1:], c.past[:memory-1])
	c.past[0] = last
	copy(last, phi)

	c.kept, c.energy = 0, 0
	clear(phi)
	copy(r[n0:n1], s.b[n0:n1])

	// Inner faces see no current in a constant: only contacts and far faces do.
	v, a := c.basis[0], c.image[0]
	for i := n0; i < n1; i++ {
		v[i] = 1
		if s.diag[i] < kernel.Hollow { // no potential there: whatever is left would grow
			v[i] = 0
			for l := range c.past {
				c.past[l][i] = 0
			}
		}
	}
	copy(a[n0:n1], s.b[n0:n1])
	for _, f := range s.far {
		a[f.p] += f.g
	}
	s.project(phi, r, dot(a[n0:n1], v[n0:n1]))
	for l := range c.past {
		v, a := c.basis[c.kept], c.image[c.kept]
		copy(v[n0:n1], c.past[l][n0:n1])
		if l > 0 {
			add(v[n0:n1], -1, c.past[l-1][n0:n1])
		}
		s.project(phi, r, s.apply(a, v))
	}
}

// project makes basis[kept], whose image is known, a direction of the space unless
// it is one already, and takes the solution's share along it from r to phi. norm is
// its energy.
func (s *double) project(phi, r []float64, norm float64) {
	m, c := s.m, &s.coarse
	n0, n1 := m.Plane(), m.Plane()+m.Cells()
	v, a := c.basis[c.kept][n0:n1], c.image[c.kept][n0:n1]
	for o := range c.kept {
		b, ab := c.basis[o][n0:n1], c.image[o][n0:n1]
		along := dot(ab, v)
		add(v, -along, b)
		add(a, -along, ab)
	}
	left := norm
	if c.kept > 0 {
		left = dot(a, v)
	}
	if !(left > 1e-10*norm) {
		return
	}
	inv := 1 / math.Sqrt(left)
	for i := range v {
		v[i] *= inv
		a[i] *= inv
	}
	along := dot(s.b[n0:n1], v)
	add(phi[n0:n1], along, v)
	add(r[n0:n1], -along, a)
	c.energy += along * along
	c.kept++
}

// lift turns the constant into a direction of the preconditioned system, and r into
// its residual, in place:
//
//	basis <- (I-L') S^-1 basis,   image <- (I-L)^-1 S image,   r <- (I-L)^-1 S r
func (s *double) lift(r []float64) {
	m := s.m
	row, pl := m.NX, m.Plane()
	v, a, sc := s.coarse.basis[0], s.coarse.image[0], s.scale
	for p := pl; p < pl+m.Cells(); p++ {
		v[p] /= sc[p]
		a[p] *= sc[p]
		r[p] *= sc[p]
	}
	lx, ly, lz := s.l.X, s.l.Y, s.l.Z
	flat := m.NY == 1
	for p := pl; p < pl+m.Cells(); p++ {
		w := v[p] - lx[p]*v[p+1] - lz[p]*v[p+pl]
		x := r[p] + lx[p-1]*r[p-1] + lz[p-pl]*r[p-pl]
		y := a[p] + lx[p-1]*a[p-1] + lz[p-pl]*a[p-pl]
		if !flat {
			w -= ly[p] * v[p+row]
			x += ly[p-row] * r[p-row]
			y += ly[p-row] * a[p-row]
		}
		v[p], r[p], a[p] = w, x, y
	}
}

// add sets y += a x.
func add(y []float64, a float64, x []float64) {
	x = x[:len(y)]
	for i := range y {
		y[i] += a * x[i]
	}
}

// apply sets a = A v and returns v.A v.
func (s *double) apply(a, v []float64) float64 {
	m := s.m
	gx, gy, gz := s.g.X, s.g.Y, s.g.Z
	row, pl := m.NX, m.Plane()
	sum := 0.0
	for p := pl; p < pl+m.Cells(); p += row {
		out := a[p : p+row]
		n := len(out)
		d, c, e := s.diag[p:][:n], v[p:][:n], v[p+1:][:n]
		up, dn, gu, gd := v[p-pl:][:n], v[p+pl:][:n], gz[p-pl:][:n], gz[p:][:n]
		ge := gx[p:][:n]
		vw, gw := 0.0, 0.0
		for i := range out {
			x := c[i]
			y := d[i]*x - ge[i]*e[i] - gw*vw - gu[i]*up[i] - gd[i]*dn[i]
			out[i] = y
			sum += x * y
			vw, gw = x, ge[i]
		}
		if m.NY > 1 {
			no, so, gn, gs := v[p-row:][:n], v[p+row:][:n], gy[p-row:][:n], gy[p:][:n]
			for i := range out {
				y := gn[i]*no[i] + gs[i]*so[i]
				out[i] -= y
				sum -= c[i] * y
			}
		}
	}
	return sum
}
