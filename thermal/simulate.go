package thermal

import (
	"context"
	"errors"
	"fmt"
	"math"

	"muralheat/thermal/drive"
	"muralheat/thermal/internal/cores"
)

// Options are what a caller may ask of a run besides its physics.
type Options struct {
	Progress func(doneS, totalS float64) // called after every step with simulated time
	MaxBytes float64                     // refuse a mesh that needs more memory; 0: no limit
	Moments  int                         // keep at most so many, at least 2, of the last case; 0: none
	Cores    int                         // 2 or more: a large mesh is computed on two cores, with the same result

	AllFields bool // of a sequence: keep the fields of every case, not of the last alone
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

// Simulate computes the case, after those before it. The error is nil, ctx's, a *TooLarge, an *Apart or a *Failure; where
// a case before fails, the Result is that of it.
func Simulate(ctx context.Context, c *Case, opt Options) (*Result, error) {
	results, err := SimulateSequence(ctx, c.Sequence(), opt)
	if results == nil {
		return nil, err
	}
	var failure *Failure
	if len(results) <= len(c.Before) && errors.As(err, &failure) {
		failure.What = fmt.Sprintf("in %q, computed before: %s", results[len(results)-1].Case.Title, failure.What)
	}
	return results[len(results)-1], err
}

// run is one computation: the shared state and the parts of physics that act on it.
type run struct {
	*state
	conduction *conduction // the electric field
	source     *source     // what the generator gives
	sparks     *sparks     // what crosses dried tissue
	warming    *warming    // heat, water, dry mass, and the energy balance
	injury     *injury     // damage
	electrode  *electrode  // where the metal is, what it touches and removes
	watch      *watch      // the time course
	moments    *moments    // the plane that is drawn, now and then

	nextS    float64 // when the next row of history is due, s of the clock
	switched bool    // whether the step just made ended at a switch of the source
}

// part is a piece of physics with its own state.
type part interface {
	// report writes what the part knows into the result, its terms of the energy balance and
	// its remarks. Parts report in the order of run.parts; later ones may read what earlier
	// ones wrote.
	report(*Result)
	// anew begins to count for the result of the next case of a sequence.
	anew()
}

func (r *run) parts() []part {
	return []part{r.injury, r.conduction, r.source, r.sparks, r.warming, r.electrode}
}

// newRun makes a run of c on the mesh of grid, which others are to follow.
func newRun(c *Case, grid Grid, others ...*Case) *run {
	m, all := grid.Mesh(), append(Sequence{c}, others...)
	n := m.Len()
	s := &state{
		Case: c, m: m, layerOf: c.layerOf(m), finestM: grid.FinestM, severedS: math.NaN(),
		q: make([]float64, n), spark: make([]float64, n), peakC: make([]float64, n),
		all: all.extent(), totalS: c.TotalS(),
	}
	s.res = &Result{Case: c, Mesh: m, LayerOf: s.layerOf}
	r := &run{state: s}
	r.warming = newWarming(s)
	r.injury = newInjury(s, grid)
	r.electrode = newElectrode(s)
	r.conduction = newConduction(s, grid.ContactM, all.insertionM())
	r.source = &source{state: s, leastOhm: math.Inf(1), leastSeen: math.Inf(1)}
	r.sparks = newSparks(s, r.conduction)
	r.watch = newWatch(s, r.electrode, r.sparks)
	r.moments = &moments{state: s, atOnce: r.injury.atOnce}
	return r
}

// leastCells is the number of cells from which a second core pays (measured).
const leastCells = 20000

// spread has passes over a large mesh run on up to two of n cores.
func (r *run) spread(n int) {
	if r.m.Cells() < leastCells {
		return
	}
	r.cores = cores.New(n)
	r.heat.Spread(r.cores)
	r.conduction.spread()
}

// simulate computes the activations of a case; last: no case follows.
func (r *run) simulate(ctx context.Context, c *Case, last bool, opt Options) error {
	r.totalS = c.TotalS()
	for n, begunS := range c.StartsS() {
		r.begin(c.activation(n), begunS)
		if err := r.activation(ctx, last && n+1 == c.Activations(), opt); err != nil {
			return err
		}
	}
	return nil
}

// activation is the loop over time. A step, with everything it needs held constant,
//
//	electrode:  where it is; the tissue it removes; contacts and heat loss there
//	conduction: div(sigma(T, w) grad phi) = 0, sparks and the source's voltage with it
//	warming:    rho c dT/dt = div(k grad T) + q - perfusion - boiling
//	injury:     dOmega/dt = A exp(-Ea/RT)
func (r *run) activation(ctx context.Context, last bool, opt Options) error {
	total := r.lengthS()
	if r.Rest && r.nth == 1 {
		r.rest()
	}
	for r.sinceS < total {
		if err := ctx.Err(); err != nil {
			return err
		}
		end := r.switchTo(total)
		// Whole steps of equal length up to the next switching time, planned again once
		// the field is known: the electrode may have come to tissue it boils at once.
		n, dt := r.steps(end)
		r.electrode.place(dt)
		r.energise()
		if h := r.sol.HeatS; r.solved && !(h >= 0 && h < math.Inf(1)) {
			return r.failure(r.m.Plane(), fmt.Sprintf("the electric field has no solution: it would heat by %g W at 1 V", h))
		}
		if more, shorter := r.steps(end); shorter < dt {
			n, dt = more, shorter
		}
		r.stepS = dt
		if r.sinceS == 0 || r.switched {
			r.sample()
		}
		if err := r.warming.step(dt); err != nil {
			return err
		}
		r.pass(dt)
		if n == 1 {
			r.reach(end)
			r.conduction.perS = math.Inf(1) // as far as is known of what comes now
		}
		r.tally(dt)
		// The switch of a mode is a step: a row on either side.
		r.switched = r.sinceS == r.severedS || r.sinceS == end && (r.sinceS == r.Drive.OnS || r.recorded(r.sinceS) && r.sinceS < total)
		due := r.clockS >= r.nextS-1e-9*r.stepS || r.switched || r.sinceS == total
		if due {
			r.heat.CatchUp()
		}
		if err := r.injury.step(dt, due); err != nil {
			return err
		}
		if due {
			r.sample()
			r.nextS = r.clockS + r.sampleS(r.sinceS < r.offS())
		}
		if opt.Progress != nil {
			opt.Progress(r.clockS, r.all.totalS)
		}
	}
	if r.switched && last {
		r.mode, r.supply = drive.Mode{}, drive.Supply{}
		r.sample()
	}
	return nil
}

// pass lets dt seconds pass.
func (r *run) pass(dt float64) {
	r.clockS += dt
	r.timeS = r.clockS - r.caseS
	r.sinceS = r.timeS - r.begunS
}

// reach sets the time to endS after the activation began, free of rounding.
func (r *run) reach(endS float64) {
	r.sinceS, r.timeS = endS, r.begunS+endS
	r.clockS = r.caseS + r.timeS
}

// sample appends a row of history.
func (r *run) sample() {
	r.watch.sample()
	r.moments.keep()
}

// rest brings the body to rest before the current and records its temperatures.
func (r *run) rest() {
	r.electrode.place(0)
	r.warming.settle()
}

// switchTo sets the mode of the source from now on and returns until when it holds, s.
func (r *run) switchTo(total float64) (end float64) {
	mode, end := r.Drive.At(r.sinceS)
	if r.sinceS >= r.severedS {
		mode, end = drive.Mode{}, total
	}
	r.mode = mode
	return math.Min(end, total)
}

// energise brings the electric field up to date for the coming step: the voltage that the
// source gives now, sparks, and the field if it is stale.
func (r *run) energise() {
	if r.mode.DutyCycle == 0 {
		r.source.rest()
		return
	}
	if r.solved {
		r.source.regulate()
	}
	// Sparks hang on what the last solution says: where they are far from agreeing, as
	// at the start of a pulse, some solutions more settle them.
	for n := range mostSolutions {
		r.sparks.set()
		// Within a step nothing but sparks changes.
		if (n > 0 || !r.conduction.stale()) && r.sparks.settled() {
			break
		}
		r.heat.SourceChanges()
		r.conduction.solve()
		r.source.regulate()
		r.sparks.solved()
	}
}

// mostSolutions is the most solutions of the field in one step.
const mostSolutions = 4

// tally adds up what flowed during a step of dt seconds.
func (r *run) tally(dt float64) {
	r.conduction.tally(dt)
	r.source.tally(dt)
	r.sparks.tally(dt)
	r.electrode.tally(dt)
}
