package checks

import (
	"fmt"

	"muralheat/thermal/exact"
)

// Conduction checks unperfused bodies against series and error functions.
func Conduction() []Check {
	var l list
	const h, dt = 0.05 * mm, 2e-3

	// Half-space, surface put to 100 C.
	b := uniform(deep(h, 4*mm), ref)
	b.hold(100)
	now := 0.0
	for _, t := range []float64{0.5, 5, 30} {
		b.run(t-now, dt)
		now = t
		for _, z := range []float64{0.25 * mm, mm, 3 * mm} {
			k := b.m.Z.Find(z)
			c := b.m.Z.Centres[k]
			l.add(fmt.Sprintf("surface stepped to 100 C: at %.4g mm after %g s", c/mm, t), carslaw+", 2.4",
				bodyC+exact.StepTemperature(ref, 63, c, t), b.at(0, 0, k), 0.05, "C")
		}
	}
	// The heat that went in is the integral of the flux: 2 k dT sqrt(t/(pi alpha)).
	l.relative("surface stepped to 100 C: heat taken up in 30 s", carslaw+", 2.4",
		2*30*exact.StepTemperatureFlux(ref, 63, 30), -b.LumenJ, 2e-3, "J/m2")

	// Half-space, flux through the surface.
	const q = 20e3
	b = uniform(deep(h, 4*mm), ref)
	b.flux(q)
	now = 0
	for _, t := range []float64{1, 10, 60} {
		b.run(t-now, dt)
		now = t
		for _, z := range []float64{0, mm, 3 * mm} {
			k := b.m.Z.Find(z)
			c := b.m.Z.Centres[k]
			l.add(fmt.Sprintf("flux 20 kW/m2: at %.4g mm after %g s", c/mm, t), carslaw+", 2.9",
				bodyC+exact.StepFlux(ref, q, c, t), b.at(0, 0, k), 0.05, "C")
		}
	}

	// Half-space, medium at 100 C with heat transfer 500 W/m2K.
	b = uniform(deep(h, 4*mm), ref)
	b.SetSurface(500, 100, nil, 0, 0)
	now = 0
	for _, t := range []float64{1, 10, 30} {
		b.run(t-now, dt)
		now = t
		for _, z := range []float64{0, mm} {
			k := b.m.Z.Find(z)
			c := b.m.Z.Centres[k]
			l.add(fmt.Sprintf("medium at 100 C, h = 500: at %.4g mm after %g s", c/mm, t), carslaw+", 2.7",
				bodyC+exact.ConvectiveSurface(ref, 63, 500, c, t), b.at(0, 0, k), 0.03, "C")
		}
	}

	// Steel plate, the textbook's pipe wall; its back is insulated by symmetry.
	steel := material{K: 63.9, RhoC: 7832 * 434}
	b = newBody(even(0.5*mm, 0, 40*mm), -20, exact.Layer{Solid: steel, ThicknessM: inf})
	b.SetSurface(500, 60, nil, 0, 0)
	b.run(480, 5e-3)
	bi, fo := 500*0.04/steel.K, steel.Alpha()*480/(0.04*0.04)
	const incropera = "Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, ch. 5, from memory; full series"
	last := b.m.NZ - 1
	l.add("pipe wall: insulated side after 480 s", incropera, 60-80*exact.ConvectiveSlab(bi, fo, 0), b.at(0, 0, last), 0.02, "C")
	l.add("pipe wall: insulated side, as printed", "Incropera and DeWitt, example of ch. 5, printed 42.9 C, from memory", 42.9, b.at(0, 0, last), 0.3, "C")
	l.relative("pipe wall: heat taken up", incropera, 80*steel.RhoC*0.04*(1-exact.ConvectiveSlabMean(bi, fo)), -b.LumenJ, 1e-3, "J/m2")

	// Slab, both faces stepped.
	b = uniform(even(h, 0, 4*mm), ref)
	b.hold(60)
	b.SetBottom(inf, 60)
	now = 0
	for _, t := range []float64{2, 10} {
		b.run(t-now, dt)
		now = t
		for _, z := range []float64{0.5 * mm, 2 * mm} {
			k := b.m.Z.Find(z)
			c := b.m.Z.Centres[k]
			l.add(fmt.Sprintf("slab, faces stepped: at %.4g mm after %g s", c/mm, t), carslaw+", 3.3",
				bodyC+exact.SteppedSlab(ref, 23, 4*mm, c-2*mm, t), b.at(0, 0, k), 0.02, "C")
		}
	}

	// Slab, flux in front, back insulated.
	b = uniform(even(h, 0, 3*mm), ref)
	b.flux(q)
	now = 0
	for _, t := range []float64{5, 30} {
		b.run(t-now, dt)
		now = t
		for _, z := range []float64{0, 3 * mm} {
			k := b.m.Z.Find(z)
			c := b.m.Z.Centres[k]
			l.add(fmt.Sprintf("slab, flux 20 kW/m2, insulated back: at %.4g mm after %g s", c/mm, t), carslaw+", 3.8",
				bodyC+exact.FluxSlab(ref, q, 3*mm, c, t), b.at(0, 0, k), 0.05, "C")
		}
	}
	return l
}
