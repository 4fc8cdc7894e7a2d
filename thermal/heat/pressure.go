package heat

import "math"

// link holds what a cell that has steam passes to its neighbours, m, and what it stores, J/Pa.
type link struct {
	to                [6]int
	g                 [6]float64
	sum               float64 // of g, and of what is open to the air
	out               float64 // of sum, to where steam is lost
	store             float64
	stored            float64 // before, J
	known, diag, r, a float64 // of the equation that is solved: right side, diagonal, residual, operator on the direction of search
}

// relative returns the permeability of tissue with the share w of its water over that of dried tissue.
func (st *steam) relative(w float64) float64 {
	d := 1 - math.Min(1, w)
	return st.WetShare + (1-st.WetShare)*d*d*d
}

// pressure solves for the pressure at the end of h seconds, and tears tissue where it would be too high.
func (s *Solver) pressure(h float64) {
	st, m := &s.steam, s.m
	row, pl := m.NX, m.Plane()
	st.links = st.links[:0]
	for _, p := range st.cells {
		l := link{to: [6]int{p - 1, p + 1, p - pl, p + pl, p - row, p + row},
			g: [6]float64{st.geo.X[p-1], st.geo.X[p], st.geo.Z[p-pl], st.geo.Z[p]}}
		if m.NY > 1 {
			l.g[4], l.g[5] = st.geo.Y[p-row], st.geo.Y[p]
		} else {
			l.to[4], l.to[5] = p, p
		}
		a := st.relative(s.Water[p])
		for n, q := range l.to {
			switch {
			case l.g[n] == 0:
			case s.gone[q]: // the face is half a cell away, and open but for the metal
				l.g[n] *= 2 * a
				if st.isMetal[q] {
					l.g[n] *= st.VentShare
				}
				l.out += l.g[n]
			case st.holds[q]:
				b := st.relative(s.Water[q])
				l.g[n] *= 2 * a * b / (a + b)
			default: // steam that flows into cooler tissue opens its own way
				l.g[n] *= a
			}
			l.sum += l.g[n]
		}
		if p < 2*pl {
			l.sum += st.top[p-pl] * a
			l.out += st.top[p-pl] * a
		}
		if s.Water[p] > 0 {
			was := math.Max(0, s.saturationPa(s.T[p]))
			_, slope := s.saturationC(was)
			l.store = s.c[p] * slope
			l.stored = l.store * was
		}
		st.links = append(st.links, l)
	}
	// Tissue tears until what boils now gets away, in a steady flow, at the pressure that it stands.
	for n, p := range st.cells {
		st.links[n].known, st.links[n].diag = st.boiled[p], h*st.links[n].sum
	}
	// Where there is no way out at all, no tear is wide enough: what boils leaves.
	st.kappa = max(st.kappa, min(st.solve(st.steady, h)/st.TearPa, mostTorn*st.PermeabilityM2*passes))
	hk := h * st.kappa
	for n, p := range st.cells {
		l := &st.links[n]
		l.known, l.diag = st.boiled[p]+l.stored, l.store+hk*l.sum
	}
	st.solve(st.pa, hk)
	for _, p := range st.cells {
		st.pa[p] = min(st.pa[p], 4*st.TearPa) // of a burst between two flows; beyond, there was no way out
	}
}

// solve solves diag x - hk sum over neighbours (g x) = known by conjugate gradients, scaled by the diagonal, from x as
// it is, and returns the highest.
func (st *steam) solve(x []float64, hk float64) (most float64) {
	const tolerance, iterations = 1e-4, 400 // of what is known
	apply := func(x []float64, n, p int) float64 {
		l, sum := &st.links[n], 0.0
		for i, q := range l.to {
			sum += l.g[i] * x[q]
		}
		return l.diag*x[p] - hk*sum
	}
	known, rho := 0.0, 0.0
	for n, p := range st.cells {
		l := &st.links[n]
		l.r = l.known - apply(x, n, p)
		st.dir[p] = l.r / (l.diag + tiny)
		rho += l.r * st.dir[p]
		known += math.Abs(l.known)
	}
	for range iterations {
		left, curvature := 0.0, 0.0
		for n, p := range st.cells {
			l := &st.links[n]
			left += math.Abs(l.r)
			l.a = apply(st.dir, n, p)
			curvature += st.dir[p] * l.a
		}
		if left <= tolerance*known+negligibleJ || !(curvature > 0) {
			break
		}
		alpha, next := rho/curvature, 0.0
		for n, p := range st.cells {
			l := &st.links[n]
			x[p] += alpha * st.dir[p]
			l.r -= alpha * l.a
			next += l.r * l.r / (l.diag + tiny)
		}
		for n, p := range st.cells {
			l := &st.links[n]
			st.dir[p] = l.r/(l.diag+tiny) + next/rho*st.dir[p]
		}
		rho = next
	}
	for _, p := range st.cells {
		x[p] = math.Max(0, x[p])
		st.dir[p] = 0
		most = math.Max(most, x[p])
	}
	return most
}

const (
	tiny        = 1e-300 // keeps a cell that nothing leads to from dividing by nought
	negligibleJ = 1e-12  // less steam than any depth feels
	mostTorn    = 1e12   // permeability of torn tissue over what it was; wherever there is a way out it is some thousands
)
