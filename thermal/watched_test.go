package thermal

import (
	"cmp"
	"math"
	"slices"
	"testing"
)

// watched returns the watched cells.
func (c *conduction) watched() (cells []int) {
	for _, g := range c.groups {
		for i := range g.n {
			if g.cells>>i&1 != 0 {
				cells = append(cells, g.first+i)
			}
		}
	}
	return cells
}

// most returns the watched cell with the most heat.
func (c *conduction) most() int {
	return slices.MaxFunc(c.watched(), func(a, b int) int { return cmp.Compare(c.q[a], c.q[b]) })
}

// The watched cells hold all heat but a small share, and the fastest drying is that of those which still have water, though
// the fastest of all have none.
func TestWatchedCells(t *testing.T) {
	c := small(Disc)
	c.Physics.BoilC = 100
	r := newRun(c, c.Grid())
	r.electrode.place(0)
	r.conduction.solve()
	k := r.conduction
	held, watched := 0.0, k.watched()
	for _, p := range watched {
		held += k.q[p]
	}
	if without := 1 - held/k.sol.HeatS; without > unwatched || without > c.Numerics.Resolve || len(watched) > r.m.Cells()*9/10 {
		t.Errorf("%d of %d cells watched, %g of the heat not", len(watched), r.m.Cells(), without)
	}
	if math.Abs(held/k.heldS-1) > 1e-12 {
		t.Errorf("watched cells hold %g W/V2, counted are %g", held, k.heldS)
	}
	want := func() (worst float64) {
		v := r.over(c.Drive.Mode).FaceV
		for p := r.m.Plane(); p < r.m.Plane()+r.m.Cells(); p++ {
			if r.heat.Water[p] > 0 {
				i, j, l := r.m.Cell(p)
				mt := r.material(p).Material
				worst = math.Max(worst, k.q[p]*v*v/(mt.DensityKgM3*mt.WaterFraction*c.Physics.LatentJKg*r.m.Volume(i, j, l)))
			}
		}
		return worst
	}
	if got := k.fastestDrying(c.Drive.Mode); math.Abs(got/want()-1) > 1e-12 {
		t.Errorf("dries by %g a second, want %g", got, want())
	}
	for _, w := range k.fastest {
		r.heat.Water[w.p] = 0
	}
	if got := k.fastestDrying(c.Drive.Mode); len(k.fastest) == 0 || math.Abs(got/want()-1) > 1e-12 {
		t.Errorf("without the %d fastest dries by %g a second, want %g", len(k.fastest), got, want())
	}
}

// solvedTrack is a run of a disc that moves, solved.
func solvedTrack() *run {
	c := moving(Disc)
	c.Physics.BoilC = 100
	r := newRun(c, c.Grid())
	r.electrode.place(0)
	r.conduction.solve()
	return r
}

// On a track all groups are asked within watchTurns steps, those that dry, spark or are near to it at each; at rest all
// at each.
func TestGroupsAreAskedInTurn(t *testing.T) {
	r := solvedTrack()
	k := r.conduction
	if k.stale() {
		t.Fatal("stale as solved")
	}
	warm := func(group int, byK float64) {
		for p := k.groups[group].first; p < k.groups[group].first+k.groups[group].n; p++ {
			r.heat.T[p] += byK
		}
	}
	for group := range k.groups {
		warm(group, 50)
		at, asks := -1, k.asks
		for k.asks < asks+watchTurns {
			k.stale()
			if at < 0 && k.groups[group].changeS > 0 {
				at = k.asks - asks
			}
		}
		if at < 0 {
			t.Fatalf("group %d of %d was not asked in %d steps", group, len(k.groups), watchTurns)
		}
		warm(group, -50)
		for range watchTurns {
			k.stale()
		}
	}
	w := k.groups[0].first
	atEach := func(what string, change func(share float64)) {
		change(0)
		for range watchTurns { // to be found
			k.stale()
		}
		for n := range watchTurns {
			before := k.groups[0].changeS
			change(float64(n+1) / watchTurns)
			if k.stale(); k.groups[0].changeS == before {
				t.Errorf("a group in which a cell %s was not asked at each step", what)
			}
		}
	}
	atEach("comes to boil", func(share float64) { r.heat.T[w] = r.Physics.BoilC - calmK + 1 + share })
	r.heat.T[w] = 37
	atEach("dries", func(share float64) { r.heat.Water[w] = 0.5 - 0.4*share })
}

// Cells are watched on for some solutions if they hold enough heat, with what they have then; what is about to boil is found
// by the next choice.
func TestCellsAreWatchedOn(t *testing.T) {
	r := solvedTrack()
	k := r.conduction
	in := func(p int) bool { return slices.Contains(k.watched(), p) }
	cold := -1
	for p := r.m.Plane(); p < r.m.Plane()+r.m.Cells() && cold < 0; p++ {
		if k.q[p] > leastDrying*k.sol.HeatS && !in(p) {
			cold = p
		}
	}
	r.heat.T[cold] = r.Physics.BoilC - nearlyBoilsK/2
	for range watchSolves {
		k.solve()
	}
	if !in(cold) {
		t.Errorf("a cell about to boil is not watched after %d solutions", watchSolves)
	}
	most := k.most() // beneath the electrode, where cells are brought up to date at each solution
	at := slices.IndexFunc(k.groups, func(g watchedGroup) bool { return most >= g.first && most < g.first+g.n })
	before := k.groups[at]
	r.heat.T[most]++
	k.solve()
	g := &k.groups[at]
	heatS, mostS := 0.0, 0.0
	for i := range g.n {
		if p := g.first + i; in(p) {
			heatS += k.q[p]
			mostS = max(mostS, k.q[p]*k.perJ[p])
		}
	}
	if g.first != before.first || g.heatS == before.heatS || math.Abs(g.heatS/heatS-1) > 1e-12 || g.mostS != mostS {
		t.Errorf("watched on as %+v after %+v, want %g and %g", g, before, heatS, mostS)
	}
	if k.ask(g, k.tissue(), make([]float64, g.n)); g.changeS != 0 {
		t.Errorf("changed by %g as solved", g.changeS)
	}
	k.keeps = 0
	for _, g := range k.groups[:(len(k.groups)+1)/2] {
		clear(k.q[g.first:][:g.n])
	}
	if k.keep() {
		t.Error("cells are watched on that hold half of the heat no more")
	}
}

// What sparks change within a step is seen, where they come and where they go out.
func TestSparksUnsettleTheField(t *testing.T) {
	r := solvedTrack()
	k, s := r.conduction, r.sparks
	s.foreseen = 1
	most := k.most()
	if !s.settled() {
		t.Fatal("not settled as solved")
	}
	r.heat.Water[most] = 0
	k.solve()
	s.sparking, r.spark[most] = []int{most}, 10
	k.q[most] = k.sol.HeatS
	if s.settled() {
		t.Error("a spark in a cell with all the heat changes nothing")
	}
	k.solve()
	s.solved()
	if !s.settled() {
		t.Error("not settled as solved with the spark")
	}
	s.sparking, r.spark[most] = nil, 0
	k.q[most] = k.sol.HeatS
	if s.settled() {
		t.Error("a spark that went out changes nothing")
	}
}

// The resistivity of all cells is that of each, where damage changes it and where it does not.
func TestResistIsThatOfEachCell(t *testing.T) {
	for _, rise := range []float64{0, 0.5} {
		c := small(Disc)
		c.Physics.BoilC, c.Physics.CoagulatedSigmaRise = 100, rise
		r := newRun(c, c.Grid())
		k, first, end := r.conduction, r.m.Plane(), r.m.Plane()+r.m.Cells()
		for p := first; p < end; p++ {
			r.heat.T[p], r.omega.Sum[p] = 20+float64(p%90), float64(p%3)
			if p%11 == 0 {
				r.heat.Water[p] = 0.5
			}
			r.injury.mark(p)
		}
		k.tissue()
		k.resist(first, end)
		for p := first; p < end; p++ {
			if want := k.resistivity(p, r.material(p).Material.SigmaSM); k.rho[p] != want {
				t.Fatalf("rise %g: cell %d has %g ohm m, want %g", rise, p, k.rho[p], want)
			}
		}
	}
}
