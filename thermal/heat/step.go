package heat

import (
	"math"

	"muralheat/thermal/heat/kernel"
)

// mostParts is how many parts a step may fall into: ten times what copper asks for on a fine
// mesh, and as long as anybody will wait for one.
const mostParts = 1e5

// Step advances by dt seconds with the heat src (W per cell, times SourceScale) held constant, in as
// many explicit steps as stability asks for: a cell that dries on the way answers
// several times as fast from then on. Liquid water, which is some twenty times slower than heat,
// flows once at the end. It returns how many; 0 if there would be no end
// to them, and the step is not done.
func (s *Solver) Step(dt float64, src []float64) int {
	left := dt
	s.far.allMoved = false
	for steps := 1; ; steps++ {
		s.refresh()
		n := math.Max(1, math.Ceil(left*max(s.worst, s.walled)))
		if !(n < mostParts) { // nor is one that is no number
			return 0
		}
		h := left / n
		if (s.far.waitsS+h)*s.far.worst > 1 {
			s.advance()
		}
		s.book(h)
		s.wait(h, src)
		s.sweep(h, src)
		s.T, s.next = s.next, s.T
		if n == 1 {
			s.blow(dt)
			s.flow(dt)
			s.renew(dt)
			if s.far.waitsS+dt > s.far.longestS() {
				s.CatchUp()
			}
			return steps
		}
		left -= h
	}
}

// book adds to the ledger what the boundaries take of near cells during a step of h seconds.
func (s *Solver) book(h float64) {
	lumen, _, outer, _ := s.parted()
	s.LumenJ += s.passW(lumen)*h + s.passW(s.exposed)*h - s.rest.lumenW*h
	s.OuterJ += s.passW(outer)*h - s.rest.outerW*h
	s.ElectrodeJ += s.passW(s.contact)*h + s.passW(s.metal)*h - s.rest.electrodeW*h
	s.PerfusionJ -= s.rest.perfusionW * h
}

// passW returns the heat that leaves through walls, W.
func (s *Solver) passW(walls []wall) float64 {
	q := 0.0
	for _, w := range walls {
		q += w.g * (s.T[w.p] - w.tC)
	}
	return q
}

// chunk is how many cells are looked through for one that boils, if there is any among them.
const chunk = 256

// sweep is one explicit Euler step,
//
//	T' = T + h/C (sum over faces of k (T_neighbour - T) + src - b (T - T_b))
//
// (kernel.Body.Step), after which what came to be hotter than boiling changes its phase instead.
func (s *Solver) sweep(h float64, src []float64) {
	s.body.T, s.body.Source, s.body.Scale = s.T, src, s.SourceScale
	s.march(s.far.near, h, s.phases.BoilC)
	s.sink(h)
	for _, c := range s.boiling {
		s.boil(c.First, c.End)
	}
	for _, walls := range [2][]wall{s.metal, s.exposed} { // hot metal may be what made them boil
		for _, w := range walls {
			s.boil(w.p, w.p+1)
		}
	}
}

// march makes the step for spans of cells, books it, and lists chunks with cells that came to be hotter than hot.
func (s *Solver) march(spans []Span, h, hot float64) {
	s.parts, s.stepS, s.hotC, s.boiling = s.parts[:0], h, hot, s.boiling[:0]
	for _, c := range spans {
		for p := c.First; p < c.End; p += chunk {
			s.parts = append(s.parts, part{Span: Span{p, min(p+chunk, c.End)}})
		}
	}
	n := (len(s.parts) + together - 1) / together
	for len(s.bodies) < n {
		s.bodies = append(s.bodies, kernel.Body{})
	}
	s.cores.Each(n, s.pieces)
	for _, of := range s.parts {
		s.PerfusionJ += of.perfusionW * h
		s.JouleJ += of.jouleW * h
		if of.hotter {
			s.boiling = append(s.boiling, of.Span)
		}
	}
}

// part is what a step makes of a chunk.
type part struct {
	Span
	perfusionW, jouleW float64
	hotter             bool
}

// together is how many chunks a core takes at once.
const together = 8

// marchPiece makes the step for a few chunks.
func (s *Solver) marchPiece(i int) {
	body := &s.bodies[i]
	*body = s.body // which adds up what it does
	for c := i * together; c < min((i+1)*together, len(s.parts)); c++ {
		of := &s.parts[c]
		of.perfusionW, of.jouleW, of.hotter = body.Step(s.next, of.First, of.End, s.stepS, s.hotC)
	}
}

// sink takes the heat that leaves through faces inside the mesh, to an inserted electrode or to empty space.
func (s *Solver) sink(h float64) {
	for _, walls := range [2][]wall{s.metal, s.exposed} {
		for _, w := range walls {
			s.next[w.p] -= h * s.invC[w.p] * w.g * (s.T[w.p] - w.tC)
		}
	}
}

// boil has the cells from first to end-1 change their phase where they came to be hotter than boiling;
// once more makes no difference.
func (s *Solver) boil(first, end int) {
	for p := first; p < end; p++ {
		if t := s.next[p]; t > s.phases.BoilC {
			s.next[p] = s.change(p, t)
		}
	}
}

// change turns the heat that would lift cell p above a phase temperature into lost
// water, then lost dry mass, and returns the temperature that is left.
//
// Water leaves with its latent heat and what it holds above body temperature, so
// the cell's own heat capacity falls from that of wet to that of dried tissue.
func (s *Solver) change(p int, t float64) float64 {
	ph := &s.phases
	w := s.Water[p]
	if w == 0 && t <= ph.CarbonC {
		return t
	}
	material, vol := s.at(p)
	if w > 0 {
		boil := s.boilAt(p)
		if t <= boil {
			return t
		}
		excess := s.c[p] * (t - boil)
		latent := material.LatentJM3 * vol
		// Hotter water takes less to boil, so that steam carries the same heat wherever it comes from.
		need := latent - (material.CWetJM3K-material.CDryJM3K)*vol*(boil-ph.BoilC)
		s.stain(p)
		s.liquid.touch(p)
		if lost := excess / need; lost < w {
			s.Water[p] = w - lost
			s.boilOff(p, lost*latent)
			s.c[p] = (material.CDryJM3K + (w-lost)*(material.CWetJM3K-material.CDryJM3K)) * vol
			s.invC[p] = 1 / s.c[p]
			return boil
		}
		s.Water[p] = 0
		s.boilOff(p, w*latent)
		s.c[p] = material.CDryJM3K * vol
		s.invC[p] = 1 / s.c[p]
		t = boil + (excess-w*need)*s.invC[p]
	}
	if t <= ph.CarbonC {
		return t
	}
	if x := s.Solid[p]; x > 0 {
		excess := s.c[p] * (t - ph.CarbonC)
		smoke := material.SmokeJM3 * vol
		if lost := excess / smoke; lost < x {
			s.Solid[p] = x - lost
			return ph.CarbonC
		}
		s.Solid[p] = 0
		t = ph.CarbonC + (excess-x*smoke)*s.invC[p]
	}
	if t > ph.CeilingC {
		s.SurplusJ += s.c[p] * (t - ph.CeilingC)
		t = ph.CeilingC
	}
	return t
}

// stain has the faces of cell p brought up to date before the next step.
func (s *Solver) stain(p int) {
	if !s.wet[p] {
		s.wet[p] = true
		s.dirty = append(s.dirty, p)
	}
}

// refresh brings the conductances up to date with the water lost.
func (s *Solver) refresh() {
	for _, p := range s.dirty {
		s.wet[p] = false
		if s.gone[p] {
			continue
		}
		s.seen[p] = s.Water[p]
		material, _ := s.at(p)
		s.rho[p] = 1 / (material.KDryWMK + s.Water[p]*(material.KWetWMK-material.KDryWMK))
		s.couple(p)
	}
	for _, p := range s.dirty {
		if r := s.rate(p); r > s.worst {
			s.worst = r
		}
	}
	s.dirty = s.dirty[:0]
}
