package mesh

import "math"

// Solid appends the cells of an axisymmetric mesh whose centres lie in a body, and the faces between them and
// tissue as contacts: the true body is followed in steps of cells.
func (m *Mesh) Solid(metal []int, dst []Contact, in func(r, z float64) bool) ([]int, []Contact) {
	inside := func(i, k int) bool {
		return i >= 0 && i < m.NX && k >= 0 && k < m.NZ && in(m.X.Centres[i], m.Z.Centres[k])
	}
	for k := range m.NZ {
		for i := range m.NX {
			if !inside(i, k) {
				continue
			}
			p := m.Index(i, 0, k)
			metal = append(metal, p)
			if i > 0 && !inside(i-1, k) {
				area := 2 * math.Pi * m.X.Faces[i] * m.dz[k]
				dst = append(dst, Contact{p - 1, area, math.Log(m.X.Faces[i]/m.X.Centres[i-1]) / (2 * math.Pi * m.dz[k]), -1})
			}
			if i+1 < m.NX && !inside(i+1, k) {
				area := 2 * math.Pi * m.X.Faces[i+1] * m.dz[k]
				dst = append(dst, Contact{p + 1, area, math.Log(m.X.Centres[i+1]/m.X.Faces[i+1]) / (2 * math.Pi * m.dz[k]), 1})
			}
			if area := m.Area(i, 0); k > 0 && !inside(i, k-1) {
				dst = append(dst, Contact{p - m.Plane(), area, m.dz[k-1] / 2 / area, -m.Plane()})
			}
			if area := m.Area(i, 0); k+1 < m.NZ && !inside(i, k+1) {
				dst = append(dst, Contact{p + m.Plane(), area, m.dz[k+1] / 2 / area, m.Plane()})
			}
		}
	}
	return metal, dst
}
