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

	passes = steamKgM3 / steamPaS * steamJKg // J of latent heat/(s m Pa) by each m2 of permeability
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
	*st = steam{Steam: v, geo: m.NewFaces(), top: make([]float64, m.Plane()), kappa: v.PermeabilityM2 * passes,
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

// mostOverK is how far above the boiling point a cooler cell may be brought by the steam of one flow, K; it boils off again
// in the next step. What would heat it further leaves: matter that holds no heat would be heated without end.
const mostOverK = 1000

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
		j := min(share*st.condense[q], s.c[q]*(s.phases.BoilC+mostOverK-s.T[q]))
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
