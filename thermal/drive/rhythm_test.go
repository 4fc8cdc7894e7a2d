package drive

import (
	"math"
	"testing"
)

func rhythm(lengthS, periodS, onS float64) *Drive {
	return &Drive{Mode: Mode{DutyCycle: 0.5, PowerW: 40}, OnS: onS, Pulses: &Pulses{LengthS: lengthS, PeriodS: periodS, Between: Mode{DutyCycle: 0.08, PowerW: 6}}}
}

var off = Mode{}

// same compares what tells the modes of these tests apart.
func same(a, b Mode) bool { return a.DutyCycle == b.DutyCycle && a.PowerW == b.PowerW }

func TestAtWithoutPulses(t *testing.T) {
	d := Drive{Mode: Mode{DutyCycle: 1, PowerW: 10}, OnS: 2}
	for _, c := range []struct {
		t     float64
		mode  Mode
		until float64
	}{
		{0, d.Mode, 2}, {1.999, d.Mode, 2}, {2, off, math.Inf(1)}, {3, off, math.Inf(1)},
	} {
		if m, until := d.At(c.t); !same(m, c.mode) || until != c.until {
			t.Errorf("at %g s: %+v until %g s", c.t, m, until)
		}
	}
	if d.Edges() != 1 || d.PulseShare() != 1 {
		t.Errorf("%g edges, share %g", d.Edges(), d.PulseShare())
	}
}

// The mode at an edge is the one that begins there, also where adding up steps has
// ended a hair before or after it.
func TestAtEdges(t *testing.T) {
	d := rhythm(0.05, 0.6, 1.7)
	pulse, between := d.Mode, d.Pulses.Between
	for _, c := range []struct {
		t     float64
		mode  Mode
		until float64
	}{
		{0, pulse, 0.05}, {0.049, pulse, 0.05}, {0.05, between, 0.6}, {0.3, between, 0.6},
		{0.6, pulse, 0.65}, {0.65, between, 1.2}, {1.2, pulse, 1.25}, {1.25, between, 1.7}, {1.7, off, math.Inf(1)},
	} {
		for _, hair := range []float64{0, -1e-12, 1e-12} {
			if c.t+hair < 0 || c.t == d.OnS && hair < 0 {
				continue
			}
			if m, until := d.At(c.t + hair); !same(m, c.mode) || math.Abs(until-c.until) > 1e-12 && until != c.until {
				t.Errorf("at %g%+g s: %+v until %g s, want %+v until %g s", c.t, hair, m, until, c.mode, c.until)
			}
		}
	}
}

// Walking from edge to edge in steps that are added up, as a run does, meets every
// edge once, spends the share of pulses in them, and ends on time to the bit.
func TestWalk(t *testing.T) {
	for _, c := range []struct{ length, period, on, edges, inPulsesS float64 }{
		{0.05, 0.6, 6, 20, 0.5},
		{0.05, 0.6, 6.02, 21, 0.52},            // ends in a pulse
		{0.05, 0.6, 6.05, 21, 0.55},            // with a pulse
		{0.05, 0.6, 6.3, 22, 0.55},             // between pulses
		{0.1, 0.3, 0.9, 6, 0.3},                // 3 x 0.3 < 0.9 in binary
		{0.1, 0.3, 0.3 + 0.3 + 0.3, 6, 0.3},    // and another 0.9
		{0.05, 0.1, 0.7, 14, 0.35},             // 7 x 0.1 > 0.7 in binary
		{0.001, 0.0017, 1, 1177, 0.588 + 4e-4}, // 588 whole periods and 0.4 ms
		{0.05, 0.6, 0.02, 1, 0.02},
		{60, 600, 600, 2, 60},
	} {
		d := rhythm(c.length, c.period, c.on)
		edges, inPulses, now := 0.0, 0.0, 0.0
		for now < d.OnS {
			m, until := d.At(now)
			if until <= now || until > d.OnS || edges > c.edges {
				t.Fatalf("%+v: from %g until %g s", c, now, until)
			}
			if same(m, d.Mode) {
				inPulses += until - now
			}
			const steps = 7
			dt := (until - now) / steps
			for range steps {
				now += dt // left where rounding takes it
			}
			if until == d.OnS {
				now = until
			}
			edges++
		}
		if edges != c.edges || d.Edges() != c.edges {
			t.Errorf("%+v: %g edges walked, %g told", c, edges, d.Edges())
		}
		if math.Abs(inPulses-c.inPulsesS) > 1e-9 || math.Abs(d.PulseShare()*c.on-c.inPulsesS) > 1e-12*c.on {
			t.Errorf("%+v: %g s in pulses, told %g s", c, inPulses, d.PulseShare()*c.on)
		}
	}
}

// The mean power is that of the modes, each for its time, limits counted in.
func TestMeanPower(t *testing.T) {
	for _, on := range []float64{6, 6.02, 6.3, 0.02} {
		d := rhythm(0.05, 0.6, on)
		d.Limits = Limits{PeakVoltageV: 200}
		for _, ohm := range []float64{50, 500, 5000} {
			joule := 0.0
			for now := 0.0; now < on; {
				m, until := d.At(now)
				v, _ := m.VoltageV(1 / ohm)
				joule += v * v / ohm * (until - now)
				now = until
			}
			if got := d.MeanPowerW(1 / ohm); math.Abs(got*on-joule) > 1e-9*joule {
				t.Errorf("%g s into %g ohm: %g W, want %g W", on, ohm, got, joule/on)
			}
		}
	}
}

func TestHighestPeak(t *testing.T) {
	line := []Load{{100, 40}, {400, 90}, {1000, 10}} // 63.2, 189.7, 100 V RMS
	mode := func(w, volts float64, l Limits) Mode {
		return Mode{DutyCycle: 0.5, PowerW: w, PeakVoltageV: volts, Limits: l}
	}
	for _, c := range []struct {
		pulse, between Mode
		want           float64
	}{
		{mode(10, 0, Limits{}), off, math.Inf(1)},
		{mode(0, 0, Limits{}), off, 0},
		{mode(10, 0, Limits{PeakVoltageV: 600}), off, 600},
		{mode(10, 0, Limits{PeakVoltageV: 200}), mode(6, 0, Limits{PeakVoltageV: 900}), 900},
		{mode(10, 0, Limits{PeakVoltageV: 200}), mode(0, 0, Limits{PeakVoltageV: 900}), 200},
		{mode(0, 800, Limits{CurrentA: 1}), off, 800},
		{mode(10, 0, Limits{CurrentA: 1, PowerW: 5}), off, math.Inf(1)},
		{mode(10, 0, Limits{LoadLine: line}), off, 2 * math.Sqrt(400*90)},
		{mode(10, 0, Limits{LoadLine: line, PeakVoltageV: 300}), off, 300},
	} {
		d := Drive{Mode: c.pulse, OnS: 1, Pulses: &Pulses{LengthS: 0.1, PeriodS: 0.2, Between: c.between}}
		if got := d.HighestPeakV(); got != c.want && math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("%+v: %g V, want %g V", c, got, c.want)
		}
		for ohm := 1.0; ohm < 1e9; ohm *= 1.1 { // and no load gets more
			for _, m := range []Mode{c.pulse, c.between} {
				if v, _ := m.VoltageV(1 / ohm); v*m.CrestFactor() > c.want*(1+1e-12) {
					t.Errorf("%+v: %g V peak over %g ohm", m, v*m.CrestFactor(), ohm)
				}
			}
		}
	}
}
