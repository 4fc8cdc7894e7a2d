package drive

import (
	"math"
	"testing"
)

// Limits: none, by peak voltage, by current, by whichever is lower. Expected values
// by Ohm's law.
func TestVoltage(t *testing.T) {
	for _, c := range []struct {
		name    string
		d       Mode
		ohm     float64
		want    float64 // V RMS
		limited Limit
	}{
		{"power", Mode{PowerW: 40, DutyCycle: 1}, 500, math.Sqrt(20000), None},
		{"duty cycle leaves the mean power alone", Mode{PowerW: 40, DutyCycle: 0.06}, 500, math.Sqrt(20000), None},
		{"peak voltage, sine", Mode{PowerW: 40, DutyCycle: 1, Limits: Limits{PeakVoltageV: 100}}, 500, 100 / math.Sqrt2, PeakVoltage},
		{"peak voltage, half of the time on", Mode{PowerW: 40, DutyCycle: 0.5, Limits: Limits{PeakVoltageV: 100}}, 500, 50, PeakVoltage},
		{"peak voltage not reached", Mode{PowerW: 40, DutyCycle: 0.5, Limits: Limits{PeakVoltageV: 300}}, 500, math.Sqrt(20000), None},
		{"current", Mode{PowerW: 40, DutyCycle: 1, Limits: Limits{CurrentA: 0.1}}, 500, 50, Current},
		{"both, current lower", Mode{PowerW: 40, DutyCycle: 1, Limits: Limits{PeakVoltageV: 100, CurrentA: 0.1}}, 500, 50, Current},
		{"both, voltage lower", Mode{PowerW: 40, DutyCycle: 0.5, Limits: Limits{PeakVoltageV: 60, CurrentA: 0.1}}, 500, 30, PeakVoltage},
		{"current within a burst", Mode{PowerW: 40, DutyCycle: 0.25, Limits: Limits{CurrentA: 0.1}}, 500, 25, Current}, // 0.05 A in the mean
		{"power", Mode{PowerW: 40, DutyCycle: 0.25, Limits: Limits{PowerW: 5}}, 500, 50, Power},
		{"load line", Mode{PowerW: 40, DutyCycle: 0.25, Limits: Limits{LoadLine: []Load{{100, 1}, {500, 5}}}}, 500, 50, LoadLine},
		{"load line not reached", Mode{PowerW: 40, DutyCycle: 0.25, Limits: Limits{LoadLine: []Load{{500, 50}}}}, 500, math.Sqrt(20000), None},
		{"held voltage, sine", Mode{PeakVoltageV: 100, DutyCycle: 1}, 500, 100 / math.Sqrt2, None},
		{"held voltage, an eighth of the time on", Mode{PeakVoltageV: 100, DutyCycle: 0.125}, 500, 25, None},
		{"held voltage, by power", Mode{PeakVoltageV: 400, DutyCycle: 0.5, Limits: Limits{PowerW: 5}}, 500, 50, Power},
		{"off", Mode{}, 500, 0, None},
		{"nothing asked", Mode{DutyCycle: 1, Limits: Limits{PeakVoltageV: 60}}, 500, 0, None},
	} {
		v, limited := c.d.VoltageV(1 / c.ohm)
		if math.Abs(v-c.want) > 1e-12*c.want || limited != c.limited {
			t.Errorf("%s: %g V, limit %q; want %g, %v", c.name, v, limited, c.want, c.limited)
		}
	}
}

// A limited source never delivers more than an unlimited one, over any load.
func TestLimitsOnlyLower(t *testing.T) {
	free := Mode{PowerW: 30, DutyCycle: 0.25}
	held := free
	held.Limits = Limits{PeakVoltageV: 250, CurrentA: 0.4}
	for ohm := 1.0; ohm < 1e6; ohm *= 1.3 {
		v, _ := held.VoltageV(1 / ohm)
		if p := v * v / ohm; p > 30*(1+1e-12) || v*held.CrestFactor() > 250*(1+1e-12) || v/ohm > 0.4*(1+1e-12) {
			t.Errorf("%g ohm: %g W, %g V peak, %g A", ohm, p, v*held.CrestFactor(), v/ohm)
		}
	}
}
