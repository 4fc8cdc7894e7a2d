package thermal

import "math"

// Empty reports whether a point of the mesh, r from the axis, lies in no tissue from the
// start: beside a stalk or its head, or in the groove, with flanks of 45 degrees
// (assumption), that a loop has pressed into the stalk before the current.
func (c *Case) Empty(rM, zM float64) bool {
	edges := c.Edges()
	for i, l := range c.Layers {
		if zM < edges[i+1] {
			if l.Above && l.RadiusM > 0 && rM > l.RadiusM {
				return true
			}
			break
		}
	}
	e := c.Electrode
	return e.Tip == Loop && zM < 0 && zM > -2*e.HeightM &&
		rM > e.TipRadiusM+math.Max(0, math.Abs(zM+e.HeightM)-e.ContactRadiusM)
}

// touched returns the index of the layer through which the head touches what is opposite,
// -1 if it hangs free.
func (c *Case) touched() int {
	if !c.Layers[0].Above || c.Layers[0].RadiusM > 0 {
		return -1
	}
	for i, l := range c.Layers {
		if l.RadiusM > 0 {
			return i
		}
	}
	return -1
}

// ringM returns the inner radius of the ring as it is placed, m; not positive once it has met
// the axis.
func (s *simulation) ringM() float64 { return s.Electrode.TipRadiusM - s.x }

// placeLoop puts the wire where it is and takes away what it sweeps.
func (s *simulation) placeLoop() {
	e := &s.Electrode
	a, r, z := e.ContactRadiusM, s.ringM(), -e.HeightM
	s.metal, s.contacts = s.m.Ring(s.metal[:0], s.contacts, r, r+2*a, z-a, z+a)
	if s.empty == nil {
		s.clear()
	} else {
		s.swept()
	}
	s.heat.Insert(s.metal, s.contacts, e.HeatTransferWM2K, e.TemperatureC)
	s.withdraw()
	if s.touched() >= 0 {
		s.heat.SetSurface(math.Inf(1), s.Body.TemperatureC, nil, 0, 0)
	} else {
		s.heat.SetSurface(s.Lumen.HeatTransferWM2K, s.Lumen.TemperatureC, nil, 0, 0)
	}
	s.feed()
}

// clear empties what is not tissue, before anything moves.
func (s *simulation) clear() {
	s.empty = make([]bool, s.m.Len())
	var cells []int
	for k, z := range s.m.Z.Centres {
		for i, r := range s.m.X.Centres {
			if p := s.m.Index(i, 0, k); s.Empty(r, z) {
				s.empty[p] = true
				cells = append(cells, p)
			}
		}
	}
	s.heat.Insert(cells, nil, 0, 0)
	s.heat.Expose(s.Lumen.HeatTransferWM2K, s.Lumen.TemperatureC)
}

// closing returns how far, up to x, a ring can shrink without running into tissue that has
// not parted.
func (s *simulation) closing(x float64) float64 {
	a, open := s.Electrode.ContactRadiusM, s.Electrode.TipRadiusM
	if pressure := s.Electrode.Press.ForceN / (4 * a * s.ringM()); s.Physics.TearPa > 0 && pressure >= s.Physics.TearPa {
		return x
	}
	for k := s.m.Z.Find(-s.Electrode.HeightM - a); s.m.Z.Centres[k] < -s.Electrode.HeightM+a; k++ {
		for i := s.m.X.Find(s.ringM()); i >= 0 && s.m.X.Centres[i] > open-x; i-- {
			if s.m.X.Centres[i] < s.ringM() && s.whole(s.m.Index(i, 0, k)) {
				x = open - s.m.X.Centres[i] - touch
				break
			}
		}
	}
	return x
}

// leak returns the share of the current that flows through the head to what it touches, at
// the last solution.
func (s *simulation) leak() float64 {
	if s.leakK < 0 || s.sol.InS <= 0 {
		return 0
	}
	return -s.field.Current(s.leakK) / s.sol.InS
}

// stalkSummary reads off what the loop did.
func (s *simulation) stalkSummary() StalkSummary {
	c := StalkSummary{
		CutThroughS: s.severedS, RingRadiusM: math.Max(s.Electrode.TipRadiusM-s.where(), 0),
		PeakC: s.Body.TemperatureC, BasePeakC: s.Body.TemperatureC, OppositePeakC: math.NaN(), PartedShare: math.NaN(),
	}
	if s.chargeC > 0 {
		c.LeakShare = s.leakC / s.chargeC
	}
	if s.sweptM3 > 0 {
		c.PartedShare = 1 - s.draggedM3/s.sweptM3
		c.Sustained = c.PartedShare >= sustainedShare
	}
	radius, touched := s.stalk().RadiusM, s.touched()
	if touched >= 0 {
		c.OppositePeakC = s.Body.TemperatureC
	}
	below := -s.Electrode.HeightM + s.Electrode.ContactRadiusM // lower end of the wire
	front := s.surface(s.omega.Sum)
	base := s.m.Z.Find(0)
	for k, z := range s.m.Z.Centres {
		for i, r := range s.m.X.Centres {
			p := s.m.Index(i, 0, k)
			if s.heat.Gone(p) {
				continue
			}
			t := s.peak[p]
			switch l := s.layerOf[k]; {
			case l <= touched:
				c.OppositePeakC = math.Max(c.OppositePeakC, t)
			case z < 0:
				c.PeakC = math.Max(c.PeakC, t)
				if z > below && front.injured(p) {
					c.BelowRingM = math.Max(c.BelowRingM, math.Min(front.lower(i, 0, k), 0)-below)
				}
			}
			if (k == base || k == base-1) && r < radius {
				c.BasePeakC = math.Max(c.BasePeakC, t)
			}
		}
	}
	return c
}
