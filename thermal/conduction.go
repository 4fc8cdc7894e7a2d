package thermal

import (
	"fmt"
	"math"
	"math/bits"

	"muralheat/mesh"
	"muralheat/thermal/drive"
	"muralheat/thermal/field"
	"muralheat/thermal/heat/kernel"
)

// conduction is the electric field in the tissue, at 1 V on the electrode.
type conduction struct {
	*state
	field   *field.Solver
	window  *window   // its mesh where the electrode moves; nil: that of the body
	bath    *bath     // nil: none
	radiusM float64   // of the contact, the widest of all,
	deepM   float64   // and how deep metal stands in the tissue, the deepest of all
	rho     []float64 // resistivity when the field was last solved, ohm m
	lastXM  float64   // place of the electrode then,
	lastGap bool      // and whether a gap parted metal and tissue in a bath
	lastS   float64   // time of the clock then, s
	perS    float64   // what stale compares with Numerics.Resolve, for each second since then, as last seen
	perJ    []float64 // one over the heat that boils off all the water of a cell, 1/J
	watched []watchedCell
	groups  []watchedGroup
	least   float64       // heat of the least watched one, as a share of all
	fastest []watchedCell // of these, those whose water the current boils off the fastest

	solves, iterations, unsolved int     // unsolved: stopped short of their tolerance
	chargeResidual               float64 // worst of any solution
	flowV, pastFlowV             float64 // voltage over the tissue while current last flowed, and on metal in a bath past a gap, RMS
	startOhm, endOhm             float64
	farJ, heatJ, bathJ           float64 // dissipated outside the meshed body, in it, and in a stirred bath
	leakK                        int     // depth index above what the head of a polyp touches; -1: it hangs free
	leakC, chargeC               float64 // charge that left there, and in all
}

// watchedCell is a cell that carries heat worth watching, with what each step asks of it: it is looked
// up once a solution, not once a step.
type watchedCell struct {
	p     int
	sigma float64 // conductivity when the field was last solved, S/m
	rate  float64 // share of its water that its heat boils off per second, at 1 V
}

// watchedGroup is n cells side by side, of which some are watched: the next few of conduction.watched.
type watchedGroup struct {
	first, n, watched int
	asked             uint64 // cell i as bit i
	sigma0            float64
}

const (
	// unwatched is the most of all heat that is left in cells which are not watched; less if the change
	// that is looked for is smaller. Where tissue dries, by a factor of a thousand, cells as near to boiling
	// as this are watched if they hold a millionth.
	unwatched    = 0.03
	nearlyBoilsK = 5
	leastDrying  = 1e-6

	// nearlyFastest is the rate, as a share of the largest, down to which cells are looked at for the
	// fastest that still has water; all are where none of those has.
	nearlyFastest = 1.0 / 16
)

func newConduction(s *state, radiusM, deepM float64) *conduction {
	c := &conduction{state: s, radiusM: radiusM, deepM: deepM, rho: make([]float64, s.m.Len()), perJ: make([]float64, s.m.Len()),
		least: 1e-4, leakK: -1, perS: math.Inf(1), startOhm: math.NaN(), endOhm: math.NaN()}
	s.each(func(p, i, j, k int) {
		mt := &s.Layers[s.layerOf[k]].Material
		c.perJ[p] = 1 / (mt.DensityKgM3 * mt.WaterFraction * s.Physics.LatentJKg * s.m.Volume(i, j, k))
	})
	if touched := s.touched(); touched >= 0 {
		for k, l := range s.layerOf {
			if l < touched {
				c.leakK = k
			}
		}
	}
	m := s.m
	if s.all.moves && m.Geometry == mesh.Track {
		c.window = c.windowAt(s.Motion.FromM)
		m = c.window.m
	}
	c.field = c.newField(m)
	c.bath = newBath(s, c)
	return c
}

// newField returns the solver of the field on mesh m.
func (c *conduction) newField(m *mesh.Mesh) *field.Solver {
	f := field.New(m)
	far := func(e Edge, faces []mesh.EdgeFace, z float64) {
		switch e {
		case Open:
			f.Open(faces, z)
		case Grounded:
			f.Ground(faces)
		}
	}
	// What comes up through the head of a polyp goes on from where that touches.
	side, touched, touch := m.Side(), c.touched(), math.Inf(-1)
	if touched >= 0 {
		touch = c.Edges()[touched]
	}
	above := 0
	for above < len(side) && side[above].At[2] <= touch {
		above++
	}
	far(c.Domain.Side, side[:above], touch)
	far(c.Domain.Side, side[above:], 0)
	if c.bottomLayer() {
		far(c.Domain.Bottom, m.Bottom(), 0)
	}
	if touched >= 0 {
		f.Open(m.Top(), touch)
	}
	f.FilmOhmM2, f.FilmHeatShare = c.Electrode.Film.OhmM2, c.Electrode.Film.HeatShare
	return f
}

// bottomLayer reports whether something solid lies past the wall.
func (c *Case) bottomLayer() bool { return c.Layers[len(c.Layers)-1].Beyond }

// resistivity returns that of cell p, ohm m, from its temperature, water and damage.
func (c *conduction) resistivity(p int, sigma0 float64) float64 {
	if c.heat.Gone(p) {
		if c.inBath(p) {
			return 1 / c.Bath.SigmaSM
		}
		return field.Void
	}
	wet := c.wetSigma(p, sigma0)
	r := 1 / wet
	if w, spark := c.heat.Water[p], c.spark[p]; w < 1 || spark != 0 {
		r = c.resistivityOf(wet, w, spark)
	}
	if r > mostOhmM {
		return mostOhmM
	}
	return r
}

// resist sets the resistivity of all cells. That of most follows from their temperature alone (kernel.Resist).
func (c *conduction) resist() {
	tissue := c.tissue()
	for k := range c.m.NZ {
		sigma0 := c.Layers[c.layerOf[k]].Material.SigmaSM
		for p, end := c.m.Index(0, 0, k), c.m.Index(0, 0, k+1); p < end; p += kernel.Group {
			c.resistGroup(c.rho[p:min(p+kernel.Group, end)], &tissue, p, sigma0, ^uint64(0))
		}
	}
}

// tissue is what resistivity depends on.
func (c *conduction) tissue() kernel.Tissue {
	return kernel.Tissue{T: c.heat.T, Water: c.heat.Water, Spark: c.spark, Omega: c.omega.Sum, PerJ: c.heat.PerJ(),
		BoilC: c.Physics.BoilC, MostOmega: leastOmega, MostOhmM: mostOhmM}
}

// resistGroup sets rho to the resistivity of those of its cells, from p on, that are asked for: cell i as bit i.
func (c *conduction) resistGroup(rho []float64, tissue *kernel.Tissue, p int, sigma0 float64, asked uint64) {
	others := kernel.Resist(rho, tissue, p, sigma0, c.Physics.SigmaPerK)
	for others &= asked; others != 0; others &= others - 1 {
		i := bits.TrailingZeros64(others)
		rho[i] = c.resistivity(p+i, sigma0)
	}
}

// mostOhmM is the largest resistivity of tissue, ohm m.
const mostOhmM = 1e9

// stale reports whether the field must be solved again: never solved, the electrode moved by
// half a cell, or resistivity changed where heat is.
func (c *conduction) stale() bool {
	if !c.solved || c.lastGap != (len(c.bypassFeeds) > 0) {
		return true
	}
	if c.Motion.Moving() && math.Abs(c.xM-c.lastXM) >= c.finestM/2*0.999 {
		return true
	}
	change, sum := 0.0, 0.0
	tissue, watched := c.tissue(), c.watched
	var rho [kernel.Group]float64
	for _, g := range c.groups {
		c.resistGroup(rho[:g.n], &tissue, g.first, g.sigma0, g.asked)
		for _, w := range watched[:g.watched] {
			change += c.q[w.p] * math.Abs(rho[w.p-g.first]*w.sigma-1)
			sum += c.q[w.p]
		}
		watched = watched[g.watched:]
	}
	if sinceS := c.clockS - c.lastS; sinceS > 0 && sum > 0 {
		c.perS = change / (sum * sinceS)
	}
	return change > c.Numerics.Resolve*sum
}

// solve computes the field as things are now and where its heat goes.
func (c *conduction) solve() {
	c.resist()
	c.lead()
	c.lastXM, c.lastGap, c.lastS = c.xM, len(c.bypassFeeds) > 0, c.clockS
	if w := c.follow(); w != nil {
		w.look(c.rho, c.feeds)
		c.field.Sink(w.own(nil, c.bypassFeeds))
		c.iterate(w.rho, w.feeds)
		c.sol = c.field.Heat(w.q)
		w.share(c.q)
	} else {
		c.field.Sink(c.bypassFeeds)
		c.iterate(c.rho, c.feeds)
		c.sol = c.field.Heat(c.q)
	}
	c.drain(c.q, &c.sol)
	if c.bath != nil {
		c.bath.solve()
	}
	c.state.solved = true
	c.choose()
	if c.sol.InS > 0 {
		c.chargeResidual = math.Max(c.chargeResidual, math.Abs(c.sol.InS-c.sol.OutS)/c.sol.InS)
	}
	c.solves++
}

// lead sets how far ahead of a disc the next field is to be that of: it holds until the disc has gone as far as since the last
// solution, and is right on average if it is that of the middle.
func (c *conduction) lead() {
	most := c.finestM / 2
	gone := math.Max(-most, math.Min(c.xM-c.lastXM, most))
	if c.leadM = (gone - c.movedM) / 2; !c.solved || c.leadM*c.movedM <= 0 {
		c.leadM = 0
	}
}

// iterate solves the field of resistivity rho, fed by feeds.
func (c *conduction) iterate(rho []float64, feeds []mesh.Contact) {
	c.field.Assemble(rho, feeds, c.lastXM)
	c.count(c.field.Solve(c.Numerics.Tolerance))
}

// count adds up the iterations of a solution.
func (c *conduction) count(n int) {
	c.iterations += n
	if n == field.MostIterations {
		c.unsolved++
	}
}

// windowAt returns the window of an electrode that goes on from x.
func (c *conduction) windowAt(x float64) *window {
	if c.Motion.Back {
		x -= windowMove
	}
	return newWindow(c.m, x, c.radiusM, c.deepM, c.finestM, c.Edges())
}

// follow returns the window around the electrode, nil at rest: a new one, with its field, if the electrode left the last.
func (c *conduction) follow() *window {
	if last := c.window; last != nil && last.left(c.lastXM) {
		c.window = c.windowAt(c.lastXM)
		phi, before := c.field.Past()
		c.field = c.newField(c.window.m)
		c.field.Resume(c.window.carry(last, phi), c.window.carry(last, before))
	}
	return c.window
}

// phi returns the potential of cell p at 1 V, as last solved.
func (c *conduction) phi(p int) float64 {
	if c.window != nil {
		return c.window.phi(c.field.Phi, p)
	}
	return c.field.Phi[p]
}

// choose chooses the cells to watch until the next solution: those with the most heat, which together have
// all but the share unwatched of it, or a little more.
func (c *conduction) choose() {
	t, hot := c.heat.T, c.Physics.BoilC-nearlyBoilsK
	without := min(unwatched, c.Numerics.Resolve)
	for ; ; c.least /= 4 {
		held, most := 0.0, 0.0
		c.watched, c.groups = c.watched[:0], c.groups[:0]
		floor, low := c.least*c.sol.HeatS, leastDrying*c.sol.HeatS
		for k := range c.m.NZ {
			sigma0 := c.Layers[c.layerOf[k]].Material.SigmaSM
			for first, end := c.m.Index(0, 0, k), c.m.Index(0, 0, k+1); first < end; first += kernel.Group {
				n := min(kernel.Group, end-first)
				cells := kernel.Heated(c.q[first:first+n], t[first:first+n], floor, low, hot)
				if cells == 0 {
					continue
				}
				c.groups = append(c.groups, watchedGroup{first, n, bits.OnesCount64(cells), cells, sigma0})
				for ; cells != 0; cells &= cells - 1 {
					p := first + bits.TrailingZeros64(cells)
					q := c.q[p]
					held += q
					rate := q * c.perJ[p]
					if rate > most { // never what is no number
						most = rate
					}
					c.watched = append(c.watched, watchedCell{p, 1 / c.rho[p], rate})
				}
			}
		}
		if held >= (1-without)*c.sol.HeatS || !(floor > 0) {
			c.nearly(most)
			if held > (1-without/2)*c.sol.HeatS {
				c.least *= 1.2 // the next time
			}
			return
		}
	}
}

// nearly lists the watched cells whose rate is not far below the largest.
func (c *conduction) nearly(most float64) {
	c.fastest = c.fastest[:0]
	for _, w := range c.watched {
		if w.rate >= nearlyFastest*most {
			c.fastest = append(c.fastest, w)
		}
	}
}

// fastestDrying returns the largest share of its water that a cell would boil off per second,
// were all its heat to do so, in mode.
func (c *conduction) fastestDrying(mode drive.Mode) float64 {
	v := c.over(mode).FaceV
	worst := 0.0
	for _, cells := range [2][]watchedCell{c.fastest, c.watched} {
		for _, w := range cells {
			if w.rate > worst && c.heat.Water[w.p] > 0 && c.q[w.p] > 0 {
				worst = w.rate
			}
		}
		if worst > 0 {
			break
		}
	}
	return worst * v * v
}

// leak returns the share of the current that flows through the head of a polyp to what it
// touches, at the last solution.
func (c *conduction) leak() float64 {
	if c.leakK < 0 || c.sol.InS <= 0 {
		return 0
	}
	return -c.field.Current(c.leakK) / c.sol.InS
}

// tally adds up a step of dt seconds.
func (c *conduction) tally(dt float64) {
	v, past := c.supply.FaceV, c.pastV()
	c.chargeC += c.currentA() * dt
	c.leakC += v * c.sol.ConductanceS() * dt * c.leak()
	c.farJ += (v*v*c.sol.FarS + past*past*c.bypass.FarS) * dt
	c.heatJ += (v*v*c.sol.HeatS + past*past*c.bypass.HeatS) * dt
	c.bathJ += (v*v*c.sol.BathS + past*past*c.bypass.BathS) * dt
	if c.mode.DutyCycle == 0 {
		return
	}
	c.endOhm = c.ohm()
	if math.IsNaN(c.startOhm) {
		c.startOhm = c.endOhm
	}
	if v != 0 || past != 0 {
		c.flowV, c.pastFlowV = v, past
	}
}

// anew begins a new account.
func (c *conduction) anew() {
	c.solves, c.iterations, c.unsolved, c.chargeResidual = 0, 0, 0, 0
	c.startOhm, c.endOhm = math.NaN(), math.NaN()
	c.farJ, c.heatJ, c.leakC, c.chargeC = 0, 0, 0, 0
}

func (c *conduction) report(r *Result) {
	n := c.m.Len()
	f, sum, b := &r.Fields, &r.Summary, &r.Balance
	f.PotentialV, f.PowerWM3 = make([]float64, n), make([]float64, n)
	c.each(func(p, i, j, k int) {
		f.PotentialV[p] = c.phi(p) * c.flowV
		f.PowerWM3[p] = c.q[p] * c.flowV * c.flowV / c.m.Volume(i, j, k)
		if c.pastFlowV > 0 {
			f.PotentialV[p] += c.bath.phi(p) * c.pastFlowV
			f.PowerWM3[p] += c.bypassQ[p] * c.pastFlowV * c.pastFlowV / c.m.Volume(i, j, k)
		}
	})
	sum.ResistanceStartOhm, sum.ResistanceEndOhm = c.startOhm, c.endOhm
	sum.Solves, sum.Iterations = c.solves, c.iterations
	b.FarJ, b.InTissueJ, b.BathJ, b.ChargeResidual = c.farJ, c.heatJ, c.bathJ, c.chargeResidual
	if c.chargeC > 0 {
		sum.Stalk.LeakShare = c.leakC / c.chargeC
	}
	if c.unsolved > 0 {
		r.note("%d field solutions stopped after %d iterations, short of their tolerance: do not trust this run.", c.unsolved, field.MostIterations)
	}
}

// note adds a remark on how far to trust the run.
func (r *Result) note(format string, a ...any) { r.Notes = append(r.Notes, fmt.Sprintf(format, a...)) }
