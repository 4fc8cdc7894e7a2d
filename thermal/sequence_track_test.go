package thermal_test

import (
	"math"
	"testing"

	"muralheat/thermal"
)

// back lets the electrode of c go the other way along the same track.
func back(c thermal.Case) thermal.Case {
	c.Motion.FromM, c.Motion.Back = c.Motion.LengthM, true
	return c
}

// mirrored gives c a body that ends at grid lines, so that its mesh is its own mirror image.
func mirrored(c thermal.Case) thermal.Case {
	x := c.Grid().X
	inside := -x.From / x.FinestM
	c.Domain.RadiusM = -x.From + x.FinestM*math.Expm1(x.Slope*(math.Ceil(inside)+8-inside))/x.Slope
	return c
}

// A pass back is the mirror image of one forward. Cells of the field's window are put together from the left, which is
// all that tells the two apart; a tip that waits makes more of that, for it goes from cell to cell.
func TestBackMirrorsForward(t *testing.T) {
	for name, c := range map[string]thermal.Case{
		"disc":            pull(draft(antrum(thermal.Disc, 1e-3, 6, 1)), 1e-3, 2e-3),
		"needle":          pull(draft(antrum(thermal.Needle, 0.25e-3, 4, 1)), 1e-3, 4e-3),
		"needle, waiting": waiting(draft(antrum(thermal.Needle, 0.25e-3, 4, 1))),
	} {
		c = mirrored(c)
		c.Numerics.Tolerance = 1e-5
		a, b := simulate(t, c), simulate(t, back(c))
		nearK, nearM := 0.1, 0.001e-3
		if c.Motion.Waits {
			nearK, nearM = math.Inf(1), c.Grid().FinestM
		}
		worst, m := 0.0, a.Mesh
		for k := range m.NZ {
			for j := range m.NY {
				for i := range m.NX {
					p, q := m.Index(i, j, k), m.Index(m.NX-1-i, j, k)
					worst = math.Max(worst, math.Abs(a.Fields.PeakC[p]-b.Fields.PeakC[q]))
				}
			}
		}
		deeper, end := b.Summary.InjuryDepthM-a.Summary.InjuryDepthM, c.Motion.LengthM-b.History[len(b.History)-1].PositionM
		further := end - a.History[len(a.History)-1].PositionM
		t.Logf("%s: peaks differ by up to %.2g K, depths by %.2g mm of %.4g, ends by %.2g mm of %.4g", name, worst, deeper*1e3, a.Summary.InjuryDepthM*1e3, further*1e3, end*1e3)
		if worst > nearK || math.Abs(deeper) > nearM || math.Abs(further) > nearM || !(end > 0.9e-3) {
			t.Errorf("%s: peaks differ by %g K, depths by %g mm, ends by %g mm", name, worst, deeper*1e3, further*1e3)
		}
		if burnt := b.Summary.Cut.BurntM2 / a.Summary.Cut.BurntM2; c.Electrode.Tip == thermal.Needle && math.Abs(burnt-1) > 0.02 {
			t.Errorf("%s: burns %g times as much beside the cut", name, burnt)
		}
	}
}

// A second pass over a line that the first dried finds a higher resistance: at low voltage it delivers less, at high
// voltage sparks carry more of it.
func TestSecondPass(t *testing.T) {
	slow := func(c thermal.Case) thermal.Case { return pull(draft(c), 2e-3, 1e-3) }
	low := slow(antrum(thermal.Disc, 1e-3, 14, 1))
	high := slow(with(antrum(thermal.Disc, 1e-3, 14, 1), interrupted))
	for name, c := range map[string]thermal.Case{"low": low, "high": high} {
		c.AfterS = 1
		r := inSequence(t, c, back(c))
		a, b := r[0], r[1]
		t.Logf("%s: %.3g and %.3g J, sparks %.3g and %.3g of the time, depth %.3f and %.3f mm", name, a.Balance.ElectricJ, b.Balance.ElectricJ,
			a.Summary.SparkShare, b.Summary.SparkShare, a.Summary.InjuryDepthM*1e3, b.Summary.InjuryDepthM*1e3)
		if name == "low" && !(b.Balance.ElectricJ < 0.9*a.Balance.ElectricJ) {
			t.Errorf("at low voltage %g J, then %g J", a.Balance.ElectricJ, b.Balance.ElectricJ)
		}
		if name == "high" && !(b.Summary.SparkShare > a.Summary.SparkShare) {
			t.Errorf("at high voltage sparks for %g, then %g of the time", a.Summary.SparkShare, b.Summary.SparkShare)
		}
	}
}
