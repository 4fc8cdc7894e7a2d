package checks

import (
	"fmt"

	"muralheat/mesh"
	"muralheat/thermal/exact"
)

// Coupled checks Joule heat against conduction: the heat of every face in the right
// cells, steady and in time, at fixed conductivity and where it follows temperature.
func Coupled() []Check {
	return append(kohlrausch(), jouleLayers()...)
}

// kohlrausch heats a body through an insulated disc to the steady state. Its bottom
// is at ground and at body temperature, all else insulated both ways, so that
// temperature follows from the potential alone, whatever the shape.
func kohlrausch() []Check {
	var l list
	const (
		source = "Kohlrausch 1900; Greenwood and Williamson 1958, Proc R Soc A 246:13"
		a, h   = 1 * mm, 1.0 / 6 * mm
		sigma  = 0.5
	)
	m := mesh.New(mesh.Axisymmetric, mesh.Grading{To: 1.5 * mm, FinestM: h, Slope: 0.2}.Axis(0, a, 5*mm),
		mesh.Axis{}, mesh.Grading{To: 1.5 * mm, FinestM: h, Slope: 0.2}.Axis(0, 5*mm))
	contacts := m.Disc(nil, 0, a)

	for _, c := range []struct {
		name  string
		slope float64
		v     float64
	}{
		{"conductivity constant", 0, 8},
		{"conductivity rising 1.8 % per K", 0.018, 6},
	} {
		e := newConductor(m, []exact.Sheet{{SigmaSM: sigma, ThicknessM: inf}}, closed, grounded)
		b := uniform(m, ref)
		b.SetBottom(inf, bodyC)
		cold := 0.0
		const end, every = 1200.0, 10.0
		for t := 0.0; t < end; t += every {
			if t == 0 || c.slope > 0 {
				for p := range e.rho {
					e.rho[p] = 1 / (sigma * (1 + c.slope*(b.T[p]-bodyC)))
				}
				sol, q := e.solve(contacts)
				if t == 0 {
					cold = sol.ConductanceS()
				}
				for p := range q {
					b.src[p] = q[p] * c.v * c.v
				}
			}
			b.run(every, every)
		}
		law := exact.Coupled{SigmaSM: sigma, SlopePerK: c.slope, K: ref.K, VoltageV: c.v}
		for _, at := range [][2]float64{{0, 0}, {0, 1}, {2, 0}, {0, 3}} {
			i, k := m.X.Find(at[0]*mm), m.Z.Find(at[1]*mm)
			p := m.Index(i, 0, k)
			l.relative(fmt.Sprintf("%s: steady rise at r %.3g, z %.3g mm", c.name, m.X.Centres[i]/mm, m.Z.Centres[k]/mm), source,
				law.Rise(c.v*e.Phi[p]), b.T[p]-bodyC, 0.01, "K")
		}
		// Under the disc it is sigma V2/2k: P/(8 k a) on a half-space, whose resistance
		// is 1/(4 sigma a).
		l.relative(c.name+": steady rise under the disc", source, law.Rise(c.v), b.at(0, 0, 0)-bodyC, 0.01, "K")
		if c.slope > 0 {
			sol, _ := e.solve(contacts)
			l.relative(c.name+": conductance over that of the cold body", source+", with "+holm, law.ConductanceGain(), sol.ConductanceS()/cold, 2e-3, "1")
		}
	}
	return l
}

// jouleLayers sends an even current through the three layers of a gut wall.
func jouleLayers() []Check {
	var l list
	const source = "current in series, " + pennes + "; layers by Laplace transform"
	const density = 2000.0 // A/m2
	layers := wall3()
	resistance := 0.0 // ohm m2
	for i, s := range stack {
		layers[i].Q = density * density / s.SigmaSM
		resistance += s.ThicknessM / s.SigmaSM
	}
	bare := append([]exact.Layer{}, layers...)
	for i := range bare {
		bare[i].Q = 0
	}
	m := even(0.025*mm, 0, 1*mm, 2*mm, 4*mm)
	e := newConductor(m, stack, closed, grounded)
	sol, q := e.solve(m.Disc(nil, 0, m.X.Faces[1]))
	v := density / sol.ConductanceS() // over 1 m2
	l.relative("even current of 2000 A/m2: voltage over the wall", "Ohm's law in series, 34.0 V", density*resistance, v, 1e-9, "V")
	b := newBody(m, bodyC, bare...)
	b.SetBottom(50, bodyC)
	for p := range q {
		b.src[p] = q[p] * v * v
	}
	wall := exact.Stack{Layers: layers, Bottom: exact.Face{H: 50}}
	now := 0.0
	for _, t := range []float64{1, 5, 10} {
		b.run(t-now, 2e-3)
		now = t
		for _, z := range []float64{0, 1, 1.5, 3} {
			k := m.Z.Find(z * mm)
			z := m.Z.Centres[k]
			rise, _ := wall.Transient(z, t)
			l.add(fmt.Sprintf("even current of 2000 A/m2: at %.4g mm after %g s", z/mm, t), source, bodyC+rise, b.at(0, 0, k), 0.02, "C")
		}
	}
	return l
}
