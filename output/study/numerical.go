package study

import "math"

// depthErrorsMM is how far depths of a quality may lie from those of ever finer meshes, as far as
// was found; assumption: also in the sweep at hand, of which each case has one mesh. At rest at
// standard the examples were within 0.054 mm of cells of 25 um, a boiling case within 0.036 mm of
// finite elements; on tracks within about 0.1 mm of a mesh twice as fine. The error goes with the
// cells, which are twice as large at draft and about half as large at fine.
var depthErrorsMM = map[string]float64{"draft": 0.16, "standard": 0.08, "fine": 0.04}

// trackError is how much larger it is where the electrode moves.
const trackError = 1.25

// depthErrorMM is the numerical error assumed of the depths of a sweep; NaN if its quality is not known.
func (t *SweepTable) depthErrorMM() float64 {
	e, known := depthErrorsMM[t.Quality]
	switch {
	case !known:
		return math.NaN()
	case t.Moving:
		return trackError * e
	}
	return e
}
