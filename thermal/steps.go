package thermal

import "math"

// steps returns how many steps lead up to time end of the activation, and how long each is, s.
func (r *run) steps(end float64) (n, dt float64) {
	left := r.caseS + (r.begunS + end) - r.clockS
	n = math.Max(1, math.Ceil(left/r.stepFor()-1e-9))
	return n, left / n
}

// stepFor returns the longest step that may come: at most the numerics' longest, and a small
// part of a cell of the electrode's path. It is shorter while heat would boil off more than a
// tenth of a cell's water: the current must be able to move elsewhere.
func (r *run) stepFor() float64 {
	dt := math.Min(r.Numerics.MaxStepS, r.electrode.body.longestS())
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
