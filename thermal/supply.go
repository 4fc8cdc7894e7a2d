package thermal

import (
	"math"
	"slices"

	"muralheat/thermal/drive"
)

// energise brings current and heat up to date for the coming step: the voltage that the
// source gives now, sparks, and the field if it is stale.
func (s *simulation) energise() {
	if s.mode.DutyCycle == 0 {
		s.voltage, s.held = 0, drive.None
	} else {
		if s.isSolved {
			s.regulate()
		}
		// Sparks hang on what the last solution says: where they are far from agreeing, as
		// at the start of a pulse, some solutions more settle them.
		for range settle {
			s.sparks()
			if !s.stale() && math.Abs(math.Log(s.foreseen)) <= s.Numerics.Resolve {
				break
			}
			s.solve()
		}
	}
	s.power()
}

// settle is the most solutions of one step.
const settle = 4

// regulate sets the voltage by the mode of the source and the conductance solved last.
func (s *simulation) regulate() { s.voltage, s.held = s.mode.VoltageV(s.sol.ConductanceS()) }

// tally adds up what flowed during a step of dt seconds.
func (s *simulation) tally(dt float64) {
	b, sum := &s.res.Balance, &s.res.Summary
	v2 := s.voltage * s.voltage
	b.ElectricJ += v2 * s.sol.PowerS() * dt
	current := s.voltage * s.sol.ConductanceS()
	sum.HeatingFactorA2S += current * current * dt
	s.chargeC += current * dt
	s.leakC += current * dt * s.leak()
	b.FarJ += v2 * s.sol.FarS * dt
	if s.t <= s.offS() {
		s.travelM = s.where()
	}
	if s.mode.DutyCycle == 0 {
		return
	}
	r := 1 / s.sol.ConductanceS()
	if math.IsNaN(sum.ResistanceStartOhm) {
		sum.ResistanceStartOhm = r
	}
	sum.ResistanceEndOhm = r
	if s.voltage == 0 {
		return
	}
	s.flowS += dt
	s.lastV = s.voltage
	if s.held != drive.None {
		s.heldS += dt
		if !slices.Contains(s.holders, s.held) {
			s.holders = append(s.holders, s.held)
		}
	}
	if s.sparkCurrent() > sparkSeen {
		s.sparkS += dt
	}
	sum.PeakVoltageV = math.Max(sum.PeakVoltageV, s.voltage*s.mode.CrestFactor())
	s.leastOhm, s.mostOhm = math.Min(s.leastOhm, r), math.Max(s.mostOhm, r)
	if math.IsNaN(sum.DryOutS) && s.driedOut() {
		sum.DryOutS = s.t
	}
}

// sparkSeen is the share of the current in sparks from which sparks count as burning.
const sparkSeen = 0.01

// driedBelow is the share of water below which tissue at the metal counts as dried.
const driedBelow = 0.5

// driedOut reports whether no wet tissue touches the metal any more.
func (s *simulation) driedOut() bool {
	for _, c := range s.feeds {
		if s.heat.Water[c.P] >= driedBelow {
			return false
		}
	}
	return true
}
