package thermal

import (
	"math"

	"muralheat/thermal/drive"
)

// Sparks. Between the metal and the first cell that has its water lies dried tissue, in
// thickness d altogether (cells that are drying count by the share of water they lost). Sparks cross it while the voltage over it is above
//
//	onset(d) = SparkOnsetV + SparkVM d
//
// and take that voltage with them, so that the tissue behind is fed with the share
// passed(onset/peak) of the electrode's voltage (drive.Passed). They roam: each path
// through dried tissue gets an extra conductivity S passed, most where it is shortest,
// and S is such that sparks take the voltage they must, current by current. Where wet
// tissue close by keeps the potential up nothing is left for them, and they go out.
// Their heat falls into the dried cells they cross.

const (
	sparkStep = 30.0 // most change of their conductivity from one solution to the next

	// mostSparkSM is far above any tissue, S/m, and far below where the potential drop over
	// a spark is lost in rounding (assumption).
	mostSparkSM = 100.0
)

// sparks cross dried tissue.
type sparks struct {
	*state
	conduction *conduction
	last       []float64 // extra conductivity when the field was last solved, S/m
	sparking   []int     // cells with any
	lit, gone  []int     // those that had any then, and of these those that have none now
	paths      []dryPath
	dried      []int   // cells of the paths
	foreseen   float64 // conductance with sparks as they are set now, over that solved last
	flowS      float64 // time with current
	sparkS     float64 // of that, with sparks
	fromS      float64 // when they first carried current; NaN before
}

func newSparks(s *state, c *conduction) *sparks {
	return &sparks{state: s, conduction: c, last: make([]float64, s.m.Len()), fromS: math.NaN()}
}

// solved records the sparks that the field was solved with.
func (s *sparks) solved() {
	for _, p := range s.lit {
		s.last[p] = 0
	}
	s.lit = append(s.lit[:0], s.sparking...)
	for _, p := range s.lit {
		s.last[p] = s.spark[p]
	}
}

// settled reports whether the sparks agree with the field solved last: in conductance, and in resistivity where heat is.
func (s *sparks) settled() bool {
	return math.Abs(math.Log(s.foreseen)) <= s.Numerics.Resolve && s.conduction.changed(s.sparking)+s.conduction.changed(s.out()) <= s.Numerics.Resolve
}

// out returns the cells whose sparks went out since the field was last solved.
func (s *sparks) out() []int {
	s.gone = s.gone[:0]
	for _, p := range s.lit {
		if s.spark[p] == 0 {
			s.gone = append(s.gone, p)
		}
	}
	return s.gone
}

// dryPath is the path of a spark from a contact through dried cells, with what the last
// solution says of it.
type dryPath struct {
	first, last int // its cells in sparks.dried
	onsetV      float64
	sigma, dry  float64 // conductivity as solved, and without sparks, S/m
	lost        float64 // share of the voltage
	current     float64 // A/V
}

// findPaths lists the paths through dried tissue.
func (s *sparks) findPaths() {
	s.paths, s.dried = s.paths[:0], s.dried[:0]
	for _, f := range s.feeds {
		first, p, ok := len(s.dried), f.P, true
		dryM, squares, dry := 0.0, 0.0, math.Inf(1)
		for ; ok && s.gap(p) > 0 && !s.heat.Gone(p); p, ok = s.m.Beyond(p, f.Step) {
			sigma := s.drySigma(p)
			d := s.gap(p) * s.m.Extent(p, f.Step)
			dryM += d
			squares += d / (sigma + s.last[p])
			dry = math.Min(dry, sigma)
			s.dried = append(s.dried, p)
		}
		onset := s.Physics.SparkOnsetV + s.Physics.SparkVM*dryM
		if len(s.dried) == first || !ok || s.heat.Gone(p) {
			s.dried = s.dried[:first]
			continue
		}
		lost := math.Max(1-s.conduction.phi(p), 0)
		s.paths = append(s.paths, dryPath{first, len(s.dried), onset, dryM / squares, dry, lost, lost * f.AreaM2 / squares})
	}
}

// set sets the extra conductivity of dried cells for the voltage now, from the last
// solution.
func (s *sparks) set() {
	for _, p := range s.sparking {
		s.spark[p] = 0
	}
	s.sparking, s.foreseen = s.sparking[:0], 1
	if shapes[s.Electrode.Tip].gel || s.burning { // those of a front are its gap
		return
	}
	if !s.state.solved || s.supply.VoltageV*s.mode.CrestFactor() <= s.Physics.SparkOnsetV {
		return
	}
	s.findPaths()
	current, lost, extra, passed := 0.0, 0.0, 0.0, 0.0
	for _, w := range s.paths {
		current += w.current
		lost += w.current * w.lost
	}
	if current == 0 {
		return
	}
	f, gain, peak := s.lengthen(current, lost/current)
	for _, w := range s.paths {
		extra += w.current * (w.sigma/f - w.dry)
		passed += w.current * drive.Passed(w.onsetV/peak)
	}
	if extra <= 0 || passed == 0 {
		return
	}
	s.foreseen = gain
	for _, w := range s.paths {
		sigma := math.Min(extra/passed*drive.Passed(w.onsetV/peak), mostSparkSM)
		if sigma == 0 {
			continue
		}
		for _, p := range s.dried[w.first:w.last] {
			if s.spark[p] == 0 {
				s.sparking = append(s.sparking, p)
			}
			s.spark[p] = math.Max(s.spark[p], sigma)
		}
	}
}

// lengthen returns the factor by which the resistance of the sparks must change, which
// carried current (A/V) and took the share lost of the voltage at the last solution. The
// rest of the current's path is taken to stay as it was, so that the voltage of a source
// that holds its power follows; then what sparks pass rises and what two resistors in
// series pass falls with the factor: they agree once. It returns the conductance then, over
// that of now, and the peak voltage too.
func (s *sparks) lengthen(current, lost float64) (factor, gain, peakV float64) {
	lost = math.Min(math.Max(lost, 1e-4), 1-1e-6)
	crest := s.mode.CrestFactor()
	share := 1.0 // of the current, in sparks; a dry contact leaves InS with the error of the solution, of either sign
	if s.sol.InS > current {
		share = current / s.sol.InS
	}
	lo, hi := -math.Log(sparkStep), math.Log(sparkStep)
	for hi-lo > 0.01 {
		mid := (lo + hi) / 2
		r := 1 + (math.Exp(mid)-1)*lost
		gain = 1 - share + share/r
		v, _ := s.mode.VoltageV(s.sol.ConductanceS() * gain)
		peakV = v * crest
		passed := 0.0
		for _, w := range s.paths {
			passed += w.current * drive.Passed(w.onsetV/peakV)
		}
		if passed < current*(1-lost)/r {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Exp((lo + hi) / 2), gain, peakV
}

// share returns the share of the current that left the metal in sparks at the
// last solution.
func (s *sparks) share() float64 {
	if s.burning && s.supply.FaceV > 0 {
		return 1
	}
	if s.sol.InS <= 0 || len(s.sparking) == 0 {
		return 0
	}
	sum := 0.0
	for _, f := range s.feeds {
		extra := s.last[f.P]
		if extra == 0 || s.gap(f.P) == 0 {
			continue
		}
		sum += (1 - s.conduction.phi(f.P)) / (s.conduction.rho[f.P] * f.Squares) * extra / (extra + s.drySigma(f.P))
	}
	return math.Min(1, sum/s.sol.InS)
}

// sparkSeen is the share of the current in sparks from which sparks count as burning.
const sparkSeen = 0.01

// tally adds up a step of dt seconds.
func (s *sparks) tally(dt float64) {
	if s.mode.DutyCycle == 0 || s.currentA() == 0 {
		return
	}
	s.flowS += dt
	if s.share() > sparkSeen {
		s.sparkS += dt
		if math.IsNaN(s.fromS) {
			s.fromS = math.Max(0, s.timeS-dt)
		}
	}
}

// anew begins a new account of time.
func (s *sparks) anew() { s.flowS, s.sparkS, s.fromS = 0, 0, math.NaN() }

func (s *sparks) report(r *Result) {
	r.Summary.SparkFromS = s.fromS
	if s.flowS > 0 {
		r.Summary.SparkShare = s.sparkS / s.flowS
	}
	if r.Summary.SparkShare > 0 {
		r.note("Sparks carried current: their onset and what they need to cross dried tissue are assumptions.")
	}
}
