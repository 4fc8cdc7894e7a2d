package thermal

import "math"

// steps returns how many steps lead up to time end of the activation, and how long each is, s. Long ones lead up to a row
// of history, so that rows stay where they are.
func (r *run) steps(end float64) (n, dt float64) {
	left, longest := r.caseS+(r.begunS+end)-r.clockS, r.stepFor()
	if row := math.Max(r.nextS-r.clockS, r.Numerics.MaxStepS); longest > r.Numerics.MaxStepS && row < left-r.Numerics.MaxStepS/2 {
		n = math.Ceil(row/longest - 1e-9)
		return n + 1, row / n // not the last one up to end
	}
	n = math.Max(1, math.Ceil(left/longest-1e-9))
	return n, left / n
}

// stepFor returns the longest step that may come: at most what calmS allows, and a small
// part of a cell of the electrode's path. It is shorter while heat would boil off more than a
// tenth of a cell's water: the current must be able to move elsewhere.
func (r *run) stepFor() float64 {
	dt := math.Min(r.calmS(), r.electrode.body.longestS())
	if v := r.electrode.speedMS(); v > 0 && r.mode.DutyCycle > 0 && !r.stepsFreely() {
		across := stepsPerCell
		if r.burning {
			across = burningSteps
		}
		dt = math.Min(dt, r.finestM/(float64(across)*v))
	}
	if r.mode.DutyCycle == 0 || !r.solved || !r.Physics.Boiling {
		return dt
	}
	const least = 2e-4 // s
	return math.Min(dt, math.Max(least, 0.1/r.conduction.fastestDrying(r.mode)))
}

// A step is longer than Numerics.MaxStepS, up to calmSteps times, while resistivity changes by less than calmPart of
// Numerics.Resolve in it: the field is not solved in most steps then. (A quarter and the whole for the part leave the
// depth of all examples at rest within 0.0013 mm; measured.)
const (
	calmSteps = 4
	calmPart  = 0.5
)

// calmS is the longest step as calm as things are. It ends at a row of history, if one comes before (steps).
func (r *run) calmS() float64 {
	least, most := r.Numerics.MaxStepS, calmSteps*r.Numerics.MaxStepS
	switch off := r.mode.DutyCycle == 0; {
	case r.Motion.Moving() && (!off || r.electrode.speedMS() > 0):
		return least
	case !off && len(r.sparks.sparking) > 0: // they change from step to step
		return least
	case !off:
		most = math.Min(most, calmPart*r.Numerics.Resolve/r.conduction.perS)
	}
	// Heat makes steps of its own within this one, metal does not.
	return math.Max(least, math.Min(most, r.electrode.body.longestS()/calmSteps))
}

// MostSwitches is the number of switches up to which each gets its rows of history;
// beyond it only those of every second, third, ... period do.
const MostSwitches = 200

// recorded reports whether a switch of pulses at time t has rows of its own.
func (r *run) recorded(t float64) bool {
	p := r.Drive.Pulses
	if p == nil {
		return true
	}
	every := math.Ceil(r.all.edges / MostSwitches)
	return math.Mod(math.Ceil(t/p.PeriodS-1e-9)-1, every) == 0
}

// sampleS is the spacing of history, s: 200 rows while current flows, 100 after; of several activations together, but
// for each at least 20 and 10.
func (r *run) sampleS(on bool) float64 {
	if on {
		return r.Drive.OnS / math.Max(20, 200*(r.Drive.OnS/r.all.onS))
	}
	share := 1.0
	if r.all.afterS > 0 {
		share = r.AfterS / r.all.afterS
	}
	return (r.lengthS() - r.offS()) / math.Max(10, 100*share)
}
