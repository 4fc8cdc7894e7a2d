package thermal

import (
	"math"
	"math/bits"

	"muralheat/thermal/drive"
	"muralheat/thermal/heat/kernel"
)

// watchedGroup is n cells side by side, from the first to the last of those among them that carry heat worth watching.
type watchedGroup struct {
	first, n       int
	cells          uint64 // which do: cell i as bit i
	sigma0         float64
	calm           bool    // whether none of them was drying, sparking or near to it when they were asked last
	heatS, changeS float64 // their heat then, W/V2, and that times the change of resistivity
	mostS          float64 // the largest share of its water that the heat of one of them boils off, per second at 1 V
}

// dryingCell is a cell and the share of its water that its heat boils off, per second at 1 V.
type dryingCell struct {
	p     int
	rateS float64
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
	if tissue := c.tissue(); c.window != nil {
		c.eachGroup(func(i int, rho []float64) {
			if g := &c.groups[i]; !g.calm || i%watchTurns == c.asks%watchTurns {
				c.ask(g, tissue, rho[:g.n])
			}
		})
		for i := range c.groups {
			change += c.groups[i].changeS
			sum += c.groups[i].heatS
		}
	} else { // until they have changed enough, the first beneath the electrode; sum will be no more than is held
		for i := 0; i < len(c.groups) && change <= c.Numerics.Resolve*c.heldS; i++ {
			g := &c.groups[i]
			c.ask(g, tissue, c.room[0][:g.n])
			change += g.changeS
			sum += g.heatS
		}
	}
	c.asks++
	if sinceS := c.clockS - c.lastS; sinceS > 0 && sum > 0 {
		c.perS = change / (sum * sinceS)
	}
	return change > c.Numerics.Resolve*sum
}

// eachGroup calls do for each group of watched cells, in any order, with room for its resistivity.
func (c *conduction) eachGroup(do func(i int, rho []float64)) {
	const together = 16 // groups
	pieces := (len(c.groups) + together - 1) / together
	for len(c.room) < pieces {
		c.room = append(c.room, [kernel.Group]float64{})
	}
	c.cores.Each(pieces, func(piece int) {
		for i := piece * together; i < min((piece+1)*together, len(c.groups)); i++ {
			do(i, c.room[piece][:])
		}
	})
}

// ask brings a group of watched cells up to date.
func (c *conduction) ask(g *watchedGroup, tissue *kernel.Tissue, rho []float64) {
	first, end := g.first, g.first+g.n
	q := c.q[first:end]
	wet := c.resistGroup(rho, tissue, first, g.sigma0, g.cells)
	g.calm = wet && c.window != nil && g.cells&kernel.Heated(q, tissue.T[first:end], math.Inf(1), math.Inf(-1), tissue.BoilC-calmK) == 0
	g.heatS, g.changeS = kernel.Changed(g.cells, q, rho, c.rho[first:end])
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
		c.groups = c.groups[:0]
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
				from := bits.TrailingZeros64(cells)
				group := watchedGroup{first: c.m.Index(0, 0, k) + g*kernel.Group + from, n: bits.Len64(cells) - from, cells: cells >> from, sigma0: sigma0}
				c.renew(&group)
				held += group.heatS
				most = max(most, group.mostS)
				c.groups = append(c.groups, group)
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
	c.eachGroup(func(i int, _ []float64) { c.renew(&c.groups[i]) })
	held, most := 0.0, 0.0
	for _, g := range c.groups {
		held += g.heatS
		most = max(most, g.mostS)
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
	g.changeS = 0
	g.heatS, g.mostS = kernel.Rates(g.cells, c.q[g.first:][:g.n], c.perJ[g.first:][:g.n])
}

// nearly lists the watched cells whose rate is not far below the largest.
func (c *conduction) nearly(mostS float64) {
	c.fastest = c.drying(c.fastest[:0], nearlyFastest*mostS)
}

// drying appends the watched cells of at least so high a rate.
func (c *conduction) drying(cells []dryingCell, leastS float64) []dryingCell {
	for _, g := range c.groups {
		if g.mostS < leastS {
			continue
		}
		for left := g.cells; left != 0; left &= left - 1 {
			p := g.first + bits.TrailingZeros64(left)
			if rate := c.q[p] * c.perJ[p]; rate >= leastS {
				cells = append(cells, dryingCell{p, rate})
			}
		}
	}
	return cells
}

// fastestDrying returns the largest share of its water that a cell would boil off per second,
// were all its heat to do so, in mode.
func (c *conduction) fastestDrying(mode drive.Mode) float64 {
	v := c.over(mode).FaceV
	worst := c.fastestWet(c.fastest)
	if worst == 0 {
		worst = c.fastestWet(c.drying(nil, 0))
	}
	return worst * v * v
}

// fastestWet returns the largest rate of those that still have water.
func (c *conduction) fastestWet(cells []dryingCell) (worst float64) {
	for _, d := range cells {
		if d.rateS > worst && c.heat.Water[d.p] > 0 && c.q[d.p] > 0 {
			worst = d.rateS
		}
	}
	return worst
}
