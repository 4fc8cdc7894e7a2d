package field

// backward sets t = (I-L')^-1 p.
func (s *double) backward(t, p []float64) {
	m := s.m
	row, pl := m.NX, m.Plane()
	for i := pl + m.Cells() - row; i >= pl; i -= row {
		tt := t[i:][:row]
		n := len(tt)
		pp, lx, lz, tz := p[i:][:n], s.l.X[i:][:n], s.l.Z[i:][:n], t[i+pl:][:n]
		v := 0.0
		if m.NY > 1 {
			ly, ty := s.l.Y[i:][:n], t[i+row:][:n]
			for c := n - 1; c >= 0; c-- {
				v = pp[c] + ly[c]*ty[c] + lz[c]*tz[c] + lx[c]*v
				tt[c] = v
			}
			continue
		}
		for c := n - 1; c >= 0; c-- {
			v = pp[c] + lz[c]*tz[c] + lx[c]*v
			tt[c] = v
		}
	}
}

// product sets w to the preconditioned matrix times p, given t from backward, and
// returns p.w:
//
//	u = (I-L)^-1 (p + (D-2I) t),   w = t + u
func (s *double) product(t, p []float64) float64 {
	m := s.m
	row, pl := m.NX, m.Plane()
	sum := 0.0
	for i := pl; i < pl+m.Cells(); i += row {
		uu := s.u[i:][:row]
		n := len(uu)
		pp, tt, dd, ww := p[i:][:n], t[i:][:n], s.dd[i:][:n], s.w[i:][:n]
		lx, lz, uz := s.l.X[i-1:][:n], s.l.Z[i-pl:][:n], s.u[i-pl:][:n]
		v := 0.0
		if m.NY > 1 {
			ly, uy := s.l.Y[i-row:][:n], s.u[i-row:][:n]
			for c := range uu {
				v = pp[c] + dd[c]*tt[c] + ly[c]*uy[c] + lz[c]*uz[c] + lx[c]*v
				uu[c], ww[c] = v, tt[c]+v
				sum += pp[c] * (tt[c] + v)
			}
			continue
		}
		for c := range uu {
			v = pp[c] + dd[c]*tt[c] + lz[c]*uz[c] + lx[c]*v
			uu[c], ww[c] = v, tt[c]+v
			sum += pp[c] * (tt[c] + v)
		}
	}
	return sum
}

// update moves along the search direction, phi += alpha S t and r -= alpha w, and
// returns r.r and c.r.
func (s *double) update(phi []float64, alpha float64, c []float64) (rr, cr float64) {
	n0, n := s.m.Plane(), s.m.Cells()
	f, t, sc := phi[n0:][:n], s.t[n0:][:n], s.scale[n0:][:n]
	r, w := s.rHat[n0:][:n], s.w[n0:][:n]
	c = c[:n]
	for i := range f {
		f[i] += alpha * sc[i] * t[i]
		v := r[i] - alpha*w[i]
		r[i] = v
		rr += v * v
		cr += v * c[i]
	}
	return rr, cr
}
