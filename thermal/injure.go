package thermal

import (
	"fmt"
	"math"
)

// evenK is the change of temperature, K, after which damage is integrated again. In
// between the rate is taken to change exponentially, as it does while temperature
// moves evenly; a tenth of it moves the depth by 0.2 um (measured, 1 to 10 W).
const evenK = 0.25

// absoluteZeroC is colder than anything is.
const absoluteZeroC = -273.15

// injure integrates damage up to now, dt after the step before, and lets it stop
// perfusion: cells whose temperature has moved by evenK, or all that are warm.
func (s *simulation) injure(dt float64, all bool) error {
	t := s.heat.T
	for p := s.m.Plane(); p < s.m.Plane()+s.m.Cells(); p++ {
		now := t[p]
		if now > s.peak[p] {
			s.peak[p] = now
		}
		since := s.since[p]
		if since < 0 {
			if now < s.coldC {
				if now < absoluteZeroC {
					return s.failure(p, fmt.Sprintf("temperature became %g C", now))
				}
				continue
			}
			since = s.t - dt
		} else if math.Abs(now-s.lastC[p]) < evenK && !all {
			continue
		}
		if s.heat.Gone(p) {
			continue
		}
		if !(now < 1e5) {
			return s.failure(p, fmt.Sprintf("temperature became %g C", now))
		}
		for _, g := range s.integrals {
			g.Add(p, now, s.t-since)
		}
		s.lastC[p], s.since[p] = now, s.t
		if now < s.coldC {
			s.since[p] = -1
		}
		if o := s.omega.Sum[p]; o > 1e-4 {
			switch s.Physics.PerfusionStops {
			case WithDamage:
				s.heat.Perfuse(p, math.Exp(-o))
			case AtInjury:
				if o >= 1 {
					s.heat.Perfuse(p, 0)
				}
			}
		}
	}
	return nil
}
