package checks

import (
	"context"
	"fmt"
	"math"

	"muralheat/thermal"
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

// Sparks checks a complete run whose contact dries and sparks over: a thin sheet that
// boils dry in no time over a good conductor, both as wide as the electrode. What is
// left is a circuit: a source, a gap that passes current only above its onset voltage
// and takes that voltage, and a resistor.
func Sparks() []Check {
	var l list
	const source = "two breakdown diodes back to back in series with a resistor: RMS of the waveform, summed in 20000 parts"
	const radius, sheet, base, sigma = 3 * mm, 0.2 * mm, 6 * mm, 1.0
	for _, c := range []struct{ onset, perMM, peak, duty float64 }{
		{20, 0, 60, 1}, {20, 0, 100, 0.25}, {15, 100, 60, 1}, {80, 0, 75, 1},
	} {
		k := thermal.Case{
			Electrode: thermal.Electrode{Tip: thermal.Disc, ContactRadiusM: radius - 0.01*mm, TipRadiusM: radius},
			Drive:     drive.Drive{Mode: drive.Mode{DutyCycle: c.duty, PeakVoltageV: c.peak}, OnS: 0.4},
			Body:      thermal.Body{TemperatureC: bodyC, BloodHeatCapacityJKgK: 3600},
			Physics: thermal.Physics{
				PerfusionStops: thermal.Never, Boiling: true, BoilC: 100, LatentJKg: 1000, DrySigmaShare: 1e-5, DryKWMK: 1e-3,
				Carbonisation: true, CarbonC: 350, CarbonJKg: 2.5e6, CarbonCeilingC: 500, SparkOnsetV: c.onset, SparkVM: c.perMM / mm,
			},
			Damage:   thermal.Damage{Kinetics: damage.Kinetics{Name: "none", Segments: []damage.Segment{{LnA: 0, ThetaK: 1e5}}}},
			Domain:   thermal.Domain{RadiusM: radius, Side: thermal.Insulated, Bottom: thermal.Grounded},
			Numerics: thermal.Numerics{FinestM: 0.1 * mm, Tolerance: 1e-6, Resolve: 0.02, MaxStepS: 1e-3},
			Layers: []thermal.Layer{
				{Name: "sheet", ThicknessM: sheet, Material: tissue.Material{SigmaSM: 0.05, KWMK: 1e-3, DensityKgM3: 1000, HeatCapacityJKgK: 100, WaterFraction: 0.02}},
				{Name: "base", ThicknessM: base, Material: tissue.Material{SigmaSM: sigma, KWMK: 1e-3, DensityKgM3: 1000, HeatCapacityJKgK: 20000, WaterFraction: 0.5}, Beyond: true},
			},
		}
		r, err := thermal.Simulate(context.Background(), &k, thermal.Options{})
		if err != nil {
			panic("checks: sparks: " + err.Error())
		}
		resistor := base / (sigma * math.Pi * radius * radius)
		what := fmt.Sprintf("dried sheet of %g mm, onset %g V and %g V/mm, peak %g V, duty cycle %g", sheet/mm, c.onset, c.perMM, c.peak, c.duty)
		onset := c.onset + c.perMM*sheet/mm
		// The waveform itself.
		square := 0.0
		const n = 20000
		for i := range n {
			v := c.peak * math.Sin(math.Pi*(float64(i)+0.5)/n)
			if v > onset {
				square += (v - onset) * (v - onset) / n
			}
		}
		current := math.Sqrt(square*c.duty) / resistor
		last := r.History[len(r.History)-2] // the last row with current
		if current == 0 {
			l.add(what+": current over that of a closed gap", source, 0, last.CurrentA*resistor/(c.peak*math.Sqrt(c.duty/2)), 0.01, "1")
			l.add(what+": share of the time with sparks", "sparks need the onset voltage", 0, r.Summary.SparkShare, 1e-9, "1")
			continue
		}
		l.relative(what+": current", source, current, last.CurrentA, 0.02, "A")
		l.add(what+": share of the current in sparks", source, 1, last.SparkShare, 0.02, "1")
	}
	return l
}
