package checks

import (
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal/exact"
	"muralheat/thermal/field"
)

// exactly is a solver tolerance that leaves only the error of the grid.
const exactly = 1e-9

// end is what happens to the current at the edge of a mesh.
type end int

const (
	open end = iota
	grounded
	closed
)

// conductor is a body of horizontal sheets on a mesh.
type conductor struct {
	*field.Solver
	m   *mesh.Mesh
	rho []float64 // ohm m per cell
}

func newConductor(m *mesh.Mesh, sheets []exact.Sheet, side, bottom end) *conductor {
	c := &conductor{field.New(m), m, make([]float64, m.Len())}
	for k, z := range m.Z.Centres {
		i, top := 0, 0.0
		for z > top+sheets[i].ThicknessM {
			top += sheets[i].ThicknessM
			i++
		}
		for p := m.Index(0, 0, k); p < m.Index(0, 0, k+1); p++ {
			c.rho[p] = 1 / sheets[i].SigmaSM
		}
	}
	far := func(e end, faces []mesh.EdgeFace) {
		switch e {
		case open:
			c.Open(faces, 0)
		case grounded:
			c.Ground(faces)
		}
	}
	far(side, m.Side()) // in this order: sums round by it
	far(bottom, m.Bottom())
	return c
}

// solve returns what flows at 1 V through the contacts, and the heat per cell.
func (c *conductor) solve(contacts []mesh.Contact) (field.Solution, []float64) {
	c.Assemble(c.rho, contacts, 0)
	c.Solve(exactly)
	q := make([]float64, c.m.Len())
	return c.Heat(q), q
}

// disc returns the resistance in ohm of a disc of radius a = 1 mm with n cells to
// the radius on sheets (the last may be infinite), drawn overhang cells too large.
func disc(n int, overhang float64, sheets []exact.Sheet, radius float64, side, bottom end) float64 {
	const a = 1 * mm
	h := a / float64(n)
	borders, depth := []float64{0}, 0.0
	for _, s := range sheets {
		if math.IsInf(s.ThicknessM, 1) {
			depth = math.Max(depth*1.5, radius)
		} else {
			depth += s.ThicknessM
		}
		borders = append(borders, depth)
	}
	x := mesh.Grading{To: 2 * a, FinestM: h, Slope: 0.1}.Axis(0, a, radius)
	z := mesh.Grading{To: 2 * a, FinestM: h, Slope: 0.1}.Axis(borders...)
	c := newConductor(mesh.New(mesh.Axisymmetric, x, mesh.Axis{}, z), sheets, side, bottom)
	sol, _ := c.solve(c.m.Disc(nil, 0, a+overhang*h))
	return 1 / sol.ConductanceS()
}

// stack is a wall of three sheets, 4 mm thick.
var stack = []exact.Sheet{{SigmaSM: 0.5, ThicknessM: 1 * mm}, {SigmaSM: 0.1, ThicknessM: 1 * mm}, {SigmaSM: 0.4, ThicknessM: 2 * mm}}

// Resistance checks spreading resistances.
func Resistance() []Check {
	var l list
	const a = 1 * mm

	half := []exact.Sheet{{SigmaSM: 0.5, ThicknessM: inf}}
	l.relative("disc on a half-space, 10 cells to the radius", holm,
		exact.DiscResistance(0.5, a), disc(10, mesh.RimOverhang, half, 12*mm, open, open), 3e-3, "ohm")

	for _, ratio := range []float64{0.2, 2} {
		for _, h := range []float64{0.5, 1, 2} {
			two := []exact.Sheet{{SigmaSM: 0.5, ThicknessM: h * a}, {SigmaSM: 0.5 * ratio, ThicknessM: inf}}
			l.relative(fmt.Sprintf("disc on two layers, s2/s1 = %g, h/a = %g", ratio, h), sneddon,
				exact.LayeredDiscResistance(a, two), disc(10, mesh.RimOverhang, two, 200*mm, open, open), 5e-3, "ohm")
		}
	}
	for _, h := range []float64{0.5, 1} {
		slab := []exact.Sheet{{SigmaSM: 0.5, ThicknessM: h * a}}
		l.relative(fmt.Sprintf("disc on a grounded sheet, h/a = %g", h), sneddon,
			exact.LayeredDiscResistance(a, slab), disc(10, mesh.RimOverhang, slab, 12*mm, closed, grounded), 5e-3, "ohm")
	}
	want := exact.LayeredDiscResistance(a, stack)
	for _, n := range []int{4, 8, 16, 32} {
		l.relative(fmt.Sprintf("disc on three layers, grounded, %d cells to the radius", n), sneddon,
			want, disc(n, mesh.RimOverhang, stack, 20*mm, closed, grounded), 3e-3, "ohm")
	}
	for _, n := range []int{8, 16} {
		bare := disc(n, 0, stack, 20*mm, closed, grounded)
		l.add(fmt.Sprintf("the same, rim not corrected: error in units of h/a, %d cells", n), "first-order error at an edge singularity, measured beforehand with another code",
			0.35, (bare/want-1)*float64(n), 0.02, "1")
	}
	// An open boundary is one that changes nothing when it moves away: soon in a
	// uniform body, but a wall that conducts better than what lies beyond carries the
	// current sideways by its thickness times the ratio of conductivities.
	l.relative("disc on a half-space, open at 5 radii against 20", "domain test, no source",
		disc(8, mesh.RimOverhang, half, 20*mm, open, open), disc(8, mesh.RimOverhang, half, 5*mm, open, open), 2e-3, "ohm")
	fat := append(append([]exact.Sheet{}, stack...), exact.Sheet{SigmaSM: 0.05, ThicknessM: inf})
	l.relative("disc on a gut wall on fat, open at 200 mm", sneddon,
		exact.LayeredDiscResistance(a, fat), disc(8, mesh.RimOverhang, fat, 200*mm, open, open), 5e-3, "ohm")

	// A rod through a slab: coaxial cylinders.
	axis := mesh.Grading{To: 1 * mm, FinestM: 0.0625 * mm, Slope: 0.2}
	m := mesh.New(mesh.Axisymmetric, axis.Axis(0, 0.25*mm, 20*mm), mesh.Axis{}, mesh.Grading{FinestM: 0.5 * mm}.Axis(0, 3*mm))
	c := newConductor(m, half, grounded, closed)
	sol, _ := c.solve(c.metal(m.Needle(nil, nil, 0, 0.25*mm, 4*mm)))
	l.relative("coaxial cylinders, 0.25 and 20 mm", "Grimnes and Martinsen, Bioimpedance and Bioelectricity Basics, ch. 6",
		exact.CoaxialResistance(0.5, 0.25*mm, 20*mm, 3*mm), 1/sol.ConductanceS(), 1e-6, "ohm")

	// A blunt needle.
	for _, depth := range []float64{0.5 * mm, 1 * mm, 2 * mm} {
		const radius = 0.25 * mm
		g := mesh.Grading{To: 2.5 * mm, FinestM: 0.025 * mm, Slope: 0.15}
		m = mesh.New(mesh.Axisymmetric, g.Axis(0, radius, 20*mm), mesh.Axis{}, g.Axis(0, depth, 20*mm))
		c = newConductor(m, half, open, open)
		sol, _ = c.solve(c.metal(m.Needle(nil, nil, 0, radius, depth)))
		l.relative(fmt.Sprintf("needle of radius 0.25 mm, %g mm deep", depth/mm), "capacitance of a round cylinder, Smythe 1956, J Appl Phys 27:917, and 1962, 33:2966, from memory",
			bluntRod(0.5, radius, depth), 1/sol.ConductanceS(), 0.01, "ohm")
	}

	// A hemisphere of metal: faces with the true distance to its skin, as for a needle.
	const n = 20
	h := a / n
	g := mesh.Grading{To: 2 * a, FinestM: h, Slope: 0.1}
	m = mesh.New(mesh.Axisymmetric, g.Axis(0, 20*mm), mesh.Axis{}, g.Axis(0, 20*mm))
	c = newConductor(m, half, open, open)
	sol, _ = c.solve(c.metal(hemisphere(m, a)))
	l.relative("hemisphere in a half-space, 20 cells to the radius", "Grimnes and Martinsen, Bioimpedance and Bioelectricity Basics, ch. 6",
		exact.HemisphereResistance(0.5, a), 1/sol.ConductanceS(), 0.01, "ohm")

	// Conductivity that varies from place to place so that the potential stays known.
	const grade = 1.5
	m = round(0.05*mm, 2*mm, 25*mm)
	c = newConductor(m, half, open, open)
	varied := exact.Graded{SigmaSM: 0.5, C: grade}
	for k, z := range m.Z.Centres {
		for i, r := range m.X.Centres {
			c.rho[m.Index(i, 0, k)] = 1 / varied.Sigma(exact.DiscPotential(a, r, z))
		}
	}
	sol, _ = c.solve(m.Disc(nil, 0, a+mesh.RimOverhang*0.05*mm))
	l.relative("disc, conductivity 0.5/(1 + 1.5 u) with u the potential", "transform of Laplace's equation, "+holm,
		exact.DiscResistance(0.5, a)*varied.ResistanceGain(), 1/sol.ConductanceS(), 5e-3, "ohm")
	return l
}

// bluntRod returns the resistance of a rod of radius a driven to the depth l into a
// half-space: that of a cylinder of length 2l in an infinite body, doubled,
//
//	2/(sigma a (8 + 6.95 (l/a)^0.76)),   0.2 % for l/a <= 8
func bluntRod(sigma, a, l float64) float64 {
	return 2 / (sigma * a * (8 + 6.95*math.Pow(l/a, 0.76)))
}

// metal empties cells and passes the contacts on.
func (c *conductor) metal(cells []int, contacts []mesh.Contact) []mesh.Contact {
	for _, p := range cells {
		c.rho[p] = field.Void
	}
	return contacts
}

// hemisphere returns the cells inside a ball of radius a around the origin and the
// contacts around it.
func hemisphere(m *mesh.Mesh, a float64) (metal []int, contacts []mesh.Contact) {
	in := func(i, k int) bool { return math.Hypot(m.X.Centres[i], m.Z.Centres[k]) < a }
	for k := range m.NZ {
		for i := range m.NX {
			p := m.Index(i, 0, k)
			if in(i, k) {
				metal = append(metal, p)
				continue
			}
			r, z := m.X.Centres[i], m.Z.Centres[k]
			if i > 0 && in(i-1, k) {
				skin := math.Min(math.Sqrt(a*a-z*z), r-0.1*m.X.Width(i))
				contacts = append(contacts, mesh.Contact{P: p, Squares: math.Log(r/skin) / (2 * math.Pi * m.Z.Width(k))})
			}
			if k > 0 && in(i, k-1) {
				skin := math.Min(math.Sqrt(a*a-r*r), z-0.1*m.Z.Width(k))
				contacts = append(contacts, mesh.Contact{P: p, Squares: (z - skin) / m.Area(i, 0)})
			}
		}
	}
	return metal, contacts
}

// Potential checks the field around a disc on a half-space.
func Potential() []Check {
	var l list
	const a, h = 1 * mm, 0.05 * mm
	m := round(h, 2.5*mm, 25*mm)
	c := newConductor(m, []exact.Sheet{{SigmaSM: 0.5, ThicknessM: inf}}, open, open)
	contacts := m.Disc(nil, 0, a+mesh.RimOverhang*h)
	sol, _ := c.solve(contacts)
	for _, at := range [][2]float64{{0, 0.5}, {0, 1}, {0, 2}, {2, 0}, {2, 1}, {5, 5}} {
		i, k := m.X.Find(at[0]*mm), m.Z.Find(at[1]*mm)
		r, z := m.X.Centres[i], m.Z.Centres[k]
		l.relative(fmt.Sprintf("disc at 1 V: potential at r %.3g, z %.3g mm", r/mm, z/mm), holm,
			exact.DiscPotential(a, r, z), c.Phi[m.Index(i, 0, k)], 5e-3, "V")
	}
	for _, inside := range []float64{0.5, 0.8} {
		current := 0.0
		for _, k := range contacts {
			if i, _, _ := m.Cell(k.P); m.X.Centres[i] < inside*a {
				current += (1 - c.Phi[k.P]) / (c.rho[k.P] * k.Squares)
			}
		}
		l.relative(fmt.Sprintf("disc: share of the current inside %g of its radius", inside), holm,
			exact.DiscCurrentWithin(a, inside*a), current/sol.InS, 0.01, "1")
	}
	l.relative("current out over current in", "conservation of charge", 1, sol.OutS/sol.InS, 1e-6, "1")
	l.relative("power over current at 1 V", "P = V I", 1, sol.ConductanceS()/sol.InS, 1e-6, "1")
	return l
}
