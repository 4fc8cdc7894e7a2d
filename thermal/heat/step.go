package heat

import "math"

// mostParts is how many parts a step may fall into: ten times what copper asks for on a fine
// mesh, and as long as anybody will wait for one.
const mostParts = 1e5

// Step advances by dt seconds with the heat src (W per cell) held constant, in as
// many explicit steps as stability asks for: a cell that dries on the way answers
// several times as fast from then on. Liquid water, which is some twenty times slower than heat,
// flows once at the end. It returns how many; 0 if there would be no end
// to them, and the step is not done.
func (s *Solver) Step(dt float64, src []float64) int {
	left := dt
	for steps := 1; ; steps++ {
		s.refresh()
		n := math.Max(1, math.Ceil(left*s.worst))
		if !(n < mostParts) { // nor is one that is no number
			return 0
		}
		h := left / n
		s.book(h)
		s.sweep(h, src)
		s.T, s.next = s.next, s.T
		if n == 1 {
			s.blow(dt)
			s.flow(dt)
			s.renew(dt)
			return steps
		}
		left -= h
	}
}

// book adds to the ledger what the boundaries take during a step of h seconds,
// and takes the part of an inserted electrode, whose faces lie inside the mesh.
func (s *Solver) book(h float64) {
	sum := func(ws []wall) float64 {
		q := 0.0
		for _, w := range ws {
			q += w.g * (s.T[w.p] - w.tC)
		}
		return q * h
	}
	s.LumenJ += sum(s.lumen) + sum(s.exposed) - s.rest.lumenW*h
	s.OuterJ += sum(s.outer) - s.rest.outerW*h
	s.ElectrodeJ += sum(s.contact) + sum(s.metal) - s.rest.electrodeW*h
	s.PerfusionJ -= s.rest.perfusionW * h
}

// sweep is one explicit Euler step:
//
//	T' = T + h/C (sum over faces of k (T_neighbour - T) + src - b (T - T_b))
func (s *Solver) sweep(h float64, src []float64) {
	m := s.m
	row, pl := m.NX, m.Plane()
	boil, body := s.phases.BoilC, s.bodyC
	perfusion, joule := 0.0, 0.0
	s.sink(src, -1)
	for p := pl; p < pl+m.Cells(); p += row {
		out := s.next[p : p+row]
		n := len(out)
		t, q, b, ic := s.T[p:][:n], src[p:][:n], s.b[p:][:n], s.invC[p:][:n]
		up, dn, ku, kd := s.T[p-pl:][:n], s.T[p+pl:][:n], s.k.Z[p-pl:][:n], s.k.Z[p:][:n]
		ke, east := s.k.X[p:][:n], s.T[p+1:][:n]
		tc, fw := t[0], 0.0 // no face west of the row's first cell
		if m.NY == 1 {      // the same without y faces, to keep the test out of the loop
			for i := range out {
				te := east[i]
				fe := ke[i] * (te - tc)
				perf := b[i] * (tc - body)
				f := fe - fw + ku[i]*(up[i]-tc) + kd[i]*(dn[i]-tc)
				perfusion += perf
				joule += q[i]
				v := tc + h*ic[i]*(f+q[i]-perf)
				if v > boil {
					v = s.change(p+i, v)
				}
				out[i] = v
				tc, fw = te, fe
			}
			continue
		}
		no, so, kn, ks := s.T[p-row:][:n], s.T[p+row:][:n], s.k.Y[p-row:][:n], s.k.Y[p:][:n]
		for i := range out {
			te := east[i]
			fe := ke[i] * (te - tc)
			perf := b[i] * (tc - body)
			f := fe - fw + ku[i]*(up[i]-tc) + kd[i]*(dn[i]-tc) + (kn[i]*(no[i]-tc) + ks[i]*(so[i]-tc))
			perfusion += perf
			joule += q[i]
			v := tc + h*ic[i]*(f+q[i]-perf)
			if v > boil {
				v = s.change(p+i, v)
			}
			out[i] = v
			tc, fw = te, fe
		}
	}
	joule += s.sink(src, 1)
	s.PerfusionJ += perfusion * h
	s.JouleJ += joule * h
}

// sink adds sign times the heat that leaves through faces inside the mesh, to an inserted
// electrode or to empty space, to src, and returns the sum.
func (s *Solver) sink(src []float64, sign float64) float64 {
	sum := 0.0
	for _, walls := range [2][]wall{s.metal, s.exposed} {
		for _, w := range walls {
			q := w.g * (s.T[w.p] - w.tC)
			src[w.p] += sign * q
			sum += q
		}
	}
	return sum
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
		s.m.CoupleCell(p, s.rho, s.k)
	}
	for _, p := range s.dirty {
		if r := s.rate(p); r > s.worst {
			s.worst = r
		}
	}
	s.dirty = s.dirty[:0]
}
