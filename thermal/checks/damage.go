package checks

import (
	"fmt"
	"math"

	"muralheat/thermal/damage"
	"muralheat/thermal/exact"
	"muralheat/thermal/tissue"
)

// setOf returns a damage law of the library.
func setOf(name string) damage.Kinetics {
	k, ok := tissue.FindKinetics(name)
	if !ok {
		panic("checks: no kinetics " + name)
	}
	return k.Kinetics
}

// integrate returns the integral over [0, end] of the rate whose logarithm is ln,
// at tC(t), in n equal steps.
func integrate(ln func(tC float64) float64, tC func(t float64) float64, end float64, n int) float64 {
	g := damage.NewIntegral(1, ln, -200) // nothing is that cold: no step is skipped
	dt := end / float64(n)
	g.Add(0, tC(0), 0) // where the first step begins
	for i := range n {
		g.Add(0, tC(float64(i+1)*dt), dt)
	}
	return g.Sum[0]
}

// Damage checks Arrhenius integrals and thermal dose.
func Damage() []Check {
	var l list
	constant := func(tC float64) func(float64) float64 { return func(float64) float64 { return tC } }

	// Seconds to Omega = 1 at a constant temperature, computed beforehand with scipy
	// from the published constants.
	for _, c := range []struct {
		set, source string
		seconds     map[float64]float64
	}{
		{"skin-1947", henrique + ", E/R = 75000 K", map[float64]float64{44: 16260, 50: 201.5, 55: 5.867, 60: 0.1900, 70: 2.69e-4}},
		{"skin-1947-joule", henrique + ", Ea = 6.28e5 J/mol", map[float64]float64{44: 86760, 50: 1042, 55: 29.59, 60: 0.9353, 70: 1.26e-3}},
		{"skin-1947-reanalysis", "Diller and others, re-analysis of the 1947 data, from memory", map[float64]float64{44: 23070, 50: 328.1, 52: 82.31}},
		{"epidermis-1969", "Weaver and Stoll 1969, as in ASTM F1930, from memory", map[float64]float64{44: 5547, 52: 9.488, 55: 3.159, 60: 0.5282, 70: 1.73e-2}},
	} {
		k := setOf(c.set)
		for _, tC := range []float64{44, 50, 52, 55, 60, 70} {
			if s, ok := c.seconds[tC]; ok {
				l.relative(fmt.Sprintf("%s at %g C: time to Omega = 1", c.set, tC), c.source, s, 1/integrate(k.LnRate, constant(tC), 1, 10), 3e-3, "s")
			}
		}
	}

	ramp := func(t float64) float64 { return 37 + 2.3*t }
	pulse := func(t float64) float64 { return 37 + 33*math.Exp(-(t-5)*(t-5)/2) }
	for _, c := range []struct {
		set         string
		ramp, pulse float64
	}{{"skin-1947", 3.35734, 2065.0946}, {"skin-1947-joule", 0.677155, 437.7864}} {
		k := setOf(c.set)
		l.relative(c.set+", 37 to 60 C in 10 s, steps of 10 ms", henrique, c.ramp, integrate(k.LnRate, ramp, 10, 1000), 2e-5, "1")
		l.relative(c.set+", 37 to 60 C in 10 s, steps of 1 s", henrique, c.ramp, integrate(k.LnRate, ramp, 10, 10), 5e-3, "1")
		l.relative(c.set+", pulse to 70 C, steps of 10 ms", henrique, c.pulse, integrate(k.LnRate, pulse, 10, 1000), 1e-3, "1")
	}

	for _, c := range []struct {
		tC, seconds, minutes float64
	}{{41, 3600, 3.75}, {42, 3600, 15}, {44, 3600, 120}, {45, 1800, 120}, {50, 60, 128}, {56, 1, 136.533}, {60, 1, 2184.53}} {
		l.relative(fmt.Sprintf("thermal dose of %g C for %g s", c.tC, c.seconds), sapareto, c.minutes, integrate(damage.LnDoseRate, constant(c.tC), c.seconds, 7), 1e-5, "min")
	}
	l.relative("thermal dose, 37 to 60 C in 10 s", sapareto, 1370.262, integrate(damage.LnDoseRate, ramp, 10, 1000), 1e-5, "min")
	l.relative("thermal dose, pulse to 70 C", sapareto, 1.1929057e6, integrate(damage.LnDoseRate, pulse, 10, 1000), 1e-3, "min")
	return l
}

// Burns checks heat and damage together: exposures of skin that just destroy the
// epidermis. At the basal layer, taken at 150 um, the integral must say 1 to 3
// for all of them; the values were computed beforehand from the closed form.
func Burns() []Check {
	var l list
	const source = "Moritz and Henriques 1947, Am J Pathol 23:695 (thresholds from memory); " + henrique
	skin := material{K: 0.37, RhoC: 1100 * 3400}
	k := setOf("skin-1947")
	// Long exposures warm surface and basal layer alike.
	for _, c := range []struct{ tC, seconds float64 }{{44, 6 * 3600}, {45, 3 * 3600}, {47, 45 * 60}, {49, 9.5 * 60}} {
		l.add(fmt.Sprintf("threshold burn %g C for %g s: Omega", c.tC, c.seconds), source, 1.5, integrate(k.LnRate, func(float64) float64 { return c.tC }, c.seconds, 1), 0.5, "1")
	}
	for _, c := range []struct{ tC, seconds, omega80, omega150 float64 }{
		{51, 240, 1.986, 1.685}, {53, 90, 2.646, 2.001}, {55, 30, 2.696, 1.649}, {60, 5, 4.831, 1.357}, {65, 2, 16.06, 1.831}, {70, 1, 45.3, 1.666},
	} {
		// Cells of 20 um whose centres lie at 80 and (interpolated) 150 um.
		b := newBody(deep(0.02*mm, 0.5*mm), 34, exact.Layer{Solid: skin, ThicknessM: inf})
		b.hold(c.tC)
		at := func(z float64) float64 { // linear between centres
			i := int(z/(0.02*mm) - 0.5)
			f := z/(0.02*mm) - 0.5 - float64(i)
			return (1-f)*b.at(0, 0, i) + f*b.at(0, 0, i+1)
		}
		dt := math.Min(5e-3, b.Limit()/2)
		n := math.Ceil(c.seconds / dt)
		dt = c.seconds / n
		g := damage.NewIntegral(2, k.LnRate, 34)
		for range int(n) {
			b.Step(dt, b.src)
			g.Add(0, at(0.08*mm), dt)
			g.Add(1, at(0.15*mm), dt)
		}
		l.relative(fmt.Sprintf("threshold burn %g C for %g s: Omega at 80 um", c.tC, c.seconds), source, c.omega80, g.Sum[0], 0.01, "1")
		l.relative(fmt.Sprintf("threshold burn %g C for %g s: Omega at 150 um", c.tC, c.seconds), source, c.omega150, g.Sum[1], 0.01, "1")
		l.add(fmt.Sprintf("threshold burn %g C for %g s: Omega at 150 um, band", c.tC, c.seconds), source, 2, g.Sum[1], 1, "1")
	}
	// Cross-check of the closed form with the same numbers.
	law := exact.Arrhenius{LnA: k.Segments[0].LnA, ThetaK: k.Segments[0].ThetaK}
	l.relative("threshold burn 60 C for 5 s: Omega at 150 um, closed form", source, 1.357,
		law.Omega(func(t float64) float64 { return 34 + exact.StepTemperature(skin, 26, 0.15*mm, t) }, 5), 0.005, "1")
	return l
}
