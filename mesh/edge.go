package mesh

import "math"

// EdgeFace is a face between a cell and what lies outside the mesh.
type EdgeFace struct {
	P       int        // its cell
	AreaM2  float64    // area of the face
	Squares float64    // half the cell: length over area, 1/m (times resistivity: its resistance)
	At      [3]float64 // centre of the face: x, y, z; radius for Axisymmetric
	Out     [3]float64 // unit normal pointing outwards
}

// Top returns the faces at the least depth, row by row.
func (m *Mesh) Top() []EdgeFace { return m.cap(0, m.Z.Faces[0], -1) }

// Bottom returns the faces at the largest depth.
func (m *Mesh) Bottom() []EdgeFace { return m.cap(m.NZ-1, m.Z.Faces[m.NZ], 1) }

func (m *Mesh) cap(k int, z, out float64) []EdgeFace {
	faces := make([]EdgeFace, 0, m.Plane())
	for j := range m.NY {
		for i := range m.NX {
			a := m.Area(i, j)
			faces = append(faces, EdgeFace{
				P: m.Index(i, j, k), AreaM2: a, Squares: m.dz[k] / 2 / a,
				At: [3]float64{m.X.Centres[i], m.yAt(j), z}, Out: [3]float64{0, 0, out},
			})
		}
	}
	return faces
}

func (m *Mesh) yAt(j int) float64 {
	if m.Geometry == Axisymmetric {
		return 0
	}
	return m.Y.Centres[j]
}

// Side returns the outer faces around: the largest radius, or for Track both ends
// of x and the far side of y.
func (m *Mesh) Side() []EdgeFace {
	var faces []EdgeFace
	add := func(i, j, k int, x, area, half float64, out float64) {
		faces = append(faces, EdgeFace{
			P: m.Index(i, j, k), AreaM2: area, Squares: half / (m.wy[j] * m.dz[k]),
			At: [3]float64{x, m.yAt(j), m.Z.Centres[k]}, Out: [3]float64{out, 0, 0},
		})
	}
	n := m.NX - 1
	for k := range m.NZ {
		for j := range m.NY {
			switch m.Geometry {
			case Axisymmetric:
				r := m.X.Faces[m.NX]
				add(n, j, k, r, 2*math.Pi*r*m.dz[k], m.hxe[n], 1)
			case Track:
				a := m.wy[j] * m.dz[k]
				add(0, j, k, m.X.Faces[0], a, m.hxw[0], -1)
				add(n, j, k, m.X.Faces[m.NX], a, m.hxe[n], 1)
			}
		}
		if m.Geometry == Track {
			j := m.NY - 1
			for i := range m.NX {
				a := 2 * m.wx[i] * m.dz[k]
				faces = append(faces, EdgeFace{
					P: m.Index(i, j, k), AreaM2: a, Squares: m.hy[j] / a,
					At:  [3]float64{m.X.Centres[i], m.Y.Faces[m.NY], m.Z.Centres[k]},
					Out: [3]float64{0, 1, 0},
				})
			}
		}
	}
	return faces
}
