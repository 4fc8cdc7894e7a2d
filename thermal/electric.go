package thermal

import (
	"math"

	"muralheat/thermal/field"
)

// conduct returns the electrical resistivity of cell p from its temperature and water:
// the series rule of wet and dried tissue,
//
//	rho = w/wet + (1-w)/(share wet + sparks),   wet = sigma0 (1 + slope (min(T,100) - 37))
func (s *simulation) conduct(p int, sigma0 float64) float64 {
	if s.heat.Gone(p) {
		return field.Void
	}
	wet, w := s.wetSigma(p, sigma0), s.heat.Water[p]
	rho := 1 / wet
	if w < 1 {
		rho = w*rho + (1-w)/(s.Physics.DrySigmaShare*wet+s.spark[p])
	}
	return min(rho, 1e9)
}

// wetSigma returns the conductivity of cell p with its water, drySigma without it, S/m.
func (s *simulation) wetSigma(p int, sigma0 float64) float64 {
	return sigma0 * (1 + s.Physics.SigmaPerK*(min(s.heat.T[p], s.Physics.BoilC)-37))
}

func (s *simulation) drySigma(p int, sigma0 float64) float64 {
	return s.Physics.DrySigmaShare * s.wetSigma(p, sigma0)
}

// stale reports whether the field must be solved again: never solved, the electrode
// moved by half a cell, or resistivity changed where heat is.
func (s *simulation) stale() bool {
	if !s.isSolved {
		return true
	}
	if s.Motion.Moving() && math.Abs(s.x-s.solvedX) >= s.finest/2*0.999 {
		return true
	}
	change, sum := 0.0, 0.0
	for _, p := range s.heard {
		_, _, k := s.m.Cell(p)
		r := s.conduct(p, s.Layers[s.layerOf[k]].Material.SigmaSM)
		change += s.q[p] * math.Abs(r/s.solved[p]-1)
		sum += s.q[p]
	}
	return change > s.Numerics.Resolve*sum
}

// solve computes the field as things are now, the voltage that the source makes of it,
// and where the heat goes.
func (s *simulation) solve() {
	for k := range s.m.NZ {
		sigma0 := s.Layers[s.layerOf[k]].Material.SigmaSM
		for p := s.m.Index(0, 0, k); p < s.m.Index(0, 0, k+1); p++ {
			s.rho[p] = s.conduct(p, sigma0)
		}
	}
	s.solvedX = s.x
	s.field.Assemble(s.rho, s.feeds, s.solvedX)
	n := s.field.Solve(s.Numerics.Tolerance)
	s.res.Summary.Iterations += n
	if n == field.MostIterations {
		s.unsolved++
	}
	s.sol = s.field.Heat(s.q)
	s.regulate()
	s.isSolved = true
	copy(s.solved, s.rho)
	copy(s.lastSpark, s.spark)

	s.heard = s.heard[:0]
	floor := 1e-6 * s.sol.HeatS
	for p := s.m.Plane(); p < s.m.Plane()+s.m.Cells(); p++ {
		if s.q[p] > floor {
			s.heard = append(s.heard, p)
		}
	}
	b := &s.res.Balance
	if s.sol.InS > 0 {
		b.ChargeResidual = math.Max(b.ChargeResidual, math.Abs(s.sol.InS-s.sol.OutS)/s.sol.InS)
	}
	s.res.Summary.Solves++
}

// power fills src with the heat of the coming step.
func (s *simulation) power() {
	v2 := s.voltage * s.voltage
	for p, q := range s.q {
		s.src[p] = q * v2
	}
	if s.Physics.MetabolicHeat {
		for k := range s.m.NZ {
			w := s.Layers[s.layerOf[k]].Material.MetabolicWM3
			for j := range s.m.NY {
				for i := range s.m.NX {
					if p := s.m.Index(i, j, k); !s.heat.Gone(p) {
						s.src[p] += w * s.m.Volume(i, j, k)
					}
				}
			}
		}
	}
}

// withdraw takes the heat of the last solution out of tissue swept since: until the
// next one the source feeds what remains.
func (s *simulation) withdraw() {
	if !s.isSolved {
		return
	}
	swept := 0.0
	for _, p := range s.metal {
		swept += s.q[p]
		s.q[p] = 0
	}
	if swept > 0 {
		s.sol.HeatS -= swept
		s.regulate()
	}
}
