// Package refine tells from a number computed on three meshes how far it is from what an
// endlessly fine mesh would give: observed order, extrapolation and grid convergence index,
// by the procedure of Celik and others 2008, J Fluids Eng 130:078001, after Roache 1994,
// J Fluids Eng 116:405 (both from memory).
package refine

import "math"

// Verdict says what three meshes have shown.
type Verdict string

const (
	Converges  Verdict = "converges"    // monotonically, at a credible order
	Unsure     Verdict = "order unsure" // monotonically, but at an order no scheme here has
	Oscillates Verdict = "oscillates"   // or moves away
	Same       Verdict = "same"         // nothing moves
	None       Verdict = "no value"     // one of the meshes has none
)

// Study is one quantity on three meshes, finest first.
type Study struct {
	SizeM [3]float64 // cells; the steps in time go with them
	Value [3]float64
}

// Estimate is what a study gives for the finest mesh, or for another by At.
type Estimate struct {
	Verdict      Verdict
	Order        float64 // observed; NaN if there is none
	Extrapolated float64 // NaN if there is none
	Uncertainty  float64 // of the finest value, in its unit: half-width of about 95 %
}

// Orders that the schemes of this program can have, first to second, with room for what
// three meshes scatter; and the factors of safety of Roache: 1.25 for an observed order, 3
// for one taken for granted.
const (
	leastOrder, mostOrder = 0.5, 3.0
	assumedOrder          = 1.0
	safe, unsafe          = 1.25, 3.0
)

// Estimate evaluates the study for its finest mesh.
func (s Study) Estimate() Estimate { return s.At(0) }

// At evaluates the study for mesh i: how far its value may be off.
func (s Study) At(i int) Estimate {
	e := Estimate{Verdict: None, Order: math.NaN(), Extrapolated: math.NaN(), Uncertainty: math.NaN()}
	for _, v := range s.Value {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return e
		}
	}
	r21, r32 := s.SizeM[1]/s.SizeM[0], s.SizeM[2]/s.SizeM[1]
	e21, e32 := s.Value[1]-s.Value[0], s.Value[2]-s.Value[1]
	spread := max(s.Value[0], s.Value[1], s.Value[2]) - min(s.Value[0], s.Value[1], s.Value[2])
	small := 1e-9 * math.Max(math.Abs(s.Value[0]), math.Abs(s.Value[2]))
	switch {
	case spread <= small:
		e.Verdict, e.Extrapolated, e.Uncertainty = Same, s.Value[0], spread
		return e
	case e21*e32 <= 0:
		// Not in the asymptotic range: the spread of the three is all there is.
		e.Verdict, e.Uncertainty = Oscillates, spread
		return e
	}
	p, factor := order(r21, r32, e32/e21), safe
	e.Order, e.Verdict = p, Converges
	if !(p >= leastOrder && p <= mostOrder) {
		e.Verdict, factor, p = Unsure, unsafe, assumedOrder
	}
	e.Extrapolated = s.Value[0] - e21/(math.Pow(r21, p)-1)
	e.Uncertainty = factor * math.Abs(s.Value[i]-e.Extrapolated)
	return e
}

// order solves for the order p at which errors grow as the size to the power of p, e
// being the change from the middle to the coarse mesh over that from the fine to the middle:
//
//	p = |ln e + ln((r21^p - s)/(r32^p - s))|/ln r21,   s = sign e
func order(r21, r32, e float64) float64 {
	s := 1.0
	if e < 0 {
		s = -1
	}
	p := math.Max(math.Abs(math.Log(math.Abs(e)))/math.Log(r21), 0.1) // at 0 both differences vanish
	for range 200 {
		last := p
		q := math.Log((math.Pow(r21, p) - s) / (math.Pow(r32, p) - s))
		p = math.Abs(math.Log(math.Abs(e))+q) / math.Log(r21)
		if math.IsNaN(p) || math.Abs(p-last) < 1e-12 {
			break
		}
	}
	return p
}

// GCIPercent is the grid convergence index: the uncertainty over the value, in percent.
func (e Estimate) GCIPercent(value float64) float64 { return 100 * e.Uncertainty / math.Abs(value) }
