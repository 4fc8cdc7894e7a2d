package exact

import (
	"math"
	"testing"
)

// V39, V41, V42: sigma 0.5 S/m, a 1 mm. Holm; Dwight 1936, Elec Eng 55:1319.
func TestResistances(t *testing.T) {
	const s = 0.5
	same(t, "V39 hemisphere", HemisphereResistance(s, mm), "318.3099")
	same(t, "V39 disc", DiscResistance(s, mm), "500.0000")
	same(t, "V39 even disc", EvenDiscResistance(s, mm), "540.3796")
	same(t, "V39 sphere", SphereResistance(s, mm), "159.1549")
	same(t, "V41", EllipseResistance(s, 10*mm, 10*mm), "50.0000")
	same(t, "V41", EllipseResistance(s, 10*mm, 5*mm), "68.6440")
	same(t, "V41", EllipseResistance(s, 80*mm, 50*mm), "7.79791")
	same(t, "V42 rod", RodResistance(s, .25*mm, 3*mm), "304.644")
	same(t, "V42 half spheroid", HalfSpheroidResistance(s, .25*mm, 3*mm), "338.194")
	same(t, "V42 spheroid", SpheroidResistance(s, .25*mm, 3*mm), "266.642")
	same(t, "V42 coaxial", CoaxialResistance(s, .25*mm, 20*mm, 3*mm), "464.947")
	// A half spheroid as deep as wide is the hemisphere.
	within(t, "V42 to V39", HalfSpheroidResistance(s, mm, 1.0001*mm), HemisphereResistance(s, mm), 1e-4)
}

// V40. Holm; Grimnes & Martinsen, ch. 6.
func TestRim(t *testing.T) {
	row(t, "V40 density", func(r float64) float64 { return DiscRimDensity(1, r) },
		[]float64{0, .5, .8, .9, .95, .99}, ".5 .57735 .83333 1.14708 1.60128 3.54441")
	row(t, "V40 current", func(r float64) float64 { return DiscCurrentWithin(1, r) },
		[]float64{.5, .8, .9, .95, .99}, ".13397 .4 .56411 .68775 .85893")
}

// V24-V26. Kohlrausch 1900; Holm: 10 V on a disc of 1 mm, sigma 0.5, k 0.5.
func TestDiscPotential(t *testing.T) {
	const sigma, k, v, a = 0.5, 0.5, 10, mm
	at := []place{{0, 0, .5}, {0, 0, 1}, {0, 0, 2}, {1.5, 0, 0}, {2, 0, 0}, {2, 0, 1}, {5, 0, 0}, {5, 0, 5}}
	phi := func(r, _, z float64) float64 { return v * DiscPotential(a, r, z) }
	places(t, "V26 phi", phi, at, "7.048328 5.000000 2.951672 4.645591 3.333333 2.879294 1.281884 .898787")
	hot := []place{{0, 0, 0}, {.9, 0, 0}, {0, 0, .5}, {0, 0, 1}, {0, 0, 2}, {2, 0, 0}, {5, 0, 0}}
	rise := func(r, y, z float64) float64 { return InsulatedElectrodeRise(sigma, k, v, phi(r, y, z)) }
	places(t, "V26 dT", rise, hot, "50.0000 50.0000 45.6438 37.5000 25.1605 27.7778 11.9972")
	same(t, "V25 disc, K for 1 W", InsulatedDiscRise(k, 1, a), "250")
	same(t, "V25 sphere, K for 1 W", InsulatedSphereRise(k, 1, a), "79.5775")
	within(t, "V25 from V24", InsulatedDiscRise(k, v*v/DiscResistance(sigma, a), a), rise(0, 0, 0), 1e-12)
	within(t, "V24 held, greatest", HeldElectrodeRise(sigma, k, v, v/2.0), sigma*v*v/(8*k), 1e-12)
}

// gradient takes central differences of f at (r, z).
func gradient(f func(r, z float64) float64, r, z, h float64) (dr, dz float64) {
	return (f(r+h, z) - f(r-h, z)) / (2 * h), (f(r, z+h) - f(r, z-h)) / (2 * h)
}

// divergence takes that of c grad f in cylinder coordinates at (r, z).
func divergence(c, f func(r, z float64) float64, r, z, h float64) float64 {
	jr := func(r float64) float64 { return r * c(r, z) * (f(r+h/2, z) - f(r-h/2, z)) / h }
	jz := func(z float64) float64 { return c(r, z) * (f(r, z+h/2) - f(r, z-h/2)) / h }
	return (jr(r+h/2)-jr(r-h/2))/(h*r) + (jz(z+h/2)-jz(z-h/2))/h
}

// The coupled and the graded disc solve their equations: differences against the
// size of a single term.
func TestCoupledAndGraded(t *testing.T) {
	u := func(r, z float64) float64 { return DiscPotential(mm, r, z) }
	const h = 5e-6
	coupled := Coupled{SigmaSM: 0.5, SlopePerK: 0.018, K: 0.5, VoltageV: 9}
	phi := func(r, z float64) float64 { return coupled.Potential(u(r, z)) }
	rise := func(r, z float64) float64 { return coupled.Rise(phi(r, z)) }
	sigma := func(r, z float64) float64 { return 0.5 * (1 + 0.018*rise(r, z)) }
	k := func(r, z float64) float64 { return 0.5 }
	graded := Graded{SigmaSM: 0.5, C: 3}
	gSigma := func(r, z float64) float64 { return graded.Sigma(u(r, z)) }
	gPhi := func(r, z float64) float64 { return graded.Potential(u(r, z)) }
	for _, p := range [][2]float64{{0.3 * mm, 0.4 * mm}, {1.2 * mm, 0.5 * mm}, {2 * mm, 1 * mm}} {
		r, z := p[0], p[1]
		er, ez := gradient(phi, r, z, h)
		joule := sigma(r, z) * (er*er + ez*ez)
		if d := divergence(sigma, phi, r, z, h); math.Abs(d) > 2e-3*joule/coupled.VoltageV {
			t.Errorf("coupled current at %v: div %g of %g", p, d, joule)
		}
		within(t, "coupled heat", -divergence(k, rise, r, z, h), joule, 1e-3)
		gr, gz := gradient(gPhi, r, z, h)
		if d := divergence(gSigma, gPhi, r, z, h); math.Abs(d) > 1e-3*math.Hypot(gr, gz)/mm {
			t.Errorf("graded current at %v: div %g", p, d)
		}
	}
	within(t, "graded electrode", graded.Potential(1), 1, 1e-15)
	within(t, "coupled electrode", coupled.Potential(1), 9, 1e-12)
	// Conductance from the gradient on the axis deep below: phi -> u w(V) there.
	within(t, "coupled conductance", coupled.Potential(1e-6)/(1e-6*9), coupled.ConductanceGain(), 1e-5)
	within(t, "no slope", Coupled{0.5, 0, 0.5, 10}.ConductanceGain(), 1, 1e-14)
}

// V43, V44: R 4 sigma1 a of a disc on layers; a Fredholm equation (Sneddon 1966).
func TestLayeredDisc(t *testing.T) {
	at := []float64{.5, 1, 2, 4}
	ratio := func(bottom ...Sheet) func(float64) float64 {
		return func(h float64) float64 {
			return 4 * 0.5 * mm * LayeredDiscResistance(mm, append([]Sheet{{0.5, h * mm}}, bottom...))
		}
	}
	row(t, "V43 s2/s1 0.2", ratio(Sheet{0.1, inf}), at, "2.09623 1.64003 1.34070 1.17365")
	row(t, "V43 s2/s1 2", ratio(Sheet{1, inf}), at, "0.75046 0.84152 0.91229 0.95473")
	row(t, "V43 on ground", ratio(), at, "0.42906 0.62665 0.79016 0.89114")
	same(t, "V44, ohm", LayeredDiscResistance(mm, []Sheet{{.5, 1 * mm}, {.1, 1 * mm}, {.4, 2 * mm}}), "578.083")
	// Limits: no contrast; a thin sheet on ground conducts as if its
	// disc were wider by the edge of a strip, (2 ln 2/pi) h (conformal map).
	within(t, "V43 no contrast", ratio(Sheet{0.5, inf})(1), 1, 1e-12)
	within(t, "V43 split sheet", ratio(Sheet{0.5, mm}, Sheet{1, inf})(1), ratio(Sheet{1, inf})(2), 1e-10)
	const thin = 0.05 * mm
	wide := mm + 2*math.Ln2/math.Pi*thin
	within(t, "V43 thin", LayeredDiscResistance(mm, []Sheet{{0.5, thin}}), thin/(0.5*math.Pi*wide*wide), 1e-4)
}
