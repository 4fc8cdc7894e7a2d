package thermal

import (
	"math"

	"muralheat/thermal/drive"
)

// Sparks. Between the metal and the first cell that still holds half of its water lies
// dried tissue of thickness d. Sparks cross it while the voltage over it is above
//
//	onset(d) = SparkOnsetV + SparkVM d
//
// and take that voltage with them, so that the tissue behind is fed with the share
// drive.Passed(onset/peak) of the electrode's voltage. The dried cells on the way get the
// extra conductivity that leaves just this share: from the share left at the last
// solution, as for two resistors in series, and so on until both agree. Where wet tissue
// close by keeps the potential up, nothing is left for sparks and they go out. Their
// heat falls into the dried cells they cross.

const (
	sparksBelow = 0.5  // share of water below which a cell counts as dried
	sparkStep   = 10.0 // most change of a spark's conductivity from one solution to the next
)

// dryPath is the way of a spark from a contact through dried cells.
type dryPath struct {
	cells []int
	dryM  float64 // dried thickness
	wet   int     // first cell behind that is not dried
}

// path follows contact c away from the metal; false if the tissue there is wet.
func (s *simulation) path(c int, into *dryPath) bool {
	f := &s.feeds[c]
	into.cells, into.dryM = into.cells[:0], 0
	p, ok := f.P, true
	for ; ok && s.heat.Water[p] < sparksBelow && !s.heat.Gone(p); p, ok = s.m.Beyond(p, f.Step) {
		into.cells = append(into.cells, p)
		into.dryM += (1 - s.heat.Water[p]) * s.m.Extent(p, f.Step)
	}
	into.wet = p
	return ok && len(into.cells) > 0 && !s.heat.Gone(p)
}

// sparks sets the extra conductivity of dried cells for the voltage now, from the last
// solution.
func (s *simulation) sparks() {
	for _, p := range s.sparking {
		s.spark[p] = 0
	}
	s.sparking = s.sparking[:0]
	peak := s.voltage * s.mode.CrestFactor()
	if !s.isSolved || peak <= s.Physics.SparkOnsetV {
		return
	}
	for c := range s.feeds {
		if !s.path(c, &s.way) {
			continue
		}
		passed := drive.Passed((s.Physics.SparkOnsetV + s.Physics.SparkVM*s.way.dryM) / peak)
		if passed == 0 {
			continue
		}
		dry, squares := 0.0, 0.0 // S/m without sparks; resistance of the way times area, as solved
		for _, p := range s.way.cells {
			_, _, k := s.m.Cell(p)
			d := s.drySigma(p, s.Layers[s.layerOf[k]].Material.SigmaSM)
			dry = math.Max(dry, d)
			squares += (1 - s.heat.Water[p]) * s.m.Extent(p, s.feeds[c].Step) / (d + s.lastSpark[p])
		}
		now := s.way.dryM / squares
		lost := math.Min(math.Max(1-s.field.Phi[s.way.wet], 1e-4), 1-1e-6)
		change := lost / (1 - lost) * passed / (1 - passed)
		extra := now*math.Min(math.Max(change, 1/sparkStep), sparkStep) - dry
		if extra <= 0 {
			continue
		}
		for _, p := range s.way.cells {
			if s.spark[p] == 0 {
				s.sparking = append(s.sparking, p)
			}
			s.spark[p] = math.Max(s.spark[p], extra)
		}
	}
}

// sparkCurrent returns the share of the current that left the metal in sparks at the
// last solution.
func (s *simulation) sparkCurrent() float64 {
	if s.sol.InS <= 0 || len(s.sparking) == 0 {
		return 0
	}
	sum := 0.0
	for _, f := range s.feeds {
		extra := s.lastSpark[f.P]
		if extra == 0 || s.heat.Water[f.P] >= sparksBelow {
			continue
		}
		_, _, k := s.m.Cell(f.P)
		dry := s.drySigma(f.P, s.Layers[s.layerOf[k]].Material.SigmaSM)
		sum += (1 - s.field.Phi[f.P]) / (s.rho[f.P] * f.Squares) * extra / (extra + dry)
	}
	return sum / s.sol.InS
}
