package heat

import (
	"math"
	"slices"

	"muralheat/mesh"
)

// Insert makes cells metal: their tissue is gone, with its heat, and the faces in
// contacts give heat to the electrode by he (W/m2K). Cells that were metal before
// and are not any more stay empty. Called again as the electrode moves.
func (s *Solver) Insert(metal []int, contacts []mesh.Contact, he, electrodeC float64) {
	taken := false
	s.steam.fill(metal)
	for _, p := range metal {
		if s.gone[p] {
			continue
		}
		s.embrace(p)
		s.gone[p], taken = true, true
		s.RemovedJ += s.c[p] * (s.T[p] - s.bodyC)
		steam, smoke := s.left(p)
		s.goneSteamJ += steam
		s.goneSmokeJ += smoke
		s.goneWaterJ += s.missing(p)
		s.invC[p], s.b[p] = 0, 0
		s.T[p] = math.Min(s.T[p], s.phases.BoilC) // what is gone boils no more
		s.rho[p] = void
		s.couple(p)
	}
	if taken {
		s.exposed = slices.DeleteFunc(s.exposed, func(w wall) bool { return s.gone[w.p] })
	}
	s.metal, s.walled = s.metal[:0], 0
	if he <= 0 {
		return
	}
	for _, c := range contacts {
		if s.gone[c.P] {
			continue
		}
		s.embrace(c.P)
		s.metal = append(s.metal, wall{c.P, 1 / (s.rho[c.P]*c.Squares + 1/(he*c.AreaM2)), electrodeC})
	}
	s.walled = s.fastest(s.metal)
}

// fastest returns the largest rate, 1/s, at which a cell answers that loses heat through walls inside the mesh too: its centre may lie
// a tenth of a cell from metal.
func (s *Solver) fastest(walls []wall) float64 {
	most, lost := 0.0, s.next // which the next step fills anew
	for _, w := range walls {
		lost[w.p] = 0
	}
	for _, w := range walls {
		lost[w.p] += w.g
		most = max(most, s.rate(w.p)+lost[w.p]*s.invC[w.p])
	}
	return most
}

// LimitMetal lowers the temperature of the metal that was inserted last, so that it gives no more
// than mostW watts to the tissue as that is now. It returns what it would give without.
func (s *Solver) LimitMetal(mostW float64) (wouldW float64) {
	g, given := 0.0, 0.0
	for _, w := range s.metal {
		g += w.g
		given += w.g * (w.tC - s.T[w.p])
	}
	if given > mostW && g > 0 {
		for i := range s.metal {
			s.metal[i].tC -= (given - mostW) / g
		}
	}
	return given
}

// ToBoil returns the heat that brings cell p to the boiling point, negative if it is hotter, and that
// which boils off the water it has left, J.
func (s *Solver) ToBoil(p int) (sensibleJ, latentJ float64) {
	material, vol := s.at(p)
	return s.c[p] * (s.phases.BoilC - s.T[p]), s.Water[p] * material.LatentJM3 * vol
}

// Expose sets the loss of tissue to the space that was emptied by Insert, as it is now, but where that holds metal (nil:
// nowhere): heat transfer h (W/m2K) to ambientC.
func (s *Solver) Expose(h, ambientC float64, metal func(p int) bool) {
	s.exposed = s.exposed[:0]
	if h <= 0 {
		return
	}
	m := s.m
	add := func(p, beside int, area, squares float64) {
		if s.gone[beside] && (metal == nil || !metal(beside)) {
			s.embrace(p)
			s.exposed = append(s.exposed, wall{p, 1 / (s.rho[p]*squares + 1/(h*area)), ambientC})
		}
	}
	for k := range m.NZ {
		for j := range m.NY {
			for i := range m.NX {
				p := m.Index(i, j, k)
				if s.gone[p] {
					continue
				}
				half, area := m.HalfSquares(m.Cell(p)), m.FaceAreas(p)
				if k > 0 {
					add(p, p-m.Plane(), area.Z, half.Z)
				}
				if k+1 < m.NZ {
					add(p, p+m.Plane(), area.Z, half.Z)
				}
				if i+1 < m.NX {
					add(p, p+1, area.East, half.East)
				}
				if i > 0 {
					add(p, p-1, area.West, half.West)
				}
				if j+1 < m.NY {
					add(p, p+m.NX, area.Y, half.Y)
				}
				if j > 0 {
					add(p, p-m.NX, area.Y, half.Y)
				}
			}
		}
	}
}

// void is the thermal resistivity of a gap, K m/W.
const void = 1e30

// Gone reports whether the tissue of cell p is no longer there.
func (s *Solver) Gone(p int) bool { return s.gone[p] }

// Removed reports that for every cell.
func (s *Solver) Removed() []bool { return s.gone }

// left returns the heat carried off by the water and by the decomposed dry mass
// of cell p, relative to body temperature.
func (s *Solver) left(p int) (steamJ, smokeJ float64) {
	material, vol := s.at(p)
	if dry := 1 - s.Water[p]; dry != 0 {
		steamJ = dry * vol * (material.LatentJM3 + (material.CWetJM3K-material.CDryJM3K)*(s.phases.BoilC-s.bodyC))
	}
	if burnt := 1 - s.Solid[p]; burnt > 0 {
		smokeJ = burnt * vol * material.SmokeJM3
	}
	return steamJ, smokeJ
}

// IntoRemovedJ returns the heat that went into the tissue taken away: what it held, and
// what its water and smoke had carried off before.
func (s *Solver) IntoRemovedJ() float64 { return s.RemovedJ + s.goneSteamJ + s.goneSmokeJ }

// Stores returns the heat stored in the tissue still there, and carried off by
// steam and smoke, relative to body temperature, in joules: functions of the state
// alone, so that their sum with the Ledger checks every step that was made.
func (s *Solver) Stores() (storedJ, steamJ, smokeJ float64) {
	for p := s.m.Plane(); p < s.m.Plane()+s.m.Cells(); p++ {
		if s.gone[p] {
			continue
		}
		storedJ += s.c[p] * (s.T[p] - s.bodyC)
		a, b := s.left(p)
		steamJ += a
		smokeJ += b
	}
	return storedJ - s.rest.storedJ, steamJ + s.goneSteamJ, smokeJ + s.goneSmokeJ + s.SurplusJ
}
