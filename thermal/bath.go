package thermal

import (
	"muralheat/mesh"
	"muralheat/thermal/drive"
	"muralheat/thermal/field"
)

// bath is a liquid around metal that moves, over the wall, in the kerf, beside a stalk. It is stirred: it keeps the
// temperature of the lumen, takes the heat of the current in it away, cools what it lies on and the metal. It conducts
// wherever no tissue is and no metal (assumption: no vapour on metal that stands in it).
//
// While the front burns, a gap parts metal and tissue and none parts metal and liquid. Those are two potentials, and two
// fields: one of the face at 1 V with the metal in the liquid at 0 V, which is conduction's, and one of that metal at 1 V
// with the face open, the bypass. Powers of the two add up (drive.Mode.Across). Where they heat the same tissue the product of both is
// left out, which moves heat from one place to another but sums to none.
type bath struct {
	*state
	conduction *conduction
	field      *field.Solver
	of         *window   // the window that it is the field of; nil: the body's mesh
	q          []float64 // W/V2 per cell
}

// newBath returns nil where there is none.
func newBath(s *state, c *conduction) *bath {
	if s.Bath.SigmaSM == 0 {
		return nil
	}
	s.bypassQ = make([]float64, s.m.Len())
	k := 0
	for s.m.Z.Centres[k] < -s.Bath.DepthM {
		k++
	}
	s.bathFrom = s.m.Index(0, 0, k)
	return &bath{state: s, conduction: c, q: s.bypassQ}
}

// inBath reports whether cell p holds liquid of a stirred bath.
func (s *state) inBath(p int) bool {
	return s.Bath.SigmaSM > 0 && p >= s.bathFrom && s.heat.Gone(p) && !s.isMetal[p]
}

// drain takes what heats the liquid out of q and sol.
func (s *state) drain(q []float64, sol *field.Solution) {
	if s.Bath.SigmaSM == 0 {
		return
	}
	for p, gone := range s.heat.Removed() {
		if gone && q[p] != 0 {
			sol.BathS += q[p]
			q[p] = 0
		}
	}
	sol.HeatS -= sol.BathS
}

// solve solves the field of what flows past the gap, as things are now, after conduction did.
func (b *bath) solve() {
	b.bypass, b.openShare = field.Solution{}, 0
	clear(b.q)
	if len(b.bypassFeeds) == 0 {
		return
	}
	c := b.conduction
	if w := c.window; b.field == nil || w != b.of {
		if w == nil {
			b.field = c.newField(b.m)
		} else {
			before := b.field
			b.field = c.newField(w.m)
			if before != nil {
				phi, last := before.Past()
				b.field.Resume(w.carry(b.of, phi), w.carry(b.of, last))
			}
		}
		b.of = w
	}
	rho, feeds := c.rho, b.bypassFeeds
	if w := b.of; w != nil {
		rho, feeds = w.rho, w.own(nil, feeds)
	}
	b.field.Assemble(rho, feeds, c.aroundM())
	c.count(b.field.Solve(b.Numerics.Tolerance))
	if w := b.of; w != nil {
		b.bypass = b.field.Heat(w.q)
		w.share(b.q)
	} else {
		b.bypass = b.field.Heat(b.q)
	}
	b.drain(b.q, &b.bypass)
	b.openShare = b.atFace()
	b.besides = b.beside()
}

// atFace returns the potential that the bypass puts on the face, weighed by the currents that leave it.
func (b *bath) atFace() float64 {
	sum, all := 0.0, 0.0
	for _, f := range b.feeds {
		i := (1 - b.conduction.phi(f.P)) / (b.conduction.rho[f.P] * f.Squares)
		sum += i * b.phi(f.P)
		all += i
	}
	if !(all > 0) {
		return 0
	}
	return min(max(sum/all, 0), mostOpen)
}

// mostOpen keeps a voltage over the gap that can be told.
const mostOpen = 0.999

// phi returns the potential of the bypass in cell p, at 1 V on the metal.
func (b *bath) phi(p int) float64 {
	if b.of != nil {
		return b.of.phi(b.field.Phi, p)
	}
	return b.field.Phi[p]
}

// beside is the load that the metal feeds past the gap, as last solved.
func (s *state) beside() drive.Beside {
	return drive.Beside{ConductanceS: s.bypass.ConductanceS(), OpenShare: s.openShare}
}

// flood fills what holds no tissue with liquid, before anything moves, and opens the tissue to it.
func (e *electrode) flood() {
	e.isMetal = make([]bool, e.m.Len())
	if e.liquidPlanes() == 0 { // a loop clears what is beside its stalk
		return
	}
	e.empty = make([]bool, e.m.Len())
	var cells []int
	for p := e.m.Index(0, 0, 0); p < e.m.Index(0, 0, e.liquidPlanes()); p++ {
		e.empty[p] = true
		cells = append(cells, p)
	}
	e.heat.Insert(cells, nil, 0, 0)
}

// mark tells liquid from metal once it is known where that is.
func (e *electrode) mark() {
	if e.isMetal == nil {
		return
	}
	for _, p := range e.marked {
		e.isMetal[p] = false
	}
	e.marked = append(e.marked[:0], e.metal...)
	for _, p := range e.marked {
		e.isMetal[p] = true
	}
}

// soak lets the liquid cool what it lies on.
func (e *electrode) soak() {
	if e.isMetal != nil {
		e.heat.Expose(e.Lumen.HeatTransferWM2K, e.Lumen.TemperatureC, func(p int) bool { return e.isMetal[p] })
	}
}

// bared returns the contacts that bare metal has: what stands higher in the liquid than Electrode.BareM is insulated.
func (e *electrode) bared(contacts []mesh.Contact) []mesh.Contact {
	if e.Electrode.BareM == 0 {
		return contacts
	}
	kept := contacts[:0]
	for _, c := range contacts {
		if _, _, k := e.m.Cell(c.P); e.m.Z.Centres[k] > -e.Electrode.BareM {
			kept = append(kept, c)
		}
	}
	return kept
}
