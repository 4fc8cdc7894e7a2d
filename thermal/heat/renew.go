package heat

import "math"

// renew brings water into the cells of layers that are renewed (Material.RenewalPerS), as much of what they lack
// as flows in during dt seconds, at body temperature. The water that they lost stays booked as steam.
func (s *Solver) renew(dt float64) {
	for k, layer := range s.layerOf {
		material := &s.materials[layer]
		if material.RenewalPerS == 0 || material.LatentJM3 == 0 {
			continue
		}
		part := -math.Expm1(-material.RenewalPerS * dt)
		for p := s.m.Index(0, 0, k); p < s.m.Index(0, 0, k+1); p++ {
			lack := 1 - s.Water[p]
			if s.gone[p] || lack <= 0 {
				continue
			}
			_, vol := s.at(p)
			water := part * lack * material.LatentJM3 * vol
			before, _ := s.left(p)
			s.receive(p, water, 0)
			s.liquid.touch(p)
			after, _ := s.left(p)
			s.goneWaterJ += water
			s.goneSteamJ += before - after
		}
	}
}
