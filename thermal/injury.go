package thermal

import (
	"cmp"
	"fmt"
	"math"
	"math/bits"

	"muralheat/mesh"
	"muralheat/thermal/damage"
	"muralheat/thermal/heat/kernel"
)

// injury integrates damage and stops the blood of injured tissue.
type injury struct {
	*state
	atOnce    *damage.Integral   // of what is coagulated at once; nil: not asked for
	also      []*damage.Integral // by further kinetics
	dose      *damage.Integral   // thermal dose, CEM43
	integrals []*damage.Integral // all of them
	coldC     float64            // no integral needs a cell below it
	since     []float64          // until when damage is integrated, s of the clock
	lowC      []float64          // temperatures between which it need not be integrated yet
	highC     []float64
	warm      []uint64 // whether it goes on: cell i of group g as bit i
	edge      []uint64 // whether the cell is near the surface of the injury
	probed    []uint64 // whether a probe is read from it
	moved     []int    // groups with cells that may have changed in the step just made
	rows      int      // of history so far

	fineDepthM, fineRadiusM float64 // where the fine cells end
}

// doseFromC is the temperature below which thermal dose is not counted (common
// practice, no source).
const doseFromC = 39

// evenK is the change of temperature, K, after which damage is integrated again. In
// between the rate is taken to change exponentially, as it does while temperature
// moves evenly; a tenth of it moves the depth by 0.2 um (measured, 1 to 10 W).
const evenK = 0.25

// within is evenK less rounding: a cell that moved by just so much is integrated.
const within = evenK - 1e-9

// absoluteZeroC is colder than anything is.
const absoluteZeroC = -273.15

func newInjury(s *state, grid Grid) *injury {
	n, total, groups := s.m.Len(), s.all.totalS, s.m.Cells()/kernel.Group+1
	v := &injury{state: s, coldC: doseFromC, since: make([]float64, n), lowC: make([]float64, n), highC: make([]float64, n),
		warm: make([]uint64, groups), edge: make([]uint64, groups), probed: make([]uint64, groups),
		fineDepthM: grid.Z.To, fineRadiusM: grid.ContactM + grid.ReachM}
	if shapes[s.Electrode.Tip].grid != nil {
		v.fineRadiusM = grid.X.To
	}
	const unseen = 1e-5 // an Omega too small to matter
	integral := func(k damage.Kinetics) *damage.Integral {
		cold := k.Cold(unseen, total)
		v.coldC = math.Min(v.coldC, cold)
		return damage.NewIntegral(n, k.LnRate, cold)
	}
	s.omega = integral(s.Damage.Kinetics)
	for _, k := range s.Damage.Also {
		v.also = append(v.also, integral(k))
	}
	if k := s.Damage.AtOnce; k != nil {
		v.atOnce = integral(*k)
		v.integrals = append(v.integrals, v.atOnce)
	}
	v.dose = damage.NewIntegral(n, damage.LnDoseRate, doseFromC)
	v.integrals = append(append(v.integrals, s.omega, v.dose), v.also...)
	if s.Physics.CoagulatedSigmaRise > 0 {
		s.coagulatedShare = make([]float64, n)
	}
	for p := range s.peakC {
		s.peakC[p], v.lowC[p], v.highC[p] = s.Body.TemperatureC, absoluteZeroC, v.coldC
		if p < s.m.Index(0, 0, s.liquidPlanes()) { // nothing dies in a liquid
			v.highC[p] = math.Inf(1)
		}
	}
	for _, p := range s.Probes {
		v.probe(p)
	}
	return v
}

// probe notes the cells about a probe.
func (v *injury) probe(p Probe) {
	about := func(a mesh.Axis, x float64) (first, end int) {
		i := a.Find(x)
		return max(i-1, 0), min(i+2, a.Len())
	}
	i0, i1 := about(v.m.X, p.XM)
	j0, j1 := about(v.m.Y, math.Abs(p.YM))
	k0, k1 := about(v.m.Z, p.ZM)
	for k := k0; k < k1; k++ {
		for j := j0; j < j1; j++ {
			for i := i0; i < i1; i++ {
				n := v.m.Index(i, j, k) - v.m.Plane()
				v.probed[n/kernel.Group] |= 1 << (n % kernel.Group)
			}
		}
	}
}

// step integrates damage up to now, dt after the step before, and lets it act: in cells whose temperature has
// moved by evenK. At a row of history it does so in those near the surface of the injury and about probes, too, from which
// the row is read, at every allRows'th in all that are warm, and at the end.
func (v *injury) step(dt float64, row bool) error {
	all := false
	if row {
		all = v.rows%allRows == 0 || v.timeS >= v.totalS
		v.rows++
	}
	v.moved = v.moved[:0]
	g := 0
	for _, c := range v.heat.Moved() {
		for g = max(g, (c.First-v.m.Plane())/kernel.Group); g*kernel.Group < c.End-v.m.Plane(); g++ {
			v.moved = append(v.moved, g)
		}
	}
	const together = 16 // groups
	failures := make([]error, (len(v.moved)+together-1)/together)
	v.cores.Each(len(failures), func(i int) {
		for _, g := range v.moved[i*together : min((i+1)*together, len(v.moved))] {
			var asked uint64
			switch {
			case all:
				asked = v.warm[g]
			case row:
				asked = v.warm[g] & (v.edge[g] | v.probed[g])
			}
			if failures[i] = v.look(g, asked, dt); failures[i] != nil {
				return
			}
		}
	})
	return cmp.Or(failures...)
}

// look integrates damage in those cells of group g whose temperature has moved, and in those asked for.
func (v *injury) look(g int, asked uint64, dt float64) error {
	t, first := v.heat.T, v.m.Plane()+g*kernel.Group
	last := min(first+kernel.Group, v.m.Plane()+v.m.Cells())
	cells := asked | kernel.Outside(t[first:last], v.lowC[first:last], v.highC[first:last], v.peakC[first:last])
	for ; cells != 0; cells &= cells - 1 {
		i := bits.TrailingZeros64(cells)
		p, bit := first+i, uint64(1)<<i
		if !(t[p] > absoluteZeroC && t[p] < 1e5) {
			return v.failure(p, fmt.Sprintf("temperature became %g C", t[p]))
		}
		if v.warm[g]&bit == 0 {
			v.since[p] = v.clockS - dt
		}
		v.warm[g], v.edge[g] = v.warm[g]&^bit, v.edge[g]&^bit
		if v.heat.Gone(p) {
			v.lowC[p], v.highC[p] = absoluteZeroC, math.Inf(1)
			continue
		}
		v.integrate(p)
		if t[p] >= v.coldC {
			v.warm[g] |= bit
		}
		if o := v.omega.Sum[p]; o > 1/edgeOmega && o < edgeOmega {
			v.edge[g] |= bit
		}
	}
	return nil
}

const (
	// allRows is how many rows of history may pass until damage is integrated where temperature stands still: at most a
	// tenth of the time with current.
	allRows = 20

	// edgeOmega tells cells near the surface of the injury: Omega between one over it and it. From a cell to the
	// next it changes by a factor of some ten.
	edgeOmega = 30.0
)

// integrate integrates the damage of cell p up to now, and lets it act on its blood and its conductivity.
func (v *injury) integrate(p int) {
	now := v.heat.T[p]
	for _, g := range v.integrals {
		g.Add(p, now, v.clockS-v.since[p])
	}
	v.since[p], v.lowC[p], v.highC[p] = v.clockS, now-within, now+within
	if now < v.coldC {
		v.lowC[p], v.highC[p] = absoluteZeroC, v.coldC
	}
	v.mark(p)
}

// mark lets the injury of cell p act on its blood and its conductivity.
func (v *injury) mark(p int) {
	o := v.omega.Sum[p]
	if o < leastOmega {
		return
	}
	if share := v.Physics.PerfusionStops.bloodLeft(o); share < 1 {
		v.heat.Perfuse(p, share)
	}
	if v.coagulatedShare != nil {
		v.coagulatedShare[p] = 1 - math.Exp(-o)
	}
}

// leastOmega is the damage below which blood and conductivity are as before.
const leastOmega = 1e-4

// bloodLeft returns the share of its blood flow that tissue still has at the damage omega.
func (s PerfusionStop) bloodLeft(omega float64) float64 {
	switch {
	case s == WithDamage:
		return math.Exp(-omega)
	case s == AtInjury && omega >= 1:
		return 0
	}
	return 1
}

// anew does nothing: injury adds up.
func (v *injury) anew() {}

func (v *injury) report(r *Result) {
	c, m, f, sum := v.Case, v.m, &r.Fields, &r.Summary
	f.PeakC, f.Omega, f.CEM43Min = v.peakC, v.omega.Sum, v.dose.Sum
	tops := c.Edges()
	sum.Layers = make([]LayerSummary, len(c.Layers))
	for i, l := range c.Layers {
		sum.Layers[i] = LayerSummary{Name: l.Name, TopM: tops[i], BottomM: tops[i+1], MaxC: c.Body.TemperatureC}
	}
	sum.PeakC, sum.OuterSurfacePeakC = c.Body.TemperatureC, c.Body.TemperatureC
	v.each(func(p, i, j, k int) {
		if v.neverTissue(p) {
			return
		}
		l := &sum.Layers[v.layerOf[k]]
		l.MaxC = math.Max(l.MaxC, v.peakC[p])
		l.OmegaMax = math.Max(l.OmegaMax, v.omega.Sum[p])
		l.CEM43MaxMin = math.Max(l.CEM43MaxMin, v.dose.Sum[p])
		sum.PeakC = math.Max(sum.PeakC, v.peakC[p])
	})
	wall := c.WallM()
	for j := range m.NY {
		for i := range m.NX {
			sum.OuterSurfacePeakC = math.Max(sum.OuterSurfacePeakC, v.between(v.peakC, i, j, wall))
		}
	}
	for _, a := range v.also {
		f.OmegaAlso = append(f.OmegaAlso, a.Sum)
		sum.InjuryDepthAlsoM = append(sum.InjuryDepthAlsoM, v.injured(a.Sum).depth())
	}
	v.reach(sum, tops, wall)
	if v.atOnce != nil {
		f.OmegaAtOnce = v.atOnce.Sum
		v.coagulated(sum, tops)
	}
	if sum.BeyondFine = sum.InjuryDepthM > v.fineDepthM || sum.InjuryHalfWidthM > v.fineRadiusM; sum.BeyondFine {
		r.note("The injury left the zone of fine cells (%.2g mm deep, %.2g mm wide): its edge is less exact than the quality promises.", v.fineDepthM*1e3, v.fineRadiusM*1e3)
	}
}

// reach reads off how far the injury reaches, and into which layers.
func (v *injury) reach(sum *Summary, tops []float64, wall float64) {
	front := v.injured(v.omega.Sum)
	sum.InjuryDepthM, sum.InjuryHalfWidthM = front.depth(), front.halfWidth()
	volumes, highest, deepest := front.volumes(tops)
	sum.MarginToMuscleM, sum.MuscleInjuredShare = math.NaN(), math.NaN()
	for i := range sum.Layers {
		l := &sum.Layers[i]
		l.InjuredM3 = volumes[i]
		l.InjuredShare = (deepest[i] - l.TopM) / (l.BottomM - l.TopM)
		if v.Layers[i].Above {
			l.InjuredShare = math.Max(deepest[i]-highest[i], 0) / (l.BottomM - l.TopM)
		}
		if volumes[i] > 0 {
			sum.DeepestLayer = l.Name
		}
		if v.Layers[i].Muscle && math.IsNaN(sum.MarginToMuscleM) {
			sum.MarginToMuscleM = l.TopM - sum.InjuryDepthM
			sum.MuscleInjuredShare = l.InjuredShare
		}
	}
	sum.Transmural = sum.InjuryDepthM >= wall*(1-1e-9)
}

// coagulated reads off how far tissue is coagulated at once.
func (v *injury) coagulated(sum *Summary, tops []float64) {
	front := v.injured(v.atOnce.Sum)
	c := Coagulated{DepthM: front.depth(), HalfWidthM: front.halfWidth(), MarginToMuscleM: math.NaN(), MuscleShare: math.NaN()}
	_, _, deepest := front.volumes(tops)
	for i, l := range sum.Layers {
		if v.Layers[i].Muscle && math.IsNaN(c.MarginToMuscleM) {
			c.MarginToMuscleM = l.TopM - c.DepthM
			c.MuscleShare = math.Max(0, (deepest[i]-l.TopM)/(l.BottomM-l.TopM))
		}
	}
	sum.Coagulated = c
}
