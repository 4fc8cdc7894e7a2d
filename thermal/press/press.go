// Package press is the mechanics of a hand that presses a rigid tip onto soft tissue:
// how far the tissue gives way, how large the contact is, and which layers thin.
//
// Tissue is elastic, incompressible (Poisson's ratio 0.5) and bonded to a firm base.
// SI units.
package press

import "math"

// Layer is the tissue that gives way, and what it does so on is firm.
type Layer struct {
	ModulusPa  float64 // Young's modulus through its thickness
	ThicknessM float64
	RestShare  float64 // of its thickness that is left however hard the hand presses
}

// Contact is a tip at rest on the tissue.
type Contact struct {
	ForceN       float64
	PressurePa   float64 // mean over the contact
	RadiusM      float64 // of the contact
	IndentationM float64
	Furthest     bool // the layer has given all the way it can
}

// Tip returns the force and the contact radius of a tip at an indentation of a layer.
type Tip func(l Layer, indentationM float64) (forceN, radiusM float64)

// plane returns E/(1-nu^2).
func (l Layer) plane() float64 { return l.ModulusPa / 0.75 }

// Sphere is a ball of radius R. With x = sqrt(R d)/h,
//
//	F = 4/3 E/(1-nu^2) sqrt(R) d^1.5 (1 + 1.133 x + 1.283 x^2 + 0.769 x^3 + 0.0975 x^4)
//	a^2 = R d (1 + 3 x/(2 + x)), at most R^2
//
// Hertz (Johnson 1985, Contact Mechanics, ch. 4) with the correction of Dimitriadis and
// others 2002, Biophys J 82:2798, for a thin layer, from memory: up to x = 5 at most 18 %
// below the solution of the layer (exact.IndentedLayer). The contact of Hertz is a^2 = R d, that
// of a very thin layer 4 R d; what lies between is fitted to the same solution, 4 % off
// at most.
func Sphere(radiusM float64) Tip {
	return func(l Layer, d float64) (float64, float64) {
		x := math.Sqrt(radiusM*d) / l.ThicknessM
		thin := 1 + x*(1.133+x*(1.283+x*(0.769+x*0.0975)))
		a := math.Sqrt(radiusM * d * (1 + 3*x/(2+x)))
		return 4. / 3 * l.plane() * math.Sqrt(radiusM) * math.Pow(d, 1.5) * thin, math.Min(a, radiusM)
	}
}

// Punch is a flat round face of radius a. With x = a/h,
//
//	F = 2 a E/(1-nu^2) d (1 + 1.133 x + 1.283 x^2 + (3 pi/64) x^3)
//
// Johnson 1985, ch. 3, for a thick layer; the first two terms of the correction are those of
// a sphere, the last is the limit of a thin layer squeezed like a film of fluid: within 15 %
// of the solution of the layer (exact.IndentedLayer).
func Punch(radiusM float64) Tip {
	return func(l Layer, d float64) (float64, float64) {
		x := radiusM / l.ThicknessM
		return 2 * radiusM * l.plane() * d * (1 + x*(1.133+x*(1.283+x*3*math.Pi/64))), radiusM
	}
}

// UnderForce returns the contact of a tip pressed with a force above 0, in N.
func (l Layer) UnderForce(t Tip, forceN float64) Contact {
	c := l.settle(t, func(force, _ float64) bool { return force >= forceN })
	c.ForceN = forceN
	c.PressurePa = forceN / (math.Pi * c.RadiusM * c.RadiusM)
	return c
}

// UnderPressure returns the contact of a tip pressed with a mean pressure above 0 over
// the contact it makes, in Pa.
func (l Layer) UnderPressure(t Tip, pressurePa float64) Contact {
	c := l.settle(t, func(force, radius float64) bool { return force >= pressurePa*math.Pi*radius*radius })
	c.PressurePa = pressurePa
	c.ForceN = pressurePa * math.Pi * c.RadiusM * c.RadiusM
	return c
}

// settle returns the least indentation that carries the load, or the furthest the layer
// gives way: force and pressure of a tip rise with its indentation.
func (l Layer) settle(t Tip, carries func(forceN, radiusM float64) bool) Contact {
	low, high := 0.0, (1-l.RestShare)*l.ThicknessM
	furthest := !carries(t(l, high))
	if !furthest {
		for range 60 { // to the last bits of high
			if d := (low + high) / 2; carries(t(l, d)) {
				high = d
			} else {
				low = d
			}
		}
	}
	_, radius := t(l, high)
	return Contact{RadiusM: radius, IndentationM: high, Furthest: furthest}
}

// Squeeze returns the share of its thickness that each part of the layer keeps at an
// indentation: all thin alike.
func (l Layer) Squeeze(indentationM float64) float64 { return 1 - indentationM/l.ThicknessM }
