package thermal

import (
	"math"

	"muralheat/mesh"
)

// Loop is a wire ring around a stalk, closing towards its axis.
const Loop Tip = "loop"

func init() {
	enter(Loop, shape{
		scene: AroundStalk, tip: func(e *electrode) tip { return loop{plain{e}} }, grid: (*Case).loopGrid, wholeCells: true,
		surface: "stalk-base", handStops: true, byCells: true,
	})
}

// LoopHeight names a length of a loop: of the middle of its wire above the surface of the wall.
const LoopHeight = "heightm"

// HeightM returns the height of the middle of a loop's wire above the surface of the wall, m; 0 for other electrodes.
func (e Electrode) HeightM() float64 { return e.Own[LoopHeight] }

// loop removes what its wire sweeps; when the ring meets the axis the current ends.
type loop struct{ plain }

// fastestLoopMS is as fast as a hand closes a loop (assumption).
const fastestLoopMS = 5e-3

// speedMS rises as a pulled ring closes: its pull over what it holds around presses as
// 1/radius, a string around a cylinder.
func (t loop) speedMS() float64 {
	if t.Motion.Waits {
		return math.Min(t.Motion.SpeedMS*t.Electrode.TipRadiusM/t.ringM(), fastestLoopMS)
	}
	return t.Motion.SpeedMS
}

func (t loop) beneath(zM float64) Probe { return Probe{ZM: zM} }

func (t loop) tally() {
	if math.IsNaN(t.severedS) && t.whereM() >= t.Electrode.TipRadiusM {
		t.severedS = t.sinceS
	}
}

// Empty reports whether a point of the mesh, r from the axis, lies in no tissue from the
// start: beside a stalk or its head, or in the groove, with flanks of 45 degrees
// (assumption), that a loop has pressed into the stalk before the current.
func (c *Case) Empty(rM, zM float64) bool {
	if !c.Layers[0].Above {
		return false
	}
	edges := c.Edges()
	for i, l := range c.Layers {
		if zM < edges[i+1] {
			if l.Above && l.RadiusM > 0 && rM > l.RadiusM {
				return true
			}
			break
		}
	}
	e := c.Electrode
	return zM < 0 && zM > -2*e.HeightM() &&
		rM > e.TipRadiusM+math.Max(0, math.Abs(zM+e.HeightM())-e.ContactRadiusM)
}

// touched returns the index of the layer through which the head touches what is opposite,
// -1 if it hangs free.
func (c *Case) touched() int {
	if !c.Layers[0].Above || c.Layers[0].RadiusM > 0 {
		return -1
	}
	for i, l := range c.Layers {
		if l.RadiusM > 0 {
			return i
		}
	}
	return -1
}

// ringM returns the inner radius of the ring as it is placed, m; not positive once it has met
// the axis.
func (t loop) ringM() float64 { return t.Electrode.TipRadiusM - t.xM }

// place puts the wire where it is and removes what it sweeps.
func (t loop) place() {
	e := &t.Electrode
	a, r, z := e.ContactRadiusM, t.ringM(), -e.HeightM()
	t.metal, t.contacts = t.m.Ring(t.metal[:0], t.contacts, r, r+2*a, z-a, z+a)
	if t.empty == nil {
		t.clear()
	} else {
		t.sweep()
	}
	t.insert()
	if t.touched() >= 0 {
		t.heat.SetSurface(math.Inf(1), t.Body.TemperatureC, nil, 0, 0)
	} else {
		t.heat.SetSurface(t.Lumen.HeatTransferWM2K, t.Lumen.TemperatureC, nil, 0, 0)
	}
}

func (t loop) report(r *Result) {
	st := t.summary()
	st.LeakShare = r.Summary.Stalk.LeakShare // the conduction knows
	r.Summary.Stalk = st
	if !t.Motion.Moving() {
		return
	}
	if math.IsNaN(st.CutThroughS) {
		r.note("The loop did not cut through: it still held %.2g mm when the current ended.", 2*st.RingRadiusM*1e3)
	}
	if st.PartedShare < sustainedShare {
		r.note("The heat at the wire was short by what %.0f %% of the tissue in its way needs: there it would have to tear its way; it is taken as removed all the same.", 100*(1-st.PartedShare))
	}
}

// clear empties what is not tissue, before anything moves.
func (t loop) clear() {
	t.empty = make([]bool, t.m.Len())
	var cells []int
	for k, z := range t.m.Z.Centres {
		for i, r := range t.m.X.Centres {
			if p := t.m.Index(i, 0, k); t.Empty(r, z) {
				t.empty[p] = true
				cells = append(cells, p)
			}
		}
	}
	t.heat.Insert(cells, nil, 0, 0)
	t.heat.Expose(t.Lumen.HeatTransferWM2K, t.Lumen.TemperatureC)
}

// ahead is nothing where a pull cuts without any current.
func (t loop) ahead(pathM float64) []obstacle {
	a, open := t.Electrode.ContactRadiusM, t.Electrode.TipRadiusM
	if pressure := t.Electrode.Press.ForceN / (4 * a * t.ringM()); t.Physics.TearPa > 0 && pressure >= t.Physics.TearPa {
		return nil
	}
	var list []obstacle
	for i := t.m.X.Find(t.ringM()); i >= 0 && t.m.X.Centres[i] > open-pathM; i-- {
		for k := t.m.Z.Find(-t.Electrode.HeightM() - a); t.m.Z.Centres[k] < -t.Electrode.HeightM()+a; k++ {
			if p := t.m.Index(i, 0, k); t.m.X.Centres[i] <= t.ringM() && !t.heat.Gone(p) {
				list = append(list, obstacle{p, open - t.m.X.Centres[i]})
			}
		}
	}
	return list
}

// summary reads off what the loop did.
func (t loop) summary() StalkSummary {
	c := StalkSummary{
		CutThroughS: t.severedS, RingRadiusM: math.Max(t.Electrode.TipRadiusM-t.whereM(), 0),
		PeakC: t.Body.TemperatureC, BasePeakC: t.Body.TemperatureC, OppositePeakC: math.NaN(),
	}
	c.PartedShare, c.Sustained = t.parted()
	radius, touched := t.stalk().RadiusM, t.touched()
	if touched >= 0 {
		c.OppositePeakC = t.Body.TemperatureC
	}
	below := -t.Electrode.HeightM() + t.Electrode.ContactRadiusM // lower end of the wire
	front := t.injured(t.omega.Sum)
	base := t.m.Z.Find(0)
	for k, z := range t.m.Z.Centres {
		for i, r := range t.m.X.Centres {
			p := t.m.Index(i, 0, k)
			if t.heat.Gone(p) {
				continue
			}
			peak := t.peakC[p]
			switch l := t.layerOf[k]; {
			case l <= touched:
				c.OppositePeakC = math.Max(c.OppositePeakC, peak)
			case z < 0:
				c.PeakC = math.Max(c.PeakC, peak)
				if z > below && front.injured(p) {
					c.BelowRingM = math.Max(c.BelowRingM, math.Min(front.lower(i, 0, k), 0)-below)
				}
			}
			if (k == base || k == base-1) && r < radius {
				c.BasePeakC = math.Max(c.BasePeakC, peak)
			}
		}
	}
	return c
}

// loopGrid is that of a stalk in a loop: fine all across the stalk, from above the wire to
// where the injury of the wall may reach.
func (c *Case) loopGrid(g *Grid) {
	const reach, beside = 3e-3, 1.5e-3 // above the wire and below the base; beside the stalk
	e := c.Electrode
	g.ReachM = reach
	widest := e.TipRadiusM
	g.xb = []float64{0, e.TipRadiusM, c.Domain.RadiusM}
	for _, l := range c.Layers {
		if l.RadiusM > 0 {
			g.xb = insert(g.xb, l.RadiusM)
		}
	}
	if r := c.stalk().RadiusM; r > widest {
		widest = r
	}
	g.X = mesh.Grading{From: 0, To: widest + beside, FinestM: g.FinestM, Slope: c.Numerics.growth()}
	lower, upper := -e.HeightM()+e.ContactRadiusM, -e.HeightM()-e.ContactRadiusM
	g.zb = insert(insert(g.zb, lower), upper)
	from := upper - reach
	if i := c.touched(); i >= 0 {
		from = c.Edges()[i] - beside
	}
	g.Z = mesh.Grading{From: math.Max(from, g.zb[0]), To: reach, FinestM: g.FinestM, Slope: c.Numerics.growth()}
}

// stalk returns the layer that stands on the wall.
func (c *Case) stalk() Layer {
	var s Layer
	for _, l := range c.Layers {
		if l.Above {
			s = l
		}
	}
	return s
}
