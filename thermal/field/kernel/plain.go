package kernel

import "math"

// plain are the kernels in Go. Conversions keep products from being fused into sums, so that
// every machine rounds alike.
type plain struct{}

func (plain) couple(l *Layout, rho Field, half, g Quads) {
	at := l.first - 1
	var east, across Lanes
	for r := range rows {
		east[r], across[r] = float32(rho[at][r]*half[at][E][r]), float32(rho[at][r]*half[at][Y][r])
	}
	south, up := l.south(), -l.plane
	for s := l.first; s < l.first+l.n; s++ {
		v, h, o, over, overHalf := &rho[s], &half[s], &g[s], &rho[s+up], &half[s+up][Z]
		edge := float32(rho[s+south][rows-1] * half[s+south][Y][rows-1])
		before := moved(&across, edge)
		for r := range rows {
			o[X][r] = 1 / (east[r] + float32(v[r]*h[W][r]))
			east[r] = float32(v[r] * h[E][r])
			across[r] = float32(v[r] * h[Y][r])
			o[Y][r] = 1 / (before[r] + across[r])
			o[Z][r] = 1 / (float32(over[r]*overHalf[r]) + float32(v[r]*h[Z][r]))
		}
	}
}

func (plain) factor(l *Layout, g, lk Quads, scale, inverse, ws, wz Field) {
	var wx, wy, west Lanes
	south, north, pl := l.south(), l.north(), l.plane
	for s := l.first; s < l.first+l.n; s++ {
		o, a, b, down := &lk[s], &g[s], &g[s+1], &g[s+pl][Z]
		fromSouth, scaleSouth := moved(&wy, ws[s+south][rows-1]), moved(&west, scale[s+south][rows-1])
		fromUp, scaleUp := &wz[s-pl], &scale[s-pl]
		gn := movedBack(&b[Y], g[s+north][Y][0])
		for r := range rows {
			ge, gd := b[X][r], down[r]
			d := ((a[X][r] + ge) + (a[Y][r] + gn[r])) + ((a[Z][r] + gd) + a[D][r])
			v := d - ((wx[r] + fromSouth[r]) + fromUp[r])
			if floor := float32(Least * d); !(v > floor) {
				v = floor
			}
			inv := 1 / v
			if !(d >= Hollow) {
				inv = 0
			}
			c := float32(math.Sqrt(float64(inv)))
			o[X][r] = float32(float32(a[X][r]*c) * west[r])
			o[Y][r] = float32(float32(a[Y][r]*c) * scaleSouth[r])
			o[Z][r] = float32(float32(a[Z][r]*c) * scaleUp[r])
			o[D][r] = float32(d*inv) - 2
			scale[s][r], inverse[s][r] = c, float32(v*c)
			west[r] = c
			wx[r] = weight(ge, gn[r], gd, inv)
			wy[r] = weight(gn[r], ge, gd, inv)
			ws[s][r] = wy[r]
			wz[s][r] = weight(gd, ge, gn[r], inv)
		}
	}
}

// weight is what a pivot takes from the diagonal of the cell beyond the face g.
func weight(g, a, b, inv float32) float32 {
	return float32(float32(g*(g+float32(Relax*(a+b)))) * inv)
}

func (plain) lift(l *Layout, t Field, lk Quads, p Field) {
	north, pl := l.north(), l.plane
	for s := l.first; s < l.first+l.n; s++ {
		k, beside, td, kd := &lk[s+1], &t[s+1], &t[s+pl], &lk[s+pl][Z]
		tn, kn := movedBack(beside, t[s+north][0]), movedBack(&k[Y], lk[s+north][Y][0])
		for r := range rows {
			v := t[s][r] - float32(k[X][r]*beside[r])
			v -= float32(kn[r] * tn[r])
			p[s][r] = v - float32(kd[r]*td[r])
		}
	}
}

func (plain) backward(l *Layout, beta, share float32, r, con, p Field, lk Quads, t Field) {
	var v Lanes
	north, pl := l.north(), l.plane
	for s := l.first + l.n - 1; s >= l.first; s-- {
		rr, cc, pp, tt := &r[s], &con[s], &p[s], &t[s]
		k, td, kd := &lk[s+1], &t[s+pl], &lk[s+pl][Z]
		edge := float32(lk[s+north][Y][0] * t[s+north][0])
		for r := range rows {
			n := edge
			if r+1 < rows {
				n = float32(k[Y][r+1] * v[r+1]) // of the step before still
			}
			q := rr[r] + float32(beta*pp[r]) - float32(share*cc[r])
			pp[r] = q
			q += float32(kd[r] * td[r])
			v[r] = q + float32(k[X][r]*v[r]) + n
			tt[r] = v[r]
		}
	}
}

func (plain) forward(l *Layout, p, t Field, lk Quads, u, w Field) float64 {
	var v Lanes
	var sum total
	south, pl := l.south(), l.plane
	for s := l.first; s < l.first+l.n; s++ {
		pp, tt, k, uu, up, ww := &p[s], &t[s], &lk[s], &u[s], &u[s-pl], &w[s]
		edge := u[s+south][rows-1]
		for r := rows - 1; r >= 0; r-- {
			before := edge
			if r > 0 {
				before = v[r-1] // of the step before still
			}
			q := pp[r] + float32(tt[r]*k[D][r])
			q += float32(k[Z][r] * up[r])
			v[r] = q + float32(v[r]*k[X][r]) + float32(before*k[Y][r])
			uu[r] = v[r]
			ww[r] = tt[r] + v[r]
			sum[r] += float64(float32(pp[r] * ww[r]))
		}
	}
	return sum.value()
}

func (plain) update(l *Layout, alpha float32, t, w, c, y, r Field) (rr, cr float64) {
	var sr, sc total
	t, w, c, y, r = l.Cells(t), l.Cells(w), l.Cells(c), l.Cells(y), l.Cells(r)
	for s := range t {
		tt, ww, cc, yy, rs := &t[s], &w[s], &c[s], &y[s], &r[s]
		for i := range rows {
			yy[i] += float32(alpha * tt[i])
			v := rs[i] - float32(alpha*ww[i])
			rs[i] = v
			sr[i] += float64(float32(v * v))
			sc[i] += float64(float32(v * cc[i]))
		}
	}
	return sr.value(), sc.value()
}

func (plain) joule(l *Layout, phi, rho Field, half, g Quads, q Field) float64 {
	var west Lanes
	var sum total
	south, north, pl := l.south(), l.north(), l.plane
	for s := l.first; s < l.first+l.n; s++ {
		here, beside, h, a, b, gd := &phi[s], &phi[s+1], &half[s], &g[s], &g[s+1], &g[s+pl][Z]
		fs, fn := moved(&phi[s-1], phi[s+south][rows-1]), movedBack(beside, phi[s+north][0])
		gn := movedBack(&b[Y], g[s+north][Y][0])
		fu, fd := &phi[s-pl], &phi[s+pl]
		for r := range rows {
			f := here[r]
			east := square(b[X][r], f, beside[r])
			along := float32(west[r]*h[W][r]) + float32(east*h[E][r])
			west[r] = east
			across := float32((square(a[Y][r], f, fs[r]) + square(gn[r], f, fn[r])) * h[Y][r])
			across += float32((square(a[Z][r], f, fu[r]) + square(gd[r], f, fd[r])) * h[Z][r])
			v := float32((along + across) * rho[s][r])
			if !(rho[s][r] <= math.MaxFloat32) {
				v = 0
			}
			q[s][r] = v
			sum[r] += float64(v)
		}
	}
	return sum.value()
}

func (plain) potential(l *Layout, base float32, scale, y, phi Field) {
	scale, y, phi = l.Cells(scale), l.Cells(y), l.Cells(phi)
	for s := range phi {
		for r, c := range scale[s] {
			v := base + float32(c*y[s][r])
			if !(c > 0) {
				v = 0
			}
			phi[s][r] = v
		}
	}
}

func (plain) mixed(l *Layout, alpha, beta float32, a, b, c, v, y Field) {
	a, b, c, v, y = l.Cells(a), l.Cells(b), l.Cells(c), l.Cells(v), l.Cells(y)
	for s := range y {
		for r := range rows {
			x := float32(alpha*a[s][r]) + float32(beta*b[s][r])
			v[s][r], y[s][r] = x, x*c[s][r]
		}
	}
}

func (plain) energies(l *Layout, a, b Field, g Quads) (aa, ad, dd float64) {
	var sa, sm, sd total
	south, pl := l.south(), l.plane
	for s := l.first; s < l.first+l.n; s++ {
		aSouth, bSouth := moved(&a[s-1], a[s+south][rows-1]), moved(&b[s-1], b[s+south][rows-1])
		var ea, em, ed Lanes
		for face, beyond := range [3][2]*Lanes{X: {&a[s-1], &b[s-1]}, Y: {&aSouth, &bSouth}, Z: {&a[s-pl], &b[s-pl]}} {
			for r := range rows {
				da := a[s][r] - beyond[0][r]
				d := da - (b[s][r] - beyond[1][r])
				ia, id := float32(g[s][face][r]*da), float32(g[s][face][r]*d)
				ea[r] += float32(ia * da)
				em[r] += float32(ia * d)
				ed[r] += float32(id * d)
			}
		}
		for r := range rows {
			sa[r] += float64(ea[r])
			sm[r] += float64(em[r])
			sd[r] += float64(ed[r])
		}
	}
	return sa.value(), sm.value(), sd.value()
}

func (plain) inflow(l *Layout, v Field, g Quads, scale, out Field) {
	south, north, pl := l.south(), l.north(), l.plane
	for s := l.first; s < l.first+l.n; s++ {
		beside, ge, gd := &v[s+1], &g[s+1], &g[s+pl][Z]
		vs, vn := moved(&v[s-1], v[s+south][rows-1]), movedBack(beside, v[s+north][0])
		gn := movedBack(&ge[Y], g[s+north][Y][0])
		for r := range rows {
			h := v[s][r]
			i := float32(g[s][X][r]*(v[s-1][r]-h)) + float32(ge[X][r]*(beside[r]-h))
			i += float32(g[s][Y][r]*(vs[r]-h)) + float32(gn[r]*(vn[r]-h))
			i += float32(g[s][Z][r]*(v[s-pl][r]-h)) + float32(gd[r]*(v[s+pl][r]-h))
			out[s][r] = i * scale[s][r]
		}
	}
}

func (plain) dot(l *Layout, a, b Field) float64 {
	var sum total
	a, b = l.Cells(a), l.Cells(b)
	for s := range a {
		for r := range rows {
			sum[r] += float64(float32(a[s][r] * b[s][r]))
		}
	}
	return sum.value()
}

func (plain) pack(l *Layout, v []float64, f Field) {
	l.eachRow(func(first, step, lane int) { packRow(v[first:first+l.NX], f[step:], lane) })
}

// packRow packs part of a row, from the step of its first cell on.
func packRow(v []float64, f Field, lane int) {
	f = f[:len(v)]
	for i, x := range v {
		n := float32(x)
		if n > Nothing {
			n = inf
		}
		f[i][lane] = n
	}
}

func (plain) unpack(l *Layout, f Field, v []float64) {
	l.eachRow(func(first, step, lane int) { unpackRow(f[step:], v[first:first+l.NX], lane) })
}

func unpackRow(f Field, v []float64, lane int) {
	f = f[:len(v)]
	for i := range v {
		v[i] = float64(f[i][lane])
	}
}

// square is the square of the current through a face of conductance g.
func square(g, here, there float32) float32 {
	i := float32(g * (here - there))
	return float32(i * i)
}

// moved returns v one lane on, and edge in the first: a value each of the row before.
func moved(v *Lanes, edge float32) Lanes {
	return Lanes{edge, v[0], v[1], v[2], v[3], v[4], v[5], v[6]}
}

// movedBack is its counterpart: a value each of the row after.
func movedBack(v *Lanes, edge float32) Lanes {
	return Lanes{v[1], v[2], v[3], v[4], v[5], v[6], v[7], edge}
}

// total adds up numbers in double precision, lane by lane.
type total [rows]float64

func (t *total) value() float64 {
	return ((t[0] + t[4]) + (t[2] + t[6])) + ((t[1] + t[5]) + (t[3] + t[7]))
}
