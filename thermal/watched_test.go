package thermal

import (
	"math"
	"testing"
)

// The watched cells hold all heat but a small share, and the fastest drying is that of those which still have water, though
// the fastest of all have none.
func TestWatchedCells(t *testing.T) {
	c := small(Disc)
	c.Physics.BoilC = 100
	r := newRun(c, c.Grid())
	r.electrode.place(0)
	r.conduction.solve()
	k := r.conduction
	held := 0.0
	for _, w := range k.watched {
		held += k.q[w.p]
	}
	if without := 1 - held/k.sol.HeatS; without > unwatched || without > c.Numerics.Resolve || len(k.watched) > r.m.Cells()*9/10 {
		t.Errorf("%d of %d cells watched, %g of the heat not", len(k.watched), r.m.Cells(), without)
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
