package heat

import (
	"math"

	"muralheat/mesh"
)

// liquid is the transport of liquid water down the gradient of w, with the heat it carries:
//
//	d(rho W w)/dt = div(rho W D grad w) - evaporation
//
// An amount of water is counted by its latent heat, J: the same for every layer, and what a
// cell holds of it is already known. Only cells whose water has changed, and their neighbours,
// are looked at: elsewhere w is even and nothing flows.
type liquid struct {
	g        mesh.Faces // water through a face per second and unit difference of w, W of latent heat; nil: none flows
	perJ     []float64  // heat capacity of the water of each layer over its latent heat, 1/K
	worst    float64    // largest rate at which a cell answers, 1/s
	waitsS   float64    // time for which it has not flowed yet
	active   []int      // cells whose water changed since it last flowed
	isActive []bool
	moved    []int     // cells that give or get water in the present step
	water    []float64 // what they get, J of latent heat
	heat     []float64 // and the sensible heat that comes with it, J
	isMoved  []bool
}

// leastDifference is the difference of w below which no water flows between two cells: it
// ends the tail of the profile, and with it the list of cells that are looked at. What it
// leaves undone is far below what any depth feels.
const leastDifference = 1e-6

// leastChange is the change of w below which liquid water leaves the conductances for heat as
// they are: they move by less than a ten-thousandth.
const leastChange = 1e-4

// SetDiffusivity lets liquid water flow with the diffusivity d, m2/s; before any is lost.
func (s *Solver) SetDiffusivity(d float64) {
	if !(d > 0) || math.IsInf(s.phases.BoilC, 1) { // nothing dries without boiling
		return
	}
	l, m := &s.liquid, s.m
	n := m.Len()
	resistance := make([]float64, n)
	for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
		material, _ := s.at(p)
		resistance[p] = 1 / (material.LatentJM3 * d) // +Inf where there is no water
	}
	for _, material := range s.materials {
		l.perJ = append(l.perJ, (material.CWetJM3K-material.CDryJM3K)/material.LatentJM3)
	}
	l.g = m.NewFaces()
	m.Couple(resistance, l.g)
	l.isActive, l.isMoved = make([]bool, n), make([]bool, n)
	l.water, l.heat = make([]float64, n), make([]float64, n)
	for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
		material, vol := s.at(p)
		if latent := material.LatentJM3 * vol; latent > 0 {
			sum := l.g.X[p] + l.g.X[p-1] + l.g.Z[p] + l.g.Z[p-m.Plane()]
			if m.NY > 1 {
				sum += l.g.Y[p] + l.g.Y[p-m.NX]
			}
			l.worst = math.Max(l.worst, sum/latent)
		}
	}
}

// touch adds cell p to those whose water has changed.
func (l *liquid) touch(p int) {
	if l.g.X != nil && !l.isActive[p] {
		l.isActive[p] = true
		l.active = append(l.active, p)
	}
}

// flowPart is the part of the longest stable step that liquid water waits for, and mostWaitS the
// longest time, s: it is some twenty times slower than heat. A quarter and double of both leave the
// depth of four examples within 0.002 mm (measured).
const (
	flowPart  = 0.2
	mostWaitS = 0.02
)

// flow moves liquid water, once dt seconds more have added up to a step worth making.
func (s *Solver) flow(dt float64) {
	l := &s.liquid
	if len(l.active) == 0 {
		return
	}
	l.waitsS += dt
	longest := math.Min(flowPart/l.worst, mostWaitS)
	if l.waitsS < longest {
		return
	}
	n := math.Max(1, math.Floor(l.waitsS/longest))
	for range int(n) {
		s.flowOnce(l.waitsS / n)
	}
	l.waitsS = 0
}

func (s *Solver) flowOnce(h float64) {
	l, m := &s.liquid, s.m
	row, pl := m.NX, m.Plane()
	for _, p := range l.active {
		if s.gone[p] {
			continue
		}
		k := p/pl - 1
		here, above, below := s.perJ(k), s.perJ(k-1), s.perJ(k+1)
		s.across(p, p+1, l.g.X[p]*h, here, here)
		s.across(p, p+pl, l.g.Z[p]*h, here, below)
		if m.NY > 1 {
			s.across(p, p+row, l.g.Y[p]*h, here, here)
		}
		// The face on a cell's low side belongs to the neighbour there, if that is looked at.
		if q := p - 1; !l.isActive[q] {
			s.across(q, p, l.g.X[q]*h, here, here)
		}
		if q := p - pl; !l.isActive[q] {
			s.across(q, p, l.g.Z[q]*h, above, here)
		}
		if q := p - row; m.NY > 1 && !l.isActive[q] {
			s.across(q, p, l.g.Y[q]*h, here, here)
		}
	}
	// Where nothing flowed nothing will until a neighbour's water changes, which then sees to both.
	for _, p := range l.active {
		l.isActive[p] = false
	}
	l.active = l.active[:0]
	for _, p := range l.moved {
		s.receive(p, l.water[p], l.heat[p])
		l.water[p], l.heat[p], l.isMoved[p] = 0, 0, false
		l.touch(p)
	}
	l.moved = l.moved[:0]
}

// perJ returns the heat capacity of water over its latent heat at depth index k, 1/K.
func (s *Solver) perJ(k int) float64 {
	return s.liquid.perJ[s.layerOf[min(max(k, 0), len(s.layerOf)-1)]]
}

// across notes what flows from cell a to its neighbour b, g being the water per unit
// difference of w, ofA and ofB what perJ says of their tissue. Water that passes from one tissue into another goes from
// one heat capacity to another; its heat is counted from steam at the boiling point, the state it ends in.
func (s *Solver) across(a, b int, g, ofA, ofB float64) {
	d := s.Water[a] - s.Water[b]
	if math.Abs(d) < leastDifference || g == 0 || s.gone[a] || s.gone[b] {
		return
	}
	if d < 0 {
		a, b, d, ofA, ofB = b, a, -d, ofB, ofA
	}
	l, water := &s.liquid, g*d
	l.water[a] -= water
	l.water[b] += water
	l.heat[a] -= water * ofA * (s.T[a] - s.bodyC)
	l.heat[b] += water * (ofB*(s.phases.BoilC-s.bodyC) - ofA*(s.phases.BoilC-s.T[a]))
	l.move(a)
	l.move(b)
}

// move adds cell p to those that give or get water.
func (l *liquid) move(p int) {
	if !l.isMoved[p] {
		l.isMoved[p] = true
		l.moved = append(l.moved, p)
	}
}

// receive adds water, J of latent heat, and sensible heat, J, to cell p.
func (s *Solver) receive(p int, water, heat float64) {
	s.embrace(p)
	material, vol := s.at(p)
	held := s.c[p]*(s.T[p]-s.bodyC) + heat
	w := s.Water[p] + water/(material.LatentJM3*vol)
	s.Water[p] = w
	s.c[p] = (material.CDryJM3K + w*(material.CWetJM3K-material.CDryJM3K)) * vol
	s.invC[p] = 1 / s.c[p]
	s.T[p] = s.bodyC + held*s.invC[p]
	if math.Abs(w-s.seen[p]) > leastChange {
		s.stain(p)
	}
}

// WaterResidual returns the water missing from the tissue less what boiled off and left, over what
// ever boiled off, by their latent heat and at least a microjoule: zero to rounding, for
// what flows or condenses again only changes place.
func (s *Solver) WaterResidual() float64 {
	missing := s.goneWaterJ
	for p := s.m.Plane(); p < s.m.Plane()+s.m.Cells(); p++ {
		if !s.gone[p] {
			missing += s.missing(p)
		}
	}
	return (missing - s.BoiledJ) / max(1e-6, math.Abs(missing), s.everBoiledJ)
}

// missing returns the water that cell p has lost, J of latent heat.
func (s *Solver) missing(p int) float64 {
	material, vol := s.at(p)
	return (1 - s.Water[p]) * material.LatentJM3 * vol
}
