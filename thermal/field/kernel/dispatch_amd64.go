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

func (vectors) couple(l *Layout, rho Field, half, g Quads) {
	s, e, u := l.first, l.first+l.south(), l.first-l.plane
	coupleAVX2(l.n, &rho[s], &half[s], &g[s], &rho[e], &half[e], &rho[u], &half[u])
}

func (vectors) factor(l *Layout, g, lk Quads, scale, inverse, ws, wz Field) {
	s, e, n, u, d := l.first, l.first+l.south(), l.first+l.north(), l.first-l.plane, l.first+l.plane
	factorAVX2(l.n, &g[s], &lk[s], &scale[s], &inverse[s], &ws[s], &wz[s], &g[n], &g[d], &scale[e], &scale[u], &ws[e], &wz[u])
}

func (vectors) lift(l *Layout, t Field, lk Quads, p Field) {
	s, n, d := l.first, l.first+l.north(), l.first+l.plane
	liftAVX2(l.n, &t[s], &lk[s], &p[s], &t[n], &lk[n], &t[d], &lk[d])
}

func (vectors) backward(l *Layout, beta, share float32, r, con, p Field, lk Quads, t Field) {
	s, n, d := l.first, l.first+l.north(), l.first+l.plane
	backwardAVX2(l.n, beta, share, &r[s], &con[s], &p[s], &lk[s], &t[s], &t[n], &lk[n], &t[d], &lk[d])
}

func (vectors) forward(l *Layout, p, t Field, lk Quads, u, w Field) float64 {
	s, e, up := l.first, l.first+l.south(), l.first-l.plane
	return forwardAVX2(l.n, &p[s], &t[s], &lk[s], &u[s], &w[s], &u[e], &u[up])
}

func (vectors) update(l *Layout, alpha float32, t, w, c, y, r Field) (rr, cr float64) {
	s := l.first
	return updateAVX2(l.n, alpha, &t[s], &w[s], &c[s], &y[s], &r[s])
}

func (vectors) joule(l *Layout, phi, rho Field, half, g Quads, q Field) float64 {
	s, e, n, u, d := l.first, l.first+l.south(), l.first+l.north(), l.first-l.plane, l.first+l.plane
	return jouleAVX2(l.n, &phi[s], &rho[s], &half[s], &g[s], &q[s], &phi[e], &phi[n], &g[n], &phi[u], &phi[d], &g[d])
}

func (vectors) potential(l *Layout, base float32, scale, y, phi Field) {
	s := l.first
	potentialAVX2(l.n, base, &scale[s], &y[s], &phi[s])
}

func (vectors) mixed(l *Layout, alpha, beta float32, a, b, c, v, y Field) {
	s := l.first
	mixedAVX2(l.n, alpha, beta, &a[s], &b[s], &c[s], &v[s], &y[s])
}

func (vectors) energies(l *Layout, a, b Field, g Quads) (aa, ad, dd float64) {
	s, e, u := l.first, l.first+l.south(), l.first-l.plane
	return energiesAVX2(l.n, &a[s], &b[s], &g[s], &a[e], &b[e], &a[u], &b[u])
}

func (vectors) inflow(l *Layout, v Field, g Quads, scale, out Field) {
	s, e, n, u, d := l.first, l.first+l.south(), l.first+l.north(), l.first-l.plane, l.first+l.plane
	inflowAVX2(l.n, &v[s], &g[s], &scale[s], &out[s], &v[e], &v[n], &g[n], &v[u], &v[d], &g[d])
}

func (vectors) dot(l *Layout, a, b Field) float64 {
	s := l.first
	return dotAVX2(l.n, &a[s], &b[s])
}

func (vectors) pack(l *Layout, v []float64, f Field) {
	l.pieces(func(first, step, groups int) {
		packAVX2(groups, l.NX-1, &v[first], &f[step])
	}, func(first, n, step, lane int) {
		packRow(v[first:first+n], f[step:], lane)
	})
}

func (vectors) unpack(l *Layout, f Field, v []float64) {
	l.pieces(func(first, step, groups int) {
		unpackAVX2(groups, l.NX-1, &f[step], &v[first])
	}, func(first, n, step, lane int) {
		unpackRow(f[step:], v[first:first+n], lane)
	})
}

// pieces cuts the cells into whole vectors, four steps by four from where the last row of a full block begins, and the
// parts of rows around them.
func (l *Layout) pieces(whole func(first, step, groups int), part func(first, n, step, lane int)) {
	groups := max(0, l.NX-(rows-1)) / 4
	for k := range l.NPlane {
		for row := 0; row < l.NRow; row += rows {
			first := (k*l.NRow + row) * l.NX
			step, _ := l.Row(row, k)
			n := min(rows, l.NRow-row)
			if n < rows || groups == 0 {
				for lane := range n {
					part(first+lane*l.NX, l.NX, step+lane, lane)
				}
				continue
			}
			whole(first+rows-1, step+rows-1, groups)
			for lane := range n {
				from := rows - 1 - lane
				to, own := from+4*groups, first+lane*l.NX
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
