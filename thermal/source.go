package thermal

import (
	"math"
	"slices"
	"strings"

	"muralheat/thermal/drive"
)

// source is what the generator gives: it sets the voltage by its mode and its limits.
type source struct {
	*state
	limit  drive.Limit   // that holds the voltage below what the mode asks for now
	limits []drive.Limit // every one that ever did

	energyJ, heatingA2S float64
	flowS, limitedS     float64 // time with current; of that, held below the quantity set
	peakV               float64
	leastOhm, mostOhm   float64
}

// regulate sets the voltage by the mode of the source and the conductance solved last.
func (s *source) regulate() { s.voltageV, s.limit = s.mode.VoltageV(s.sol.ConductanceS()) }

// rest switches the voltage off.
func (s *source) rest() { s.voltageV, s.limit = 0, drive.None }

// tally adds up what flowed during a step of dt seconds.
func (s *source) tally(dt float64) {
	s.energyJ += s.voltageV * s.voltageV * s.sol.PowerS() * dt
	current := s.voltageV * s.sol.ConductanceS()
	s.heatingA2S += current * current * dt
	if s.mode.DutyCycle == 0 || s.voltageV == 0 {
		return
	}
	s.flowS += dt
	if s.limit != drive.None {
		s.limitedS += dt
		if !slices.Contains(s.limits, s.limit) {
			s.limits = append(s.limits, s.limit)
		}
	}
	s.peakV = math.Max(s.peakV, s.voltageV*s.mode.CrestFactor())
	r := 1 / s.sol.ConductanceS()
	s.leastOhm, s.mostOhm = math.Min(s.leastOhm, r), math.Max(s.mostOhm, r)
}

func (s *source) report(r *Result) {
	sum := &r.Summary
	r.Balance.ElectricJ = s.energyJ
	sum.CrestFactor, sum.PeakVoltageV, sum.HeatingFactorA2S = s.Drive.CrestFactor(), s.peakV, s.heatingA2S
	if s.Drive.OnS > 0 {
		on := math.Min(s.timeS, s.offS())
		sum.MeanPowerW = s.energyJ / on
		sum.CurrentRMSA = math.Sqrt(s.heatingA2S / on)
	}
	sum.ResistanceRise = math.NaN()
	if s.flowS > 0 {
		sum.ResistanceRise = s.mostOhm / s.leastOhm
		sum.LimitedShare = s.limitedS / s.flowS
	}
	if share := sum.LimitedShare; share > 0.01 {
		r.note("For %.3g %% of the time with current a limit of the source (%s) held it below what it was set to.", 100*share, joined(s.limits))
	}
}

func joined(limits []drive.Limit) string {
	var names []string
	for _, l := range limits {
		names = append(names, string(l))
	}
	return strings.Join(names, ", ")
}
