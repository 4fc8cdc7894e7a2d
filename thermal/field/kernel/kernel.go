package kernel

// loops are the kernels, on a span of steps; arguments are as long as the Layout has it.
type loops interface {
	couple(l *Layout, on span, rho Field, half, g Quads)
	factor(l *Layout, on span, g, lk Quads, scale, inverse, ws, wz Field)
	lift(l *Layout, on span, t Field, lk Quads, p Field)
	backward(l *Layout, on span, beta, share float32, r, con, p Field, lk Quads, t Field)
	forward(l *Layout, on span, p, t Field, lk Quads, u, w Field) float64
	update(l *Layout, on span, alpha float32, t, w, c, y, r Field) (rr, cr float64)
	joule(l *Layout, on span, phi, rho Field, half, g Quads, q Field) float64
	potential(l *Layout, on span, base float32, scale, y, phi Field)
	mixed(l *Layout, on span, alpha, beta float32, a, b, c, v, y Field)
	energies(l *Layout, on span, a, b Field, g Quads) (aa, ad, dd float64)
	inflow(l *Layout, on span, v Field, g Quads, scale, out Field)
	dot(l *Layout, on span, a, b Field) float64
	pack(l *Layout, on span, v []float64, f Field)
	unpack(l *Layout, on span, f Field, v []float64)
}

// use is what the processor has.
var use loops = plain{}

// Couple sets the conductance of every face from the resistivity of its two cells:
//
//	g[X] = 1/(rho_west half_west[E] + rho half[W])
//	g[Y] = 1/(rho_south half_south[Y] + rho half[Y])
//	g[Z] = 1/(rho_up half_up[Z] + rho half[Z])
//
// half holds lengths over areas of half cells, 1/m; with rho in ohm m, g is in siemens.
// g[D] is left as it is.
func (l *Layout) Couple(rho Field, half, g Quads) {
	l.ofSize(rho)
	l.ofSizeQuads(half, g)
	l.each(args{f: fields{rho}, q: quads{half, g}}, func(l *Layout, on span, a *args) (_ sums) {
		use.couple(l, on, a.f[0], a.q[0], a.q[1])
		return
	})
	for k := range l.NPlane {
		step, lane := l.Row(0, k) // no row before it
		for i := range l.NX {
			g[step+i][Y][lane] = 0
		}
	}
}

// Factor computes the modified incomplete Cholesky factor of the equations of current, whose
// diagonal is the sum d of the g of a cell's six faces and its g[D], as pivots v, and scales
// them by 1/sqrt(v):
//
//	v = max(d - sum over faces to the cells before of g (g + Relax (its other two)) / v_before, Least d)
//	scale = 1/sqrt(v),  inverse = sqrt(v),   both 0 without tissue (d < Hollow)
//	lk[X] = g[X] scale scale_west,  lk[Y], lk[Z] likewise,   lk[D] = d/v - 2
//
// The other two of a face are the faces of its cell before towards cells after, as in the
// method in double precision of package field. u and w are room to work in.
func (l *Layout) Factor(g, lk Quads, scale, inverse, u, w Field) {
	l.ofSize(scale, inverse, u, w)
	l.ofSizeQuads(g, lk)
	cut := l.cut / l.block * l.block // it takes nothing over from the step before
	l.upwards(cut, args{f: fields{scale, inverse, u, w}, q: quads{g, lk}}, func(l *Layout, on span, a *args) (_ sums) {
		use.factor(l, on, a.q[0], a.q[1], a.f[0], a.f[1], a.f[2], a.f[3])
		return
	})
}

// Lift sets p = (I-L') t:
//
//	p = t - lk_east[X] t_east - lk_north[Y] t_north - lk_down[Z] t_down
func (l *Layout) Lift(t Field, lk Quads, p Field) {
	l.ofSize(t, p)
	l.ofSizeQuads(lk)
	l.each(args{f: fields{t, p}, q: quads{lk}}, func(l *Layout, on span, a *args) (_ sums) {
		use.lift(l, on, a.f[0], a.q[0], a.f[1])
		return
	})
}

// Backward sets the search direction p and t = (I-L')^-1 p, from the last cell to the first:
//
//	p = r + beta p - share con
//	t = p + lk_down[Z] t_down + lk_east[X] t_east + lk_north[Y] t_north
func (l *Layout) Backward(beta, share float32, r, con, p Field, lk Quads, t Field) {
	l.ofSize(r, con, p, t)
	l.ofSizeQuads(lk)
	l.downwards(args{x: beta, y: share, f: fields{r, con, p, t}, q: quads{lk}}, func(l *Layout, on span, a *args) (_ sums) {
		use.backward(l, on, a.x, a.y, a.f[0], a.f[1], a.f[2], a.q[0], a.f[3])
		return
	})
}

// Forward sets w to the preconditioned matrix times p, given t = (I-L')^-1 p, and returns
// p.w; u = (I-L)^-1 (p + (D-2I) t) comes with it, from the first cell to the last:
//
//	u = p + lk[D] t + lk[Z] u_up + lk[X] u_west + lk[Y] u_south
//	w = t + u
func (l *Layout) Forward(p, t Field, lk Quads, u, w Field) float64 {
	l.ofSize(p, t, u, w)
	l.ofSizeQuads(lk)
	s := l.upwards(l.cut, args{f: fields{p, t, u, w}, q: quads{lk}}, func(l *Layout, on span, a *args) sums {
		return sums{use.forward(l, on, a.f[0], a.f[1], a.q[0], a.f[2], a.f[3])}
	})
	return s[0]
}

// Update goes along a direction and returns r.r and c.r:
//
//	y += alpha t,   r -= alpha w
func (l *Layout) Update(alpha float32, t, w, c, y, r Field) (rr, cr float64) {
	l.ofSize(t, w, c, y, r)
	s := l.each(args{x: alpha, f: fields{t, w, c, y, r}}, func(l *Layout, on span, a *args) (s sums) {
		s[0], s[1] = use.update(l, on, a.x, a.f[0], a.f[1], a.f[2], a.f[3], a.f[4])
		return s
	})
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
	l.ofSize(phi, rho, q)
	l.ofSizeQuads(half, g)
	s := l.each(args{f: fields{phi, rho, q}, q: quads{half, g}}, func(l *Layout, on span, a *args) sums {
		return sums{use.joule(l, on, a.f[0], a.f[1], a.q[0], a.q[1], a.f[2])}
	})
	return s[0]
}

// Potential sets phi = base + scale y where there is tissue, 0 elsewhere.
func (l *Layout) Potential(base float32, scale, y, phi Field) {
	l.ofSize(scale, y, phi)
	l.each(args{x: base, f: fields{scale, y, phi}}, func(l *Layout, on span, a *args) (_ sums) {
		use.potential(l, on, a.x, a.f[0], a.f[1], a.f[2])
		return
	})
}

// Mixed sets v = alpha a + beta b and y = v c.
func (l *Layout) Mixed(alpha float32, a Field, beta float32, b, c, v, y Field) {
	l.ofSize(a, b, c, v, y)
	l.each(args{x: alpha, y: beta, f: fields{a, b, c, v, y}}, func(l *Layout, on span, a *args) (_ sums) {
		use.mixed(l, on, a.x, a.y, a.f[0], a.f[1], a.f[2], a.f[3], a.f[4])
		return
	})
}

// Energies returns the power of the potentials a and d = a - b, and what they have in common, in the faces between cells:
//
//	aa = sum over faces of g (a - a_before)^2,   ad = sum of g (a - a_before) (d - d_before),   dd = sum of g (d - d_before)^2
func (l *Layout) Energies(a, b Field, g Quads) (aa, ad, dd float64) {
	l.ofSize(a, b)
	l.ofSizeQuads(g)
	s := l.each(args{f: fields{a, b}, q: quads{g}}, func(l *Layout, on span, a *args) (s sums) {
		s[0], s[1], s[2] = use.energies(l, on, a.f[0], a.f[1], a.q[0])
		return s
	})
	return s[0], s[1], s[2]
}

// Inflow sets out to what flows into a cell through its six faces at the potential v, times scale:
//
//	out = scale sum over faces of g (v_beyond - v)
func (l *Layout) Inflow(v Field, g Quads, scale, out Field) {
	l.ofSize(v, scale, out)
	l.ofSizeQuads(g)
	l.each(args{f: fields{v, scale, out}, q: quads{g}}, func(l *Layout, on span, a *args) (_ sums) {
		use.inflow(l, on, a.f[0], a.q[0], a.f[1], a.f[2])
		return
	})
}

// Dot returns the sum of a b.
func (l *Layout) Dot(a, b Field) float64 {
	l.ofSize(a, b)
	s := l.each(args{f: fields{a, b}}, func(l *Layout, on span, a *args) sums {
		return sums{use.dot(l, on, a.f[0], a.f[1])}
	})
	return s[0]
}

// Pack sets the cells of f to v, which has them row by row in double precision; what is beyond Nothing is Void.
func (l *Layout) Pack(v []float64, f Field) {
	l.ofSize(f)
	l.rowByRow(v)
	l.each(args{f: fields{f}, v: v}, func(l *Layout, on span, a *args) (_ sums) {
		use.pack(l, on, a.v, a.f[0])
		return
	})
}

// Unpack is its counterpart.
func (l *Layout) Unpack(f Field, v []float64) {
	l.ofSize(f)
	l.rowByRow(v)
	l.each(args{f: fields{f}, v: v}, func(l *Layout, on span, a *args) (_ sums) {
		use.unpack(l, on, a.f[0], a.v)
		return
	})
}

// ofSize and ofSizeQuads panic unless arguments are as long as l has it: assembly does not look.
func (l *Layout) ofSize(fs ...Field) {
	for _, f := range fs {
		if len(f) != l.Len() {
			panic("kernel: field of another layout")
		}
	}
}

func (l *Layout) ofSizeQuads(qs ...Quads) {
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
