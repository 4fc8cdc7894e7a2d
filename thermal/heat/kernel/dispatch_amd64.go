package kernel

import (
	"os"

	"golang.org/x/sys/cpu"
)

func init() {
	if cpu.X86.HasAVX2 && cpu.X86.HasBMI2 && os.Getenv("MURALHEAT_PLAIN") != "1" {
		use = vectors{}
	}
}

// vectors are the kernels in assembly.
type vectors struct{}

func (vectors) step(b *Body, next []float64, first, end int, h, hot float64) bool {
	n := (end - first) &^ (lanes - 1)
	any := uint64(0)
	if s, pl, row := first, b.Plane, b.Row; n > 0 {
		if row == pl {
			any = stepFlatAVX2(n, &next[s], &b.T[s], &b.Source[s], &b.Blood[s], &b.PerJ[s], &b.X[s], &b.Z[s],
				&b.T[s-pl], &b.T[s+pl], &b.Z[s-pl], h, b.BloodC, b.Scale, hot, (*[4]float64)(&b.perfusion), (*[4]float64)(&b.source))
		} else {
			any = stepAVX2(n, &next[s], &b.T[s], &b.Source[s], &b.Blood[s], &b.PerJ[s], &b.X[s], &b.Z[s],
				&b.T[s-pl], &b.T[s+pl], &b.Z[s-pl], h, b.BloodC, b.Scale, hot, (*[4]float64)(&b.perfusion), (*[4]float64)(&b.source),
				&b.T[s-row], &b.T[s+row], &b.Y[s-row], &b.Y[s])
		}
	}
	rest := plain{}.step(b, next, first+n, end, h, hot)
	return any != 0 || rest
}

func (vectors) outside(t, low, high, peak []float64) (cells uint64) {
	n := len(t) &^ (lanes - 1)
	if n > 0 {
		cells = outsideAVX2(n, &t[0], &low[0], &high[0], &peak[0])
	}
	if n < len(t) {
		cells |= plain{}.outside(t[n:], low[n:], high[n:], peak[n:]) << n
	}
	return cells
}

func (vectors) resist(rho []float64, c *Tissue, first int, sigma0, slope float64) (cells uint64) {
	n := len(rho) &^ (lanes - 1)
	if p := first; n > 0 {
		cells = resistAVX2(n, &rho[0], &c.T[p], &c.Water[p], &c.Spark[p], &c.Omega[p], &c.PerJ[p], sigma0, slope, c.BoilC, c.MostOmega, c.MostOhmM)
	}
	if n < len(rho) {
		cells |= plain{}.resist(rho[n:], c, first+n, sigma0, slope) << n
	}
	return cells
}

func (vectors) heated(q, t []float64, most, least, hot float64) (cells uint64) {
	n := len(q) &^ (lanes - 1)
	if n > 0 {
		cells = heatedAVX2(n, &q[0], &t[0], most, least, hot)
	}
	if n < len(q) {
		cells |= plain{}.heated(q[n:], t[n:], most, least, hot) << n
	}
	return cells
}

func (vectors) gather(sum, v []float64, w float64) {
	n := len(sum) &^ (lanes - 1)
	if n > 0 {
		gatherAVX2(n, &sum[0], &v[0], w)
	}
	plain{}.gather(sum[n:], v[n:], w)
}

func (vectors) keep(t, next []float64) (mostK float64) {
	n := len(t) &^ (lanes - 1)
	var most [lanes]float64
	if n > 0 {
		keepAVX2(n, &t[0], &next[0], &most)
	}
	mostK = plain{}.keep(t[n:], next[n:])
	for _, k := range most {
		mostK = max(mostK, k)
	}
	return mostK
}

func (vectors) scaled(to, v, by []float64) {
	n := len(to) &^ (lanes - 1)
	if n > 0 {
		scaledAVX2(n, &to[0], &v[0], &by[0])
	}
	plain{}.scaled(to[n:], v[n:], by[n:])
}

func (vectors) over(to []float64, a float64, v, by []float64) {
	n := len(to) &^ (lanes - 1)
	if n > 0 {
		overAVX2(n, &to[0], &v[0], &by[0], a)
	}
	plain{}.over(to[n:], a, v[n:], by[n:])
}

func (vectors) changed(cells uint64, q, rho, then []float64) (heat, change sum) {
	n := len(q) &^ (lanes - 1)
	if n > 0 {
		changedAVX2(n, &q[0], &rho[0], &then[0], cells, (*[4]float64)(&heat), (*[4]float64)(&change))
	}
	h, c := plain{}.changed(cells>>n, q[n:], rho[n:], then[n:])
	for i := range h {
		heat[i] += h[i]
		change[i] += c[i]
	}
	return heat, change
}

func (vectors) rates(cells uint64, q, per []float64) (heat, most sum) {
	n := len(q) &^ (lanes - 1)
	if n > 0 {
		ratesAVX2(n, &q[0], &per[0], cells, (*[4]float64)(&heat), (*[4]float64)(&most))
	}
	h, m := plain{}.rates(cells>>n, q[n:], per[n:])
	for i := range h {
		heat[i] += h[i]
		most[i] = max(most[i], m[i])
	}
	return heat, most
}
