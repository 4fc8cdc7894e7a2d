package kernel

// loops are the kernels; arguments are as long as the Layout has it.
type loops interface {
	couple(l *Layout, rho Field, half, g Quads)
	factor(l *Layout, g, lk Quads, scale, inverse, ws, wz Field)
	lift(l *Layout, t Field, lk Quads, p Field)
	backward(l *Layout, beta, share float32, r, con, p Field, lk Quads, t Field)
	forward(l *Layout, p, t Field, lk Quads, u, w Field) float64
	update(l *Layout, alpha float32, t, w, c, y, r Field) (rr, cr float64)
	joule(l *Layout, phi, rho Field, half, g Quads, q Field) float64
	potential(l *Layout, base float32, scale, y, phi Field)
	mixed(l *Layout, alpha, beta float32, a, b, c, v, y Field)
	energies(l *Layout, a, b Field, g Quads) (aa, ab, bb float64)
	inflow(l *Layout, v Field, g Quads, scale, out Field)
	dot(l *Layout, a, b Field) float64
	pack(l *Layout, v []float64, f Field)
	unpack(l *Layout, f Field, v []float64)
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
	l.fields(rho)
	l.quads(half, g)
	use.couple(l, rho, half, g)
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
	l.fields(scale, inverse, u, w)
	l.quads(g, lk)
	use.factor(l, g, lk, scale, inverse, u, w)
}

// Lift sets p = (I-L') t:
//
//	p = t - lk_east[X] t_east - lk_north[Y] t_north - lk_down[Z] t_down
func (l *Layout) Lift(t Field, lk Quads, p Field) {
	l.fields(t, p)
	l.quads(lk)
	use.lift(l, t, lk, p)
}

// Backward sets the search direction p and t = (I-L')^-1 p, from the last cell to the first:
//
//	p = r + beta p - share con
//	t = p + lk_down[Z] t_down + lk_east[X] t_east + lk_north[Y] t_north
func (l *Layout) Backward(beta, share float32, r, con, p Field, lk Quads, t Field) {
	l.fields(r, con, p, t)
	l.quads(lk)
	use.backward(l, beta, share, r, con, p, lk, t)
}

// Forward sets w to the preconditioned matrix times p, given t = (I-L')^-1 p, and returns
// p.w; u = (I-L)^-1 (p + (D-2I) t) comes with it, from the first cell to the last:
//
//	u = p + lk[D] t + lk[Z] u_up + lk[X] u_west + lk[Y] u_south
//	w = t + u
func (l *Layout) Forward(p, t Field, lk Quads, u, w Field) float64 {
	l.fields(p, t, u, w)
	l.quads(lk)
	return use.forward(l, p, t, lk, u, w)
}

// Update goes along a direction and returns r.r and c.r:
//
//	y += alpha t,   r -= alpha w
func (l *Layout) Update(alpha float32, t, w, c, y, r Field) (rr, cr float64) {
	l.fields(t, w, c, y, r)
	return use.update(l, alpha, t, w, c, y, r)
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
	return use.joule(l, phi, rho, half, g, q)
}

// Potential sets phi = base + scale y where there is tissue, 0 elsewhere.
func (l *Layout) Potential(base float32, scale, y, phi Field) {
	l.fields(scale, y, phi)
	use.potential(l, base, scale, y, phi)
}

// Mixed sets v = alpha a + beta b and y = v c.
func (l *Layout) Mixed(alpha float32, a Field, beta float32, b, c, v, y Field) {
	l.fields(a, b, c, v, y)
	use.mixed(l, alpha, beta, a, b, c, v, y)
}

// Energies returns the power of the potentials a and d = a - b, and what they have in common, in the faces between cells:
//
//	aa = sum over faces of g (a - a_before)^2,   ad = sum of g (a - a_before) (d - d_before),   dd = sum of g (d - d_before)^2
func (l *Layout) Energies(a, b Field, g Quads) (aa, ad, dd float64) {
	l.fields(a, b)
	l.quads(g)
	return use.energies(l, a, b, g)
}

// Inflow sets out to what flows into a cell through its six faces at the potential v, times scale:
//
//	out = scale sum over faces of g (v_beyond - v)
func (l *Layout) Inflow(v Field, g Quads, scale, out Field) {
	l.fields(v, scale, out)
	l.quads(g)
	use.inflow(l, v, g, scale, out)
}

// Dot returns the sum of a b.
func (l *Layout) Dot(a, b Field) float64 {
	l.fields(a, b)
	return use.dot(l, a, b)
}

// Pack sets the cells of f to v, which has them row by row in double precision; what is beyond Nothing is Void.
func (l *Layout) Pack(v []float64, f Field) {
	l.fields(f)
	l.rowByRow(v)
	use.pack(l, v, f)
}

// Unpack is its counterpart.
func (l *Layout) Unpack(f Field, v []float64) {
	l.fields(f)
	l.rowByRow(v)
	use.unpack(l, f, v)
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
