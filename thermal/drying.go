package thermal

import "math"

// Drying is a material model: how the electrical conductivity of tissue falls with its water.
type Drying string

const (
	// Percolation: water conducts along connected paths, which thin out and break at a
	// threshold w_c of the share w of water that is left,
	//
	//	sigma = wet (s + (1-s) x^n),   x = max(0, (w - w_c)/(1 - w_c))
	Percolation Drying = "percolation"

	// Series: a drying cell is a dried and a wet part in series,
	//
	//	1/sigma = w/wet + (1-w)/(s wet)
	//
	// which cuts off a cell that has lost a tenth of its water.
	Series Drying = "series"
)

// wetSigma returns the conductivity of cell p with all its water, S/m: it rises with
// temperature up to boiling, and once more, for good, as the tissue coagulates,
//
//	wet = sigma0 (1 + slope (min(T, boil) - 37)) (1 + rise (1 - exp(-Omega)))
func (s *state) wetSigma(p int, sigma0 float64) float64 {
	t := s.heat.T[p]
	if boil := s.Physics.BoilC; t > boil {
		t = boil
	}
	wet := sigma0 * (1 + s.Physics.SigmaPerK*(t-37))
	if s.coagulatedShare != nil {
		wet *= 1 + s.Physics.CoagulatedSigmaRise*s.coagulatedShare[p]
	}
	return wet
}

// drySigma returns the conductivity of cell p without its water, S/m: no less than what the
// displacement current passes.
func (s *state) drySigma(p int) float64 {
	return s.dryOf(s.wetSigma(p, s.material(p).Material.SigmaSM))
}

func (s *state) dryOf(wet float64) float64 {
	return math.Max(s.Physics.DrySigmaShare*wet, math.Min(s.Physics.DryLeakSM, wet))
}

// connected returns x^n: the share of what wet tissue conducts beyond dried that tissue
// with the share w of its water has left.
func (ph *Physics) connected(w float64) float64 {
	x := (w - ph.SigmaThreshold) / (1 - ph.SigmaThreshold)
	if x <= 0 {
		return 0
	}
	return power(math.Min(x, 1), ph.SigmaExponent)
}

// power returns x to the power n, x positive; by roots and products where n is one, one and a half or two.
func power(x, n float64) float64 {
	switch n {
	case 1:
		return x
	case 1.5:
		return x * math.Sqrt(x)
	case 2:
		return x * x
	}
	return math.Pow(x, n)
}

// resistivityOf returns the resistivity, ohm m, of tissue with the conductivity wet (S/m) and
// the share w of its water, crossed by sparks of the conductivity spark.
func (s *state) resistivityOf(wet, w, spark float64) float64 {
	if w >= 1 && spark == 0 {
		return 1 / wet
	}
	dry := s.dryOf(wet)
	if s.Physics.Drying == Percolation {
		return 1 / (dry + (wet-dry)*s.Physics.connected(w) + spark)
	}
	return w*(1/wet) + (1-w)/(dry+spark) // rounded as stored results were
}

// gap returns the share of the length of cell p that a spark must cross: that of the water it
// has lost, 0 where it is wet enough to conduct.
func (s *state) gap(p int) float64 {
	w, from := s.heat.Water[p], wetFrom
	if s.Physics.Drying == Percolation {
		from = s.Physics.SigmaThreshold + nearThreshold
	}
	if w >= from {
		return 0
	}
	return 1 - w
}

const (
	wetFrom = 0.98 // share of water from which sparks need not cross a cell, by the series model

	// nearThreshold is how far above the threshold of percolation a cell counts as cut off:
	// there it conducts a hundredth of what it did (assumption).
	nearThreshold = 0.05
)
