// Package field solves for the electric potential of an electrode at 1 V:
//
//	div(sigma grad phi) = 0
//
// with the metal an equipotential, the free surface insulated, and the current
// leaving through far faces that are open (the body goes on) or grounded. Currents
// and heat scale with the voltage and its square.
package field

import (
	"muralheat/mesh"
	"muralheat/thermal/internal/cores"
)

// Solver holds the potential and the work space for one mesh. It allocates once.
//
// Potentials are found in single precision by vectors; what does not get to its tolerance so,
// or is asked for more exactly than that, in double precision. Currents at contacts and far
// faces are in double precision always.
type Solver struct {
	Phi []float64 // potential at 1 V on the electrode; kept as the next start

	// A film in series with every contact: its impedance (magnitude, ohm m2) decides where
	// the current goes, the share of it that is resistance what heats. Exact for a film that
	// is all resistance; where capacitance rules, magnitudes add up to more than they
	// should and spread the current as a resistance of that size would.
	FilmOhmM2, FilmHeatShare float64

	circuit *circuit
	single  *single
	double  *double   // nil: nothing asked for it yet
	last    precision // of the last solution
}

type precision int

const (
	neither precision = iota
	inSingle
	inDouble
)

// New returns a solver on m with nowhere yet for the current to go.
func New(m *mesh.Mesh) *Solver {
	c := &circuit{m: m}
	return &Solver{Phi: make([]float64, m.Len()), circuit: c, single: newSingle(c)}
}

// Spread has solutions in single precision computed on up to two cores, with the same result.
func (s *Solver) Spread(c *cores.Pair) { s.single.Spread(c) }

// Ground holds the far side of faces at 0 V.
func (s *Solver) Ground(faces []mesh.EdgeFace) { s.circuit.leave(faces, false, 0) }

// Open lets the body go on behind faces: the potential there falls off as that of
// a distant point source, phi ~ 1/R, so
//
//	-dphi/dn = phi (n.R)/R^2
//
// with R from the centre of the electrode, at depth z (m), to the face.
func (s *Solver) Open(faces []mesh.EdgeFace, z float64) { s.circuit.leave(faces, true, z) }

// Sink holds further contacts, other metal, at 0 V, until the next call: what flows there counts as current out.
func (s *Solver) Sink(contacts []mesh.Contact) { s.circuit.sink(contacts) }

// Assemble sets up the circuit of resistivity rho (ohm m; Void where there is
// no tissue), the contacts of the metal, and the electrode's centre at x (m). Both
// slices are kept, not copied, until the next call.
func (s *Solver) Assemble(rho []float64, contacts []mesh.Contact, x float64) {
	s.circuit.set(rho, contacts, s.film, x)
}

// film returns the impedance of the film on a contact, ohm.
func (s *Solver) film(c mesh.Contact) float64 {
	if s.FilmOhmM2 == 0 {
		return 0 // whatever its area
	}
	return s.FilmOhmM2 / c.AreaM2
}

// MostIterations ends a solve that does not get to its tolerance.
const MostIterations = 1000

// tightest is the tolerance below which potentials are found in double precision.
const tightest = 5e-5

// Solve improves Phi until the power of its error, as the preconditioner sees it, is below
// tol squared of that of the solution. It returns the number of iterations, MostIterations
// if they were not enough.
func (s *Solver) Solve(tol float64) int {
	n := 0
	if tol >= tightest && s.FilmOhmM2 == 0 {
		if s.last == inDouble {
			s.single.adopt(s.Phi, s.double.coarse.past[0])
		}
		var ok bool
		n, ok = s.single.solve(s.Phi, tol)
		s.last = inSingle
		if ok {
			return n
		}
	}
	if s.double == nil {
		s.double = newDouble(s.circuit)
	}
	if s.last == inSingle {
		s.single.before(s.double.coarse.past[0])
	}
	s.double.assemble()
	more := s.double.solve(s.Phi, tol)
	s.last = inDouble
	if more < MostIterations {
		more = min(n+more, MostIterations-1)
	}
	return more
}

// Past returns the last two solutions, newest first; Resume has s, which solved nothing yet, start from them.
func (s *Solver) Past() (phi, before []float64) {
	if s.last == inDouble {
		return s.Phi, s.double.coarse.past[0]
	}
	before = make([]float64, len(s.Phi))
	s.single.before(before)
	return s.Phi, before
}

func (s *Solver) Resume(phi, before []float64) {
	copy(s.Phi, phi)
	s.single.adopt(phi, before)
	s.last = inSingle
}

// Solution is what a solved potential gives at 1 V.
type Solution struct {
	HeatS float64 // W/V2 in the mesh: sum over faces of g (dphi)^2
	FarS  float64 // W/V2 in the body beyond it
	BathS float64 // W/V2 in a stirred liquid inside it, which the caller takes out of HeatS
	IdleS float64 // V A/V2 that go back and forth in the capacitance of a film
	InS   float64 // A/V into the tissue
	OutS  float64 // A/V out through the far faces
}

// ConductanceS is the power per volt squared, which sets the voltage for a given
// power exactly whatever the tolerance of the solve. Where a film has capacitance it
// is the apparent power: current over voltage.
func (s Solution) ConductanceS() float64 { return s.PowerS() + s.IdleS }

// PowerS is the power per volt squared that becomes heat.
func (s Solution) PowerS() float64 { return s.HeatS + s.FarS + s.BathS }

// Current returns what flows down through the plane between depth indices k and k+1, A/V.
func (s *Solver) Current(k int) float64 {
	m, rho, sum := s.circuit.m, s.circuit.rho, 0.0
	h0, h1 := m.Z.Width(k)/2, m.Z.Width(k+1)/2
	for p := m.Index(0, 0, k); p < m.Index(0, 0, k+1); p++ {
		i, j, _ := m.Cell(p)
		q := p + m.Plane()
		sum += m.Area(i, j) / (h0*rho[p] + h1*rho[q]) * (s.Phi[p] - s.Phi[q])
	}
	return sum
}

// Heat fills q with the heat per cell in W/V2 and returns the totals.
func (s *Solver) Heat(q []float64) Solution {
	c := s.circuit
	var out Solution
	if s.last == inSingle {
		out.HeatS = s.single.heat(q)
	} else {
		clear(q)
		out.HeatS = c.m.SplitJoule(c.rho, s.Phi, s.double.g, q)
	}
	for _, k := range c.contacts {
		u := 1 - s.Phi[k.P]
		film := s.film(k)
		i := u / (c.rho[k.P]*k.Squares + film)
		idle := i * i * film * (1 - s.FilmHeatShare)
		q[k.P] += i*u - idle
		out.HeatS += i*u - idle
		out.IdleS += idle
		out.InS += i
	}
	for _, f := range c.far {
		i := f.g * s.Phi[f.p]
		near := i * i * c.rho[f.p] * f.near
		q[f.p] += near
		out.HeatS += near
		out.FarS += i*s.Phi[f.p] - near
		out.OutS += i
	}
	return out
}
