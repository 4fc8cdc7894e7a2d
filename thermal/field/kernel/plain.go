package kernel

import "math"

// plain are the kernels in Go. Conversions keep products from being fused into sums, so that
// every machine rounds alike.
type plain struct{}

func (plain) couple(l *Layout, s *side, rho Field, half, g Quads) {
	at := s.first - 1
	var east, across Lanes
	for r := range rows {
		east[r], across[r] = float32(rho[at][r]*half[at][E][r]), float32(rho[at][r]*half[at][Y][r])
	}
	south, up := l.south(), -l.plane
	for s, end := s.first, s.first+s.n; s < end; s++ {
		v, h, o, over, overHalf := &rho[s], &half[s], &g[s], &rho[s+up], &half[s+up][Z]
		edge := float32(rho[s+south][rows-1] * half[s+south][Y][rows-1])
		before := moved(&across, edge)
		for r := range rows {
			o[X][r] = 1 / (east[r] + float32(v[r]*h[W][r]))
			east[r] = float32(v[r] * h[E][r])
			across[r] = float32(v[r] * h[Y][r])
			o[Y][r] = 1 / (before[r] + across[r])
			o[Z][r] = 1 / (float32(over[r]*overHalf[r]) + float32(v[r]*h[Z][r]))
			o[D][r] = 0
		}
	}
}

func (plain) factor(l *Layout, s *side, g, lk Quads, scale, inverse, ws, wz Field) {
	south, north, isMiddle := l.south(), l.north(), s == &l.sides[middle]
	for _, first := range s.planes {
		var wx, wy, west Lanes
		for at := first; at < first+l.plane; at++ {
			o, ob, a, b, gb, ga := &lk[at], &lk[at+s.linkBefore][Z], &g[at], &g[at+1], &g[at+s.linkBefore][Z], &g[at+s.linkAfter][Z]
			fromSouth, scaleSouth := moved(&wy, ws[at+south][rows-1]), moved(&west, scale[at+south][rows-1])
			fromBefore, scaleBefore := &wz[at+s.before], &scale[at+s.before]
			gn := movedBack(&b[Y], g[at+north][Y][0])
			for r := range rows {
				ge, gd := b[X][r], ga[r]
				beyond := gb[r] + gd
				from := (wx[r] + fromSouth[r]) + fromBefore[r]
				if isMiddle {
					beyond += g[at+l.plane][Z][r]
					from += wz[at+l.plane][r]
				}
				d := ((a[X][r] + ge) + (a[Y][r] + gn[r])) + (beyond + a[D][r])
				v := d - from
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
				ob[r] = float32(float32(gb[r]*c) * scaleBefore[r])
				if isMiddle {
					lk[at+l.plane][Z][r] = float32(float32(g[at+l.plane][Z][r]*c) * scale[at+l.plane][r])
				}
				o[D][r] = float32(d*inv) - 2
				scale[at][r], inverse[at][r] = c, float32(v*c)
				west[r] = c
				wx[r] = weight(ge, gn[r], gd, inv)
				wy[r] = weight(gn[r], ge, gd, inv)
				ws[at][r] = wy[r]
				wz[at][r] = weight(gd, ge, gn[r], inv)
			}
		}
	}
}

// weight is what a pivot takes from the diagonal of the cell beyond the face g.
func weight(g, a, b, inv float32) float32 {
	return float32(float32(g*(g+float32(Relax*(a+b)))) * inv)
}

func (plain) lift(l *Layout, s *side, t Field, lk Quads, p Field) {
	north := l.north()
	for at := s.first; at < s.first+s.n; at++ {
		k, beside, ta, ka := &lk[at+1], &t[at+1], &t[at+s.after], &lk[at+s.linkAfter][Z]
		tn, kn := movedBack(beside, t[at+north][0]), movedBack(&k[Y], lk[at+north][Y][0])
		for r := range rows {
			v := t[at][r] - float32(k[X][r]*beside[r])
			v -= float32(kn[r] * tn[r])
			p[at][r] = v - float32(ka[r]*ta[r])
		}
	}
}

func (plain) backward(l *Layout, s *side, beta, share float32, r, con, p Field, lk Quads, t Field) {
	north := l.north()
	over := func(first, n int) {
		v := t[first+n]
		for at := first + n - 1; at >= first; at-- {
			rr, cc, pp, tt := &r[at], &con[at], &p[at], &t[at]
			k, ta, ka := &lk[at+1], &t[at+s.after], &lk[at+s.linkAfter][Z]
			edge := float32(lk[at+north][Y][0] * t[at+north][0])
			for i := range rows {
				beyond := edge
				if i+1 < rows {
					beyond = float32(k[Y][i+1] * v[i+1]) // of the step before still
				}
				q := rr[i] + float32(beta*pp[i]) - float32(share*cc[i])
				pp[i] = q
				q += float32(ka[i] * ta[i])
				v[i] = q + float32(k[X][i]*v[i]) + beyond
				tt[i] = v[i]
			}
		}
	}
	for _, b := range s.back {
		over(b.first, b.n)
		if b.beside != 0 {
			over(b.first+b.beside, b.n)
		}
	}
}

func (plain) forward(l *Layout, s *side, p, t Field, lk Quads, u Field) (all float64) {
	south, isMiddle := l.south(), s == &l.sides[middle]
	over := func(first, n int) (sum total) {
		v := u[first-1]
		for at := first; at < first+n; at++ {
			pp, tt, k, uu, ub, kb := &p[at], &t[at], &lk[at], &u[at], &u[at+s.before], &lk[at+s.linkBefore][Z]
			edge := u[at+south][rows-1]
			for r := rows - 1; r >= 0; r-- {
				before := edge
				if r > 0 {
					before = v[r-1] // of the step before still
				}
				q := pp[r] + float32(tt[r]*k[D][r])
				q += float32(kb[r] * ub[r])
				if isMiddle {
					q += float32(lk[at+l.plane][Z][r] * u[at+l.plane][r])
				}
				v[r] = q + float32(v[r]*k[X][r]) + float32(before*k[Y][r])
				uu[r] = v[r]
				sum[r] += float64(float32(pp[r] * (tt[r] + v[r])))
			}
		}
		return sum
	}
	for _, f := range s.forth {
		sum := over(f.first, f.n)
		if f.beside != 0 {
			for r, v := range over(f.first+f.beside, f.n) {
				sum[r] += v
			}
		}
		all += sum.value()
	}
	return all
}

func (plain) update(l *Layout, s *side, alpha float32, t, u, c, y, r Field) (rr, cr float64) {
	var sr, sc total
	t, u, c, y, r = s.of(t), s.of(u), s.of(c), s.of(y), s.of(r)
	for at := range t {
		tt, uu, cc, yy, rs := &t[at], &u[at], &c[at], &y[at], &r[at]
		for i := range rows {
			yy[i] += float32(alpha * tt[i])
			v := rs[i] - float32(alpha*(tt[i]+uu[i]))
			rs[i] = v
			sr[i] += float64(float32(v * v))
			sc[i] += float64(float32(v * cc[i]))
		}
	}
	return sr.value(), sc.value()
}

func (plain) joule(l *Layout, s *side, phi, rho Field, half, g Quads, q Field) float64 {
	var sum total
	south, north, pl := l.south(), l.north(), l.plane
	for s, end := s.first, s.first+s.n; s < end; s++ {
		here, before, beside, h, a, b, gd := &phi[s], &phi[s-1], &phi[s+1], &half[s], &g[s], &g[s+1], &g[s+pl][Z]
		fs, fn := moved(before, phi[s+south][rows-1]), movedBack(beside, phi[s+north][0])
		gn := movedBack(&b[Y], g[s+north][Y][0])
		fu, fd := &phi[s-pl], &phi[s+pl]
		for r := range rows {
			f := here[r]
			along := float32(square(a[X][r], f, before[r])*h[W][r]) + float32(square(b[X][r], f, beside[r])*h[E][r])
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

func (plain) potential(l *Layout, s *side, base float32, scale, y, phi Field) {
	scale, y, phi = s.of(scale), s.of(y), s.of(phi)
	for i := range phi {
		for r, c := range scale[i] {
			v := base + float32(c*y[i][r])
			if !(c > 0) {
				v = 0
			}
			phi[i][r] = v
		}
	}
}

// of returns f at the side.
func (s *side) of(f Field) Field { return f[s.first:][:s.n] }

func (plain) mixed(l *Layout, s *side, alpha, beta float32, a, b, c, v, y Field) {
	a, b, c, v, y = s.of(a), s.of(b), s.of(c), s.of(v), s.of(y)
	for i := range y {
		for r := range rows {
			x := float32(alpha*a[i][r]) + float32(beta*b[i][r])
			v[i][r], y[i][r] = x, x*c[i][r]
		}
	}
}

func (plain) energies(l *Layout, s *side, a, b Field, g Quads) (aa, ad, dd float64) {
	var sa, sm, sd total
	south, pl := l.south(), l.plane
	for s, end := s.first, s.first+s.n; s < end; s++ {
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

func (plain) inflow(l *Layout, s *side, v Field, g Quads, scale, out Field) {
	south, north, pl := l.south(), l.north(), l.plane
	for s, end := s.first, s.first+s.n; s < end; s++ {
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

func (plain) dot(l *Layout, s *side, a, b Field) float64 {
	var sum total
	a, b = s.of(a), s.of(b)
	for i := range a {
		for r := range rows {
			sum[r] += float64(float32(a[i][r] * b[i][r]))
		}
	}
	return sum.value()
}

func (plain) pack(l *Layout, s *side, v []float64, f Field) {
	l.eachRow(s, func(first, step, lane int) { packRow(v[first:first+l.NX], f[step:], lane) })
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

func (plain) unpack(l *Layout, s *side, f Field, v []float64) {
	l.eachRow(s, func(first, step, lane int) { unpackRow(f[step:], v[first:first+l.NX], lane) })
}

func unpackRow(f Field, v []float64, lane int) {
	f = f[:len(v)]
	for i := range v {
		v[i] = float64(f[i][lane])
	}
}

// eachRow calls do for every row of a side: its first cell in the mesh, and that cell's step and lane.
func (l *Layout) eachRow(s *side, do func(first, step, lane int)) {
	for _, at := range s.planes {
		k := (at - l.first) / l.plane
		for j := range l.NRow {
			step, lane := l.row(j, k)
			do(k*l.nextPlane+j*l.nextRow, step, lane)
		}
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
