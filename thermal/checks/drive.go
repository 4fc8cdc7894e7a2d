package checks

import (
	"fmt"
	"math"

	"muralheat/thermal/drive"
)

// Drive checks the source.
func Drive() []Check {
	var l list
	const def = "crest factor as in IEC 60601-2-2; gated sine, by arithmetic"
	for _, c := range []struct{ duty, crest float64 }{
		{1, 1.4142136}, {0.8, 1.5811388}, {0.5, 2}, {0.25, 2.8284271}, {0.1, 4.4721360}, {0.08, 5}, {0.06, 5.7735027}, {0.05, 6.3245553},
	} {
		l.add(fmt.Sprintf("crest factor of a sine that is on %g %% of the time", c.duty*100), def, c.crest, drive.Mode{DutyCycle: c.duty}.CrestFactor(), 1e-6, "1")
	}
	// The same from the waveform itself: peak over root mean square of one burst and pause.
	for _, duty := range []float64{1, 0.25, 0.06} {
		const n = 200000
		square, peak := 0.0, 0.0
		for i := range n {
			if x := (float64(i) + 0.5) / n; x < duty {
				u := math.Sin(2 * math.Pi * 25 * x / duty)
				square += u * u / n
				peak = math.Max(peak, math.Abs(u))
			}
		}
		l.relative(fmt.Sprintf("crest factor from the waveform, on %g %% of the time", duty*100), def, peak/math.Sqrt(square), drive.Mode{DutyCycle: duty}.CrestFactor(), 1e-3, "1")
	}
	for _, c := range []struct{ crest, power, load, peak float64 }{
		{math.Sqrt2, 40, 500, 200}, {2, 40, 500, 282.84271}, {5, 40, 500, 707.10678}, {math.Sqrt2, 300, 300, 424.26407}, {5, 300, 300, 1500},
	} {
		d := drive.Mode{PowerW: c.power, DutyCycle: 2 / (c.crest * c.crest)}
		v, _ := d.VoltageV(1 / c.load)
		l.relative(fmt.Sprintf("peak voltage of %g W into %g ohm, crest factor %.3g", c.power, c.load, c.crest), "Ohm's law, by arithmetic", c.peak, v*d.CrestFactor(), 1e-6, "V")
	}
	l.loadLine()
	l.path()
	l.pulses()
	l.sparkShare()
	return l
}

// loadLine: points of a source a quarter apart, read at the test loads that lie between
// them. The curve bends by at most 1/2 in the logarithms, so that reading straight is
// off by ln(1.25)^2/16 = 0.0031 at most.
func (l *list) loadLine() {
	const u0, ri = 400.0, 500.0 // V RMS, ohm
	m := drive.Mode{DutyCycle: 1, PowerW: 1e6}
	for ohm := 90.0; ohm < 2200; ohm *= 1.25 {
		m.Limits.LoadLine = append(m.Limits.LoadLine, drive.Load{ResistanceOhm: ohm, PowerW: u0 * u0 * ohm / ((ohm + ri) * (ohm + ri))})
	}
	read := func(ohm float64) float64 {
		v, _ := m.VoltageV(1 / ohm)
		return v * v / ohm
	}
	const source = "P = U0^2 R/(R + Ri)^2, by arithmetic; disclosure of power against load as IEC 60601-2-2 asks, loads from memory"
	for _, c := range []struct{ ohm, w float64 }{{100, 44.444444}, {200, 65.306122}, {300, 75}, {500, 80}, {1000, 71.111111}, {2000, 51.2}} {
		l.relative(fmt.Sprintf("load line of 400 V behind 500 ohm, at %g ohm", c.ohm), source, c.w, read(c.ohm), 0.0032, "W")
	}
	first, last := m.Limits.LoadLine[0], m.Limits.LoadLine[len(m.Limits.LoadLine)-1]
	l.relative("load line, current below its first point", "Ohm's law: constant current", math.Sqrt(first.PowerW/first.ResistanceOhm), math.Sqrt(read(10)/10), 1e-12, "A")
	l.relative("load line, voltage above its last point", "Ohm's law: constant voltage", math.Sqrt(last.PowerW*last.ResistanceOhm), math.Sqrt(read(1e5)*1e5), 1e-12, "V")
}

// path: a held voltage behind its output impedance, and a share lost beside the load.
func (l *list) path() {
	const u0, ri = 200.0, 80.0 // V RMS, ohm
	m := drive.Mode{DutyCycle: 1, PeakVoltageV: u0 * math.Sqrt2, Path: drive.Path{SeriesOhm: ri}}
	const source = "Thevenin: P = U0^2 R/(R + Ri)^2, most at R = Ri, a quarter of it at (7 -+ 4 sqrt 3) Ri, by arithmetic; textbooks on circuits"
	for _, c := range []struct {
		what   string
		ohm, w float64
	}{{"most power, into its own impedance", 80, 125}, {"lower quarter-power point", 5.7437415, 31.25}, {"upper quarter-power point", 1114.2562585, 31.25}, {"three times its impedance", 240, 93.75}} {
		l.relative("200 V behind 80 ohm: "+c.what, source, c.w, m.Into(c.ohm).PowerW, 1e-7, "W")
	}
	m.Path.LostShare = 0.25
	g := m.Into(80)
	const lost = "U0^2/(Ri + R) is what the leads and the load take, three quarters of what is given; by arithmetic"
	l.relative("200 V behind 80 ohm and a quarter lost: power at the terminals", lost, 333.3333333, g.TerminalW, 1e-7, "W")
	l.relative("200 V behind 80 ohm and a quarter lost: into 80 ohm", lost, 125, g.PowerW, 1e-7, "W")
}

// pulses: means of 40 W for 50 ms in every 600 ms and 6 W between.
func (l *list) pulses() {
	d := drive.Drive{Mode: drive.Mode{DutyCycle: 0.5, PowerW: 40}, Pulses: &drive.Pulses{LengthS: 0.05, PeriodS: 0.6, Between: drive.Mode{DutyCycle: 0.08, PowerW: 6}}}
	for _, c := range []struct{ onS, shareOfPulses, w float64 }{
		{6, 1. / 12, 8.8333333}, {0.65, 2. / 13, 11.2307692}, {0.02, 1, 40}, {0.3, 1. / 6, 11.6666667},
	} {
		d.OnS = c.onS
		const source = "energy of the pulses and between over time, by arithmetic"
		l.relative(fmt.Sprintf("share of pulses in %g s", c.onS), source, c.shareOfPulses, d.PulseShare(), 1e-9, "1")
		l.relative(fmt.Sprintf("mean power of pulses in %g s", c.onS), source, c.w, d.MeanPowerW(1./500), 1e-7, "W")
	}
}

// sparkShare: the voltage that sparks let through, from the current itself.
func (l *list) sparkShare() {
	for _, x := range []float64{0.1, 0.25, 0.5, 0.75, 0.9} {
		const n = 200000
		through, closed := 0.0, 0.0
		for i := range n {
			u := math.Sin(2 * math.Pi * (float64(i) + 0.5) / n)
			closed += u * u
			if over := math.Abs(u) - x; over > 0 {
				through += over * over
			}
		}
		l.add(fmt.Sprintf("share of the voltage through sparks, onset at %g of the peak", x), "RMS current of a sine through two opposed breakdown diodes and a resistance, by numerical integration",
			math.Sqrt(through/closed), drive.Passed(x), 1e-7, "1")
	}
}
