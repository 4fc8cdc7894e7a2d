package thermal

import (
	"fmt"
	"math"
	"math/bits"

	"muralheat/mesh"
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
	lastS   float64   // when that was, s of the clock,
	lastNth int       // in which activation,
	lastGap bool      // and whether a gap parted metal and tissue in a bath
	perS    float64   // what stale compares with Numerics.Resolve, for each second since then, as last seen
	perJ    []float64 // one over the heat that boils off all the water of a cell, 1/J
	groups  []watchedGroup
	heated  [][]uint64              // cells of each plane with heat enough to be watched: cell i of group g as bit i
	room    [][kernel.Group]float64 // for the resistivity of a group, ohm m
	body    kernel.Tissue           // what tissue returned last
	least   float64                 // heat of the least watched one, as a share of all
	heldS   float64                 // heat of all watched ones at the last solution, W/V2
	asks    int                     // how often stale asked them
	keeps   int                     // how many solutions they have been watched for
	fastest []dryingCell            // of these, those whose water the current boils off the fastest

	solves, iterations, unsolved int     // unsolved: stopped short of their tolerance
	chargeResidual               float64 // worst of any solution
	flowV, pastFlowV             float64 // voltage over the tissue while current last flowed, and on metal in a bath past a gap, RMS
	startOhm, endOhm             float64
	farJ, heatJ, bathJ           float64 // dissipated outside the meshed body, in it, and in a stirred bath
	leakK                        int     // depth index above what the head of a polyp touches; -1: it hangs free
	leakC, chargeC               float64 // charge that left there, and in all
}

func newConduction(s *state, radiusM, deepM float64) *conduction {
	c := &conduction{state: s, radiusM: radiusM, deepM: deepM, rho: make([]float64, s.m.Len()), perJ: make([]float64, s.m.Len()), heated: make([][]uint64, s.m.NZ), room: make([][kernel.Group]float64, 1),
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
	f.Spread(c.cores)
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

// spread has what is there already run on both cores.
func (c *conduction) spread() {
	if c.window != nil {
		c.window.cores = c.cores
	}
	c.field.Spread(c.cores)
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

// resist sets the resistivity of the cells from first to end-1, of what tissue returned last. That of most follows from their temperature alone (kernel.Resist).
func (c *conduction) resist(first, end int) {
	plane := c.m.Plane()
	for p := first; p < end; {
		k := p/plane - 1
		sigma0 := c.Layers[c.layerOf[k]].Material.SigmaSM
		for last := min(end, c.m.Index(0, 0, k+1)); p < last; {
			n := min(kernel.Group, last-p)
			c.resistGroup(c.rho[p:p+n], &c.body, p, sigma0, ^uint64(0))
			p += n
		}
	}
}

// tissue returns what resistivity depends on now.
func (c *conduction) tissue() *kernel.Tissue {
	most := leastOmega
	if c.coagulatedShare == nil { // damage changes nothing
		most = math.Inf(1)
	}
	c.body = kernel.Tissue{T: c.heat.T, Water: c.heat.Water, Spark: c.spark, Omega: c.omega.Sum, PerJ: c.heat.PerJ(),
		BoilC: c.Physics.BoilC, MostOmega: most, MostOhmM: mostOhmM}
	return &c.body
}

// resistGroup sets rho to the resistivity of those of its cells, from p on, that are asked for: cell i as bit i. It reports whether
// none of them is boiling, drying or sparking.
func (c *conduction) resistGroup(rho []float64, tissue *kernel.Tissue, p int, sigma0 float64, asked uint64) (wet bool) {
	wet = true
	for others := asked & kernel.Resist(rho, tissue, p, sigma0, c.Physics.SigmaPerK); others != 0; others &= others - 1 {
		i := bits.TrailingZeros64(others)
		rho[i] = c.resistivity(p+i, sigma0)
		if tissue.T[p+i] >= tissue.BoilC || tissue.Water[p+i] < 1 || tissue.Spark[p+i] != 0 {
			wet = false
		}
	}
	return wet
}

// mostOhmM is the largest resistivity of tissue, ohm m.
const mostOhmM = 1e9

// freshS is the time after the last solution from which all cells of a window are brought up to date at once, s: temperatures
// have moved, and the electrode may have been elsewhere.
const freshS = 0.02

// solve computes the field as things are now and where its heat goes.
func (c *conduction) solve() {
	c.tissue() // for resist
	c.lead()
	paused := c.nth != c.lastNth || c.clockS-c.lastS > freshS
	c.lastXM, c.lastGap, c.lastS, c.lastNth = c.xM, len(c.bypassFeeds) > 0, c.clockS, c.nth
	if w := c.follow(); w != nil {
		if paused {
			w.looks = 0
		}
		w.look(c.rho, c.resist, c.feeds)
		c.field.Sink(w.own(nil, c.bypassFeeds))
		c.iterate(w.rho, w.feeds)
		c.sol = c.field.Heat(w.q)
		w.share(c.q)
	} else {
		c.cores.Each(c.m.NZ, func(k int) { c.resist(c.m.Index(0, 0, k), c.m.Index(0, 0, k+1)) })
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

// lead sets how far ahead of a disc on the bare surface the next field is to be that of: it holds until the disc has gone as far as since the last
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
	c.field.Assemble(rho, feeds, c.aroundM())
	c.count(c.field.Solve(c.Numerics.Tolerance))
}

// aroundM returns where the electrode is for the body beyond the mesh: of a window, the middle of its way, some hundredth of the
// distance off.
func (c *conduction) aroundM() float64 {
	if c.window != nil {
		return c.window.atM + windowMove/2
	}
	return c.lastXM
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
	w := newWindow(c.m, x, c.radiusM, c.deepM, c.finestM, c.Edges())
	w.cores = c.cores
	return w
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
