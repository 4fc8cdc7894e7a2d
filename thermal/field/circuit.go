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
	fixed    int // far faces that stay; after them, the sinks of this solution
}

type farFace struct {
	mesh.EdgeFace
	open bool
	z    float64 // open: depth of where the current comes from, m
	g    float64 // siemens
}

// Void is the resistivity that marks metal and missing tissue.
const Void = 1e30

// sink holds contacts at 0 V until the next call.
func (c *circuit) sink(contacts []mesh.Contact) {
	c.far = c.far[:c.fixed]
	for _, k := range contacts {
		c.far = append(c.far, farFace{EdgeFace: mesh.EdgeFace{P: k.P, AreaM2: k.AreaM2, Squares: k.Squares}})
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
	for i := range c.far {
		f := &c.far[i]
		r := rho[f.P] * f.Squares
		if f.open {
			d := [3]float64{f.At[0] - x, f.At[1], f.At[2] - f.z}
			if c.m.Geometry == mesh.Axisymmetric {
				d[0] = f.At[0]
			}
			n := d[0]*f.Out[0] + d[1]*f.Out[1] + d[2]*f.Out[2]
			r += rho[f.P] / f.AreaM2 * (d[0]*d[0] + d[1]*d[1] + d[2]*d[2]) / n
		}
		f.g = 1 / r
	}
}
