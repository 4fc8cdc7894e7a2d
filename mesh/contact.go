package mesh

import "math"

// Contact is where a cell of tissue touches the metal: a piece of face of the
// given area, the cell's centre being Squares (length over area, 1/m) away. Step is the
// index distance to the next cell away from the metal, through the cell's far face.
type Contact struct {
	P       int
	AreaM2  float64
	Squares float64
	Step    int
}

// minDistance keeps a contact from being closer to a cell centre than this share
// of the cell: the curved metal may graze the centre itself. Depth is the same
// for 0.01 to 0.3.
const minDistance = 0.1

// RimOverhang is how far, in cells, an equipotential disc must be drawn beyond its
// rim to have the right resistance. The current density at the rim is singular and
// a grid that ends the disc there finds the resistance high by 0.35 h/a, first
// order, always; 0.2 cells more leave -0.1 % at 4 to 32 cells per radius (measured
// against the Fredholm solution of a three-layer wall, see thermal/field).
const RimOverhang = 0.2

// Annulus appends the contacts of a ring from radius r0 to r1 lying on the surface of an
// axisymmetric mesh.
func (m *Mesh) Annulus(dst []Contact, r0, r1 float64) []Contact {
	half := m.dz[0] / 2
	for i := range m.NX {
		in, out := math.Max(m.X.Faces[i], r0), math.Min(m.X.Faces[i+1], r1)
		if area := math.Pi * (out*out - in*in); out > in && area > 1e-9*m.Area(i, 0) {
			dst = append(dst, Contact{m.Index(i, 0, 0), area, half / area, m.Plane()})
		}
	}
	return dst
}

// Disc appends the contacts of a disc of radius a lying on the surface with its
// centre at x, each by the exact share of the cell's face that it covers.
func (m *Mesh) Disc(dst []Contact, x, a float64) []Contact {
	if m.Geometry == Axisymmetric {
		return m.Annulus(dst, 0, a)
	}
	return m.Patch(dst, x-a, x+a, a, func(x0, x1, y0, y1 float64) float64 { return circleRect(x0-x, x1-x, y0, y1, a) })
}

// Lower moves contacts on the surface down to the upper faces of the cells at depth index k.
func (m *Mesh) Lower(contacts []Contact, k int) []Contact {
	for i := range contacts {
		contacts[i].P += k * m.Plane()
		contacts[i].Squares *= m.dz[k] / m.dz[0]
	}
	return contacts
}

// Patch appends the contacts of metal lying flat on the surface of a track, from x0 to x1 and no
// farther than y from it. covered returns the area, m2, that it covers of a rectangle beside the
// track, by its edges along x and along y >= 0, m.
func (m *Mesh) Patch(dst []Contact, x0, x1, y float64, covered func(x0, x1, y0, y1 float64) float64) []Contact {
	half := m.dz[0] / 2
	i0, i1 := m.X.Find(x0), m.X.Find(x1)
	for j := 0; j < m.NY && m.Y.Faces[j] < y; j++ {
		for i := i0; i <= i1; i++ {
			area := 2 * covered(m.X.Faces[i], m.X.Faces[i+1], m.Y.Faces[j], m.Y.Faces[j+1])
			if area > 1e-9*m.Area(i, j) {
				dst = append(dst, Contact{m.Index(i, j, 0), area, half / area, m.Plane()})
			}
		}
	}
	return dst
}

// circleRect is the area of the part of [x0,x1] x [y0,y1], y0 >= 0, that lies
// within distance a of the origin.
func circleRect(x0, x1, y0, y1, a float64) float64 {
	if y0 >= a {
		return 0
	}
	half := func(y float64) float64 { return math.Sqrt(math.Max(0, a*a-y*y)) } // of the chord at y
	top, bottom := half(y1), half(y0)
	area := (y1 - y0) * math.Max(0, math.Min(x1, top)-math.Max(x0, -top))
	return area + underArc(math.Max(x0, top), math.Min(x1, bottom), y0, a) + underArc(math.Max(-x1, top), math.Min(-x0, bottom), y0, a)
}

// underArc is the area between y and the circle of radius a from x = l to r, both >= 0; 0 if r is not beyond l.
func underArc(l, r, y, a float64) float64 {
	if r <= l {
		return 0
	}
	arc := func(x float64) float64 { // integral of sqrt(a^2-x^2)
		return (x*math.Sqrt(math.Max(0, a*a-x*x)) + a*a*math.Asin(math.Min(x/a, 1))) / 2
	}
	return arc(r) - arc(l) - y*(r-l)
}

// Needle appends the cells inside a cylinder of radius a standing in the tissue
// from the surface to depth l, its axis at x, and the contacts around it.
//
// A cell is metal if its centre is. The face between metal and tissue keeps its
// full area and the true distance from the tissue's centre to the metal along the
// face's normal: second order for a fixed potential (Gibou, Fedkiw, Cheng and
// Kang 2002, J Comput Phys 176:205). AreaM2 is the true metal area behind it.
func (m *Mesh) Needle(metal []int, dst []Contact, x, a, l float64) ([]int, []Contact) {
	in := func(i, j, k int) bool {
		if i < 0 || j < 0 || i >= m.NX || j >= m.NY || k >= m.NZ || m.Z.Centres[k] >= l {
			return false
		}
		return m.offAxis(i, j, x) < a
	}
	i0, i1 := 0, m.X.Find(x+a)
	if m.Geometry == Track {
		i0 = m.X.Find(x - a)
	}
	for k := 0; k < m.NZ && m.Z.Centres[k] < l; k++ {
		for j := 0; j < m.NY && (m.Geometry == Axisymmetric || m.Y.Centres[j] < a); j++ {
			for i := i0; i <= i1; i++ {
				if !in(i, j, k) {
					continue
				}
				p := m.Index(i, j, k)
				metal = append(metal, p)
				if i > 0 && !in(i-1, j, k) {
					dst = append(dst, m.besideX(i-1, j, k, -1, x, a))
				}
				if i+1 < m.NX && !in(i+1, j, k) {
					dst = append(dst, m.besideX(i+1, j, k, 1, x, a))
				}
				if j+1 < m.NY && !in(i, j+1, k) {
					dx := m.X.Centres[i] - x
					edge := math.Sqrt(math.Max(0, a*a-dx*dx))
					d := math.Max(m.Y.Centres[j+1]-edge, minDistance*m.Y.Width(j+1))
					area := 2 * m.wx[i] * m.dz[k]
					dst = append(dst, Contact{p + m.NX, area * edge / a, d / area, m.NX})
				}
				if k+1 < m.NZ && !in(i, j, k+1) {
					area := m.Area(i, j)
					d := math.Max(m.Z.Centres[k+1]-l, minDistance*m.dz[k+1])
					dst = append(dst, Contact{p + m.Plane(), area, d / area, m.Plane()})
				}
			}
		}
	}
	return metal, dst
}

// besideX is the contact of tissue cell (i,j,k) with metal next to it along x; step
// leads away from it.
func (m *Mesh) besideX(i, j, k, step int, x, a float64) Contact {
	p := m.Index(i, j, k)
	area := m.wy[j] * m.dz[k]
	if m.Geometry == Axisymmetric { // the metal's skin is a grid line
		return Contact{p, m.X.Faces[i] * area, m.hxw[i] / area, step}
	}
	y := m.Y.Centres[j]
	edge := math.Sqrt(math.Max(0, a*a-y*y))
	d := math.Max(math.Abs(m.X.Centres[i]-x)-edge, minDistance*m.wx[i])
	return Contact{p, area * edge / a, d / area, step}
}

// offAxis is the horizontal distance of cell (i,j) from the electrode's axis.
func (m *Mesh) offAxis(i, j int, x float64) float64 {
	if m.Geometry == Axisymmetric {
		return m.X.Centres[i]
	}
	return math.Hypot(m.X.Centres[i]-x, m.Y.Centres[j])
}

// Beyond returns the cell a contact's step away from cell p; false at the end of the mesh.
func (m *Mesh) Beyond(p, step int) (next int, ok bool) {
	i, j, k := m.Cell(p)
	switch step {
	case -1:
		ok = i > 0
	case 1:
		ok = i+1 < m.NX
	case m.Plane():
		ok = k+1 < m.NZ
	case -m.Plane():
		ok = k > 0
	default:
		ok = j+1 < m.NY
	}
	return p + step, ok
}

// Extent returns the size of cell p in metres along a contact's step.
func (m *Mesh) Extent(p, step int) float64 {
	i, j, k := m.Cell(p)
	switch step {
	case -1, 1:
		return m.X.Width(i)
	case m.Plane(), -m.Plane():
		return m.dz[k]
	}
	return m.Y.Width(j)
}
