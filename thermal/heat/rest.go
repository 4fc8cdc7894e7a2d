package heat

import (
	"math"
	"slices"
)

// rest is the balance of a body with its blood and its surroundings before anything
// heats it. What passes then is not counted in the energy balance of a run that starts from it.
type rest struct {
	storedJ                                float64 // relative to body temperature
	lumenW, outerW, electrodeW, perfusionW float64
}

// Settle brings the body to rest under the surfaces that are set and the heat src (W per
// cell): the temperatures at which nothing changes,
//
//	sum over faces of k (T_neighbour - T) + src - b (T - T_b) = 0
//
// by conjugate gradients scaled by the diagonal.
func (s *Solver) Settle(src []float64) {
	m := s.m
	row, pl := m.NX, m.Plane()
	n0, n1 := pl, pl+m.Cells()
	diag, r := make([]float64, m.Len()), make([]float64, m.Len())
	for p := n0; p < n1; p++ {
		if s.gone[p] {
			continue
		}
		diag[p] = s.rate(p) / s.invC[p]
	}
	inside := slices.Concat(s.exposed, s.metal)
	for _, w := range inside {
		diag[w.p] += w.g
	}
	// apply returns the heat that leaves each cell at temperatures x.
	apply := func(y, x []float64) {
		for p := n0; p < n1; p++ {
			y[p] = 0
			if diag[p] == 0 {
				continue
			}
			v := diag[p]*x[p] - s.k.X[p]*x[p+1] - s.k.X[p-1]*x[p-1] - s.k.Z[p]*x[p+pl] - s.k.Z[p-pl]*x[p-pl]
			if m.NY > 1 {
				v -= s.k.Y[p]*x[p+row] + s.k.Y[p-row]*x[p-row]
			}
			y[p] = v
		}
	}
	// With the ambient temperatures in the guard planes of T, r is what heat comes too much.
	apply(r, s.T)
	for p := n0; p < n1; p++ {
		if diag[p] > 0 {
			r[p] = s.SourceScale*src[p] + s.b[p]*s.bodyC - r[p]
		}
	}
	for _, w := range inside {
		r[w.p] += w.g * w.tC
	}
	d, q := make([]float64, m.Len()), make([]float64, m.Len())
	dot := func(a, b []float64) float64 {
		sum := 0.0
		for p := n0; p < n1; p++ {
			if diag[p] > 0 {
				sum += a[p] * b[p] / diag[p]
			}
		}
		return sum
	}
	for p := n0; p < n1; p++ {
		if diag[p] > 0 {
			d[p] = r[p] / diag[p]
		}
	}
	rr := dot(r, r)
	for first, n := rr, 0; rr > 1e-28*first && n < 20*(m.NX+m.NY+m.NZ)+1000; n++ {
		apply(q, d)
		dq := 0.0
		for p := n0; p < n1; p++ {
			dq += d[p] * q[p]
		}
		a := rr / dq
		for p := n0; p < n1; p++ {
			s.T[p] += a * d[p]
			r[p] -= a * q[p]
		}
		last := rr
		rr = dot(r, r)
		for p := n0; p < n1; p++ {
			if diag[p] > 0 {
				d[p] = r[p]/diag[p] + rr/last*d[p]
			}
		}
	}
	s.balance(src)
}

// AtRestW returns the largest of the rates at which heat passes through the body at rest, W.
func (s *Solver) AtRestW() float64 {
	r := &s.rest
	return max(math.Abs(r.lumenW), math.Abs(r.outerW), math.Abs(r.electrodeW), math.Abs(r.perfusionW))
}

// balance takes down what passes as things are.
func (s *Solver) balance(src []float64) {
	madeW := 0.0
	s.rest = rest{lumenW: s.passW(s.lumen) + s.passW(s.exposed), outerW: s.passW(s.outer), electrodeW: s.passW(s.contact) + s.passW(s.metal)}
	for p := s.m.Plane(); p < s.m.Plane()+s.m.Cells(); p++ {
		if s.gone[p] {
			continue
		}
		s.rest.storedJ += s.c[p] * (s.T[p] - s.bodyC)
		madeW += s.SourceScale * src[p]
	}
	// To rounding what blood takes is what is made less what the surfaces take: so that the
	// energy balance of a run closes as its steps do, whatever the iterations left.
	s.rest.perfusionW = madeW - s.rest.lumenW - s.rest.outerW - s.rest.electrodeW
}
