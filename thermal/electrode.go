package thermal

import (
	"math"
	"slices"

	"muralheat/mesh"
)

// electrode is where the metal is, what it touches and what it removes.
type electrode struct {
	*state
	tip      tip
	front    *front
	body     *metal
	contacts []mesh.Contact // of heat
	marked   []int          // cells that state.isMetal says are metal

	pathM                float64 // path of the activation until the middle of the coming step
	travelM              float64 // and until the end of its current
	askedM               float64 // path of a tip that waits, were nothing in its way
	removedM3, draggedM3 float64 // removed by the moving tip; of that, dragged along for want of heat
	intoRemovedJ         float64 // heat that had gone into removed tissue when the case began
	sweptM3              float64 // removed so far, by cases before too
	dryOutS              float64 // when no wet tissue touched the metal any more; NaN before
}

// shape is one kind of electrode. Each has a file of its own, where it enters itself into
// shapes; its contacts are geometry and belong to package mesh.
type shape struct {
	scene      Scene
	about      string // a tip on the wall in a few words, for who chooses one
	long       bool   // not round: it is computed in three dimensions at rest too
	tip        func(*electrode) tip
	grid       func(*Case, *Grid) // its mesh; nil: that of a tip at rest or on a track
	wholeCells bool               // a whole number of cells to its radius: it is metal in the mesh
	surface    string             // name of the wall's surface under it; "": surface
	intoBody   bool               // under it the wall goes on into the body, without an outer surface
	gel        bool               // gel covers what dries: no sparks
	handStops  bool               // the hand stops with the current
	byCells    bool               // if it waits it goes from cell to cell as they part: steps need not follow its path

	// How it is described and drawn on the wall; nil in other scenes, which have figures of their own.
	sizes   func(Electrode) []Length
	outline func(e Electrode, upM float64, along bool) []Point
}

// Length is one length that describes an electrode.
type Length struct {
	Name string
	M    float64
}

// Point is a point of a cut through the middle of an electrode: distance from it and depth, m.
type Point struct{ XM, ZM float64 }

// Sizes returns the lengths that describe the electrode.
func (e Electrode) Sizes() []Length { return shapes[e.Tip].sizes(e) }

// Outline returns the metal of a tip on the wall in a cut through its middle, along its track or across, as
// a polygon. Where it goes on upwards it ends at upM above the surface.
func (e Electrode) Outline(upM float64, along bool) []Point {
	return shapes[e.Tip].outline(e, upM, along)
}

// bar is the outline of a straight cylinder down to a depth.
func bar(radiusM, depthM, upM float64) []Point {
	return []Point{{-radiusM, -upM}, {-radiusM, depthM}, {radiusM, depthM}, {radiusM, -upM}}
}

// shapes are the electrodes that can be computed, by name, and tips their names in the order in which they entered.
var (
	shapes = map[Tip]shape{}
	tips   []Tip
)

// enter adds an electrode to those that can be computed.
func enter(t Tip, s shape) {
	shapes[t] = s
	tips = append(tips, t)
}

// TipsOf returns the tips of a scene.
func TipsOf(s Scene) []Tip {
	return slices.DeleteFunc(slices.Clone(tips), func(t Tip) bool { return shapes[t].scene != s })
}

// Scenes returns the scenes of all electrodes that can be computed.
func Scenes() []Scene {
	var all []Scene
	for _, t := range tips {
		if s := shapes[t].scene; !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	return all
}

// About describes a tip on the wall in a few words.
func (t Tip) About() string { return shapes[t].about }

// Round reports whether an electrode has an axis, so that at rest it needs no mesh in three dimensions.
func (t Tip) Round() bool { return !shapes[t].long }

// Scene returns what the current meets.
func (c *Case) Scene() Scene { return shapes[c.Electrode.Tip].scene }

// Cuts reports whether metal is drawn through the wall, so that it leaves a kerf.
func (c *Case) Cuts() bool {
	s := shapes[c.Electrode.Tip]
	return s.scene == OnWall && s.wholeCells && c.Motion.Moving()
}

// stepsFreely reports whether steps need not follow the path of the electrode.
func (c *Case) stepsFreely() bool { return shapes[c.Electrode.Tip].byCells && c.Motion.Waits }

// tip is an electrode in a run: what it touches, how it moves, and what it did.
type tip interface {
	// place sets contacts, feeds and heat loss for the coming step, at electrode.xM, and
	// removes what is in the way of the metal.
	place()
	// speedMS is that of the tip with nothing in its way, m/s.
	speedMS() float64
	// ahead lists the tissue that the metal comes to until a path of pathM, nearest first.
	ahead(pathM float64) []obstacle
	// beneath is where history is taken at depth zM.
	beneath(zM float64) Probe
	// record adds to a row of history, tally to what flowed in a step, report to the result.
	record(*Sample)
	tally()
	report(*Result)
}

func newElectrode(s *state) *electrode {
	e := &electrode{state: s, front: &front{state: s}, body: newMetal(s), dryOutS: math.NaN()}
	e.tip = shapes[s.Electrode.Tip].tip(e)
	s.xM = s.Motion.FromM
	return e
}

// obstacle is a cell of tissue and where the metal comes to it, m of the path.
type obstacle struct {
	p   int
	atM float64
}

// plain is what a tip does unless it says otherwise.
type plain struct{ *electrode }

func (t plain) speedMS() float64         { return t.Motion.SpeedMS }
func (t plain) ahead(float64) []obstacle { return nil }
func (t plain) beneath(zM float64) Probe { return Probe{XM: t.whereM(), ZM: zM} }
func (t plain) record(*Sample)           {}
func (t plain) tally()                   {}
func (t plain) report(*Result)           {}

// positionM returns the path of an electrode whose speed is forced at time t of the activation, m.
func (e *electrode) positionM(t float64) float64 {
	if shapes[e.Electrode.Tip].handStops {
		t = math.Min(t, e.Drive.OnS)
	}
	return math.Min(e.Motion.SpeedMS*t, e.Motion.LengthM)
}

// whereM returns the place of the electrode now, m along its track.
func (e *electrode) whereM() float64 { return e.Motion.atM(e.goneM()) }

// goneM returns the path of the electrode in this activation until now, m.
func (e *electrode) goneM() float64 {
	if e.Motion.Waits {
		return e.pathM
	}
	return e.positionM(e.sinceS)
}

// speedMS returns how fast the electrode goes where nothing is in its way, m/s. Between
// pulses a tip that waits rests: what dries slowly gets tough, only sudden boiling parts
// tissue (Taheri and others 2014, J Am Acad Dermatol).
func (e *electrode) speedMS() float64 {
	if e.Motion.Waits && !e.Drive.Pulsing(e.sinceS) || e.goneM() >= e.Motion.LengthM {
		return 0
	}
	return e.tip.speedMS()
}

// beneath is where history is taken at depth zM.
func (e *electrode) beneath(zM float64) Probe { return e.tip.beneath(zM) }

// place puts the electrode where it is in the middle of the coming step, dt long, and removes
// the tissue it sweeps.
func (e *electrode) place(dt float64) {
	if e.Bath.SigmaSM > 0 && e.isMetal == nil {
		e.flood()
	}
	e.front.light()
	e.advance(dt)
	e.contacts, e.feeds, e.bypassFeeds = e.contacts[:0], e.feeds[:0], e.bypassFeeds[:0]
	e.tip.place()
	e.body.touch(e.contacts)
	if e.bottomLayer() {
		e.heat.SetBottom(math.Inf(1), e.Body.TemperatureC)
	} else {
		e.heat.SetBottom(e.Beyond.HeatTransferWM2K, e.Beyond.TemperatureC)
	}
}

// advance moves the electrode to where it is in the middle of the coming step.
func (e *electrode) advance(dt float64) {
	if e.Motion.Waits {
		e.await(dt)
	} else {
		e.pathM = e.positionM(e.sinceS + dt/2)
	}
	x := e.Motion.atM(e.pathM)
	e.movedM, e.xM = x-e.xM, x
}

// await moves an electrode as far as the tissue before it has been removed.
func (e *electrode) await(dt float64) {
	to := math.Min(e.pathM+e.speedMS()*(e.stepS+dt)/2, e.Motion.LengthM)
	e.askedM += to - e.pathM
	left := e.front.budgetJ
	for _, o := range e.tip.ahead(to) {
		if left -= e.front.costJ(o.p); left < 0 {
			to = o.atM - clearanceM
			break
		}
	}
	e.pathM = math.Max(e.pathM, to)
}

// clearanceM keeps the metal off a cell's centre by more than rounding, m.
const clearanceM = 1e-9

// insert makes the cells of metal metal: their tissue is removed, with its heat and with the
// current that the last solution sent through it. Until the next one the source feeds what
// remains, which leaves the metal wherever there is tissue.
func (e *electrode) insert() {
	e.mark()
	if e.burning {
		e.heat.Insert(e.metal, e.contacts, faceWM2K, e.Physics.BoilC)
		e.front.hold()
		e.look()
		e.front.strike(e.speedMS())
	} else {
		e.heat.Insert(e.metal, e.contacts, e.Electrode.HeatTransferWM2K, e.body.tC)
	}
	if e.solved {
		removed, past := 0.0, 0.0
		for _, p := range e.metal {
			removed += e.q[p]
			e.q[p] = 0
			if e.bypassQ != nil {
				past += e.bypassQ[p]
				e.bypassQ[p] = 0
			}
		}
		e.sol.HeatS -= removed
		e.bypass.HeatS -= past
	}
	for _, c := range e.contacts {
		switch {
		case !e.heat.Gone(c.P):
			e.feeds = append(e.feeds, c)
		case e.inBath(c.P) && e.burning:
			e.bypassFeeds = append(e.bypassFeeds, c)
		case e.inBath(c.P):
			e.feeds = append(e.feeds, c)
		}
	}
	e.soak()
}

// sweep pays for the tissue that the metal is about to remove.
func (e *electrode) sweep() {
	for _, p := range e.metal {
		if i, j, k := e.m.Cell(p); !e.heat.Gone(p) {
			volume := e.m.Volume(i, j, k)
			e.removedM3 += volume
			e.sweptM3 += volume
			e.draggedM3 += volume * (1 - e.front.pay(p))
		}
	}
}

// look sets what the next layer of cells before the metal costs.
func (e *electrode) look() {
	e.front.nextJ = 0
	for _, o := range e.tip.ahead(e.pathM + e.finestM) {
		e.front.nextJ += e.front.costJ(o.p)
	}
}

// sustainedShare is the share of the removed tissue that heat must have removed for a cut to
// count as sustained; assumption: the rest tears.
const sustainedShare = 0.9

// parted returns the share of the removed tissue that heat removed before the metal came, and
// whether that is enough for a sustained cut; NaN if none was removed.
func (e *electrode) parted() (share float64, sustained bool) {
	if e.removedM3 == 0 {
		return math.NaN(), false
	}
	share = 1 - e.draggedM3/e.removedM3
	return share, share >= sustainedShare
}

// tally adds up a step.
func (e *electrode) tally(dt float64) {
	if e.sinceS <= e.offS() {
		e.travelM = e.goneM()
	}
	if e.mode.DutyCycle > 0 && e.supply.FaceV > 0 && math.IsNaN(e.dryOutS) && e.driedOut() {
		e.dryOutS = e.timeS
	}
	e.front.tally(dt)
	e.body.tally(dt)
	e.tip.tally()
}

// driedOut reports whether no wet tissue touches the metal any more.
func (e *electrode) driedOut() bool {
	return !slices.ContainsFunc(e.feeds, func(c mesh.Contact) bool { return !e.heat.Gone(c.P) && e.heat.Water[c.P] >= driedBelow })
}

// again begins an activation; other: with another electrode, which has the temperature that it starts with.
func (e *electrode) again(other bool) {
	e.pathM, e.travelM, e.askedM, e.xM = 0, 0, 0, e.Motion.FromM
	if !other {
		return
	}
	e.tip = shapes[e.Electrode.Tip].tip(e)
	e.body.change()
}

// anew begins a new account.
func (e *electrode) anew() {
	e.removedM3, e.draggedM3, e.dryOutS = 0, 0, math.NaN()
	e.intoRemovedJ = e.heat.IntoRemovedJ()
	e.front.anew()
}

func (e *electrode) report(r *Result) {
	b, led := &r.Balance, e.booked()
	b.RemovedJ, b.ElectrodeJ, b.CuttingJ = led.RemovedJ, led.ElectrodeJ+e.front.wallJ, e.front.gapJ-e.front.wallJ
	r.Summary.DryOutS, r.Summary.ElectrodePeakC = e.dryOutS, e.body.peakC
	r.Fields.Removed = make([]bool, e.m.Len())
	e.each(func(p, i, j, k int) {
		if e.heat.Gone(p) && k >= e.liquidPlanes() {
			r.Fields.Removed[p] = true
			if e.cutting {
				r.Summary.RemovedDepthM = math.Max(r.Summary.RemovedDepthM, e.m.Z.Faces[k+1])
			}
		}
	})
	e.tip.report(r)
}
