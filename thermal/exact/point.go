package exact

import "math"

// Lumped returns the rise of evenly heated tissue (q in W/m3) with no gradients:
//
//	Q/G (1 - e^(-beta t));  Q t/(rho c) without perfusion
func Lumped(s Solid, q, t float64) float64 {
	if s.G == 0 {
		return q * t / s.RhoC
	}
	return -q / s.G * math.Expm1(-s.Beta()*t)
}

// PointSource returns the rise at distance r from a point source of power P (W)
// in an infinite perfused body, switched on at t = 0:
//
//	P/(8 pi k r) [e^(-r/l) erfc(z - w) + e^(r/l) erfc(z + w)]
//
// Steady: P e^(-r/l)/(4 pi k r). On the surface of a half-space it is double.
// Carslaw & Jaeger 1959, 10.4.
func PointSource(s Solid, powerW, r, t float64) float64 {
	return StepTemperature(s, powerW/(4*math.Pi*s.K*r), r, t)
}

// HeldSphere returns the rise at distance r >= a from the centre of a sphere of
// radius a held at the rise dT from t = 0 in an infinite perfused body:
//
//	dT (a/r) times the unit StepTemperature at r - a
//
// Carslaw & Jaeger 1959, 9.10.
func HeldSphere(s Solid, dT, a, r, t float64) float64 {
	return StepTemperature(s, dT*a/r, r-a, t)
}

// HeldSpherePower returns the power (W) that holds the sphere of HeldSphere in
// the steady state:
//
//	4 pi k a^2 dT (1/a + 1/l)
func HeldSpherePower(s Solid, dT, a float64) float64 {
	return 4 * math.Pi * s.K * a * a * dT * (1/a + 1/s.Lambda())
}

// GaussianSource returns the rise at distance r from the centre of the source
// P (2 pi sd^2)^(-3/2) e^(-r^2/2sd^2) W/m3 in an infinite perfused body, on from t = 0:
//
//	P/((2 pi)^1.5 k) Int_{1/sqrt(sd^2 + 2 alpha t)}^{1/sd} e^(-beta tau - r^2 u^2/2) du,
//	tau = (1/u^2 - sd^2)/(2 alpha)
//
// At the centre without perfusion: P/((2 pi)^1.5 k) [1/sd - 1/sqrt(sd^2 + 2 alpha t)].
// Cf. Gao, Langer & Corry 1995, Int J Hyperthermia 11:267.
func GaussianSource(s Solid, powerW, sd, r, t float64) float64 {
	first := 1 / math.Sqrt(sd*sd+2*s.Alpha()*t)
	f := func(u float64) float64 {
		tau := (1/(u*u) - sd*sd) / (2 * s.Alpha())
		return math.Exp(-s.Beta()*tau - r*r*u*u/2)
	}
	return powerW / (math.Pow(2*math.Pi, 1.5) * s.K) * integrate(f, first, 1/sd, 16)
}
