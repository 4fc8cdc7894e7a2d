package thermal

import (
	"context"
	"fmt"
	"math"
	"slices"

	"muralheat/mesh"
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/field"
	"muralheat/thermal/heat"
)

// Options are what a caller may ask of a run besides its physics.
type Options struct {
	Progress func(doneS, totalS float64) // called after every step with simulated time
	MaxBytes float64                     // refuse a mesh that needs more memory; 0: no limit
}

// Failure is a run that went wrong; the Result beside it holds what there was.
type Failure struct {
	TimeS float64
	AtM   [3]float64 // x (radius), y, z of the cell
	Cell  [3]int
	What  string
}

func (f *Failure) Error() string {
	return fmt.Sprintf("thermal: %s at %.6g s in cell %d,%d,%d (x %.4g mm, y %.4g mm, depth %.4g mm)", f.What, f.TimeS,
		f.Cell[0], f.Cell[1], f.Cell[2], f.AtM[0]*1e3, f.AtM[1]*1e3, f.AtM[2]*1e3)
}

// simulation is the state of one run.
type simulation struct {
	*Case
	m         *mesh.Mesh
	layerOf   []int
	finest    float64 // smallest cell the mesh aims at, m
	heat      *heat.Solver
	field     *field.Solver
	omega     *damage.Integral
	also      []*damage.Integral
	dose      *damage.Integral
	integrals []*damage.Integral // all of them
	peak      []float64
	coldC     float64   // no integral needs a cell below it
	lastC     []float64 // temperature up to which damage is integrated
	since     []float64 // and until when, s; negative: cell was cold

	rho      []float64 // electrical resistivity now, ohm m
	solved   []float64 // the same when the field was last solved
	heard    []int     // cells that carry heat worth watching
	q        []float64 // W/V2 per cell
	src      []float64 // W per cell
	metal    []int
	contacts []mesh.Contact // of heat
	feeds    []mesh.Contact // of current

	spark     []float64 // extra conductivity of dried tissue by sparks, S/m
	lastSpark []float64 // the same when the field was last solved
	sparking  []int     // cells with any
	ways      []dryPath
	foreseen  float64 // conductance with sparks as they are set now, over that solved last
	dried     []int

	t, x, lastDt float64 // time; place of the electrode along its track and the step that led there
	travelM      float64 // place at the end of the current
	empty        []bool  // cells that never held tissue: beside a stalk
	leakK        int     // depth index above what the head touches; -1: it hangs free
	severedS     float64 // when a loop met the axis; NaN before
	leakC        float64 // charge through the head, C
	chargeC      float64 // and in all
	restC        []float64
	skin         *skin // under a pad

	askedM             float64 // way of a needle that waits, were nothing in its way
	sweptM3, draggedM3 float64 // taken away by a moving needle; of that, tissue that had not parted

	flowS, heldS, sparkS float64 // time with current, below the quantity held, with sparks
	leastOhm, mostOhm    float64

	mode     drive.Mode // of the source now
	voltage  float64    // RMS
	lastV    float64    // while current last flowed
	held     drive.Limit
	holders  []drive.Limit // every limit that has held the source
	sol      field.Solution
	solvedX  float64
	isSolved bool
	unsolved int // field solutions that stopped short of their tolerance

	res *Result
}

// Simulate computes the case. The error is nil, ctx's, a *TooLarge or a *Failure.
func Simulate(ctx context.Context, c *Case, opt Options) (*Result, error) {
	grid := c.Grid()
	if opt.MaxBytes > 0 && grid.Bytes() > opt.MaxBytes {
		return nil, &TooLarge{grid, opt.MaxBytes}
	}
	s := newSimulation(c, grid)
	err := s.run(ctx, opt)
	s.finish(grid)
	return s.res, err
}

// doseFromC is the temperature below which thermal dose is not counted (common
// practice, no source).
const doseFromC = 39

func newSimulation(c *Case, grid Grid) *simulation {
	m := grid.Mesh()
	n := m.Len()
	v := func() []float64 { return make([]float64, n) }
	s := &simulation{
		Case: c, m: m, layerOf: c.layerOf(m), finest: grid.FinestM, peak: v(), lastC: v(), since: v(),
		rho: v(), solved: v(), q: v(), src: v(), spark: v(), lastSpark: v(),
	}
	laws := make([]heat.Law, len(c.Layers))
	for i, l := range c.Layers {
		laws[i] = c.law(l)
	}
	phases := heat.NoPhases
	if c.Physics.Boiling {
		phases.BoilC = c.Physics.BoilC
		if c.Physics.Carbonisation {
			phases.CarbonC, phases.CeilingC = c.Physics.CarbonC, c.Physics.CarbonCeilingC
		}
	}
	s.heat = heat.New(m, s.layerOf, laws, phases, c.Body.TemperatureC)

	total := c.TotalS()
	const unseen = 1e-5 // an Omega too small to matter
	s.coldC = doseFromC
	integral := func(k damage.Kinetics) *damage.Integral {
		cold := k.Cold(unseen, total)
		s.coldC = math.Min(s.coldC, cold)
		return damage.NewIntegral(n, k.LnRate, cold)
	}
	s.omega = integral(c.Damage.Kinetics)
	for _, k := range c.Damage.Also {
		s.also = append(s.also, integral(k))
	}
	s.dose = damage.NewIntegral(n, damage.LnDoseRate, doseFromC)
	s.integrals = append([]*damage.Integral{s.omega, s.dose}, s.also...)

	s.field = field.New(m)
	far := func(e Edge, faces []mesh.EdgeFace, z float64) {
		switch e {
		case Open:
			s.field.Open(faces, z)
		case Grounded:
			s.field.Ground(faces)
		}
	}
	// What comes up through the head of a polyp goes on from where that touches.
	side, touched, touch := m.Side(), c.touched(), math.Inf(-1)
	if touched >= 0 {
		touch = c.Edges()[touched]
	}
	above := slices.IndexFunc(side, func(f mesh.EdgeFace) bool { return f.At[2] > touch })
	far(c.Domain.Side, side[:above], touch)
	far(c.Domain.Side, side[above:], 0)
	if c.bottomLayer() {
		far(c.Domain.Bottom, m.Bottom(), 0)
	}
	for p := range s.peak {
		s.peak[p], s.since[p] = c.Body.TemperatureC, -1
	}
	s.res = &Result{Case: c, Mesh: m, LayerOf: s.layerOf}
	s.res.Summary.DryOutS, s.res.Summary.ResistanceStartOhm, s.res.Summary.ResistanceEndOhm = math.NaN(), math.NaN(), math.NaN()
	s.leastOhm = math.Inf(1)
	s.leakK, s.severedS = -1, math.NaN()
	if touched >= 0 {
		s.field.Open(m.Top(), touch)
		for k, l := range s.layerOf {
			if l < touched {
				s.leakK = k
			}
		}
	}
	s.field.FilmOhmM2, s.field.FilmHeatShare = c.Electrode.Film.OhmM2, c.Electrode.Film.HeatShare
	if c.Electrode.Tip == Pad {
		s.skin = s.newSkin()
	}
	return s
}

// rest brings the body to rest before the current and takes down its temperatures.
func (s *simulation) rest() {
	s.place(0)
	s.power() // metabolic heat
	s.heat.Settle(s.src)
	copy(s.peak, s.heat.T)
	s.restC = slices.Clone(s.heat.T)
}

// offS is when the current ends: at the latest when the stalk is cut through.
func (s *simulation) offS() float64 {
	if s.severedS < s.Drive.OnS {
		return s.severedS
	}
	return s.Drive.OnS
}

// TotalS is the simulated time, current and cooling, in seconds.
func (c *Case) TotalS() float64 { return c.Drive.OnS + c.AfterS }

// bottomLayer reports whether something solid lies past the wall.
func (c *Case) bottomLayer() bool { return c.Layers[len(c.Layers)-1].Beyond }

func (s *simulation) run(ctx context.Context, opt Options) error {
	total := s.TotalS()
	next := 0.0 // when the next row of history is due
	if s.Rest {
		s.rest()
	}
	switched := false
	for s.t < total {
		if err := ctx.Err(); err != nil {
			return err
		}
		mode, end := s.Drive.At(s.t)
		if s.t >= s.severedS {
			mode, end = drive.Mode{}, total
		}
		s.mode, end = mode, math.Min(end, total)
		// Whole steps of equal length up to the next switching time, planned again once
		// the field is known: the electrode may have come to tissue it boils at once.
		n, dt := s.steps(end)
		s.place(dt)
		s.energise()
		if h := s.sol.HeatS; s.isSolved && !(h >= 0 && h < math.Inf(1)) {
			return s.failure(s.m.Plane(), fmt.Sprintf("the electric field has no solution: it would heat by %g W at 1 V", h))
		}
		if more, shorter := s.steps(end); shorter < dt {
			n, dt = more, shorter
		}
		s.lastDt = dt
		if s.t == 0 || switched {
			s.sample()
		}
		s.res.Summary.Steps++
		if s.heat.Step(dt, s.src) == 0 {
			p, h := s.heat.Stiffest()
			return s.failure(p, fmt.Sprintf("heat spreads too fast to be followed, it asks for steps of %.2g s (high conductivity, little heat capacity),", h))
		}
		s.t += dt
		if n == 1 {
			s.t = end
		}
		s.tally(dt)
		if s.Electrode.Tip == Loop && math.IsNaN(s.severedS) && s.where() >= s.Electrode.TipRadiusM {
			s.severedS = s.t
		}
		// The switch of a mode is a step: a row on either side.
		switched = s.t == s.severedS || s.t == end && (s.t == s.Drive.OnS || s.told(s.t) && s.t < total)
		due := s.t >= next || switched || s.t == total
		if err := s.injure(dt, due); err != nil {
			return err
		}
		if due {
			s.sample()
			next = s.t + s.sampleS(s.t < s.offS())
		}
		if opt.Progress != nil {
			opt.Progress(s.t, total)
		}
	}
	if switched {
		s.mode, s.voltage = drive.Mode{}, 0
		s.sample()
	}
	return nil
}

// MostSwitches is the number of switches up to which each gets its rows of history;
// beyond it only those of every second, third, ... period do.
const MostSwitches = 200

// told reports whether a switch of pulses at time t has rows of its own.
func (s *simulation) told(t float64) bool {
	p := s.Drive.Pulses
	if p == nil {
		return true
	}
	every := math.Ceil(s.Drive.Edges() / MostSwitches)
	return math.Mod(math.Ceil(t/p.PeriodS-1e-9)-1, every) == 0
}

// sampleS is the spacing of history: 200 rows while current flows, 100 after.
func (s *simulation) sampleS(on bool) float64 {
	if on {
		return s.Drive.OnS / 200
	}
	return (s.TotalS() - s.offS()) / 100
}

// steps returns how many steps lead up to time end, and how long each is.
func (s *simulation) steps(end float64) (n, dt float64) {
	n = math.Max(1, math.Ceil((end-s.t)/s.stepFor()-1e-9))
	return n, (end - s.t) / n
}

// stepFor returns the step that is coming: at most the numerics' longest, and a small part
// of a cell of the electrode's way. It is shorter while heat would boil off more than a
// tenth of a cell's water: the current must be able to move elsewhere.
func (s *simulation) stepFor() float64 {
	dt := s.Numerics.MaxStepS
	if v := s.speed(); v > 0 && s.mode.DutyCycle > 0 && !s.stepsFreely() {
		dt = math.Min(dt, s.finest/(stepsPerCell*v))
	}
	if s.mode.DutyCycle == 0 || !s.isSolved || !s.Physics.Boiling {
		return dt
	}
	v, _ := s.mode.VoltageV(s.sol.ConductanceS())
	worst := 0.0 // share of its water per second
	for _, p := range s.heard {
		i, j, k := s.m.Cell(p)
		mt := &s.Layers[s.layerOf[k]].Material
		latent := mt.DensityKgM3 * mt.WaterFraction * s.Physics.LatentJKg * s.m.Volume(i, j, k)
		if r := s.q[p] * v * v / latent; r > worst && s.heat.Water[p] > 0 {
			worst = r
		}
	}
	const least = 2e-4 // s
	return math.Min(dt, math.Max(least, 0.1/worst))
}

func (s *simulation) failure(p int, what string) *Failure {
	i, j, k := s.m.Cell(p)
	f := &Failure{TimeS: s.t, Cell: [3]int{i, j, k}, What: what}
	f.AtM[0], f.AtM[2] = s.m.X.Centres[i], s.m.Z.Centres[k]
	if s.m.Geometry == mesh.Track {
		f.AtM[1] = s.m.Y.Centres[j]
	}
	return f
}
