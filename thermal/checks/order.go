package checks

import (
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal/exact"
)

// Order checks that the error of a chosen solution falls with the square of the
// cell size when the step falls with it too, and with the step alone when cells stay.
func Order() []Check {
	var l list
	for _, round := range []bool{true, false} {
		for _, held := range []bool{false, true} {
			geometry, top := "3-D", "insulated"
			if round {
				geometry = "axisymmetric"
			}
			if held {
				top = "held"
			}
			sizes := []int{8, 16}
			if round {
				sizes = []int{16, 32}
			}
			var errs []float64
			for _, n := range sizes {
				errs = append(errs, manufacturedError(round, held, n))
			}
			l.add(fmt.Sprintf("%s, three layers, top %s: order from h to h/2 (errors %.3g, %.3g K)", geometry, top, errs[0], errs[1]), roache,
				2, math.Log2(errs[0]/errs[1]), 0.1, "1")
		}
	}
	l.add("one dimension: order in the time step at fixed cells", roache, 1, timeOrder(), 0.05, "1")
	return l
}

// manufacturedError is the root mean square error, in K, on n cells across a box
// of three layers after 2 s.
func manufacturedError(round, held bool, n int) float64 {
	box := exact.Box{XM: 4 * mm, YM: 4 * mm, ZM: 4 * mm, Round: round, HeldTop: held}
	layers := wall3()
	for i := range layers {
		layers[i].Q = 0
	}
	p := exact.ManufacturedLayers{Box: box, Layers: layers, RiseK: 20, TauS: 4}
	g := mesh.Grading{FinestM: 4 * mm / float64(n)}
	x, z := g.Axis(0, box.XM), g.Axis(0, 1*mm, 2*mm, 4*mm)
	m := mesh.New(mesh.Track, x, g.Axis(0, box.YM), z)
	if round {
		m = mesh.New(mesh.Axisymmetric, x, mesh.Axis{}, z)
	}
	b := newBody(m, bodyC, layers...)
	if held {
		b.hold(bodyC)
	}
	b.SetBottom(inf, bodyC)
	each := func(f func(p int, x, y, z, volume float64)) {
		for k := range m.NZ {
			for j := range m.NY {
				for i := range m.NX {
					y := 0.0
					if !round {
						y = m.Y.Centres[j]
					}
					f(m.Index(i, j, k), m.X.Centres[i], y, m.Z.Centres[k], m.Volume(i, j, k))
				}
			}
		}
	}
	const end = 2.0
	steps := n * n // dt ~ h^2
	dt := end / float64(steps)
	for s := range steps {
		t := float64(s) * dt
		each(func(c int, x, y, z, volume float64) { b.src[c] = p.Heating(x, y, z, t) * volume })
		b.Step(dt, b.src)
	}
	sum, total := 0.0, 0.0
	each(func(c int, x, y, z, volume float64) {
		e := b.T[c] - bodyC - p.Rise(x, y, z, end)
		sum += e * e * volume
		total += volume
	})
	return math.Sqrt(sum / total)
}

// timeOrder is the order at which the temperature in the middle of a slab settles
// as the step is halved twice.
func timeOrder() float64 {
	p := exact.ManufacturedSlab{Solid: perfused(2e4), RiseK: 20, ThicknessM: 10 * mm, TauS: 5}
	middle := func(steps int) float64 {
		b := uniform(even(0.5*mm, 0, 10*mm), p.Solid)
		b.hold(bodyC)
		b.SetBottom(inf, bodyC)
		const end = 10.0
		dt := end / float64(steps)
		for s := range steps {
			for k, z := range b.m.Z.Centres {
				b.src[b.m.Index(0, 0, k)] = p.Heating(z, float64(s)*dt) * b.m.Volume(0, 0, k)
			}
			b.Step(dt, b.src)
		}
		return b.at(0, 0, b.m.NZ/2)
	}
	a, b, c := middle(40), middle(80), middle(160)
	return math.Log2((a - b) / (b - c))
}
