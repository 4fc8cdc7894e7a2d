package mesh

// Faces holds one number for each face, stored with the cell on its low side.
type Faces struct{ X, Y, Z []float64 }

// NewFaces returns zeroed face arrays for m.
func (m *Mesh) NewFaces() Faces {
	return Faces{make([]float64, m.Len()), make([]float64, m.Len()), make([]float64, m.Len())}
}

// Couple sets the conductance of every inner face from the resistivity of its two
// cells, half a cell each:
//
//	g = A / (h_low*rho_low + h_high*rho_high)
//
// With rho in ohm m, g is in siemens; with rho in K m/W, in W/K. Outer faces are
// left at zero, except in the guard planes, which are not touched.
func (m *Mesh) Couple(rho []float64, g Faces) {
	pl := m.Plane()
	for k := range m.NZ {
		for j := range m.NY {
			p := m.Index(0, j, k)
			row := m.NX
			r := rho[p : p+row]
			// x faces
			axy := m.wy[j] * m.dz[k]
			gx := g.X[p : p+row]
			hw, he := m.hxw[:row], m.hxe[:row]
			for i := 0; i < row-1; i++ {
				gx[i] = axy / (he[i]*r[i] + hw[i+1]*r[i+1])
			}
			gx[row-1] = 0
			// y faces
			if j+1 < m.NY {
				rn := rho[p+row : p+2*row]
				gy := g.Y[p : p+row]
				h0, h1 := m.hy[j], m.hy[j+1]
				a := 2 * m.dz[k] // both halves
				for i := range gy {
					gy[i] = a * m.wx[i] / (h0*r[i] + h1*rn[i])
				}
			}
			// z faces
			if k+1 < m.NZ {
				rn := rho[p+pl : p+pl+row]
				gz := g.Z[p : p+row]
				h0, h1 := m.dz[k]/2, m.dz[k+1]/2
				w := m.wy[j]
				for i := range gz {
					gz[i] = w * m.wx[i] / (h0*r[i] + h1*rn[i])
				}
			}
		}
	}
}

// CoupleCell does what Couple does for the faces of cell p.
func (m *Mesh) CoupleCell(p int, rho []float64, g Faces) {
	i, j, k := m.Cell(p)
	pl := m.Plane()
	x := func(i, p int) {
		g.X[p] = m.wy[j] * m.dz[k] / (m.hxe[i]*rho[p] + m.hxw[i+1]*rho[p+1])
	}
	y := func(j, p int) {
		q := p + m.NX
		g.Y[p] = 2 * m.dz[k] * m.wx[i] / (m.hy[j]*rho[p] + m.hy[j+1]*rho[q])
	}
	z := func(k, p int) {
		q := p + pl
		g.Z[p] = m.wy[j] * m.wx[i] / (m.dz[k]/2*rho[p] + m.dz[k+1]/2*rho[q])
	}
	if i > 0 {
		x(i-1, p-1)
	}
	if i+1 < m.NX {
		x(i, p)
	}
	if j > 0 {
		y(j-1, p-m.NX)
	}
	if j+1 < m.NY {
		y(j, p)
	}
	if k > 0 {
		z(k-1, p-pl)
	}
	if k+1 < m.NZ {
		z(k, p)
	}
}

// SplitJoule adds to q the heat of the current through every inner face, each
// half cell getting what its own resistance turns into heat:
//
//	I = g (phi_low - phi_high),   q_low += I^2 h_low rho_low / A,   q_high likewise.
//
// The sum over all cells is the exact sum of g (dphi)^2. It returns that sum.
func (m *Mesh) SplitJoule(rho, phi []float64, g Faces, q []float64) float64 {
	pl, row := m.Plane(), m.NX
	total := 0.0
	for k := range m.NZ {
		for j := range m.NY {
			p := m.Index(0, j, k)
			r, f, qr := rho[p:p+row], phi[p:p+row], q[p:p+row]
			gx := g.X[p : p+row]
			inv := 1 / (m.wy[j] * m.dz[k])
			hi := 0.0 // carried on, so that no cell waits for the one before it
			for i := 0; i < row-1; i++ {
				c := gx[i] * (f[i] - f[i+1])
				c *= c * inv
				lo, next := c*m.hxe[i]*r[i], c*m.hxw[i+1]*r[i+1]
				qr[i] += hi + lo
				total += lo + next
				hi = next
			}
			qr[row-1] += hi
			if j+1 < m.NY {
				n := p + row
				rn, fn, qn := rho[n:n+row], phi[n:n+row], q[n:n+row]
				gy := g.Y[p : p+row]
				inv := 1 / (2 * m.dz[k])
				for i := range gy {
					c := gy[i] * (f[i] - fn[i])
					c *= c * inv / m.wx[i]
					lo, hi := c*m.hy[j]*r[i], c*m.hy[j+1]*rn[i]
					qr[i] += lo
					qn[i] += hi
					total += lo + hi
				}
			}
			if k+1 < m.NZ {
				n := p + pl
				rn, fn, qn := rho[n:n+row], phi[n:n+row], q[n:n+row]
				gz := g.Z[p : p+row]
				h0, h1 := m.dz[k]/2/m.wy[j], m.dz[k+1]/2/m.wy[j]
				for i := range gz {
					c := gz[i] * (f[i] - fn[i])
					c *= c / m.wx[i]
					lo, hi := c*h0*r[i], c*h1*rn[i]
					qr[i] += lo
					qn[i] += hi
					total += lo + hi
				}
			}
		}
	}
	return total
}

// HalfSquares are the half cells of a cell as lengths over areas, 1/m, from its centre to its
// faces: times a resistivity they are resistances. Those towards y and z are alike on both sides.
type HalfSquares struct{ West, East, Y, Z float64 }

// FaceAreas are the areas of the faces of a cell, m2; those towards y and z are alike on both sides.
type FaceAreas struct{ West, East, Y, Z float64 }

// FaceAreas returns those of cell p.
func (m *Mesh) FaceAreas(p int) FaceAreas {
	i, j, k := m.Cell(p)
	a := FaceAreas{West: m.wy[j] * m.dz[k], East: m.wy[j] * m.dz[k], Y: 2 * m.wx[i] * m.dz[k], Z: m.Area(i, j)}
	if m.Geometry == Axisymmetric {
		a.West, a.East = a.West*m.X.Faces[i], a.East*m.X.Faces[i+1]
	}
	return a
}

// HalfSquares returns those of cell (i,j,k).
func (m *Mesh) HalfSquares(i, j, k int) HalfSquares {
	xy := m.wy[j] * m.dz[k]
	return HalfSquares{
		West: m.hxw[i] / xy, East: m.hxe[i] / xy,
		Y: m.hy[j] / (2 * m.dz[k] * m.wx[i]), Z: m.dz[k] / 2 / m.Area(i, j),
	}
}
