package thermal

import (
	"fmt"
	"math"
	"slices"

	"muralheat/mesh"
)

// heatPerInjuredVolume guesses how much heat goes with one cubic metre of injured
// tissue, J/m3: between that of warming to 60 C (0.1e9) and of boiling dry (2e9).
// A passing electrode leaves less time to spread than one that stays. It only decides
// how far the fine cells reach; a run whose injury leaves them says so.
const (
	heatPerInjuredVolume = 0.3e9
	heatPerInjuredTrack  = 2e9
)

// growth returns the size that cells gain per distance from the fine zone, m per m.
func (n Numerics) growth() float64 {
	if n.Growth == 0 {
		return 0.4
	}
	return n.Growth
}

// Grid is the mesh of a case before it is made: axes and what they will cost.
type Grid struct {
	Geometry   mesh.Geometry
	X, Y, Z    mesh.Grading
	xb, yb, zb []float64 // breaks
	FinestM    float64
	ReachM     float64 // fine cells beyond the contact
	ContactM   float64 // radius of the contact, the widest of a sequence
	NX, NY, NZ int
	laws       int  // further damage laws
	flows      bool // liquid water flows
	windowed   bool // the field is that of a window
}

// Grid plans the mesh: layer borders and the rim of the electrode on grid lines,
// fine cells where the injury is expected, growing outside; with cases before, the mesh that all share.
func (c *Case) Grid() Grid { return c.Sequence().Grid() }

// Grid plans the mesh that all cases share: what each needs of it.
func (s Sequence) Grid() Grid {
	acts := s.activations()
	c := acts[0]
	g := Grid{Geometry: mesh.Axisymmetric, FinestM: math.Inf(1), NY: 1, laws: len(c.Damage.Also), flows: c.Physics.Boiling && c.Physics.WaterM2S > 0}
	for _, a := range acts {
		g.FinestM, g.ContactM = math.Min(g.FinestM, a.cellM()), math.Max(g.ContactM, a.Electrode.ContactRadiusM)
	}
	g.zb = c.Edges()
	switch own := shapes[c.Electrode.Tip].grid; {
	case own != nil:
		own(c, &g)
	case acts.onTrack():
		acts.trackGrid(&g)
	default:
		acts.tipGrid(&g)
	}
	if g.Geometry == mesh.Track {
		g.NY = g.Y.Cells(g.yb...)
		g.windowed = acts.extent().moves
	}
	g.NX, g.NZ = g.X.Cells(g.xb...), g.Z.Cells(g.zb...)
	return g
}

// cellM returns the size of the finest cells: as the numerics ask, but at least four to
// the radius of a contact, and a whole number, at least two, to that of a shaft or wire.
func (c *Case) cellM() float64 {
	a, h := c.Electrode.ContactRadiusM, c.Numerics.FinestM
	if shapes[c.Electrode.Tip].wholeCells {
		return a / math.Max(2, math.Ceil(a/h-0.5))
	}
	return math.Min(h, a/4)
}

// depthGrid grades the depth for tips on the wall or in it, and how far from them
// fine cells reach.
func (s Sequence) depthGrid(g *Grid) {
	g.ReachM = math.Min(math.Max(s.reach(), 1e-3), 5e-3)
	in := s.insertionM()
	for _, c := range s {
		if l := c.Electrode.InsertionM; l > 0 {
			g.zb = insert(g.zb, l)
		}
	}
	above := math.Min(s[0].liquidM(), g.ReachM)
	if s[0].Bath.SigmaSM > 0 { // nothing is heated there
		above = 0
		for _, c := range s {
			above = math.Min(c.liquidM(), math.Max(above, math.Max(c.Electrode.ContactRadiusM, c.Electrode.BareM)))
		}
	}
	for _, c := range s {
		if bare := c.Electrode.BareM; bare > 0 && bare < c.liquidM() {
			g.zb = insert(g.zb, -bare)
		}
	}
	g.Z = mesh.Grading{From: -above, To: in + g.ReachM, FinestM: g.FinestM, Slope: s[0].Numerics.growth()}
}

// insertionM returns how deep the deepest metal stands in the tissue, m.
func (s Sequence) insertionM() float64 {
	in := 0.0
	for _, c := range s {
		in = math.Max(in, c.Electrode.InsertionM)
	}
	return in
}

// tipGrid is that of stationary tips.
func (s Sequence) tipGrid(g *Grid) {
	s.depthGrid(g)
	c, wide := s[0], 0.0
	g.xb = []float64{0, c.Domain.RadiusM}
	for _, c := range s {
		a := c.Electrode.ContactRadiusM
		g.xb = insert(g.xb, a)
		wide = math.Max(wide, a)
		if c.liquidM() > 0 {
			wide = math.Max(wide, c.Electrode.TipRadiusM)
		}
	}
	g.X = mesh.Grading{From: 0, To: wide + g.ReachM, FinestM: g.FinestM, Slope: c.Numerics.growth()}
	half := g.FinestM / 2
	if !c.Physics.Boiling || c.Physics.Drying != Percolation || c.wallTop().ThicknessM < g.FinestM || c.Domain.RadiusM < g.ContactM+g.FinestM {
		return
	}
	// A contact dries from its rim, in a layer of sqrt(D t), some 0.05 to 0.1 mm: cells there are
	// half as large.
	for _, rim := range g.xb[1 : len(g.xb)-1] {
		g.xb = insert(insert(slices.Clone(g.xb), rim-half), rim+half)
	}
	g.zb = insert(g.zb, half)
}

// liquidM returns how deep liquid lies on the mucosa, m.
func (c *Case) liquidM() float64 {
	if l := c.Layers[0]; l.Liquid {
		return l.ThicknessM
	}
	return 0
}

// wallTop returns the first layer of the wall.
func (c *Case) wallTop() Layer {
	for _, l := range c.Layers {
		if !l.Above {
			return l
		}
	}
	return c.Layers[0]
}

// trackGrid is that of tips that move: half a body along their track.
func (s Sequence) trackGrid(g *Grid) {
	s.depthGrid(g)
	g.Geometry = mesh.Track
	c, a := s[0], g.ContactM
	half := c.Domain.HalfWidthM
	if half == 0 {
		half = c.Domain.RadiusM
	}
	from, to := s.track()
	g.X = mesh.Grading{From: from - a - g.ReachM/8, To: to + a + g.ReachM/8, FinestM: g.FinestM, Slope: c.Numerics.growth()}
	g.xb = []float64{from - c.Domain.RadiusM, from, to + c.Domain.RadiusM}
	g.Y = mesh.Grading{From: 0, To: math.Max(a+g.ReachM/4, g.ReachM), FinestM: g.FinestM, Slope: c.Numerics.growth()}
	g.yb = []float64{0, half}
	for _, c := range s {
		g.yb = insert(g.yb, c.Electrode.ContactRadiusM)
	}
}

// onTrack reports whether the body is that of a track.
func (s Sequence) onTrack() bool {
	return slices.ContainsFunc(s, func(c *Case) bool { return c.Motion.Moving() || c.Domain.ThreeD })
}

// track returns between which places the electrodes are, m along the track.
func (s Sequence) track() (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, c := range s {
		a, b := c.Motion.atM(0), c.Motion.atM(c.Motion.LengthM)
		from, to = min(from, a, b), max(to, a, b)
	}
	return from, to
}

// reach estimates how far the injury gets from the contact, or from the shaft and the
// end of a needle of insertion L, by the volume that the energy E can injure:
//
//	stationary   2/3 pi r^3 + pi L r^2 = E/u
//	moving       1/2 pi r^2 + 2 L r    = P/(v u)   per length of track
//
// Of a sequence the energies are added: pauses that let heat spread make it a little less. At rest most of the energy
// goes elsewhere, and injury does not get further than the radius a of the contact and how far heat spreads until the
// last current ends, sqrt(4 D t): depths of the examples are within 0.0024 mm at standard, 0.0055 mm at fine, of those with
// fine cells as far as the energy says and shorter steps (measured together).
func (s Sequence) reach() float64 {
	l, volume, area := s.insertionM(), 0.0, 0.0
	widestM, untilS := 0.0, -s[len(s)-1].AfterS
	for _, c := range s {
		widestM, untilS = math.Max(widestM, c.Electrode.ContactRadiusM), untilS+c.lengthS()
		if c.Motion.Moving() {
			area += c.guessW() / c.guessSpeed() / heatPerInjuredTrack
		} else {
			volume += c.guessW() * c.Drive.OnS / heatPerInjuredVolume
		}
	}
	along := (math.Sqrt(4*l*l+2*math.Pi*area) - 2*l) / math.Pi
	if volume == 0 {
		return along
	}
	m := s[0].wallTop().Material
	spreadM := math.Sqrt(4 * m.KWMK / (m.DensityKgM3 * m.HeatCapacityJKgK) * untilS)
	return math.Max(along, math.Min(reachAround(l, volume), widestM+spreadM))
}

// reachAround solves 2/3 pi r^3 + pi l r^2 = volume.
func reachAround(l, volume float64) float64 {
	lo, hi := 0.0, 1.0
	for hi-lo > 1e-6 {
		r := (lo + hi) / 2
		if math.Pi*r*r*(2*r/3+l) < volume {
			lo = r
		} else {
			hi = r
		}
	}
	return lo
}

// insert puts v into the ascending list unless it is there.
func insert(list []float64, v float64) []float64 {
	for i, x := range list {
		if math.Abs(x-v) < 1e-9 {
			return list
		}
		if x > v {
			return append(list[:i], append([]float64{v}, list[i:]...)...)
		}
	}
	return append(list, v)
}

// Cells returns the number of cells.
func (g Grid) Cells() int { return g.NX * g.NY * g.NZ }

// What Simulate allocates for one cell, in numbers of 8 bytes (measured, see the test):
// the solvers with their outer faces, the field in both precisions, the result, and the integral of
// a further law.
const (
	fieldsPerCell  = 94
	fieldsPerLaw   = 3
	fieldsOfFlow   = 6
	fieldsOfWindow = -20 // the field of a track is that of a window
)

// Bytes returns the memory a run needs.
func (g Grid) Bytes() float64 {
	fields := fieldsPerCell + fieldsPerLaw*float64(g.laws)
	if g.flows {
		fields += fieldsOfFlow
	}
	if g.windowed {
		fields += fieldsOfWindow
	}
	return 8 * fields * float64(g.NX) * float64(g.NY) * float64(g.NZ+2)
}

// Mesh makes the mesh.
func (g Grid) Mesh() *mesh.Mesh {
	var y mesh.Axis
	if g.Geometry == mesh.Track {
		y = g.Y.Axis(g.yb...)
	}
	return mesh.New(g.Geometry, g.X.Axis(g.xb...), y, g.Z.Axis(g.zb...))
}

// stepsPerCell is how many steps an electrode takes across a cell, at least: what it
// comes to dries within milliseconds (an eighth of a cell leaves 0.05 mm of depth, a 24th
// 0.015 mm, for a tenth more time; measured).
const stepsPerCell = 24

// burningSteps is the same while a front burns, which keeps what it comes to from drying first: against
// 24 depth and injury beside a cut move by up to 0.01 mm, at a set speed by 0.002 mm (measured).
const burningSteps = 8

// StepS returns the longest step while the electrode moves.
func (c *Case) StepS() float64 {
	dt := c.Numerics.MaxStepS
	if c.Motion.Moving() && !c.stepsFreely() {
		dt = math.Min(dt, c.Grid().FinestM/(stepsPerCell*c.Motion.SpeedMS))
	}
	return dt
}

// TooLarge is a mesh that would not fit into the memory allowed.
type TooLarge struct {
	Grid     Grid
	MaxBytes float64
}

func (e *TooLarge) Error() string {
	return fmt.Sprintf("thermal: mesh of %d x %d x %d cells needs %.1f GB of memory, %.1f GB may be used; choose a coarser quality or a smaller domain",
		e.Grid.NX, e.Grid.NY, e.Grid.NZ, e.Grid.Bytes()/1e9, e.MaxBytes/1e9)
}

// layerOf returns the layer of each depth index.
func (c *Case) layerOf(m *mesh.Mesh) []int {
	of, edges := make([]int, m.NZ), c.Edges()
	layer := 0
	for k, z := range m.Z.Centres {
		for z > edges[layer+1] && layer+1 < len(c.Layers) {
			layer++
		}
		of[k] = layer
	}
	return of
}

// guessSpeed is the mean speed of the electrode: a needle that waits gets on as fast as
// its power removes tissue, at some 8 J/mm3 in all (assumption; it only decides where the cells are fine).
func (c *Case) guessSpeed() float64 {
	if e := c.Electrode; c.Motion.Waits {
		return math.Min(c.Motion.SpeedMS, math.Max(c.guessW()/(8e9*2*e.ContactRadiusM*e.InsertionM), 0.1e-3))
	}
	return c.Motion.SpeedMS
}

// guessW is the mean power of the source into the resistance that a tip of this size
// finds in even tissue: a half sphere of a disc's or needle's radius, a cylinder's
// length counted in.
func (c *Case) guessW() float64 {
	size := math.Max(c.Electrode.ContactRadiusM, c.Electrode.InsertionM/2)
	return c.Drive.MeanPowerW(2 * math.Pi * size * c.wallTop().Material.SigmaSM)
}
