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

func (vectors) joule(l *Layout, phi, rho Field, half, g Quads, q Field) {
	s, e, n, u, d := l.first, l.first+l.south(), l.first+l.north(), l.first-l.plane, l.first+l.plane
	jouleAVX2(l.n, &phi[s], &rho[s], &half[s], &g[s], &q[s], &phi[e], &phi[n], &g[n], &phi[u], &phi[d], &g[d])
}
