package field

import "muralheat/mesh"

// circuit is what current flows through: tissue, contacts with the metal at 1 V, and far
// faces at which it leaves.
type circuit struct {
	m        *mesh.Mesh
	rho      []float64 // ohm m
	contacts []mesh.Contact
	contactS []float64 // conductance of each, between the metal and the centre of its cell
	allS     float64   // the sum of them
	far      []farFace
	edges    []edge  // where far faces are; those past them are the sinks of this solution
	centreXM float64 // of the electrode that they are open towards
}

// farFace is a face of cell p at which current leaves to 0 V.
type farFace struct {
	p             int
	near, squares float64 // lengths over areas, 1/m: of the half cell before it, and with what lies behind
	g             float64 // S
}

// edge is where a far face is: open, the body goes on behind it, or grounded.
type edge struct {
	mesh.EdgeFace
	open bool
	z    float64 // open: depth of where the current comes from, m
}

// Void is the resistivity that marks metal and missing tissue.
const Void = 1e30

// leave lets current leave at faces.
func (c *circuit) leave(faces []mesh.EdgeFace, open bool, z float64) {
	for _, f := range faces {
		e := edge{f, open, z}
		c.edges = append(c.edges, e)
		c.far = append(c.far[:len(c.edges)-1], farFace{p: f.P, near: f.Squares, squares: f.Squares + c.behind(e)})
	}
}

// behind returns the resistance of the body behind a face over its resistivity, 1/m: none but where it is open.
func (c *circuit) behind(e edge) float64 {
	if !e.open {
		return 0
	}
	d := [3]float64{e.At[0] - c.centreXM, e.At[1], e.At[2] - e.z}
	if c.m.Geometry == mesh.Axisymmetric {
		d[0] = e.At[0]
	}
	n := d[0]*e.Out[0] + d[1]*e.Out[1] + d[2]*e.Out[2]
	return (d[0]*d[0] + d[1]*d[1] + d[2]*d[2]) / (n * e.AreaM2)
}

// sink holds contacts at 0 V until the next call.
func (c *circuit) sink(contacts []mesh.Contact) {
	c.far = c.far[:len(c.edges)]
	for _, k := range contacts {
		c.far = append(c.far, farFace{p: k.P, near: k.Squares, squares: k.Squares})
	}
}

// set brings in what changes from one solution to the next, with the film on contacts and
// the electrode's centre at x (m).
func (c *circuit) set(rho []float64, contacts []mesh.Contact, film func(mesh.Contact) float64, x float64) {
	c.rho, c.contacts = rho, contacts
	c.contactS, c.allS = c.contactS[:0], 0
	for _, k := range contacts {
		g := 1 / (rho[k.P]*k.Squares + film(k))
		c.contactS = append(c.contactS, g)
		c.allS += g
	}
	if x != c.centreXM {
		c.centreXM = x
		for i, e := range c.edges {
			c.far[i].squares = e.Squares + c.behind(e)
		}
	}
	for i := range c.far {
		f := &c.far[i]
		f.g = 1 / (rho[f.p] * f.squares)
	}
}
