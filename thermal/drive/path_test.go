package drive

import (
	"math"
	"testing"
)

// A held voltage behind its output impedance is the source of Thevenin's theorem. It gives most into the resistance
// of its own, a quarter of what it could short-circuited, and a quarter of that most at 7 - 4 sqrt(3) and 7 + 4 sqrt(3)
// times that resistance: 4x/(1+x)^2 = 1/4 (textbooks on circuits; by arithmetic).
func TestThevenin(t *testing.T) {
	const u0, ri = 200.0, 80.0
	m := Mode{DutyCycle: 1, PeakVoltageV: u0 * math.Sqrt2, Path: Path{SeriesOhm: ri}}
	power := func(ohm float64) float64 {
		v, _ := m.VoltageV(1 / ohm)
		return v * v / ohm
	}
	most := u0 * u0 / (4 * ri)
	for _, c := range []struct{ ohm, want float64 }{{ri, most}, {ri * (7 - 4*math.Sqrt(3)), most / 4}, {ri * (7 + 4*math.Sqrt(3)), most / 4}, {3 * ri, 0.75 * most}} {
		if got := power(c.ohm); math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("%g ohm: %g W, want %g", c.ohm, got, c.want)
		}
	}
	for _, x := range []float64{0.99, 1.01} {
		if power(x*ri) >= most {
			t.Errorf("%g of the impedance gets more than the impedance itself", x)
		}
	}
	s := m.Across(0, 1/ri, 1)
	if want := 2 * most; math.Abs(s.TerminalW-want) > 1e-12*want || math.Abs(s.SeenOhm-2*ri) > 1e-12*ri {
		t.Errorf("at the terminals %g W into %g ohm, want %g W into %g", s.TerminalW, s.SeenOhm, want, 2*ri)
	}
}

// What is held and what limits it counts at the terminals: power, current and voltage there are those that were set,
// whatever the path takes, and the tissue gets the rest.
func TestPathTakes(t *testing.T) {
	path := Path{SeriesOhm: 20, LostShare: 0.1}
	const ohm = 180.0
	for _, c := range []struct {
		name   string
		m      Mode
		wantW  float64 // at the terminals
		tissue float64 // W
	}{
		{"power", Mode{PowerW: 50}, 50, 40.5},                                                  // 45 W pass, 180 of 200 ohm in the tissue
		{"limit of the power", Mode{PowerW: 90, Limits: Limits{PowerW: 50}}, 50, 40.5},         //
		{"peak voltage", Mode{PeakVoltageV: 100 * math.Sqrt2}, 1e4 / 200 / 0.9, 45},            // 0.5 A through 200 ohm
		{"current", Mode{CurrentA: 0.5}, 0.25 * 180, 0.25 * 0.81 * 180},                        // 0.45 A pass; the terminals see 0.9 of 200 ohm
		{"load line", Mode{PowerW: 90, Limits: Limits{LoadLine: []Load{{180, 30}}}}, 30, 24.3}, // at 180 ohm, which the terminals see
	} {
		c.m.DutyCycle, c.m.Path = 1, path
		v, _ := c.m.VoltageV(1 / ohm)
		s := c.m.Across(0, 1/ohm, 1)
		if math.Abs(s.TerminalW-c.wantW) > 1e-12*c.wantW || math.Abs(v*v/ohm-c.tissue) > 1e-12*c.tissue || s.VoltageV != v {
			t.Errorf("%s: %g W at the terminals, %g in the tissue; want %g and %g", c.name, s.TerminalW, v*v/ohm, c.wantW, c.tissue)
		}
		current := v / ohm
		if left := s.TerminalW - path.LostShare*s.TerminalW - path.SeriesOhm*current*current; math.Abs(left-c.tissue) > 1e-12*c.tissue {
			t.Errorf("%s: %g W left of what the path passes, want %g", c.name, left, c.tissue)
		}
	}
}

// Series resistance, a gap and tissue against the current added up in steps of the sine: electrode, gap and terminals.
func TestPathAcrossAGap(t *testing.T) {
	const ohm, gap, striking = 400.0, 200.0, 0.3
	m := Mode{DutyCycle: 0.5, PowerW: 12, Path: Path{SeriesOhm: 60, LostShare: 0.05}}
	s := m.Across(gap, 1/ohm, striking)
	// The voltage at the terminals follows from its power; what is looked for here is all else.
	terminal := math.Sqrt(s.TerminalW * s.SeenOhm)
	peak := terminal * m.CrestFactor()
	const n = 200000
	face, electrode, gapW, path := 0.0, 0.0, 0.0, 0.0
	for i := range n {
		u := peak * math.Sin(math.Pi/2*(float64(i)+0.5)/n)
		current := math.Max(0, u-gap) / (ohm + m.Path.SeriesOhm)
		at := u - m.Path.SeriesOhm*current
		w := m.DutyCycle / n
		face += w * striking * current * ohm * current * ohm
		electrode += w * (striking*at*at + (1-striking)*u*u)
		gapW += w * striking * gap * current
		path += w * striking * u * current
	}
	for name, c := range map[string]struct{ got, want float64 }{
		"V over the tissue":  {s.FaceV, math.Sqrt(face)},
		"V on the electrode": {s.VoltageV, math.Sqrt(electrode)},
		"W in the gap":       {s.GapW, gapW},
		"W at the terminals": {s.TerminalW, path / 0.95},
		"W set":              {s.TerminalW, 12},
		"V peak":             {s.PeakV, peak - 60*(peak-gap)/460},
	} {
		if math.Abs(c.got-c.want) > 1e-6*c.want {
			t.Errorf("%s: %g, by steps %g", name, c.got, c.want)
		}
	}
}
