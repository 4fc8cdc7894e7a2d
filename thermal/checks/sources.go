package checks

import (
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal/exact"
)

// round is an axisymmetric half-space: cells of h to fine, growing to far, with a
// face at 1 mm along both axes, where discs end.
func round(h, fine, far float64) *mesh.Mesh {
	axis := mesh.Grading{To: fine, FinestM: h, Slope: 0.1}.Axis(0, 1*mm, far)
	return mesh.New(mesh.Axisymmetric, axis, mesh.Axis{}, axis)
}

// HeatSources checks stationary sources in and on a half-space.
func HeatSources() []Check {
	var l list

	// A point on the surface of a half-space heats like twice its power in an
	// infinite body.
	for _, g := range []float64{0, 40000} {
		s := perfused(g)
		b := uniform(round(0.05*mm, 2.5*mm, 12*mm), s)
		b.src[b.m.Index(0, 0, 0)] = 0.1
		b.run(10, 10e-3)
		for _, at := range [][2]float64{{0, 1}, {1, 0}, {0, 2}, {1.5, 1.5}} {
			i, k := b.m.X.Find(at[0]*mm), b.m.Z.Find(at[1]*mm)
			r, z := b.m.X.Centres[i], b.m.Z.Centres[k]
			l.relative(fmt.Sprintf("point source, G = %g: rise at r %.4g, z %.4g mm after 10 s", g, r/mm, z/mm), carslaw+", 10.4; "+pennes,
				exact.PointSource(s, 0.2, math.Hypot(r, z), 10), b.at(i, 0, k)-bodyC, 0.01, "K")
		}
	}

	// A Gaussian ball cut in half by an insulated plane, each cell taking its exact share.
	const sd, power = 1 * mm, 1.0
	for _, g := range []float64{0, 40000} {
		s := perfused(g)
		b := uniform(round(0.1*mm, 4*mm, 15*mm), s)
		m := b.m
		for k := range m.NZ {
			down := (math.Erf(m.Z.Faces[k+1]/sd/math.Sqrt2) - math.Erf(m.Z.Faces[k]/sd/math.Sqrt2)) / 2
			for i := range m.NX {
				r0, r1 := m.X.Faces[i]/sd, m.X.Faces[i+1]/sd
				b.src[m.Index(i, 0, k)] = power * down * (math.Exp(-r0*r0/2) - math.Exp(-r1*r1/2))
			}
		}
		now := 0.0
		for _, t := range []float64{1, 10} {
			b.run(t-now, 5e-3)
			now = t
			for _, at := range [][2]float64{{0, 0}, {1, 1}} {
				i, k := m.X.Find(at[0]*mm), m.Z.Find(at[1]*mm)
				r := math.Hypot(m.X.Centres[i], m.Z.Centres[k])
				l.relative(fmt.Sprintf("Gaussian ball, G = %g: rise at %.4g mm after %g s", g, r/mm, t), "cf. Gao, Langer and Corry 1995, Int J Hyperthermia 11:267",
					exact.GaussianSource(s, power, sd, r, t), b.at(i, 0, k)-bodyC, 3e-3, "K")
			}
		}
	}

	// An evenly heated disc on the surface.
	const a, q = 1 * mm, 0.5 / (math.Pi * mm * mm)
	b := uniform(round(0.1*mm, 3*mm, 15*mm), ref)
	for i := range b.m.NX {
		r0, r1 := b.m.X.Faces[i], math.Min(b.m.X.Faces[i+1], a)
		if r1 > r0 {
			b.src[b.m.Index(i, 0, 0)] = q * math.Pi * (r1*r1 - r0*r0)
		}
	}
	b.run(10, 5e-3)
	for _, z := range []float64{0, 1 * mm} {
		k := b.m.Z.Find(z)
		z := b.m.Z.Centres[k]
		l.relative(fmt.Sprintf("even disc: rise on the axis at %.4g mm after 10 s", z/mm), carslaw+", 10.5",
			exact.DiscAxis(ref, q, a, z, 10), b.at(0, 0, k)-bodyC, 5e-3, "K")
	}
	return l
}
