package exact

import (
	"math"
	"math/cmplx"
)

// fronts returns the two terms every semi-infinite or radial solution is made of:
//
//	near = e^(-x/l) erfc(z - w)    far = e^(x/l) erfc(z + w)
//	z = x/(2 sqrt(alpha t)),  w = sqrt(beta t),  l = sqrt(k/G)
//
// The second is evaluated as e^(-z^2-w^2) erfcx(z+w), which does not overflow.
func fronts(s Solid, x, t float64) (near, far float64) {
	z := x / (2 * math.Sqrt(s.Alpha()*t))
	w := 0.0
	if s.G > 0 {
		w = math.Sqrt(s.Beta() * t)
	}
	return math.Exp(-x/s.Lambda()) * math.Erfc(z-w), math.Exp(-z*z-w*w) * erfcx(z+w)
}

// StepTemperature returns the rise at depth x and time t in a half-space whose
// surface jumps by dT at t = 0:
//
//	dT/2 [e^(-x/l) erfc(z - w) + e^(x/l) erfc(z + w)];  dT erfc(z) without perfusion
//
// Carslaw & Jaeger 1959, 2.4 and 4.14 (as a rod losing heat at its side).
func StepTemperature(s Solid, dT, x, t float64) float64 {
	near, far := fronts(s, x, t)
	return dT / 2 * (near + far)
}

// StepTemperatureFlux returns the flux into the unperfused half-space of
// StepTemperature, in W/m2:
//
//	k dT/sqrt(pi alpha t)
func StepTemperatureFlux(s Solid, dT, t float64) float64 {
	return s.K * dT / math.Sqrt(math.Pi*s.Alpha()*t)
}

// StepFlux returns the rise at depth x and time t in a half-space that takes
// the flux q (W/m2) through its surface from t = 0:
//
//	q l/(2k) [e^(-x/l) erfc(z - w) - e^(x/l) erfc(z + w)]
//	2 q sqrt(alpha t)/k ierfc(z)                               without perfusion
//
// Steady: q l/k e^(-x/l). Carslaw & Jaeger 1959, 2.9.
func StepFlux(s Solid, q, x, t float64) float64 {
	if s.G == 0 {
		d := 2 * math.Sqrt(s.Alpha()*t)
		return q * d / s.K * ierfc(x/d)
	}
	near, far := fronts(s, x, t)
	return q * s.Lambda() / (2 * s.K) * (near - far)
}

// ConvectiveSurface returns the rise at depth x and time t in an unperfused
// half-space that meets, at t = 0, a medium warmer by dT through the heat transfer
// coefficient h, W/(m2 K):
//
//	dT [erfc(z) - e^(h x/k + h^2 alpha t/k^2) erfc(z + h sqrt(alpha t)/k)]
//
// Carslaw & Jaeger 1959, 2.7.
func ConvectiveSurface(s Solid, dT, h, x, t float64) float64 {
	d := math.Sqrt(s.Alpha() * t)
	z, b := x/(2*d), h*d/s.K
	return dT * (math.Erfc(z) - math.Exp(-z*z)*erfcx(z+b))
}

// ContactTemperature returns the temperature of the interface of two half-spaces
// that started at t1 and t2 (any scale):
//
//	(e1 T1 + e2 T2)/(e1 + e2),  e = sqrt(k rho c)
//
// Carslaw & Jaeger 1959, 2.15.
func ContactTemperature(s1 Solid, t1 float64, s2 Solid, t2 float64) float64 {
	e1, e2 := s1.Effusivity(), s2.Effusivity()
	return (e1*t1 + e2*t2) / (e1 + e2)
}

// PeriodicFlux returns amplitude (K) and lag (rad) of the temperature at depth x
// under the surface flux q cos(omega t):
//
//	q/(k m) e^(-m x),  m = sqrt((beta + i omega)/alpha)
//
// The periodic part of Shih et al. 2007, Med Eng Phys 29:946.
func PeriodicFlux(s Solid, q, omega, x float64) (amplitude, lag float64) {
	m := cmplx.Sqrt(complex(s.Beta(), omega) / complex(s.Alpha(), 0))
	theta := complex(q/s.K, 0) / m * cmplx.Exp(-m*complex(x, 0))
	return cmplx.Abs(theta), -cmplx.Phase(theta)
}
