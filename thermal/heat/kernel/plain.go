package kernel

import "math"

// plain are the kernels in Go. Conversions keep products from being fused into sums, so that every machine rounds
// alike.
type plain struct{}

func (plain) step(b *Body, next []float64, first, end int, h, hot float64) bool {
	row, pl := b.Row, b.Plane
	out := next[first:end]
	n := len(out)
	t, q, blood, per := b.T[first:][:n], b.Source[first:][:n], b.Blood[first:][:n], b.PerJ[first:][:n]
	west, east, gw, ge := b.T[first-1:][:n], b.T[first+1:][:n], b.X[first-1:][:n], b.X[first:][:n]
	up, down, gu, gd := b.T[first-pl:][:n], b.T[first+pl:][:n], b.Z[first-pl:][:n], b.Z[first:][:n]
	north, south, gn, gs := b.T[first-row:][:n], b.T[first+row:][:n], b.Y[first-row:][:n], b.Y[first:][:n]
	any, flat := false, row == pl // then there are no faces in y
	for i := range out {
		tc := t[i]
		f := float64(ge[i]*(east[i]-tc)) - float64(gw[i]*(tc-west[i]))
		f += float64(gu[i] * (up[i] - tc))
		f += float64(gd[i] * (down[i] - tc))
		if !flat {
			f += float64(gn[i]*(north[i]-tc)) + float64(gs[i]*(south[i]-tc))
		}
		taken := float64(blood[i] * (tc - b.BloodC))
		b.perfusion[i%lanes] += taken
		heat := float64(b.Scale * q[i])
		b.source[i%lanes] += heat
		v := tc + float64(float64(h*per[i])*((f+heat)-taken))
		out[i] = v
		if v > hot {
			any = true
		}
	}
	return any
}

func (plain) outside(t, low, high, peak []float64) (cells uint64) {
	low, high, peak = low[:len(t)], high[:len(t)], peak[:len(t)]
	for i, v := range t {
		if v > peak[i] {
			peak[i] = v
		}
		if !(v >= low[i] && v <= high[i]) {
			cells |= 1 << i
		}
	}
	return cells
}

func (plain) resist(rho []float64, c *Tissue, first int, sigma0, slope float64) (cells uint64) {
	n := len(rho)
	t, water, spark, omega, per := c.T[first:][:n], c.Water[first:][:n], c.Spark[first:][:n], c.Omega[first:][:n], c.PerJ[first:][:n]
	for i := range rho {
		rho[i] = 1 / (sigma0 * (1 + float64(slope*(t[i]-37))))
		if !(t[i] < c.BoilC && water[i] >= 1 && spark[i] <= 0 && omega[i] < c.MostOmega && per[i] > 0 && rho[i] <= c.MostOhmM) {
			cells |= 1 << i
		}
	}
	return cells
}

func (plain) heated(q, t []float64, most, least, hot float64) (cells uint64) {
	t = t[:len(q)]
	for i, v := range q {
		if v > most || v > least && t[i] > hot {
			cells |= 1 << i
		}
	}
	return cells
}

func (plain) gather(sum, v []float64, w float64) {
	v = v[:len(sum)]
	for i := range sum {
		sum[i] += float64(w * v[i])
	}
}

func (plain) keep(t, next []float64) (mostK float64) {
	next = next[:len(t)]
	for i, v := range next {
		if k := math.Abs(v - t[i]); k > mostK {
			mostK = k
		}
		t[i] = v
	}
	return mostK
}

func (plain) scaled(to, v, by []float64) {
	v, by = v[:len(to)], by[:len(to)]
	for i := range to {
		to[i] = v[i] * by[i]
	}
}

func (plain) over(to []float64, a float64, v, by []float64) {
	v, by = v[:len(to)], by[:len(to)]
	for i := range to {
		to[i] = float64(a*v[i]) / by[i]
	}
}

func (plain) changed(cells uint64, q, rho, then []float64) (heat, change sum) {
	rho, then = rho[:len(q)], then[:len(q)]
	for i, v := range q {
		if cells>>i&1 != 0 {
			heat[i%lanes] += v
			change[i%lanes] += float64(v * math.Abs(rho[i]/then[i]-1))
		}
	}
	return heat, change
}

func (plain) rates(cells uint64, q, per []float64) (heat, most sum) {
	per = per[:len(q)]
	for i, v := range q {
		if cells>>i&1 != 0 {
			heat[i%lanes] += v
			if r := v * per[i]; r > most[i%lanes] {
				most[i%lanes] = r
			}
		}
	}
	return heat, most
}
