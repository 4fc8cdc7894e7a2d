package field

import (
	"math"

	"muralheat/thermal/field/kernel"
)

// single is the method of double on vectors of single precision. It starts from a constant and
// the last two solutions, too: directions known beforehand, of whose energies those with the
// constant are exact.
type single struct {
	*circuit
	kernel.Layout
	half, faces, links kernel.Quads
	scale, inverse     kernel.Field // 1/sqrt of the pivots, and sqrt; 0 without tissue
	rho, phi, old      kernel.Field // old: the solution before phi
	constant, image    kernel.Field // the constant as a direction, and the matrix times it
	constantS          float64      // its energy: all current that enters or leaves
	r, p, t, u, y      kernel.Field // scale y is what the iteration adds to the constant
	weights            kernel.Field // room for the factor
	zero               kernel.Field
	known              int   // how many of phi and old are solutions
	starts             int   // how often an iteration was begun
	ends               []end // far faces, then contacts
}

// end is a contact or a far face, and the potential of its cell.
type end struct {
	p, step, lane int
	g, phi        float64 // S, V

	last, change float64 // potential of the last solution there, and that less the one before, V
}

func newSingle(c *circuit) *single {
	m := c.m
	s := &single{circuit: c, Layout: kernel.NewLayout(m.NX, m.NY, m.NZ)}
	for _, f := range []*kernel.Field{&s.scale, &s.inverse, &s.rho, &s.phi, &s.old, &s.constant, &s.image,
		&s.r, &s.p, &s.t, &s.u, &s.y, &s.weights, &s.zero} {
		*f = s.NewField()
	}
	s.half, s.faces, s.links = s.NewQuads(), s.NewQuads(), s.NewQuads()
	for i := range s.rho {
		for lane := range s.rho[i] {
			s.rho[i][lane] = kernel.Void()
			for d := range s.half[i] {
				s.half[i][d][lane] = 1
			}
		}
	}
	for k := range m.NZ {
		for j := range m.NY {
			first, lane := s.Cell(0, j, k)
			for i := range m.NX {
				h := m.HalfSquares(i, j, k)
				for d, v := range s.Faces(h.West, h.East, h.Y, h.Z) {
					if v == 0 { // at the axis; void is +Inf there, and times 0 no number
						v = 1
					}
					s.half[first+i][d][lane] = float32(v)
				}
			}
		}
	}
	return s
}

// place returns where cell p of the mesh lies.
func (s *single) place(p int) (step, lane int) { return s.Cell(s.m.Cell(p)) }

// cells returns v, a field of the mesh, without its guard planes.
func (s *single) cells(v []float64) []float64 { return v[s.m.Plane():][:s.m.Cells()] }

// assemble sets up the equations and their factor.
func (s *single) assemble() {
	s.Pack(s.cells(s.circuit.rho), s.rho)
	s.Couple(s.rho, s.half, s.faces)
	s.feed()
	s.Factor(s.faces, s.links, s.scale, s.inverse, s.u, s.weights)
	s.Lift(s.inverse, s.links, s.constant)
	s.Forward(s.constant, s.inverse, s.links, s.u)
	s.Mixed(1, s.inverse, 1, s.u, s.zero, s.image, s.p)
}

// feed brings in contacts and far faces; those that are fixed stay where they are.
func (s *single) feed() {
	for i := min(len(s.ends), len(s.edges)); i < len(s.far); i++ {
		step, lane := s.place(s.far[i].p)
		s.ends = append(s.ends[:i], end{p: s.far[i].p, step: step, lane: lane})
	}
	s.ends = s.ends[:len(s.far)]
	for i, f := range s.far {
		s.ends[i].g = f.g
	}
	for i, c := range s.contacts {
		step, lane := s.place(c.P)
		s.ends = append(s.ends, end{p: c.P, step: step, lane: lane, g: s.contactS[i]})
	}
	s.constantS = 0
	for _, e := range s.ends {
		s.faces[e.step][kernel.D][e.lane] += float32(e.g)
		s.constantS += e.g
	}
}

const (
	// span is how far, in energy, single precision follows the residual before that is
	// computed anew.
	span = 1e-4
	// blur is the share of the conductance of all contacts below which power is lost in the
	// rounding of potentials next to the metal's 1 V, a hundred times 6e-8.
	blur = 6e-6
)

// solve improves phi, and reports false if it does not get to the tolerance: if starting anew
// from what it has does not bring the residual down, or power cannot be told from rounding, and
// then phi is as it was.
func (s *single) solve(phi []float64, tol float64) (iterations int, ok bool) {
	if iterations, ok = s.attempt(phi, tol); !ok {
		for _, f := range []kernel.Field{s.r, s.p, s.t, s.u, s.y} {
			clear(f) // of what is no number: times 0 it is none either
		}
	}
	return iterations, ok
}

// attempt is solve, with whatever a failure leaves in the fields of the iteration.
func (s *single) attempt(phi []float64, tol float64) (iterations int, ok bool) {
	s.assemble()
	for last := math.Inf(1); ; {
		constant, first, power, reached := s.improve(tol, &iterations)
		if !(power >= blur*s.allS) { // nor can what is no number
			return iterations, false
		}
		if math.IsInf(last, 1) { // else what is found replaces where it began anew
			s.phi, s.old = s.old, s.phi
			s.known = min(s.known+1, memory)
		}
		s.finish(phi, constant)
		if reached {
			return iterations, true
		}
		if !(first < 0.1*last) || iterations >= MostIterations {
			return iterations, false
		}
		last = first
	}
}

// improve iterates from the best start until the tolerance or the span of single precision is
// reached. It returns the share of the constant, the energy of the first residual, the power of
// the solution, and whether it was the tolerance.
func (s *single) improve(tol float64, iterations *int) (constant, first, power float64, reached bool) {
	s.starts++
	constant, rr, cr := s.start()
	for _, e := range s.fed() {
		power += e.g * (1 - constant - s.correction(e))
	}
	first = rr
	least, rounding := rr, 1e-12*s.allS
	for beta := 0.0; ; *iterations++ {
		if rr <= tol*tol*max(power, rounding) {
			return constant, first, power, true
		}
		if !(rr >= span*first && rr <= 10*least) || *iterations >= MostIterations {
			return constant, first, power, false
		}
		least = min(least, rr)
		s.Backward(float32(beta), float32(cr/s.constantS), s.r, s.constant, s.p, s.links, s.t)
		pw := s.Forward(s.p, s.t, s.links, s.u)
		old := rr
		power -= rr * rr / pw // each step takes its energy from what is left over
		rr, cr = s.Update(float32(rr/pw), s.t, s.u, s.image, s.y, s.r)
		if !(rr < math.Inf(1)) {
			return constant, first, math.NaN(), false
		}
		beta = rr / old
	}
}

// fed returns the contacts.
func (s *single) fed() []end { return s.ends[len(s.far):] }

// correction returns the potential of an end over that of the constant.
func (s *single) correction(e end) float64 {
	return float64(s.scale[e.step][e.lane]) * float64(s.y[e.step][e.lane])
}

// start sets y to the best start in the span of a constant and the last two solutions, and r
// to its residual. It returns the share of the constant, r.r and image.r.
func (s *single) start() (constant, rr, cr float64) {
	var a [memory + 1][memory + 1]float64 // energies of the directions: the constant, phi, phi less old
	var b [memory + 1]float64             // and their product with the current fed in
	a[0][0], b[0] = s.constantS, s.allS
	if s.known > 0 {
		aa, ad, dd := s.Energies(s.phi, s.old, s.faces)
		if a[1][1] = aa; s.known > 1 {
			a[2][1], a[2][2] = ad, dd
		}
	}
	// What flows in and out at the ends is in double precision.
	for i := range s.ends {
		e := &s.ends[i]
		e.last, e.change = 0, 0
		if s.known > 0 {
			e.last = float64(s.phi[e.step][e.lane])
		}
		if s.known > 1 {
			e.change = e.last - float64(s.old[e.step][e.lane])
		}
		a[1][0] += e.g * e.last
		a[1][1] += e.g * e.last * e.last
		a[2][0] += e.g * e.change
		a[2][1] += e.g * e.change * e.last
		a[2][2] += e.g * e.change * e.change
	}
	for _, e := range s.fed() {
		b[1] += e.g * e.last
		b[2] += e.g * e.change
	}
	a[0][1], a[0][2], a[1][2] = a[1][0], a[2][0], a[2][1]
	x := combine(a, b)

	s.Mixed(float32(x[1]+x[2]), s.phi, float32(-x[2]), s.old, s.inverse, s.t, s.y)
	s.Inflow(s.t, s.faces, s.scale, s.p)
	for i := range s.ends {
		e := &s.ends[i]
		fedS := -e.g * (x[0] + x[1]*e.last + x[2]*e.change)
		if i >= len(s.far) {
			fedS += e.g
		}
		s.p[e.step][e.lane] += float32(fedS * float64(s.scale[e.step][e.lane]))
	}
	s.Forward(s.p, s.zero, s.links, s.r)
	return x[0], s.Dot(s.r, s.r), s.Dot(s.image, s.r)
}

// combine returns the combination of directions of energies a that is nearest, in energy, to
// the solution of products b with them; 0 for those that are in the span of the ones before
// to rounding.
func combine(a [memory + 1][memory + 1]float64, b [memory + 1]float64) (x [memory + 1]float64) {
	var l [memory + 1][memory + 1]float64 // Cholesky factor; 0 on the diagonal: left out
	var z [memory + 1]float64
	for i := range a {
		left, rest := a[i][i], b[i]
		for j := range i {
			if l[j][j] == 0 {
				continue
			}
			v := a[i][j]
			for k := range j {
				v -= l[i][k] * l[j][k]
			}
			l[i][j] = v / l[j][j]
			left -= l[i][j] * l[i][j]
			rest -= l[i][j] * z[j]
		}
		if left > 1e-6*a[i][i] {
			l[i][i] = math.Sqrt(left)
			z[i] = rest / l[i][i]
		}
	}
	for i := memory; i >= 0; i-- {
		if l[i][i] == 0 {
			continue
		}
		v := z[i]
		for k := i + 1; k <= memory; k++ {
			v -= l[k][i] * x[k]
		}
		x[i] = v / l[i][i]
	}
	return x
}

// finish makes potentials of the constant and y, and shifts them all by what makes the current
// in equal the current out.
func (s *single) finish(out []float64, constant float64) {
	surplus := 0.0
	for i := range s.ends {
		e := &s.ends[i]
		e.phi = constant + s.correction(*e)
		surplus -= e.g * e.phi
	}
	for _, e := range s.fed() {
		surplus += e.g
	}
	shift := surplus / s.constantS
	s.Potential(float32(constant+shift), s.scale, s.y, s.phi)
	s.Unpack(s.phi, s.cells(out))
	for i := range s.ends {
		e := &s.ends[i]
		e.phi += shift
		out[e.p] = e.phi
	}
}

// heat sets q to the heat of the currents through inner faces, W/V2, and returns its sum.
func (s *single) heat(q []float64) float64 {
	sum := s.Joule(s.phi, s.rho, s.half, s.faces, s.u)
	s.Unpack(s.u, s.cells(q))
	return sum
}

// adopt takes phi and the solution before it as the last ones; before writes that to old.
func (s *single) adopt(phi, old []float64) {
	s.Pack(s.cells(phi), s.phi)
	s.Pack(s.cells(old), s.old)
	s.known = memory
}

func (s *single) before(old []float64) { s.Unpack(s.old, s.cells(old)) }
