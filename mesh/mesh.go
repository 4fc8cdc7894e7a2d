// Package mesh holds geometry only: graded tensor-product cells, their volumes,
// face areas over distances, and the map from depth to layer.
//
// Two geometries share one layout. z points from the lumen surface (z = 0) into
// the wall.
//
//	Axisymmetric   x is the radius r from the electrode's axis; one row (NY = 1)
//	               that stands for the whole turn.
//	Track          x runs along the track of the electrode, y >= 0 away from it;
//	               the mirrored half y < 0 is counted in every volume and area.
//
// Volumes, areas and so powers and currents are those of the whole body in both.
//
// Cells lie in one flat array, x fastest, with a guard plane before and after:
//
//	index = NX*NY*(k+1) + NX*j + i
//
// A face carries the index of the cell on its low side; the last face of a row
// has conductance zero, so loops over neighbours need no branches.
package mesh

import "math"

// Geometry says what the x and y axes mean.
type Geometry int

const (
	Axisymmetric Geometry = iota // (r, z), whole turn
	Track                        // (x, y >= 0, z), mirrored about y = 0
)

func (g Geometry) String() string {
	if g == Axisymmetric {
		return "axisymmetric"
	}
	return "3-D"
}

// Mesh is a tensor product of three axes; lengths in metres.
type Mesh struct {
	Geometry   Geometry
	X, Y, Z    Axis
	NX, NY, NZ int

	// Tensor factors. The volume of cell (i,j,k) is wx[i]*wy[j]*dz[k]; its half
	// towards the east face is hxe[i]/(wy[j]*dz[k]) squares long, and so on.
	wx, wy, dz []float64
	hxw, hxe   []float64
	hy         []float64
}

// New returns the mesh spanned by three axes. For Axisymmetric, x is the radius
// and starts at 0, and y must be the zero Axis.
func New(g Geometry, x, y, z Axis) *Mesh {
	m := &Mesh{Geometry: g, X: x, Y: y, Z: z, NX: x.Len(), NY: 1, NZ: z.Len()}
	m.wx, m.hxw, m.hxe = make([]float64, m.NX), make([]float64, m.NX), make([]float64, m.NX)
	switch g {
	case Axisymmetric:
		if x.Faces[0] != 0 {
			panic("mesh: radial axis must start at 0")
		}
		m.Y = NewAxis([]float64{0, 2 * math.Pi})
		m.wy, m.hy = []float64{2 * math.Pi}, []float64{0}
		for i := range m.wx {
			// Exact radial conduction between circles: ln(r2/r1)/(2 pi dz k).
			r1, r, r2 := x.Faces[i], x.Centres[i], x.Faces[i+1]
			m.wx[i] = (r2*r2 - r1*r1) / 2
			m.hxe[i] = math.Log(r2 / r)
			if r1 > 0 {
				m.hxw[i] = math.Log(r / r1)
			}
		}
	case Track:
		m.NY = y.Len()
		m.wy, m.hy = make([]float64, m.NY), make([]float64, m.NY)
		for j := range m.wy {
			m.wy[j] = 2 * y.Width(j) // both halves
			m.hy[j] = y.Width(j) / 2
		}
		for i := range m.wx {
			m.wx[i] = x.Width(i)
			m.hxw[i], m.hxe[i] = x.Width(i)/2, x.Width(i)/2
		}
	}
	m.dz = make([]float64, m.NZ)
	for k := range m.dz {
		m.dz[k] = z.Width(k)
	}
	return m
}

// Cells returns the number of cells.
func (m *Mesh) Cells() int { return m.NX * m.NY * m.NZ }

// Plane returns the number of cells at one depth, which is also the index
// distance between a cell and the one below it.
func (m *Mesh) Plane() int { return m.NX * m.NY }

// Len returns the length of a field array on this mesh, guard planes included.
func (m *Mesh) Len() int { return m.Cells() + 2*m.Plane() }

// Index returns the place of cell (i,j,k) in a field array.
func (m *Mesh) Index(i, j, k int) int { return m.Plane()*(k+1) + m.NX*j + i }

// Cell is the inverse of Index.
func (m *Mesh) Cell(p int) (i, j, k int) {
	return p % m.NX, p / m.NX % m.NY, p/m.Plane() - 1
}

// Volume returns the volume of cell (i,j,k) in m3.
func (m *Mesh) Volume(i, j, k int) float64 { return m.wx[i] * m.wy[j] * m.dz[k] }

// Area returns the area of the horizontal faces of column (i,j) in m2.
func (m *Mesh) Area(i, j int) float64 { return m.wx[i] * m.wy[j] }
