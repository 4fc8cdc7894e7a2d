package exact

import "math"

// Leaky is a thin conducting sheet on a poorly conducting layer with a grounded underside: a film
// of liquid on tissue. Its potential obeys
//
//	laplace(phi) = phi/lambda^2,   lambda^2 = SheetS/LeakSM
//
// as that of a cable with a leaky sheath does in one dimension. Both are taken as thin against lambda.
type Leaky struct {
	SheetS float64 // conductivity of the sheet times its thickness, S
	LeakSM float64 // conductivity of the layer over its thickness, S/m2
}

// Lambda returns the length over which the potential falls off, m.
func (s Leaky) Lambda() float64 { return math.Sqrt(s.SheetS / s.LeakSM) }

// Share returns the potential at distance r (m) from the axis of a disc of radius a (m), over that of the disc:
//
//	K0(r/lambda)/K0(a/lambda)
//
// the solution that vanishes far away (Abramowitz & Stegun 1964, 9.6.1).
func (s Leaky) Share(r, a float64) float64 {
	return besselK(0, r/s.Lambda()) / besselK(0, a/s.Lambda())
}

// Resistance returns that of the disc to ground, ohm: current along the sheet from its edge, and
// straight down below it,
//
//	1/R = 2 pi (a/lambda) sheet K1(a/lambda)/K0(a/lambda) + pi a^2 leak
func (s Leaky) Resistance(a float64) float64 {
	x := a / s.Lambda()
	return 1 / (2*math.Pi*x*s.SheetS*besselK(1, x)/besselK(0, x) + math.Pi*a*a*s.LeakSM)
}
