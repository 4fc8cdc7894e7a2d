package thermal

import (
	"context"
	"fmt"
	"math"

	"muralheat/thermal/drive"
)

// Options are what a caller may ask of a run besides its physics.
type Options struct {
	Progress func(doneS, totalS float64) // called after every step with simulated time
	MaxBytes float64                     // refuse a mesh that needs more memory; 0: no limit
	Moments  int                         // keep at most so many, at least 2; 0: none
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

// Simulate computes the case. The error is nil, ctx's, a *TooLarge or a *Failure.
func Simulate(ctx context.Context, c *Case, opt Options) (*Result, error) {
	grid := c.Grid()
	if kept := grid.MomentBytes(opt.Moments); opt.MaxBytes > 0 && grid.Bytes()+kept > opt.MaxBytes {
		return nil, &TooLarge{grid, opt.MaxBytes - kept}
	}
	r := newRun(c, grid)
	r.moments.dueS = c.momentsS(opt.Moments)
	err := r.simulate(ctx, opt)
	for _, p := range r.parts() {
		p.report(r.res)
	}
	r.res.Balance.close(r.heat.AtRestW() * r.timeS)
	return r.res, err
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
}

// part is a piece of physics with its own state.
type part interface {
	// report writes what the part knows into the result, its terms of the energy balance and
	// its remarks. Parts report in the order of run.parts; later ones may read what earlier
	// ones wrote.
	report(*Result)
}

func (r *run) parts() []part {
	return []part{r.injury, r.conduction, r.source, r.sparks, r.warming, r.electrode}
}

func newRun(c *Case, grid Grid) *run {
	m := grid.Mesh()
	n := m.Len()
	s := &state{
		Case: c, m: m, layerOf: c.layerOf(m), finestM: grid.FinestM, severedS: math.NaN(),
		q: make([]float64, n), spark: make([]float64, n), peakC: make([]float64, n),
	}
	s.res = &Result{Case: c, Mesh: m, LayerOf: s.layerOf}
	r := &run{state: s}
	r.warming = newWarming(s)
	r.injury = newInjury(s, grid)
	r.electrode = newElectrode(s)
	r.conduction = newConduction(s)
	r.source = &source{state: s, leastOhm: math.Inf(1), leastSeen: math.Inf(1)}
	r.sparks = newSparks(s, r.conduction)
	r.watch = newWatch(s, r.electrode, r.sparks)
	r.moments = &moments{state: s, atOnce: r.injury.atOnce}
	return r
}

// TotalS is the simulated time, current and cooling, in seconds.
func (c *Case) TotalS() float64 { return c.Drive.OnS + c.AfterS }

// simulate is the loop over time. A step, with everything it needs held constant,
//
//	electrode:  where it is; the tissue it removes; contacts and heat loss there
//	conduction: div(sigma(T, w) grad phi) = 0, sparks and the source's voltage with it
//	warming:    rho c dT/dt = div(k grad T) + q - perfusion - boiling
//	injury:     dOmega/dt = A exp(-Ea/RT)
func (r *run) simulate(ctx context.Context, opt Options) error {
	total := r.TotalS()
	next := 0.0 // when the next row of history is due
	if r.Rest {
		r.rest()
	}
	switched := false
	for r.timeS < total {
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
		if r.timeS == 0 || switched {
			r.sample()
		}
		if err := r.warming.step(dt); err != nil {
			return err
		}
		r.timeS += dt
		if n == 1 {
			r.timeS = end
		}
		r.tally(dt)
		// The switch of a mode is a step: a row on either side.
		switched = r.timeS == r.severedS || r.timeS == end && (r.timeS == r.Drive.OnS || r.recorded(r.timeS) && r.timeS < total)
		due := r.timeS >= next || switched || r.timeS == total
		if err := r.injury.step(dt, due); err != nil {
			return err
		}
		if due {
			r.sample()
			next = r.timeS + r.sampleS(r.timeS < r.offS())
		}
		if opt.Progress != nil {
			opt.Progress(r.timeS, total)
		}
	}
	if switched {
		r.mode, r.supply = drive.Mode{}, drive.Supply{}
		r.sample()
	}
	return nil
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
	mode, end := r.Drive.At(r.timeS)
	if r.timeS >= r.severedS {
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
	for range mostSolutions {
		r.sparks.set()
		if !r.conduction.stale() && r.sparks.settled() {
			break
		}
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
