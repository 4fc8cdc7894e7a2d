package drive

import (
	"math"
	"testing"
)

// A gap against the currents of two diodes added up in steps of the sine, and the source against
// what it is to hold: power, peak voltage, whichever limit is lower.
func TestAcross(t *testing.T) {
	const ohm, gap = 400.0, 200.0
	for _, tt := range []struct {
		name string
		mode Mode
		held Limit
	}{
		{"power", Mode{DutyCycle: 1, PowerW: 30}, None},
		{"power, interrupted", Mode{DutyCycle: 0.25, PowerW: 30}, None},
		{"limit of the peak voltage", Mode{DutyCycle: 1, PowerW: 60, Limits: Limits{PeakVoltageV: 240}}, PeakVoltage},
		{"held peak voltage", Mode{DutyCycle: 0.5, PeakVoltageV: 300}, None},
		{"limit of the power", Mode{DutyCycle: 0.5, PeakVoltageV: 500, Limits: Limits{PowerW: 12}}, Power},
	} {
		s := tt.mode.Across(gap, 1/ohm, 1)
		peak := s.VoltageV * tt.mode.CrestFactor()
		const n = 100000
		square, mean := 0.0, 0.0
		for i := range n {
			u := math.Max(0, peak*math.Sin(math.Pi/2*(float64(i)+0.5)/n)-gap)
			square += u * u / n
			mean += u / n
		}
		d := tt.mode.DutyCycle
		if face := math.Sqrt(d * square); math.Abs(s.FaceV-face) > 1e-6*face {
			t.Errorf("%s: %g V over the tissue, by steps %g", tt.name, s.FaceV, face)
		}
		if w := d * gap * mean / ohm; math.Abs(s.GapW-w) > 1e-6*w {
			t.Errorf("%s: %g W in the gap, by steps %g", tt.name, s.GapW, w)
		}
		want := map[string]float64{"power": 30, "power, interrupted": 30, "limit of the power": 12}[tt.name]
		if p := s.FaceV*s.FaceV/ohm + s.GapW; want != 0 && math.Abs(p-want) > 1e-6*want {
			t.Errorf("%s: %g W in all, want %g", tt.name, p, want)
		}
		if v := map[string]float64{"limit of the peak voltage": 240, "held peak voltage": 300}[tt.name]; v != 0 && math.Abs(peak-v) > 1e-6*v {
			t.Errorf("%s: peak %g V, want %g", tt.name, peak, v)
		}
		if s.Held != tt.held {
			t.Errorf("%s: held by %q", tt.name, s.Held)
		}
	}
	if s := (Mode{DutyCycle: 1, PowerW: 30, Limits: Limits{PeakVoltageV: 190}}).Across(gap, 1/ohm, 1); s.FaceV != 0 || s.GapW != 0 {
		t.Errorf("below the gap's voltage: %+v", s)
	}
	none := Mode{DutyCycle: 0.5, PowerW: 30, Limits: Limits{PeakVoltageV: 250}}
	v, held := none.VoltageV(1 / ohm)
	if s := none.Across(0, 1/ohm, 1); s.VoltageV != v || s.FaceV != v || s.GapW != 0 || s.Held != held {
		t.Errorf("no gap: %+v", s)
	}
}

// A falling function is solved to rounding, smooth, steep at one end, or with a jump, and within what was bracketed.
func TestFalling(t *testing.T) {
	for name, c := range map[string]struct {
		lo, hi, want float64
		f            func(x float64) float64
	}{
		"line":      {0, 10, 3, func(x float64) float64 { return 3 - x }},
		"far end":   {1, 1e7, 200, func(x float64) float64 { return math.Sqrt(8e6/x) - x }},
		"jump":      {0, 1, 0.3, func(x float64) float64 { return math.Copysign(1, 0.3-x) }},
		"all above": {1, 2, 2, func(x float64) float64 { return 5 - x }},
		"all below": {1, 2, 1, func(x float64) float64 { return 0.5 - x }},
	} {
		n := 0
		got := falling(c.lo, c.hi, func(x float64) float64 { n++; return c.f(x) })
		if math.Abs(got-c.want) > 1e-12*c.want || n > 200 {
			t.Errorf("%s: %.15g after %d steps, want %g", name, got, n, c.want)
		}
	}
}
