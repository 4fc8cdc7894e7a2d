package checks

import (
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal/exact"
)

// wall3 is a wall of three unlike layers, 4 mm thick, with perfusion and heating.
func wall3() []exact.Layer {
	return []exact.Layer{
		{Solid: material{K: 0.5, RhoC: 3.78e6, G: 40000}, ThicknessM: 1 * mm, Q: 2e6},
		{Solid: material{K: 0.35, RhoC: 3.0e6, G: 10000}, ThicknessM: 1 * mm, Q: 5e6},
		{Solid: material{K: 0.5, RhoC: 3.78e6, G: 12000}, ThicknessM: 2 * mm, Q: 1e6},
	}
}

// Layers checks walls of unlike layers in one dimension, steady and not.
func Layers() []Check {
	var l list
	const durkee = "Durkee, Antich and Lee 1990, Phys Med Biol 35:847 (the method)"

	unperfused := wall3()
	for i := range unperfused {
		unperfused[i].G, unperfused[i].Q = 0, 0
	}
	unheated := wall3()
	for i := range unheated {
		unheated[i].Q = 0
	}
	skin := []exact.Layer{
		{Solid: material{K: 0.21, RhoC: 3.78e6}, ThicknessM: 0.1 * mm},
		{Solid: material{K: 0.37, RhoC: 3.78e6, G: 3000}, ThicknessM: 1.5 * mm},
		{Solid: material{K: 0.21, RhoC: 3.78e6, G: 800}, ThicknessM: 8 * mm},
		{Solid: material{K: 0.5, RhoC: 3.78e6, G: 2000}, ThicknessM: 30 * mm},
	}
	held := func(rise float64) exact.Face { return exact.Face{H: inf, Rise: rise} }
	for _, c := range []struct {
		what, source string
		layers       []exact.Layer
		top, bottom  exact.Face
		h            float64
		depths       []float64 // mm
		times        []float64 // s; the last is far into the steady state
		tol          float64
	}{
		{"composite wall at 60 and 37 C", carslaw + ", 1.2 (series resistances)", unperfused, held(23), held(0), 0.1 * mm, []float64{1, 2}, []float64{300}, 2e-3},
		{"gut wall heated, flux in, h = 50 outside", durkee, wall3(), exact.Face{Flux: 2000}, exact.Face{H: 50}, 0.1 * mm, []float64{0, 1, 1.5, 4}, []float64{10, 4000}, 0.1},
		{"gut wall, lumen held at 60 C, h = 50 outside", durkee, unheated, held(23), exact.Face{H: 50}, 0.1 * mm, []float64{0.5, 1.5, 3}, []float64{5, 3000}, 0.03},
		{"skin at rest in air of 22 C", "heat balance of resting skin, " + pennes, skin, exact.Face{H: 8, Rise: -15}, held(0), 0.05 * mm, []float64{0, 1.6, 9.6}, []float64{12000}, 0.02},
	} {
		borders := []float64{0}
		for _, s := range c.layers {
			borders = append(borders, borders[len(borders)-1]+s.ThicknessM)
		}
		m := column(mesh.Grading{To: 4 * mm, FinestM: c.h, Slope: 0.1}.Axis(borders...))
		b := newBody(m, bodyC, c.layers...)
		switch {
		case c.top.H > 0:
			b.SetSurface(c.top.H, bodyC+c.top.Rise, nil, 0, 0)
		default:
			b.flux(c.top.Flux)
		}
		b.SetBottom(c.bottom.H, bodyC+c.bottom.Rise)
		stack := exact.Stack{Layers: c.layers, Top: c.top, Bottom: c.bottom}
		now := 0.0
		for i, t := range c.times {
			b.run(t-now, 0.05)
			now = t
			when, want := "steady", stack.Steady
			if i+1 < len(c.times) {
				when = fmt.Sprintf("after %g s", t)
				want = func(z float64) (float64, float64) { return stack.Transient(z, t) }
			}
			for _, z := range c.depths {
				k := m.Z.Find(z * mm)
				z := m.Z.Centres[k]
				rise, _ := want(z)
				l.add(fmt.Sprintf("%s: at %.4g mm, %s", c.what, z/mm, when), c.source, bodyC+rise, b.at(0, 0, k), c.tol, "C")
			}
		}
		_, flux := stack.Steady(borders[len(borders)-1])
		before := b.OuterJ
		b.run(1, 0.05)
		l.add(c.what+": steady flux at the outside", c.source, flux, b.OuterJ-before, math.Max(2e-3*math.Abs(flux), 1), "W/m2")
	}
	return l
}
