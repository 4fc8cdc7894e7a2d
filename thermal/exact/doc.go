// Package exact holds closed-form solutions of the equations solved here, for
// verification.
//
// SI units throughout. Temperatures are rises, in kelvin, above a body that
// starts at the temperature of its blood, unless a name ends in C. Everything
// is linear in its driving step, flux or power. A time of +Inf asks for the
// steady state where there is one. Formulas are from the sources named beside
// them, cited from memory; the tests carry independently computed values.
//
// Nothing here knows the solver: the package imports none of ours.
package exact

import "math"

// Solid is a uniform body of tissue.
type Solid struct {
	K    float64 // thermal conductivity, W/(m K)
	RhoC float64 // volumetric heat capacity, J/(m3 K)
	G    float64 // perfusion conductance: blood mass flow per volume times blood heat capacity, W/(m3 K); 0 for none
}

// Alpha returns the diffusivity k/(rho c) in m2/s.
func (s Solid) Alpha() float64 { return s.K / s.RhoC }

// Beta returns the perfusion rate G/(rho c) in 1/s.
func (s Solid) Beta() float64 { return s.G / s.RhoC }

// Lambda returns the perfusion length sqrt(k/G) in m, +Inf without perfusion.
func (s Solid) Lambda() float64 { return math.Sqrt(s.K / s.G) }

// Effusivity returns sqrt(k rho c) in W s^0.5/(m2 K).
func (s Solid) Effusivity() float64 { return math.Sqrt(s.K * s.RhoC) }
