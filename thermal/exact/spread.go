package exact

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Spreading resistances, in ohm, from an electrode to a ground far away. sigma in
// S/m. Holm, Electric Contacts; Grimnes & Martinsen, Bioimpedance and Bioelectricity
// Basics, ch. 6. With k for sigma and heat for current they are thermal resistances.

// SphereResistance: 1/(4 pi sigma a), in an infinite body.
func SphereResistance(sigma, a float64) float64 { return 1 / (4 * math.Pi * sigma * a) }

// HemisphereResistance: 1/(2 pi sigma a), on a half-space.
func HemisphereResistance(sigma, a float64) float64 { return 1 / (2 * math.Pi * sigma * a) }

// DiscResistance: 1/(4 sigma a), an equipotential disc on a half-space.
func DiscResistance(sigma, a float64) float64 { return 1 / (4 * sigma * a) }

// EvenDiscResistance: 8/(3 pi^2 sigma a), the mean over a disc of even current
// density on a half-space; its centre has 1/(pi sigma a), its rim 2/(pi^2 sigma a).
func EvenDiscResistance(sigma, a float64) float64 { return 8 / (3 * math.Pi * math.Pi * sigma * a) }

// EllipseResistance returns that of an elliptical pad with semi-axes a >= b on a
// half-space:
//
//	K(m)/(2 pi sigma a),  m = 1 - (b/a)^2
func EllipseResistance(sigma, a, b float64) float64 {
	return mathext.CompleteK(1-b*b/(a*a)) / (2 * math.Pi * sigma * a)
}

// RodResistance approximates a rod of radius a driven to the depth l into a
// half-space. Dwight 1936, Elec Eng 55:1319:
//
//	(ln(4l/a) - 1)/(2 pi sigma l)
//
// A blunt cylinder lies some 2 % below it at l = 12 a (our own solution); Smythe's
// series in thermal/checks is the closer one for short needles.
func RodResistance(sigma, a, l float64) float64 {
	return (math.Log(4*l/a) - 1) / (2 * math.Pi * sigma * l)
}

// HalfSpheroidResistance is exact for half a prolate spheroid of radius a that
// reaches the depth l into a half-space:
//
//	ln((l+f)/(l-f))/(4 pi sigma f),  f^2 = l^2 - a^2
func HalfSpheroidResistance(sigma, a, l float64) float64 {
	f := math.Sqrt(l*l - a*a)
	return math.Log((l+f)/(l-f)) / (4 * math.Pi * sigma * f)
}

// SpheroidResistance is exact for a prolate spheroid of length l and radius a in
// an infinite body.
func SpheroidResistance(sigma, a, l float64) float64 {
	return HalfSpheroidResistance(sigma, a, l/2) / 2
}

// CoaxialResistance: ln(b/a)/(2 pi sigma l), between cylinders of length l.
func CoaxialResistance(sigma, a, b, l float64) float64 {
	return math.Log(b/a) / (2 * math.Pi * sigma * l)
}

// DiscPotential returns the potential, as a share of the electrode's, of an
// equipotential disc of radius a on a half-space:
//
//	(2/pi) asin(2a/(sqrt((r-a)^2 + z^2) + sqrt((r+a)^2 + z^2)))
func DiscPotential(a, r, z float64) float64 {
	return 2 / math.Pi * math.Asin(math.Min(1, 2*a/(math.Hypot(r-a, z)+math.Hypot(r+a, z))))
}

// DiscRimDensity returns the current density at radius r under an equipotential
// disc over its mean:
//
//	1/(2 sqrt(1 - r^2/a^2))
func DiscRimDensity(a, r float64) float64 { return 1 / (2 * math.Sqrt(1-r*r/(a*a))) }

// DiscCurrentWithin returns the share of an equipotential disc's current that
// flows inside radius r:
//
//	1 - sqrt(1 - r^2/a^2)
func DiscCurrentWithin(a, r float64) float64 { return 1 - math.Sqrt(1-r*r/(a*a)) }
