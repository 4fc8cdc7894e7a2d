// Package damage turns temperature histories into injury: Arrhenius integrals and
// thermal dose, integrated without error from the step's shape.
package damage

import "math"

// GasConstant is the molar gas constant in J/(mol K), CODATA 2018.
const GasConstant = 8.314462618

// ZeroC is 0 degrees Celsius in kelvin.
const ZeroC = 273.15

// Segment is one Arrhenius law, valid from FromC (degrees C) upwards to the next:
//
//	rate = exp(LnA - ThetaK/T),  T in kelvin,  ThetaK = Ea/R.
type Segment struct {
	FromC  float64 // lower end of its range, C; 0 where there is no break
	LnA    float64 // natural log of A in 1/s
	ThetaK float64 // activation temperature Ea/R, K
}

// Kinetics is a damage law: one segment, or several joined at break temperatures
// (ascending FromC; the first also serves below its range).
type Kinetics struct {
	Name     string
	Segments []Segment
}

// Rate returns dOmega/dt in 1/s at tC degrees Celsius.
func (k *Kinetics) Rate(tC float64) float64 { return math.Exp(k.LnRate(tC)) }

// LnRate returns the natural logarithm of Rate.
func (k *Kinetics) LnRate(tC float64) float64 {
	s := &k.Segments[0]
	for i := 1; i < len(k.Segments) && tC >= k.Segments[i].FromC; i++ {
		s = &k.Segments[i]
	}
	return s.LnA - s.ThetaK/(tC+ZeroC)
}
