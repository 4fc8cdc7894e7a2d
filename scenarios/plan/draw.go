package plan

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"muralheat/scenarios/keys"
)

// law is a distribution of one uncertain key.
type law struct {
	quantile func(p float64) float64
	low      float64 // probabilities between which it is drawn
	high     float64
	within   [2]float64
	support  [2]float64 // between which draws lie
}

type quantiler interface {
	CDF(x float64) float64
	Quantile(p float64) float64
}

// lawOf returns the law that u states, cut off where it says.
func lawOf(u *keys.Uncertain) law {
	var q quantiler
	support := [2]float64{math.Inf(-1), math.Inf(1)}
	switch {
	case u.Normal != nil:
		q = distuv.Normal{Mu: *u.Normal.Mean, Sigma: *u.Normal.SD}
	case u.Lognormal != nil:
		q = distuv.LogNormal{Mu: math.Log(*u.Lognormal.Median), Sigma: math.Log(*u.Lognormal.GSD)}
		support[0] = 0
	case u.Uniform != nil:
		q = distuv.Uniform{Min: *u.Uniform.Low, Max: *u.Uniform.High}
		support = [2]float64{*u.Uniform.Low, *u.Uniform.High}
	default:
		t := u.Triangular
		q = distuv.NewTriangle(*t.Low, *t.High, *t.Mode, nil)
		support = [2]float64{*t.Low, *t.High}
	}
	l := law{quantile: q.Quantile, high: 1, within: [2]float64{math.Inf(-1), math.Inf(1)}, support: support}
	if w := u.Within; w != nil {
		l.low, l.high, l.within = q.CDF(*w.Low), q.CDF(*w.High), [2]float64{*w.Low, *w.High}
		l.support = [2]float64{math.Max(support[0], *w.Low), math.Min(support[1], *w.High)}
	}
	return l
}

// at returns the value at place u of the law, 0 < u < 1.
func (l *law) at(u float64) float64 {
	return math.Min(math.Max(l.quantile(l.low+u*(l.high-l.low)), l.within[0]), l.within[1])
}

// extremes returns the draws of the least and the largest value of uncertain key j.
func extremes(seed uint64, draws, j int) (least, most int) {
	for d := range draws {
		switch u := placeOf(seed, d, j); {
		case u < placeOf(seed, least, j):
			least = d
		case u > placeOf(seed, most, j):
			most = d
		}
	}
	return least, most
}

// placeOf returns the random place of draw d for uncertain key j: a function of the seed
// and the two alone, so that a draw is the same wherever and whenever it is made, and
// the same at every point of the design.
func placeOf(seed uint64, d, j int) float64 {
	r := rand.New(rand.NewPCG(seed, uint64(d)<<8|uint64(j)))
	return (float64(r.Uint64()>>11) + 0.5) / (1 << 53)
}
