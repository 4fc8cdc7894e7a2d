package heat

import (
	"math"

	"muralheat/mesh"
)

// steam is what becomes of boiled water: it flows through tissue that is at the boiling point or hotter,
// down the gradient of its pressure p above that of the air, and leaves where p = 0: at open surfaces, and in
// tissue that is cooler, where it condenses. With the evaporation e, J/(m3 s) of latent heat,
//
//	S (p - p_before)/dt - div(kappa a(w) grad p) = e,   S = rho c dT_sat/dp
//
// Tissue that holds steam and water is at T_sat(p), which S accounts for. Steam is counted by its latent
// heat, J, as liquid water is.
type steam struct {
	Steam
	geo    mesh.Faces // area over distance of a face, m; nil: steam leaves where it forms
	top    []float64  // area open to the air over half a cell for each cell of the first plane, m
	kappa  float64    // what dried tissue passes, J of latent heat/(s m Pa): rises as tissue tears
	waitsS float64    // time since it flowed last

	pa       []float64 // pressure above that of the air, Pa
	steady   []float64 // times kappa, the pressure at which what boils now gets away, in a steady flow
	dir      []float64 // direction in which either is sought
	boilC    []float64 // boiling point at that pressure
	boiled   []float64 // J that boiled off since it flowed last
	metal    []int     // cells that an inserted electrode fills now
	isMetal  []bool
	cells    []int // those that hold steam, and those that held it before
	before   []int
	holds    []bool
	links    []link
	condense []float64 // what condenses in cooler cells, J
	cooler   []int
}

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

// Steam says how steam moves in tissue.
type Steam struct {
	PermeabilityM2 float64 // of dried tissue before it tears; 0: steam leaves where it forms
	WetShare       float64 // of it that tissue with all its water has
	TearPa         float64 // pressure above that of the air at which steam tears itself a way; the tears stay open
	VentShare      float64 // of the contact between electrode and tissue, open to steam as a free surface is
}

// Steam at 100 C and 1 atm: steam tables, from memory.
const (
	steamKgM3  = 0.598
	steamPaS   = 1.23e-5
	steamJKg   = 2.257e6
	steamJKgK  = 461.5
	airPa      = 101325
	zeroC      = 273.15
	steamWaitS = 0.005 // longest time between two flows, s
)

// SetSteam lets steam flow through tissue; before any water is lost and before SetSurface.
func (s *Solver) SetSteam(v Steam) {
	if !(v.PermeabilityM2 > 0) || math.IsInf(s.phases.BoilC, 1) {
		return
	}
	n, m := s.m.Len(), s.m
	one := make([]float64, n)
	for p := range one {
		one[p] = 1
	}
	st := &s.steam
	*st = steam{Steam: v, geo: m.NewFaces(), top: make([]float64, m.Plane()), kappa: v.PermeabilityM2 * steamKgM3 / steamPaS * steamJKg,
		pa: make([]float64, n), steady: make([]float64, n), dir: make([]float64, n), boilC: make([]float64, n), boiled: make([]float64, n), isMetal: make([]bool, n), holds: make([]bool, n),
		condense: make([]float64, n)}
	m.Couple(one, st.geo)
	for p := range st.boilC {
		st.boilC[p] = s.phases.BoilC
	}
}

// saturationC returns the boiling point at pa above the pressure of the air, by Clausius and Clapeyron, and
// its slope, K/Pa.
func (s *Solver) saturationC(pa float64) (tC, slope float64) {
	boilK := s.phases.BoilC + zeroC
	tK := 1 / (1/boilK - steamJKgK/steamJKg*math.Log1p(pa/airPa))
	return tK - zeroC, tK * tK * steamJKgK / steamJKg / (airPa + pa)
}

// saturationPa is the inverse of saturationC.
func (s *Solver) saturationPa(tC float64) float64 {
	return airPa * math.Expm1(steamJKg/steamJKgK*(1/(s.phases.BoilC+zeroC)-1/(tC+zeroC)))
}

// boilAt returns the boiling point of cell p, C.
func (s *Solver) boilAt(p int) float64 {
	if s.steam.boilC == nil {
		return s.phases.BoilC
	}
	return s.steam.boilC[p]
}

// boilOff notes that water with the latent heat j left cell p as steam.
func (s *Solver) boilOff(p int, j float64) {
	s.BoiledJ += j
	s.everBoiledJ += j
	if s.steam.boiled != nil {
		s.steam.boiled[p] += j
	}
}

// open notes which part of the surface lets steam out, once free and covered areas are known, m2.
func (st *steam) open(surface int, free, covered, half float64) {
	if st.top != nil {
		st.top[surface] = (free + st.VentShare*covered) / half
	}
}

// fill notes which cells an inserted electrode fills now.
func (st *steam) fill(metal []int) {
	if st.geo.X == nil {
		return
	}
	for _, p := range st.metal {
		st.isMetal[p] = false
	}
	st.metal = append(st.metal[:0], metal...)
	for _, p := range metal {
		st.isMetal[p] = true
		st.boiled[p], st.pa[p], st.steady[p] = 0, 0, 0
	}
}

// blow moves steam, once dt seconds more have added up to a step worth making.
func (s *Solver) blow(dt float64) {
	st := &s.steam
	if st.geo.X == nil {
		return
	}
	if st.waitsS += dt; st.waitsS < steamWaitS {
		return
	}
	h := st.waitsS
	st.waitsS = 0
	if s.holdSteam() {
		s.pressure(h)
		s.pass(h)
	}
}

// holdSteam lists the cells that hold steam: those at the boiling point or hotter, outside liquids, whose
// bubbles rise. It returns whether there are any.
func (s *Solver) holdSteam() bool {
	st, pl := &s.steam, s.m.Plane()
	before := st.cells
	st.cells, st.before = st.before[:0], before
	for _, p := range before {
		st.holds[p] = false
	}
	for k, layer := range s.layerOf {
		if s.materials[layer].Liquid {
			clear(st.boiled[pl+k*pl : 2*pl+k*pl])
			continue
		}
		for p := pl + k*pl; p < 2*pl+k*pl; p++ {
			if !s.gone[p] && (s.T[p] >= s.phases.BoilC || st.boiled[p] > 0) {
				st.cells = append(st.cells, p)
				st.holds[p] = true
			}
		}
	}
	for _, p := range before {
		if !st.holds[p] {
			st.pa[p], st.steady[p], st.boilC[p] = 0, 0, s.phases.BoilC
		}
	}
	return len(st.cells) > 0
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
	st.kappa = max(st.kappa, st.solve(st.steady, h)/st.TearPa)
	hk := h * st.kappa
	for n, p := range st.cells {
		l := &st.links[n]
		l.known, l.diag = st.boiled[p]+l.stored, l.store+hk*l.sum
	}
	st.solve(st.pa, hk)
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
)

// pass gives cooler cells the steam that reaches them, and brings those that hold steam to its temperature. What
// boiled off is shared out to the last bit: in the proportions that the pressure gives.
func (s *Solver) pass(h float64) {
	st := &s.steam
	hk := h * st.kappa
	st.cooler = st.cooler[:0]
	flows, out := 0.0, 0.0 // what there is to share, and what the pressure drives out
	for n, p := range st.cells {
		l := &st.links[n]
		out += hk * l.out * st.pa[p]
		for i, q := range l.to {
			if j := hk * l.g[i] * st.pa[p]; j > 0 && !st.holds[q] && !s.gone[q] {
				if st.condense[q] == 0 {
					st.cooler = append(st.cooler, q)
				}
				st.condense[q] += j
				out += j
			}
		}
		flows += st.boiled[p]
		if l.store > 0 {
			j := math.Max(l.store*st.pa[p]-l.stored, -s.Water[p]*s.latentJ(p))
			s.wetten(p, j)
			flows -= j
		}
		st.boiled[p] = 0
		st.boilC[p], _ = s.saturationC(st.pa[p])
	}
	share := 0.0
	if out > 0 && flows > 0 {
		share = flows / out
	}
	for _, q := range st.cooler {
		j := share * st.condense[q]
		s.wetten(q, j)
		s.CondensedJ += j
		st.condense[q] = 0
	}
}

// wetten condenses steam with the latent heat j in cell p; negative, it boils off.
func (s *Solver) wetten(p int, j float64) {
	material, _ := s.at(p)
	if material.LatentJM3 == 0 {
		return
	}
	s.BoiledJ -= j
	s.liquid.touch(p)
	s.receive(p, j, j*(1+(material.CWetJM3K-material.CDryJM3K)/material.LatentJM3*(s.phases.BoilC-s.bodyC)))
}

// latentJ returns the latent heat of all the water that cell p can hold, J.
func (s *Solver) latentJ(p int) float64 {
	material, vol := s.at(p)
	return material.LatentJM3 * vol
}
