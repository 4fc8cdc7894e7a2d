package thermal

import "math"

// skin reads off what a neutral electrode does to the skin under it.
type skin struct {
	spots []spot
	worst PadSummary
}

// spotM2 is the area over which IEC 60601-2-2 judges the rise of skin temperature.
const spotM2 = 1e-4

// spot is a round piece of skin: the share of each column, out to which it reaches, in its
// area.
type spot struct {
	atM    float64
	first  int
	shares []float64
}

// newSkin prepares the means over spots wherever they may lie: between every other pair of
// columns, and at the centre.
func (s *simulation) newSkin() *skin {
	x, k := s.m.X, &skin{}
	radius := math.Sqrt(spotM2 / math.Pi)
	for at := 0.0; at < s.Electrode.TipRadiusM+radius; at += math.Min(x.Width(x.Find(at))/2, radius/8) {
		sp := spot{atM: at, first: -1}
		for i := range x.Len() {
			share := (lens(radius, x.Faces[i+1], at) - lens(radius, x.Faces[i], at)) / spotM2
			switch {
			case share > 1e-12 && sp.first < 0:
				sp.first, sp.shares = i, []float64{share}
			case sp.first >= 0 && x.Faces[i] < at+radius:
				sp.shares = append(sp.shares, math.Max(share, 0))
			}
		}
		k.spots = append(k.spots, sp)
	}
	return k
}

// lens returns the area common to two circles of radii a and b with centres d apart, m2.
func lens(a, b, d float64) float64 {
	if least := math.Min(a, b); d <= math.Abs(a-b) {
		return math.Pi * least * least
	}
	if d >= a+b {
		return 0
	}
	u := (d*d + a*a - b*b) / (2 * d) // distance of the common chord from the centre of a
	w := d - u
	return a*a*math.Acos(math.Max(-1, math.Min(1, u/a))) + b*b*math.Acos(math.Max(-1, math.Min(1, w/b))) -
		d*math.Sqrt(math.Max(0, a*a-u*u))
}

// before returns the temperature of cell p before the current.
func (s *simulation) before(p int) float64 {
	if s.restC == nil {
		return s.Body.TemperatureC
	}
	return s.restC[p]
}

// look takes down the rises of the skin as they are now, and returns the mean over its
// hottest square centimetre, K.
func (s *simulation) look() (meanK float64) {
	rise := func(i int) float64 {
		p := s.m.Index(i, 0, 0)
		return s.heat.T[p] - s.before(p)
	}
	w := &s.skin.worst
	meanK = math.Inf(-1)
	for _, sp := range s.skin.spots {
		mean := 0.0
		for n, share := range sp.shares {
			mean += share * rise(sp.first+n)
		}
		meanK = math.Max(meanK, mean)
		if mean > w.MeanRiseK {
			w.MeanRiseK, w.MeanRiseAtM = mean, sp.atM
		}
	}
	w.CentreRiseK = math.Max(w.CentreRiseK, rise(0))
	i := s.m.X.Find(s.Electrode.ContactRadiusM * (1 + 1e-12)) // the cell outside the rim
	x, at := s.m.X.Centres, s.Electrode.ContactRadiusM
	f := (at - x[i-1]) / (x[i] - x[i-1])
	w.RimRiseK = math.Max(w.RimRiseK, (1-f)*rise(i-1)+f*rise(i))
	return meanK
}

// pad closes what was read off.
func (s *simulation) pad() PadSummary {
	w := s.skin.worst
	for p := s.m.Index(0, 0, 0); p < s.m.Index(0, 0, s.m.NZ); p++ {
		w.HighestRiseK = math.Max(w.HighestRiseK, s.peak[p]-s.before(p))
	}
	w.SkinPeakC = s.peak[s.m.Index(0, 0, 0)]
	for i := range s.m.NX {
		w.SkinPeakC = math.Max(w.SkinPeakC, s.peak[s.m.Index(i, 0, 0)])
	}
	return w
}
