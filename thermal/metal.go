package thermal

import (
	"math"

	"muralheat/mesh"
)

// metal is the heat of the electrode's metal, one temperature for all of it: it takes heat from what it
// touches and loses it along its wire,
//
//	C dT/dt = heat from tissue - G (T - Surface.TemperatureC)
//
// With Electrode.CapacityJK 0 it is held at Surface.TemperatureC. While a front burns it does not touch.
type metal struct {
	*state
	tC, peakC float64
	touchWK   float64 // conductance of all contacts now, W/K
	beforeJ   float64 // ledger of the heat to the metal at the last tally
}

func newMetal(s *state) *metal {
	c := s.Electrode.TemperatureC
	return &metal{state: s, tC: c, peakC: c}
}

// touch sets what the metal touches in the coming step.
func (m *metal) touch(contacts []mesh.Contact) {
	area := 0.0
	for _, c := range contacts {
		area += c.AreaM2
	}
	m.touchWK = area * m.Electrode.HeatTransferWM2K
}

// longestS is the step up to which the temperature follows steadily.
func (m *metal) longestS() float64 {
	if m.Electrode.CapacityJK == 0 {
		return math.Inf(1)
	}
	const part = 0.3 // of the time in which it would come to rest
	return part * m.Electrode.CapacityJK / (m.touchWK + m.Electrode.LossWK)
}

// change takes another electrode, as warm as it starts.
func (m *metal) change() {
	m.tC = m.Electrode.TemperatureC
	m.peakC = math.Max(m.peakC, m.tC)
}

// tally warms the metal by what it took in a step of dt seconds.
func (m *metal) tally(dt float64) {
	taken := m.heat.ElectrodeJ - m.beforeJ
	m.beforeJ = m.heat.ElectrodeJ
	if m.Electrode.CapacityJK == 0 {
		return
	}
	if m.burning {
		taken = 0
	}
	m.tC += (taken - m.Electrode.LossWK*(m.tC-m.Electrode.TemperatureC)*dt) / m.Electrode.CapacityJK
	m.peakC = math.Max(m.peakC, m.tC)
}
