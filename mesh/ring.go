package mesh

import "math"

// Ring appends the cells inside a wire bent to a ring around the axis of an axisymmetric
// mesh, and the contacts around it. The wire is taken square, from radius r0 inside to r1
// and from z0 to z1, which are grid lines; a cell is metal if its centre is inside. The
// inner face keeps the true distance from the tissue's centre to the wire, as the shaft of
// a needle does.
func (m *Mesh) Ring(metal []int, dst []Contact, r0, r1, z0, z1 float64) ([]int, []Contact) {
	in := func(i, k int) bool {
		return i >= 0 && i < m.NX && k >= 0 && k < m.NZ &&
			r0 < m.X.Centres[i] && m.X.Centres[i] < r1 && z0 < m.Z.Centres[k] && m.Z.Centres[k] < z1
	}
	for k := m.Z.Find(z0); k < m.NZ && m.Z.Centres[k] < z1; k++ {
		for i := m.X.Find(math.Max(r0, 0)); i < m.NX && m.X.Centres[i] < r1; i++ {
			if !in(i, k) {
				continue
			}
			p := m.Index(i, 0, k)
			metal = append(metal, p)
			if i > 0 && !in(i-1, k) {
				c := m.X.Centres[i-1]
				d := math.Max(r0-c, minDistance*m.X.Width(i-1))
				area := 2 * math.Pi * (c + d) * m.dz[k]
				dst = append(dst, Contact{p - 1, area, math.Log1p(d/c) / (2 * math.Pi * m.dz[k]), -1})
			}
			if i+1 < m.NX && !in(i+1, k) {
				area := 2 * math.Pi * m.X.Faces[i+1] * m.dz[k]
				dst = append(dst, Contact{p + 1, area, math.Log(m.X.Centres[i+1]/m.X.Faces[i+1]) / (2 * math.Pi * m.dz[k]), 1})
			}
			area := m.Area(i, 0)
			if k > 0 && !in(i, k-1) {
				dst = append(dst, Contact{p - m.Plane(), area, m.dz[k-1] / 2 / area, -m.Plane()})
			}
			if k+1 < m.NZ && !in(i, k+1) {
				dst = append(dst, Contact{p + m.Plane(), area, m.dz[k+1] / 2 / area, m.Plane()})
			}
		}
	}
	return metal, dst
}
