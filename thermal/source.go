package thermal

import (
	"cmp"
	"math"
	"slices"

	"muralheat/thermal/drive"
)

// source is what the generator gives: it sets the voltage by its mode and its limits.
type source struct {
	*state
	limits []Limited // every one that ever held the voltage below what the mode asked for, with its time in s as Share

	energyJ, heatingA2S float64 // into the tissue
	terminalJ, leadsJ   float64 // at the terminals; lost between them and the electrode
	onS                 float64 // time for which it was on in activations before the present one
	flowS               float64 // time with current
	peakV               float64
	leastOhm, mostOhm   float64
	outsideS            float64 // time with current at loads outside the load line
	leastSeen, mostSeen float64 // ohm at the terminals then
	lineFrom, lineTo    float64 // ohm, the ends of that load line
}

// regulate sets the voltage by the mode of the source and the conductance solved last.
func (s *source) regulate() { s.supply = s.over(s.mode) }

// over returns what the source gives in mode to the conductance solved last.
func (s *state) over(mode drive.Mode) drive.Supply {
	if !s.burning {
		return mode.Across(0, s.sol.ConductanceS(), 1)
	}
	return mode.Across(s.Physics.SparkOnsetV, s.sol.ConductanceS(), s.striking)
}

// rest switches the voltage off.
func (s *source) rest() { s.supply = drive.Supply{} }

// tally adds up what flowed during a step of dt seconds.
func (s *source) tally(dt float64) {
	s.energyJ += s.powerW() * dt
	current := s.supply.FaceV * s.sol.ConductanceS()
	s.heatingA2S += current * current * dt
	terminalW := s.terminalW()
	s.terminalJ += terminalW * dt
	s.leadsJ += (s.mode.Path.LostShare*terminalW + s.mode.Path.SeriesOhm*current*current) * dt
	if s.mode.DutyCycle == 0 || s.supply.FaceV == 0 {
		return
	}
	s.flowS += dt
	if held := s.supply.Held; held != drive.None {
		s.limitedBy(held, math.Max(0, s.timeS-dt)).Share += dt
	}
	s.peakV = math.Max(s.peakV, s.supply.PeakV)
	r := s.ohm()
	s.leastOhm, s.mostOhm = math.Min(s.leastOhm, r), math.Max(s.mostOhm, r)
	if from, to, ok := s.mode.Limits.LineOhm(); ok && (s.supply.SeenOhm < from || s.supply.SeenOhm > to) {
		s.outsideS += dt
		s.leastSeen, s.mostSeen = math.Min(s.leastSeen, s.supply.SeenOhm), math.Max(s.mostSeen, s.supply.SeenOhm)
		s.lineFrom, s.lineTo = from, to
	}
}

// limitedBy returns what is counted of a limit, which holds from fromS on at the earliest.
func (s *source) limitedBy(l drive.Limit, fromS float64) *Limited {
	i := slices.IndexFunc(s.limits, func(k Limited) bool { return k.By == l })
	if i < 0 {
		i, s.limits = len(s.limits), append(s.limits, Limited{By: l, FromS: fromS})
	}
	return &s.limits[i]
}

// powerW is the power that the source delivers now, mean over bursts.
func (s *state) powerW() float64 {
	return s.supply.FaceV*s.supply.FaceV*s.sol.PowerS() + s.supply.GapW
}

// terminalW is the power that the source gives at its terminals now, mean over bursts: what its voltage there gives
// to the load, less what a capacitance in it only stores.
func (s *state) terminalW() float64 {
	idle := s.supply.FaceV * s.supply.FaceV * s.sol.IdleS
	return s.supply.TerminalW - idle/(1-s.mode.Path.LostShare)
}

// ohm is the resistance that the electrode sees now: RMS voltage over RMS current, a gap included.
func (s *state) ohm() float64 {
	r := 1 / s.sol.ConductanceS()
	if s.supply.FaceV > 0 {
		r *= s.supply.VoltageV / s.supply.FaceV
	}
	return r
}

// anew begins a new account.
func (s *source) anew() { *s = source{state: s.state, leastOhm: math.Inf(1), leastSeen: math.Inf(1)} }

func (s *source) report(r *Result) {
	sum := &r.Summary
	r.Balance.ElectricJ, r.Balance.TerminalJ, r.Balance.LeadsJ = s.energyJ, s.terminalJ, s.leadsJ
	sum.CrestFactor, sum.PeakVoltageV, sum.HeatingFactorA2S = s.Drive.CrestFactor(), s.peakV, s.heatingA2S
	if s.Drive.OnS > 0 {
		on := s.onS + math.Min(s.sinceS, s.offS())
		sum.MeanPowerW = s.energyJ / on
		sum.CurrentRMSA = math.Sqrt(s.heatingA2S / on)
	}
	sum.ResistanceRise = math.NaN()
	if s.flowS == 0 {
		return
	}
	sum.ResistanceRise = s.mostOhm / s.leastOhm
	if sum.OutsideLine = s.outsideS / s.flowS; sum.OutsideLine > 0 {
		r.note("Outside the load line: it ends at %.4g and %.4g ohm, and for %.3g %% of the time with current the terminals met %.4g to %.4g ohm. There the current or the voltage of its end is kept (assumption).",
			s.lineFrom, s.lineTo, 100*sum.OutsideLine, s.leastSeen, s.mostSeen)
	}
	for _, l := range s.limits {
		sum.LimitedShare += l.Share / s.flowS
		sum.Limited = append(sum.Limited, Limited{l.By, l.FromS, l.Share / s.flowS})
	}
	slices.SortStableFunc(sum.Limited, func(a, b Limited) int { return cmp.Compare(b.Share, a.Share) })
}
