package kernel

// loops are the kernels, each over one side; arguments are as long as the Layout has it.
type loops interface {
	couple(l *Layout, s *side, rho Field, half, g Quads)
	factor(l *Layout, s *side, g, lk Quads, scale, inverse, ws, wz Field)
	lift(l *Layout, s *side, t Field, lk Quads, p Field)
	backward(l *Layout, s *side, beta, share float32, r, con, p Field, lk Quads, t Field)
	forward(l *Layout, s *side, p, t Field, lk Quads, u Field) float64
	update(l *Layout, s *side, alpha float32, t, u, c, y, r Field) (rr, cr float64)
	joule(l *Layout, s *side, phi, rho Field, half, g Quads, q Field) float64
	potential(l *Layout, s *side, base float32, scale, y, phi Field)
	mixed(l *Layout, s *side, alpha, beta float32, a, b, c, v, y Field)
	energies(l *Layout, s *side, a, b Field, g Quads) (aa, ab, bb float64)
	inflow(l *Layout, s *side, v Field, g Quads, scale, out Field)
	dot(l *Layout, s *side, a, b Field) float64
	pack(l *Layout, s *side, v []float64, f Field)
	unpack(l *Layout, s *side, f Field, v []float64)
}

// use is what the processor has.
var use loops = plain{}

// Couple sets the conductance of every face from the resistivity of its two cells, and g[D] to 0:
//
//	g[X] = 1/(rho_west half_west[E] + rho half[W])
//	g[Y] = 1/(rho_south half_south[Y] + rho half[Y])
//	g[Z] = 1/(rho_up half_up[Z] + rho half[Z])
//
// half holds lengths over areas of half cells, 1/m; with rho in ohm m, g is in siemens.
func (l *Layout) Couple(rho Field, half, g Quads) {
	l.fields(rho)
	l.quads(half, g)
	l.run(pass{f: [5]Field{rho}, q: [2]Quads{half, g}, over: func(l *Layout, a *pass, s *side) (none sums) {
		use.couple(l, s, a.f[0], a.q[0], a.q[1])
		for _, step := range s.planes { // no row before the first
			for i := range l.NX {
				a.q[1][step+i][Y][0] = 0
			}
		}
		return none
	}})
}

// Factor computes the modified incomplete Cholesky factor of the equations of current, whose
// diagonal is the sum d of the g of a cell's six faces and its g[D], as pivots v, and scales
// them by 1/sqrt(v):
//
//	v = max(d - sum over faces to the cells before of g (g + Relax (its other two)) / v_before, Least d)
//	scale = 1/sqrt(v),  inverse = sqrt(v),   both 0 without tissue (d < Hollow)
//	lk[X] = g[X] scale scale_west,  lk[Y], lk[Z] likewise,   lk[D] = d/v - 2
//
// Before and after are in the order of elimination: the planes from both ends to the middle one, which has
// two before it and none after. The other two of a face are the faces of its cell before towards cells after, as in the
// method in double precision of package field. ws and wz are room to work in.
func (l *Layout) Factor(g, lk Quads, scale, inverse, ws, wz Field) {
	l.fields(scale, inverse, ws, wz)
	l.quads(g, lk)
	l.run(pass{when: middleLast, f: [5]Field{scale, inverse, ws, wz}, q: [2]Quads{g, lk}, over: func(l *Layout, a *pass, s *side) (none sums) {
		use.factor(l, s, a.q[0], a.q[1], a.f[0], a.f[1], a.f[2], a.f[3])
		return none
	}})
}

// Lift sets p = (I-L') t:
//
//	p = t - lk_east[X] t_east - lk_north[Y] t_north - lk_after[Z] t_after
func (l *Layout) Lift(t Field, lk Quads, p Field) {
	l.fields(t, p)
	l.quads(lk)
	l.run(pass{f: [5]Field{t, p}, q: [2]Quads{lk}, over: func(l *Layout, a *pass, s *side) (none sums) {
		use.lift(l, s, a.f[0], a.q[0], a.f[1])
		return none
	}})
}

// Backward sets the search direction p and t = (I-L')^-1 p, from the last cell to the first:
//
//	p = r + beta p - share con
//	t = p + lk_after[Z] t_after + lk_east[X] t_east + lk_north[Y] t_north
func (l *Layout) Backward(beta, share float32, r, con, p Field, lk Quads, t Field) {
	l.fields(r, con, p, t)
	l.quads(lk)
	l.run(pass{when: middleFirst, alpha: share, beta: beta, f: [5]Field{r, con, p, t}, q: [2]Quads{lk}, over: func(l *Layout, a *pass, s *side) (none sums) {
		use.backward(l, s, a.beta, a.alpha, a.f[0], a.f[1], a.f[2], a.q[0], a.f[3])
		return none
	}})
}

// Forward sets u = (I-L)^-1 (p + (D-2I) t), given t = (I-L')^-1 p, from the first cell to the last, and returns
// p.(t + u): the preconditioned matrix times p is t + u.
//
//	u = p + lk[D] t + lk[Z] u_before + lk[X] u_west + lk[Y] u_south
func (l *Layout) Forward(p, t Field, lk Quads, u Field) float64 {
	l.fields(p, t, u)
	l.quads(lk)
	return l.run(pass{when: middleLast, f: [5]Field{p, t, u}, q: [2]Quads{lk}, over: func(l *Layout, a *pass, s *side) sums {
		return sums{use.forward(l, s, a.f[0], a.f[1], a.q[0], a.f[2])}
	}})[0]
}

// Update goes along a direction and returns r.r and c.r:
//
//	y += alpha t,   r -= alpha (t + u)
func (l *Layout) Update(alpha float32, t, u, c, y, r Field) (rr, cr float64) {
	l.fields(t, u, c, y, r)
	s := l.run(pass{alpha: alpha, f: [5]Field{t, u, c, y, r}, over: func(l *Layout, a *pass, s *side) (both sums) {
		both[0], both[1] = use.update(l, s, a.alpha, a.f[0], a.f[1], a.f[2], a.f[3], a.f[4])
		return both
	}})
	return s[0], s[1]
}

// Joule sets q to the heat of the current through the six faces of a cell, each half cell
// getting what its own resistance turns into heat, W at phi in volts:
//
//	q = rho (half[W] I_west^2 + half[E] I_east^2 + half[Y] (I_south^2 + I_north^2) + half[Z] (I_up^2 + I_down^2))
//	I = g (phi - phi_beyond)
//
// It returns the sum of q.
func (l *Layout) Joule(phi, rho Field, half, g Quads, q Field) float64 {
	l.fields(phi, rho, q)
	l.quads(half, g)
	return l.run(pass{f: [5]Field{phi, rho, q}, q: [2]Quads{half, g}, over: func(l *Layout, a *pass, s *side) sums {
		return sums{use.joule(l, s, a.f[0], a.f[1], a.q[0], a.q[1], a.f[2])}
	}})[0]
}

// Potential sets phi = base + scale y where there is tissue, 0 elsewhere.
func (l *Layout) Potential(base float32, scale, y, phi Field) {
	l.fields(scale, y, phi)
	l.run(pass{alpha: base, f: [5]Field{scale, y, phi}, over: func(l *Layout, a *pass, s *side) (none sums) {
		use.potential(l, s, a.alpha, a.f[0], a.f[1], a.f[2])
		return none
	}})
}

// Mixed sets v = alpha a + beta b and y = v c.
func (l *Layout) Mixed(alpha float32, a Field, beta float32, b, c, v, y Field) {
	l.fields(a, b, c, v, y)
	l.run(pass{alpha: alpha, beta: beta, f: [5]Field{a, b, c, v, y}, over: func(l *Layout, a *pass, s *side) (none sums) {
		use.mixed(l, s, a.alpha, a.beta, a.f[0], a.f[1], a.f[2], a.f[3], a.f[4])
		return none
	}})
}

// Energies returns the power of the potentials a and d = a - b, and what they have in common, in the faces between cells:
//
//	aa = sum over faces of g (a - a_before)^2,   ad = sum of g (a - a_before) (d - d_before),   dd = sum of g (d - d_before)^2
func (l *Layout) Energies(a, b Field, g Quads) (aa, ad, dd float64) {
	l.fields(a, b)
	l.quads(g)
	s := l.run(pass{f: [5]Field{a, b}, q: [2]Quads{g}, over: func(l *Layout, a *pass, s *side) (all sums) {
		all[0], all[1], all[2] = use.energies(l, s, a.f[0], a.f[1], a.q[0])
		return all
	}})
	return s[0], s[1], s[2]
}

// Inflow sets out to what flows into a cell through its six faces at the potential v, times scale:
//
//	out = scale sum over faces of g (v_beyond - v)
func (l *Layout) Inflow(v Field, g Quads, scale, out Field) {
	l.fields(v, scale, out)
	l.quads(g)
	l.run(pass{f: [5]Field{v, scale, out}, q: [2]Quads{g}, over: func(l *Layout, a *pass, s *side) (none sums) {
		use.inflow(l, s, a.f[0], a.q[0], a.f[1], a.f[2])
		return none
	}})
}

// Dot returns the sum of a b.
func (l *Layout) Dot(a, b Field) float64 {
	l.fields(a, b)
	return l.run(pass{f: [5]Field{a, b}, over: func(l *Layout, a *pass, s *side) sums {
		return sums{use.dot(l, s, a.f[0], a.f[1])}
	}})[0]
}

// Pack sets the cells of f to v, which has those of the mesh in double precision; what is beyond Nothing is Void.
func (l *Layout) Pack(v []float64, f Field) {
	l.fields(f)
	l.rowByRow(v)
	l.run(pass{v: v, f: [5]Field{f}, over: func(l *Layout, a *pass, s *side) (none sums) {
		use.pack(l, s, a.v, a.f[0])
		return none
	}})
}

// Unpack is its counterpart.
func (l *Layout) Unpack(f Field, v []float64) {
	l.fields(f)
	l.rowByRow(v)
	l.run(pass{v: v, f: [5]Field{f}, over: func(l *Layout, a *pass, s *side) (none sums) {
		use.unpack(l, s, a.f[0], a.v)
		return none
	}})
}

// fields and quads panic unless arguments are as long as l has it: assembly does not look.
func (l *Layout) fields(fs ...Field) {
	for _, f := range fs {
		if len(f) != l.Len() {
			panic("kernel: field of another layout")
		}
	}
}

func (l *Layout) quads(qs ...Quads) {
	for _, q := range qs {
		if len(q) != l.Len() {
			panic("kernel: field of another layout")
		}
	}
}

// rowByRow panics unless v has as many numbers as l has cells.
func (l *Layout) rowByRow(v []float64) {
	if len(v) != l.NX*l.NRow*l.NPlane {
		panic("kernel: field of another mesh")
	}
}
