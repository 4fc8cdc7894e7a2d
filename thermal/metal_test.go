package thermal

import (
	"math"
	"testing"

	"muralheat/thermal/heat"
)

// Metal that touches tissue of one temperature follows it as a lumped body with a loss,
//
//	C dT/dt = h A (T_tissue - T) - G (T - T0)
//
// (Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, lumped capacitance, from memory).
func TestMetalWarmsAsALumpedBody(t *testing.T) {
	const hA, loss, capacity, tissueC, startC = 0.03, 0.01, 0.02, 90.0, 37.0
	s := &state{Case: &Case{Electrode: Electrode{CapacityJK: capacity, LossWK: loss, Surface: Surface{HeatTransferWM2K: 1e4, TemperatureC: startC}}}, heat: &heat.Solver{}}
	m := newMetal(s)
	m.touchWK = hA
	if got, want := m.longestS(), 0.3*capacity/(hA+loss); math.Abs(got-want) > 1e-12 {
		t.Errorf("longest step %g s, want %g", got, want)
	}
	const dt = 1e-4
	rest := startC + hA*(tissueC-startC)/(hA+loss)
	for n := 1; n <= 10000; n++ {
		s.heat.ElectrodeJ += hA * (tissueC - m.tC) * dt
		m.tally(dt)
		if n%2500 == 0 {
			now := float64(n) * dt
			want := rest + (startC-rest)*math.Exp(-(hA+loss)/capacity*now)
			if math.Abs(m.tC-want) > 0.01 {
				t.Errorf("after %g s %.3f C, want %.3f", now, m.tC, want)
			}
		}
	}
	if m.peakC != m.tC {
		t.Errorf("hottest %g, now %g C", m.peakC, m.tC)
	}
	// While a front burns metal does not touch, and metal without a capacity is held.
	before := m.tC
	s.burning = true
	s.heat.ElectrodeJ -= 1
	m.tally(dt)
	if want := before - loss*(before-startC)*dt/capacity; math.Abs(m.tC-want) > 1e-9 {
		t.Errorf("in vapour %g C, want %g", m.tC, want)
	}
	s.Electrode.CapacityJK = 0
	s.heat.ElectrodeJ += 5
	if m.tally(dt); m.tC == 0 || !math.IsInf(m.longestS(), 1) {
		t.Error("held metal asks for short steps")
	}
}
