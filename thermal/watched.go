package thermal

import (
	"math"
	"math/bits"

	"muralheat/thermal/drive"
	"muralheat/thermal/heat/kernel"
)

// watchedCell is a cell that carries heat worth watching, with what each step asks of it: it is looked
// up once a solution, not once a step.
type watchedCell struct {
	p     int
	sigma float64 // conductivity when the field was last solved, S/m
	rate  float64 // share of its water that its heat boils off per second, at 1 V
}

// watchedGroup is n cells side by side, from the first to the last of which is watched: the next few of conduction.watched.
type watchedGroup struct {
	first, n, watched int
	asked             uint64 // cell i as bit i
	sigma0            float64
	calm              bool    // whether none of them was drying, sparking or near to it when they were asked last
	heatS, changeS    float64 // their heat then, W/V2, and that times the change of resistivity
	from              int     // the first of them in conduction.watched
	most              float64 // the largest of their rates
}

const (
	// unwatched is the most of all heat that is left in cells which are not watched; less if the change
	// that is looked for is smaller. Where tissue dries, by a factor of a thousand, cells as near to boiling
	// as this are watched if they hold a millionth.
	unwatched    = 0.03
	nearlyBoilsK = 5
	leastDrying  = 1e-6

	// On a track temperatures change slowly from step to step, and heat from one solution to the next: groups all of whose
	// cells are wet and this far from boiling are asked in turn, and cells go on being watched for some solutions if they hold
	// enough heat.
	calmK       = 30
	watchTurns  = 4
	watchSolves = 4

	// nearlyFastest is the rate, as a share of the largest, down to which cells are looked at for the
	// fastest that still has water; all are where none of those has.
	nearlyFastest = 1.0 / 16
)

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
	for i := range c.groups {
		g := &c.groups[i]
		if c.window == nil || !g.calm || i%watchTurns == c.asks%watchTurns {
			c.ask(g, tissue, watched[:g.watched])
		}
		watched = watched[g.watched:]
		change += g.changeS
		sum += g.heatS
		if change > c.Numerics.Resolve*c.heldS { // sum will be no more
			break
		}
	}
	c.asks++
	if sinceS := c.clockS - c.lastS; sinceS > 0 && sum > 0 {
		c.perS = change / (sum * sinceS)
	}
	return change > c.Numerics.Resolve*sum
}

// ask brings a group of watched cells up to date.
func (c *conduction) ask(g *watchedGroup, tissue *kernel.Tissue, watched []watchedCell) {
	rho := c.groupRho[:g.n]
	g.calm = c.resistGroup(rho, tissue, g.first, g.sigma0, g.asked)
	g.heatS, g.changeS = 0, 0
	for _, w := range watched {
		if tissue.T[w.p] > tissue.BoilC-calmK {
			g.calm = false
		}
		g.heatS += c.q[w.p]
		g.changeS += c.q[w.p] * math.Abs(rho[w.p-g.first]*w.sigma-1)
	}
}

// changed returns by how much the resistivity of cells has changed since the field was last solved, weighted by their heat, as a
// share of the heat that is watched.
func (c *conduction) changed(cells []int) float64 {
	change := 0.0
	for _, p := range cells {
		change += c.q[p] * math.Abs(c.resistivity(p, c.material(p).Material.SigmaSM)/c.rho[p]-1)
	}
	if change == 0 {
		return 0
	}
	return change / c.heldS
}

// choose chooses the cells to watch until the next solution: those with the most heat, which together have
// all but the share unwatched of it, or a little more.
func (c *conduction) choose() {
	if c.keep() {
		return
	}
	c.keeps = 0
	t, hot := c.heat.T, c.Physics.BoilC-nearlyBoilsK
	without := c.without()
	for ; ; c.least /= 4 {
		held, most := 0.0, 0.0
		c.watched, c.groups = c.watched[:0], c.groups[:0]
		floor, low := c.least*c.sol.HeatS, leastDrying*c.sol.HeatS
		c.cores.Each(len(c.heated), func(k int) {
			cells, end := c.heated[k][:0], c.m.Index(0, 0, k+1)
			for first := c.m.Index(0, 0, k); first < end; first += kernel.Group {
				n := min(kernel.Group, end-first)
				cells = append(cells, kernel.Heated(c.q[first:first+n], t[first:first+n], floor, low, hot))
			}
			c.heated[k] = cells
		})
		for k, heated := range c.heated {
			sigma0 := c.Layers[c.layerOf[k]].Material.SigmaSM
			for g, cells := range heated {
				if cells == 0 {
					continue
				}
				first, from := c.m.Index(0, 0, k)+g*kernel.Group, bits.TrailingZeros64(cells)
				c.groups = append(c.groups, watchedGroup{first: first + from, n: bits.Len64(cells) - from, from: len(c.watched), watched: bits.OnesCount64(cells),
					asked: cells >> from, sigma0: sigma0})
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
			c.heldS = held
			c.nearly(most)
			if held > (1-without/2)*c.sol.HeatS {
				c.least *= 1.2 // the next time
			}
			return
		}
	}
}

// without returns the share of the heat that need not be watched.
func (c *conduction) without() float64 { return min(unwatched, c.Numerics.Resolve) }

// keep reports whether the cells that are watched hold enough of the heat to be watched on, and brings them up to date with the
// last solution.
func (c *conduction) keep() bool {
	if c.keeps++; c.window == nil || c.keeps >= watchSolves {
		return false
	}
	const together = 16 // groups
	c.cores.Each((len(c.groups)+together-1)/together, func(i int) {
		for n := i * together; n < min((i+1)*together, len(c.groups)); n++ {
			c.renew(&c.groups[n])
		}
	})
	held, most := 0.0, 0.0
	for _, g := range c.groups {
		held += g.heatS
		most = max(most, g.most)
	}
	if !(held >= (1-c.without())*c.sol.HeatS) {
		return false
	}
	c.heldS = held
	c.nearly(most)
	return true
}

// renew brings a group of watched cells up to date with the last solution.
func (c *conduction) renew(g *watchedGroup) {
	g.heatS, g.changeS, g.most = 0, 0, 0
	for n := range g.watched {
		w := &c.watched[g.from+n]
		q := c.q[w.p]
		w.sigma, w.rate = 1/c.rho[w.p], q*c.perJ[w.p]
		g.heatS += q
		if w.rate > g.most { // never what is no number
			g.most = w.rate
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
