// Package field solves for the electric potential of an electrode at 1 V:
//
//	div(sigma grad phi) = 0
//
// with the metal an equipotential, the free surface insulated, and the current
// leaving through far faces that are open (the body goes on) or grounded. Currents
// and heat scale with the voltage and its square.
package field

import (
	"math"

	"muralheat/mesh"
)

// Solver holds the potential and the work space for one mesh. It allocates once.
type Solver struct {
	Phi []float64 // potential at 1 V on the electrode; kept as the next start

	// A film in series with every contact: its impedance (magnitude, ohm m2) decides where
	// the current goes, the share of it that is resistance what heats. Exact for a film that
	// is all resistance; where capacitance rules, magnitudes add up to more than they
	// should and spread the current as a resistance of that size would.
	FilmOhmM2, FilmHeatShare float64

	m        *mesh.Mesh
	g        mesh.Faces
	rho      []float64
	contacts []mesh.Contact
	far      []farFace
	coarse   coarse

	diag, b    []float64
	scale      []float64  // 1/sqrt of the pivots of the incomplete factor
	l          mesh.Faces // scaled couplings
	dd         []float64  // scaled diagonal - 2
	rHat, pHat []float64
	t, u, w    []float64 // guard planes stay zero
}

type farFace struct {
	mesh.EdgeFace
	open bool
	z    float64 // open: depth of where the current comes from, m
	g    float64 // siemens
}

// New returns a solver on m with nowhere yet for the current to go.
func New(m *mesh.Mesh) *Solver {
	v := func() []float64 { return make([]float64, m.Len()) }
	return &Solver{
		m: m, g: m.NewFaces(), l: m.NewFaces(),
		Phi: v(), diag: v(), b: v(), scale: v(), dd: v(), rHat: v(), pHat: v(), t: v(), u: v(), w: v(),
		coarse: newCoarse(m.Len()),
	}
}

// Ground holds the far side of faces at 0 V.
func (s *Solver) Ground(faces []mesh.EdgeFace) { s.addFar(faces, farFace{}) }

// Open lets the body go on behind faces: the potential there falls off as that of
// a distant point source, phi ~ 1/R, so
//
//	-dphi/dn = phi (n.R)/R^2
//
// with R from the centre of the electrode, at depth z (m), to the face.
func (s *Solver) Open(faces []mesh.EdgeFace, z float64) { s.addFar(faces, farFace{open: true, z: z}) }

func (s *Solver) addFar(faces []mesh.EdgeFace, far farFace) {
	for _, f := range faces {
		far.EdgeFace = f
		s.far = append(s.far, far)
	}
}

// hollow is the largest diagonal, in siemens, of a row of metal or missing tissue.
const hollow = 1e-20

// Void is the resistivity that marks metal and missing tissue.
const Void = 1e30

// Assemble sets up the equations for resistivity rho (ohm m; Void where there is
// no tissue), the contacts of the metal, and the electrode's centre at x (m). Both
// slices are kept, not copied, until the next call.
func (s *Solver) Assemble(rho []float64, contacts []mesh.Contact, x float64) {
	m := s.m
	s.rho, s.contacts = rho, contacts
	m.Couple(rho, s.g)
	n0, n1 := m.Plane(), m.Plane()+m.Cells()
	gx, gy, gz := s.g.X, s.g.Y, s.g.Z
	row, pl := m.NX, m.Plane()
	for p := n0; p < n1; p++ {
		s.diag[p] = gx[p] + gx[p-1] + gz[p] + gz[p-pl]
		s.b[p] = 0
	}
	if m.NY > 1 {
		for p := n0; p < n1; p++ {
			s.diag[p] += gy[p] + gy[p-row]
		}
	}
	for _, c := range contacts {
		gc := s.conductance(c)
		s.diag[c.P] += gc
		s.b[c.P] += gc
	}
	for i := range s.far {
		f := &s.far[i]
		r := rho[f.P] * f.Squares
		if f.open {
			d := [3]float64{f.At[0] - x, f.At[1], f.At[2] - f.z}
			if m.Geometry == mesh.Axisymmetric {
				d[0] = f.At[0]
			}
			n := d[0]*f.Out[0] + d[1]*f.Out[1] + d[2]*f.Out[2]
			r += rho[f.P] / f.AreaM2 * (d[0]*d[0] + d[1]*d[1] + d[2]*d[2]) / n
		}
		f.g = 1 / r
		s.diag[f.P] += f.g
	}
	s.factor()
}

// conductance returns that of a contact between the metal and the centre of its cell, S.
func (s *Solver) conductance(c mesh.Contact) float64 {
	return 1 / (s.rho[c.P]*c.Squares + s.film(c))
}

// film returns the impedance of the film on a contact, ohm.
func (s *Solver) film(c mesh.Contact) float64 {
	if s.FilmOhmM2 == 0 {
		return 0 // whatever its area
	}
	return s.FilmOhmM2 / c.AreaM2
}

// relax is the share of the dropped fill that is put on the diagonal: 1 keeps row
// sums exactly (Gustafsson 1978, BIT 18:142), a little less keeps pivots safe.
const relax = 0.98

// factor computes the modified incomplete Cholesky factor without fill, MIC(0),
// as pivots e, then scales the system by 1/sqrt(e) so that all pivots are 1.
func (s *Solver) factor() {
	m := s.m
	gx, gy, gz := s.g.X, s.g.Y, s.g.Z
	row, pl := m.NX, m.Plane()
	n0, n1 := pl, pl+m.Cells()
	flat := m.NY == 1
	e := s.t // pivots, only needed here
	for p := n0; p < n1; p++ {
		d := s.diag[p]
		if d < hollow { // metal or missing tissue: a row of its own
			e[p], s.scale[p] = 1, 1
			continue
		}
		v := d
		if g := gx[p-1]; g > 0 {
			q := p - 1
			v -= g * (g + relax*(gy[q]+gz[q])) * e[q]
		}
		if !flat {
			if g := gy[p-row]; g > 0 {
				q := p - row
				v -= g * (g + relax*(gx[q]+gz[q])) * e[q]
			}
		}
		if g := gz[p-pl]; g > 0 {
			q := p - pl
			v -= g * (g + relax*(gx[q]+gy[q])) * e[q]
		}
		if v < 1e-3*d {
			v = 1e-3 * d
		}
		e[p] = 1 / v
		s.scale[p] = math.Sqrt(e[p])
	}
	sc := s.scale
	for p := n0; p < n1; p++ {
		c := sc[p]
		s.l.X[p] = gx[p] * c * sc[p+1]
		s.l.Z[p] = gz[p] * c * sc[p+pl]
		s.dd[p] = s.diag[p]*c*c - 2
		if s.diag[p] < hollow {
			s.dd[p] = -1
		}
	}
	if !flat {
		for p := n0; p < n1; p++ {
			s.l.Y[p] = gy[p] * sc[p] * sc[p+row]
		}
	}
}

// Solution is what a solved potential gives at 1 V.
type Solution struct {
	HeatS float64 // W/V2 in the mesh: sum over faces of g (dphi)^2
	FarS  float64 // W/V2 in the body beyond it
	IdleS float64 // V A/V2 that go back and forth in the capacitance of a film
	InS   float64 // A/V into the tissue
	OutS  float64 // A/V out through the far faces
}

// ConductanceS is the power per volt squared, which sets the voltage for a given
// power exactly whatever the tolerance of the solve. Where a film has capacitance it
// is the apparent power: current over voltage.
func (s Solution) ConductanceS() float64 { return s.PowerS() + s.IdleS }

// PowerS is the power per volt squared that becomes heat.
func (s Solution) PowerS() float64 { return s.HeatS + s.FarS }

// Current returns what flows down through the plane between depth indices k and k+1, A/V.
func (s *Solver) Current(k int) float64 {
	sum := 0.0
	for p := s.m.Index(0, 0, k); p < s.m.Index(0, 0, k+1); p++ {
		sum += s.g.Z[p] * (s.Phi[p] - s.Phi[p+s.m.Plane()])
	}
	return sum
}

// Heat fills q with the heat per cell in W/V2 and returns the totals.
func (s *Solver) Heat(q []float64) Solution {
	for p := range q {
		q[p] = 0
	}
	var out Solution
	out.HeatS = s.m.SplitJoule(s.rho, s.Phi, s.g, q)
	for _, c := range s.contacts {
		u := 1 - s.Phi[c.P]
		film := s.film(c)
		i := u / (s.rho[c.P]*c.Squares + film)
		idle := i * i * film * (1 - s.FilmHeatShare)
		q[c.P] += i*u - idle
		out.HeatS += i*u - idle
		out.IdleS += idle
		out.InS += i
	}
	for _, f := range s.far {
		i := f.g * s.Phi[f.P]
		near := i * i * s.rho[f.P] * f.Squares
		q[f.P] += near
		out.HeatS += near
		out.FarS += i*s.Phi[f.P] - near
		out.OutS += i
	}
	return out
}
