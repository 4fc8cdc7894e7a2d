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
		l.add("3", fmt.Sprintf("crest factor of a sine that is on %g %% of the time", c.duty*100), def, c.crest, drive.Mode{DutyCycle: c.duty}.CrestFactor(), 1e-6, "1")
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
		l.relative("3", fmt.Sprintf("crest factor from the waveform, on %g %% of the time", duty*100), def, peak/math.Sqrt(square), drive.Mode{DutyCycle: duty}.CrestFactor(), 1e-3, "1")
	}
	for _, c := range []struct{ crest, power, load, peak float64 }{
		{math.Sqrt2, 40, 500, 200}, {2, 40, 500, 282.84271}, {5, 40, 500, 707.10678}, {math.Sqrt2, 300, 300, 424.26407}, {5, 300, 300, 1500},
	} {
		d := drive.Mode{PowerW: c.power, DutyCycle: 2 / (c.crest * c.crest)}
		v, _ := d.VoltageV(1 / c.load)
		l.relative("3", fmt.Sprintf("peak voltage of %g W into %g ohm, crest factor %.3g", c.power, c.load, c.crest), "Ohm's law, by arithmetic", c.peak, v*d.CrestFactor(), 1e-6, "V")
	}
	return l
}
