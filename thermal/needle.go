package thermal

import (
	"cmp"
	"math"
	"slices"

	"muralheat/mesh"
)

// Needle is a cylinder standing in the tissue.
const Needle Tip = "needle"

func init() {
	enter(Needle, shape{
		scene: OnWall, about: "a cylinder inserted into the tissue",
		tip: func(e *electrode) tip { return needle{plain{e}} }, wholeCells: true,
		sizes:   func(e Electrode) []Length { return []Length{{"radius", e.ContactRadiusM}, {"inserted", e.InsertionM}} },
		outline: func(e Electrode, upM float64, _ bool) []Point { return bar(e.ContactRadiusM, e.InsertionM, upM) },
	})
}

// needle removes what it sweeps.
type needle struct{ plain }

func (t needle) place() {
	e, air := &t.Electrode, t.Lumen
	t.metal, t.contacts = t.m.Needle(t.metal[:0], t.contacts, t.xM, e.ContactRadiusM, e.InsertionM)
	if t.sinceS > 0 { // before, it is put in, nothing is swept
		t.sweep()
	}
	t.insert()
	t.heat.SetSurface(air.HeatTransferWM2K, air.TemperatureC, nil, 0, 0)
}

func (t needle) ahead(pathM float64) []obstacle {
	m, a := t.m, t.Electrode.ContactRadiusM
	step := 1
	if t.Motion.Back {
		step = -1
	}
	var list []obstacle
	for k := 0; k < m.NZ && m.Z.Centres[k] < t.Electrode.InsertionM; k++ {
		for j := 0; j < m.NY && m.Y.Centres[j] < a; j++ {
			y := m.Y.Centres[j]
			edge := math.Sqrt(a*a - y*y)
			for i := m.X.Find(t.xM); i >= 0 && i < m.NX; i += step {
				at := float64(step)*(m.X.Centres[i]-t.Motion.FromM) - edge
				if at >= pathM {
					break
				}
				if p := m.Index(i, j, k); !t.heat.Gone(p) {
					list = append(list, obstacle{p, at})
				}
			}
		}
	}
	slices.SortStableFunc(list, func(a, b obstacle) int { return cmp.Compare(a.atM, b.atM) })
	return list
}

// beneath is in the first cell beside the shaft.
func (t needle) beneath(zM float64) Probe {
	p := Probe{XM: t.whereM(), ZM: zM}
	out := t.Electrode.ContactRadiusM + t.m.Z.Width(0)/2
	if t.m.Geometry == mesh.Axisymmetric {
		p.XM = t.m.X.Centres[t.m.X.Find(out)]
	} else {
		p.YM = t.m.Y.Centres[t.m.Y.Find(out)]
	}
	return p
}

func (t needle) report(r *Result) {
	if !t.Motion.Moving() {
		return
	}
	cut := t.cut(r)
	r.Summary.Cut = cut
	if cut.RemovedM3 > 0 && !cut.Sustained {
		r.note("The cut was not sustained: the heat at the needle was short by what %.0f %% of the tissue in its way needs. There it would push and drag, not cut; it is taken as removed all the same.", 100*(1-cut.PartedShare))
	}
	if t.Motion.Waits && cut.PathM < t.Motion.LengthM-t.finestM {
		r.note("The needle came %.3g mm far of %g mm while the current was on, %g s.", cut.PathM*1e3, t.Motion.LengthM*1e3, t.Drive.OnS)
	}
}

// cut reads off what a moving needle did.
func (t needle) cut(r *Result) Cut {
	c := Cut{PathM: t.travelM, RemovedM3: t.removedM3}
	c.PartedShare, c.Sustained = t.parted()
	if t.askedM > 0 {
		c.HeldShare = 1 - t.pathM/t.askedM
	}
	if t.sweptM3 == 0 {
		return c
	}
	m := t.m
	t.each(func(p, _, j, _ int) {
		if t.heat.Gone(p) {
			c.KerfWidthM = math.Max(c.KerfWidthM, 2*m.Y.Faces[j+1])
		}
	})
	// Its ends tell of how the needle came and went: the middle half counts.
	x0, x1 := t.Motion.atM(c.PathM/4), t.Motion.atM(3*c.PathM/4)
	i0, i1 := m.X.Find(min(x0, x1)), m.X.Find(max(x0, x1))+1
	burnt, kerf := t.injured(t.omega.Sum).volume(i0, i1), 0.0
	t.each(func(p, i, j, k int) {
		if i0 <= i && i < i1 && t.heat.Gone(p) {
			kerf += m.Volume(i, j, k)
		}
	})
	c.BurntM2 = (burnt - kerf) / (m.X.Faces[i1] - m.X.Faces[i0])
	if t.removedM3 == 0 { // the electrode went where a case before had cut
		return c
	}
	c.HeatJM3 = (t.heat.IntoRemovedJ() - t.intoRemovedJ + t.front.spentJ) / t.removedM3
	c.EnergyJM3 = r.Balance.ElectricJ / t.removedM3
	return c
}
