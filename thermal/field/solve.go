package field

// solve improves phi by conjugate gradients until the power of its error, as the
// preconditioner sees it, is below tol squared of that of the solution. It returns the
// number of iterations.
//
// The solution's power is what flows through the contacts, sum of g (1 - phi): much less
// than the energy phi.A phi of the equations, which a contact between metal at 1 V and a
// cell at nearly 1 V has in any case, the more the finer the mesh.
//
// The system scaled to unit pivots is A = D - L - L', its preconditioner
// (I-L)(I-L'). Writing A = (I-L) + (I-L') + (D-2I) turns one product with the
// preconditioned matrix into one backward and one forward substitution
// (Eisenstat 1981, SIAM J Sci Stat Comput 2:1):
//
//	t = (I-L')^-1 p,   w = t + (I-L)^-1 (p + (D-2I) t)
func (s *double) solve(phi []float64, tol float64) int {
	m := s.m
	n0, n1 := m.Plane(), m.Plane()+m.Cells()
	r, p, t := s.rHat, s.pHat, s.t

	s.start(phi, r)
	s.lift(r)
	con, cim := s.coarse.basis[0][n0:n1], s.coarse.image[0][n0:n1]
	rr, cr := dot(r[n0:n1], r[n0:n1]), dot(cim, r[n0:n1])
	power, rounding := s.allS-s.coarse.energy, 1e-12*s.allS
	clear(p[n0:n1])
	for it, beta := 0, 0.0; ; it++ {
		if rr <= tol*tol*max(power, rounding) || it == MostIterations {
			return it
		}
		direct(p[n0:n1], beta, r[n0:n1], cr, con)
		s.backward(t, p)
		pw := s.product(t, p)
		old := rr
		power -= rr * rr / pw // each step takes its energy from what is left over
		rr, cr = s.update(phi, rr/pw, cim)
		beta = rr / old
	}
}

// direct sets the search direction p = r + beta p, less its share along the constant.
func direct(p []float64, beta float64, r []float64, share float64, constant []float64) {
	r, constant = r[:len(p)], constant[:len(p)]
	for i, v := range p {
		p[i] = r[i] + beta*v - share*constant[i]
	}
}

func dot(a, b []float64) float64 {
	b = b[:len(a)]
	var s0, s1, s2, s3 float64
	i := 0
	for ; i+3 < len(a); i += 4 {
		s0 += a[i] * b[i]
		s1 += a[i+1] * b[i+1]
		s2 += a[i+2] * b[i+2]
		s3 += a[i+3] * b[i+3]
	}
	for ; i < len(a); i++ {
		s0 += a[i] * b[i]
	}
	return s0 + s1 + s2 + s3
}
