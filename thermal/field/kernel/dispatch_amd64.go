package kernel

import (
	"os"

	"golang.org/x/sys/cpu"
)

func init() {
	if cpu.X86.HasAVX2 && os.Getenv("MURALHEAT_PLAIN") != "1" {
		use = vectors{}
	}
}

// vectors are the kernels in assembly.
type vectors struct{}

func (vectors) couple(l *Layout, s *side, rho Field, half, g Quads) {
	i, e, u := s.first, s.first+l.south(), s.first-l.plane
	coupleAVX2(s.n, &rho[i], &half[i], &g[i], &rho[e], &half[e], &rho[u], &half[u])
}

func (vectors) factor(l *Layout, s *side, g, lk Quads, scale, inverse, ws, wz Field) {
	for _, i := range s.planes {
		e, n, b, kb, ka, d := i+l.south(), i+l.north(), i+s.before, i+s.linkBefore, i+s.linkAfter, i+l.plane
		if s == &l.sides[middle] {
			factorLastAVX2(l.plane, &g[i], &g[kb], &g[ka], &g[n], &lk[i], &lk[kb], &scale[i], &inverse[i], &ws[i], &wz[i], &scale[e], &ws[e], &scale[b], &wz[b],
				&g[d], &lk[d], &scale[d], &wz[d])
		} else {
			factorAVX2(l.plane, &g[i], &g[kb], &g[ka], &g[n], &lk[i], &lk[kb], &scale[i], &inverse[i], &ws[i], &wz[i], &scale[e], &ws[e], &scale[b], &wz[b])
		}
	}
}

func (vectors) lift(l *Layout, s *side, t Field, lk Quads, p Field) {
	i, n, a, ka := s.first, s.first+l.north(), s.first+s.after, s.first+s.linkAfter
	liftAVX2(s.n, &t[i], &lk[i], &p[i], &t[n], &lk[n], &t[a], &lk[ka])
}

func (vectors) backward(l *Layout, s *side, beta, share float32, r, con, p Field, lk Quads, t Field) {
	for _, b := range s.back {
		i, n, a, ka := b.first, b.first+l.north(), b.first+s.after, b.first+s.linkAfter
		if b.beside == 0 {
			backwardAVX2(b.n, beta, share, &r[i], &con[i], &p[i], &lk[i], &t[i], &t[n], &lk[n], &t[a], &lk[ka])
		} else {
			backwardPairAVX2(b.n, b.beside, beta, share, &r[i], &con[i], &p[i], &lk[i], &t[i], &t[n], &lk[n], &t[a], &lk[ka])
		}
	}
}

func (vectors) forward(l *Layout, s *side, p, t Field, lk Quads, u Field) (sum float64) {
	isLast := s == &l.sides[middle]
	for _, f := range s.forth {
		i, e, b, kb, d := f.first, f.first+l.south(), f.first+s.before, f.first+s.linkBefore, f.first+l.plane
		switch {
		case isLast && f.beside == 0:
			sum += forwardLastAVX2(f.n, &p[i], &t[i], &lk[i], &u[i], &u[e], &u[b], &lk[kb], &u[d], &lk[d])
		case isLast:
			sum += forwardLastPairAVX2(f.n, f.beside, &p[i], &t[i], &lk[i], &u[i], &u[e], &u[b], &lk[kb], &u[d], &lk[d])
		case f.beside == 0:
			sum += forwardAVX2(f.n, &p[i], &t[i], &lk[i], &u[i], &u[e], &u[b], &lk[kb])
		default:
			sum += forwardPairAVX2(f.n, f.beside, &p[i], &t[i], &lk[i], &u[i], &u[e], &u[b], &lk[kb])
		}
	}
	return sum
}

func (vectors) update(l *Layout, s *side, alpha float32, t, u, c, y, r Field) (rr, cr float64) {
	i := s.first
	return updateAVX2(s.n, alpha, &t[i], &u[i], &c[i], &y[i], &r[i])
}

func (vectors) joule(l *Layout, s *side, phi, rho Field, half, g Quads, q Field) float64 {
	i, e, n, u, d := s.first, s.first+l.south(), s.first+l.north(), s.first-l.plane, s.first+l.plane
	return jouleAVX2(s.n, &phi[i], &rho[i], &half[i], &g[i], &q[i], &phi[e], &phi[n], &g[n], &phi[u], &phi[d], &g[d])
}

func (vectors) potential(l *Layout, s *side, base float32, scale, y, phi Field) {
	i := s.first
	potentialAVX2(s.n, base, &scale[i], &y[i], &phi[i])
}

func (vectors) mixed(l *Layout, s *side, alpha, beta float32, a, b, c, v, y Field) {
	i := s.first
	mixedAVX2(s.n, alpha, beta, &a[i], &b[i], &c[i], &v[i], &y[i])
}

func (vectors) energies(l *Layout, s *side, a, b Field, g Quads) (aa, ad, dd float64) {
	i, e, u := s.first, s.first+l.south(), s.first-l.plane
	return energiesAVX2(s.n, &a[i], &b[i], &g[i], &a[e], &b[e], &a[u], &b[u])
}

func (vectors) inflow(l *Layout, s *side, v Field, g Quads, scale, out Field) {
	i, e, n, u, d := s.first, s.first+l.south(), s.first+l.north(), s.first-l.plane, s.first+l.plane
	inflowAVX2(s.n, &v[i], &g[i], &scale[i], &out[i], &v[e], &v[n], &g[n], &v[u], &v[d], &g[d])
}

func (vectors) dot(l *Layout, s *side, a, b Field) float64 {
	return dotAVX2(s.n, &a[s.first], &b[s.first])
}

func (vectors) pack(l *Layout, s *side, v []float64, f Field) {
	l.pieces(s, func(first, step, groups int) {
		packAVX2(groups, l.nextRow-1, &v[first], &f[step])
	}, func(first, n, step, lane int) {
		packRow(v[first:first+n], f[step:], lane)
	})
}

func (vectors) unpack(l *Layout, s *side, f Field, v []float64) {
	l.pieces(s, func(first, step, groups int) {
		unpackAVX2(groups, l.nextRow-1, &f[step], &v[first])
	}, func(first, n, step, lane int) {
		unpackRow(f[step:], v[first:first+n], lane)
	})
}

// pieces cuts the cells of a side into whole vectors, four steps by four from where the last row of a full block begins, and the
// parts of rows around them.
func (l *Layout) pieces(s *side, whole func(first, step, groups int), part func(first, n, step, lane int)) {
	groups := max(0, l.NX-(rows-1)) / 4
	for _, at := range s.planes {
		k := (at - l.first) / l.plane
		for row := 0; row < l.NRow; row += rows {
			first := k*l.nextPlane + row*l.nextRow
			step, _ := l.row(row, k)
			n := min(rows, l.NRow-row)
			if n < rows || groups == 0 {
				for lane := range n {
					part(first+lane*l.nextRow, l.NX, step+lane, lane)
				}
				continue
			}
			whole(first+rows-1, step+rows-1, groups)
			for lane := range n {
				from := rows - 1 - lane
				to, own := from+4*groups, first+lane*l.nextRow
				if from > 0 {
					part(own, from, step+lane, lane)
				}
				if to < l.NX {
					part(own+to, l.NX-to, step+lane+to, lane)
				}
			}
		}
	}
}
