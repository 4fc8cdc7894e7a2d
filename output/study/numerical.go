package study

import "math"

// depthErrorsMM is how far depths of a quality may lie from those of ever finer meshes; assumption: also
// in the sweep at hand, of which each case has one mesh. Of the 48 cases of the plans of duty cycle and
// of pressure, standard and fine, with cells half as large, differ by up to 0.077 mm, most with the same
// sign. An error that goes with the cells is then that at fine, and twice that at standard.
var depthErrorsMM = map[string]float64{"draft": 0.32, "standard": 0.16, "fine": 0.08}

// trackError is how much larger it is where the electrode moves: depths on tracks are within about
// 0.1 mm of those on a mesh twice as fine.
const trackError = 1.25

// depthErrorMM is the numerical error assumed of the depths of a sweep; NaN if its quality is not known.
func (t *SweepTable) depthErrorMM() float64 { return numericalMM(t.Quality, t.Moving) }

// numericalMM is the numerical error assumed of depths of a quality, at rest or on a track; NaN if it is not known.
func numericalMM(quality string, moving bool) float64 {
	e, known := depthErrorsMM[quality]
	switch {
	case !known:
		return math.NaN()
	case moving:
		return trackError * e
	}
	return e
}

// marginErrorMM is the numerical error assumed of the margin in a row, which is that of its depth; NaN if its quality is
// not known. An error model made of cases of the sweep itself belongs here: probabilities and pairs ask for nothing else.
func (t *SweepTable) marginErrorMM(_ int) float64 { return t.depthErrorMM() }
