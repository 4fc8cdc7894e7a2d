package checks

import (
	"fmt"
	"math"

	"muralheat/thermal/exact"
)

// Perfusion checks uniform bodies with blood flow, at a low and a high level.
func Perfusion() []Check {
	var l list
	const h, dt = 0.1 * mm, 5e-3
	for _, g := range []float64{2000, 40000} {
		s := perfused(g)

		b := uniform(even(mm, 0, mm), s)
		b.heatPlane(0, 1e6)
		b.run(60, dt)
		l.relative(fmt.Sprintf("even heating, G = %g: rise after 60 s", g), pennes, exact.Lumped(s, 1e6, 60), b.at(0, 0, 0)-bodyC, 1e-3, "K")

		for _, q := range []float64{0, 1e6} {
			b = newBody(even(0.2*mm, 0, 10*mm), bodyC, exact.Layer{Solid: s, ThicknessM: inf, Q: q})
			b.hold(25)
			b.SetBottom(inf, bodyC)
			b.run(1000, 1)
			for _, z := range []float64{2.5 * mm, 7.5 * mm} {
				k := b.m.Z.Find(z)
				c := b.m.Z.Centres[k]
				l.add(fmt.Sprintf("slab at 25 and 37 C, G = %g, Q = %g: steady at %.4g mm", g, q, c/mm), pennes,
					bodyC+exact.PerfusedSlab(s, -12, 0, q, 10*mm, c), b.at(0, 0, k), 0.02, "C")
			}
		}

		b = uniform(deep(h, 5*mm), s)
		b.hold(100)
		now := 0.0
		for _, t := range []float64{10, 300} {
			b.run(t-now, dt)
			now = t
			for _, z := range []float64{mm, 5 * mm} {
				k := b.m.Z.Find(z)
				c := b.m.Z.Centres[k]
				l.add(fmt.Sprintf("surface stepped to 100 C, G = %g: at %.4g mm after %g s", g, c/mm, t), carslaw+", 4.14 (rod losing heat at its side)",
					bodyC+exact.StepTemperature(s, 63, c, t), b.at(0, 0, k), 0.05, "C")
			}
		}

		b = uniform(deep(h, 5*mm), s)
		b.flux(5000)
		now = 0
		for _, t := range []float64{10, 300} {
			b.run(t-now, dt)
			now = t
			for _, z := range []float64{0, 2 * mm} {
				k := b.m.Z.Find(z)
				c := b.m.Z.Centres[k]
				l.relative(fmt.Sprintf("flux 5 kW/m2, G = %g: rise at %.4g mm after %g s", g, c/mm, t), carslaw+", 2.9, with side loss",
					exact.StepFlux(s, 5000, c, t), b.at(0, 0, k)-bodyC, 3e-3, "K")
			}
		}
		l.relative(fmt.Sprintf("flux 5 kW/m2, G = %g: heat taken by blood in 300 s", g), pennes, bloodHeat(s, 5000, 300), b.PerfusionJ, 2e-3, "J/m2")
	}
	return l
}

// bloodHeat is what the blood of a half-space takes of a surface flux q during t:
// the mean rise M obeys rho c dM/dt = q - G M, so
//
//	G Int M dt = q (t - (1 - e^(-beta t))/beta)
func bloodHeat(s material, q, t float64) float64 {
	return q * (t + math.Expm1(-s.Beta()*t)/s.Beta())
}
