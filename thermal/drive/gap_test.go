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
		s := tt.mode.Across(gap, 1/ohm, 1, Beside{})
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
	if s := (Mode{DutyCycle: 1, PowerW: 30, Limits: Limits{PeakVoltageV: 190}}).Across(gap, 1/ohm, 1, Beside{}); s.FaceV != 0 || s.GapW != 0 {
		t.Errorf("below the gap's voltage: %+v", s)
	}
	none := Mode{DutyCycle: 0.5, PowerW: 30, Limits: Limits{PeakVoltageV: 250}}
	v, held := none.VoltageV(1 / ohm)
	if s := none.Across(0, 1/ohm, 1, Beside{}); s.VoltageV != v || s.FaceV != v || s.GapW != 0 || s.Held != held {
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

// A load beside the gap, and a series resistance before both, against a sine in steps: at the terminals, over the electrode, in the
// gap and behind it. Without a strike the load beside it alone is fed.
func TestAcrossWithALoadBeside(t *testing.T) {
	const ohm, gap, striking = 400.0, 200.0, 0.6
	mode := Mode{DutyCycle: 0.5, PowerW: 40, Path: Path{SeriesOhm: 60, LostShare: 0.1}}
	beside := Beside{ConductanceS: 1 / 1000.0, OpenShare: 0.25}
	s := mode.Across(gap, 1/ohm, striking, beside)
	const n = 200000
	terminal := math.Sqrt(40 * s.SeenOhm) // held power at the load that the terminals see
	var v2, w2, gapW, terminalW, seriesW float64
	for i := range n {
		vt := terminal * mode.CrestFactor() * math.Sin(math.Pi/2*(float64(i)+0.5)/n)
		for strikes, share := range map[bool]float64{true: striking, false: 1 - striking} {
			// Node voltages of the resistors: w = over v - gap, vt - v = series (over w/ohm + v beside).
			over, gb := 1-beside.OpenShare, beside.ConductanceS
			v := vt / (1 + 60*gb)
			w := 0.0
			if strikes && over*v > gap {
				v = (vt + 60*over*gap/ohm) / (1 + 60*(over*over/ohm+gb))
				w = over*v - gap
			}
			current := over*w/ohm + gb*v
			part := mode.DutyCycle * share / n
			v2 += part * v * v
			w2 += part * w * w
			gapW += part * gap * w / ohm
			seriesW += part * 60 * current * current
			terminalW += part * vt * current / 0.9
		}
	}
	for what, c := range map[string][2]float64{
		"V on the electrode": {s.VoltageV, math.Sqrt(v2)}, "V over the tissue": {s.FaceV, math.Sqrt(w2)},
		"W in the gap": {s.GapW, gapW}, "W in series": {s.SeriesW, seriesW}, "W at the terminals": {s.TerminalW, terminalW}, "W held": {s.TerminalW, 40},
	} {
		if !(c[1] > 0) || math.Abs(c[0]/c[1]-1) > 1e-6 {
			t.Errorf("%s: %g, by steps %g", what, c[0], c[1])
		}
	}
	if parts := (w2/ohm + gapW + v2*beside.ConductanceS + seriesW) / 0.9; math.Abs(parts/40-1) > 1e-6 {
		t.Errorf("%g W in the parts, want 40", parts)
	}
	if !mode.Strikes(gap, beside) {
		t.Error("does not strike")
	}
	heavy := Beside{ConductanceS: 1 / 20.0, OpenShare: 0.25}
	if mode.Strikes(gap, heavy) {
		t.Error("strikes beside 20 ohm")
	}
	if s := mode.Across(gap, 1/ohm, 1, heavy); s.FaceV != 0 || s.GapW != 0 || math.Abs(s.VoltageV*s.VoltageV/20/(0.9*40*20/80)-1) > 1e-9 {
		t.Errorf("too heavy a load beside: %+v", s)
	}
}
