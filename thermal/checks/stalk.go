package checks

import (
	"fmt"
	"math"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// inLoop is a stalk of a diameter on a wall of the same material, four diameters high, in
// a ring that rests at three; a current held for a time.
func inLoop(diameterM, sigmaSM, currentA, onS float64) thermal.Case {
	const wire = 0.2 * mm
	stalk, head := sheetOf("stalk", 4*diameterM, sigmaSM, false), sheetOf("head", 2*mm, sigmaSM, false)
	for _, l := range []*thermal.Layer{&stalk, &head} {
		l.Above, l.RadiusM = true, diameterM/2
	}
	return thermal.Case{
		Layers:    []thermal.Layer{head, stalk, sheetOf("wall", 3*mm, sigmaSM, false), sheetOf("beyond", 20*mm, sigmaSM, true)},
		Electrode: thermal.Electrode{Tip: thermal.Loop, ContactRadiusM: wire, TipRadiusM: diameterM / 2, Own: thermal.Own{thermal.LoopHeight: 3 * diameterM}},
		Drive:     drive.Drive{Mode: drive.Mode{DutyCycle: 1, CurrentA: currentA}, OnS: onS},
		Body:      thermal.Body{TemperatureC: bodyC, BloodHeatCapacityJKgK: bloodC},
		Physics:   thermal.Physics{PerfusionStops: thermal.Never, BoilC: 100},
		Damage:    thermal.Damage{Kinetics: setOf("skin-1947")},
		Domain:    thermal.Domain{RadiusM: 40 * mm, Side: thermal.Open, Bottom: thermal.Open},
		Numerics:  thermal.Numerics{FinestM: 0.1 * mm, Tolerance: 1e-6, Resolve: 0.01, MaxStepS: math.Min(5e-3, onS/20)},
		Probes:    []thermal.Probe{{Name: "middle", ZM: -1.5 * diameterM}},
	}
}

// Stalks checks a wire loop around a stalk: heating with the inverse fourth power of the
// diameter, and how the current divides.
func Stalks() []Check {
	var l list
	const sigma, amps = 0.3, 0.2
	const column = "J2/(sigma rho c) of a column; 0.2 A through a 5 mm neck is 1 A/cm2 (Gershman, polypectomy chapter)"
	rate := func(d float64) float64 {
		return math.Pow(amps/(math.Pi*d*d/4), 2) / (sigma * ref.RhoC)
	}
	var rates []float64
	for _, d := range []float64{2.5 * mm, 5 * mm, 10 * mm} {
		c := inLoop(d, sigma, amps, 5/rate(d)) // long enough for 5 K
		r := mustRun("stalk", c)
		end := r.History[len(r.History)-1]
		rates = append(rates, (end.ProbeC[0]-bodyC)/c.Drive.OnS)
		l.relative(fmt.Sprintf("stalk of %g mm at 0.2 A: heating rate", d/mm), column, rate(d), rates[len(rates)-1], 0.01, "K/s")
	}
	l.relative("stalk of 5 against 2.5 mm: heating rate", "inverse fourth power of the diameter", 16, rates[0]/rates[1], 0.01, "1")
	l.relative("stalk of 10 against 5 mm: heating rate", "inverse fourth power of the diameter", 16, rates[1]/rates[2], 0.01, "1")

	// With conductivity rising 2 % a kelvin the time to 100 C is 1.122 s in place of 0.689.
	const slope = 0.02
	warm := inLoop(5*mm, sigma, amps, 1.3)
	warm.Physics.SigmaPerK = slope
	r := mustRun("stalk that conducts better when warm", warm)
	reached := math.NaN()
	for i, s := range r.History[1:] {
		if last := r.History[i]; last.ProbeC[0] < 100 && s.ProbeC[0] >= 100 {
			reached = last.TimeS + (s.TimeS-last.TimeS)*(100-last.ProbeC[0])/(s.ProbeC[0]-last.ProbeC[0])
		}
	}
	const rise = 100 - bodyC
	l.relative("stalk of 5 mm at 0.2 A, conductivity rising 2 %/K: time to 100 C", "dT/dt = rate/(1 + slope dT)",
		(rise+slope*rise*rise/2)/rate(5*mm), reached, 0.01, "s")

	// Twice as long from the ring to the wall: more resistance by that of a column.
	longer := inLoop(5*mm, sigma, amps, 1e-3)
	longer.Layers[1].ThicknessM += 5 * mm
	longer.Electrode.Own = thermal.Own{thermal.LoopHeight: longer.Electrode.HeightM() + 5*mm}
	short, long := mustRun("stalk", inLoop(5*mm, sigma, amps, 1e-3)), mustRun("longer stalk", longer)
	l.relative("5 mm more of a stalk of 5 mm: resistance", "Ohm's law of a column", 5*mm/(sigma*math.Pi*6.25*mm*mm),
		long.Summary.ResistanceStartOhm-short.Summary.ResistanceStartOhm, 2e-3, "ohm")

	// A mirror image: half of the current leaves through the head.
	mirror := inLoop(5*mm, sigma, amps, 0.1)
	stalk, wall := mirror.Layers[1], mirror.Layers[2:]
	stalk.ThicknessM, mirror.Electrode.Own = 10*mm, thermal.Own{thermal.LoopHeight: 10 * mm}
	upper := stalk
	upper.Name = "upper stalk"
	mirror.Layers = []thermal.Layer{wall[1], wall[0], upper, stalk, wall[0], wall[1]}
	for i := range 2 {
		o := &mirror.Layers[i]
		o.Name, o.Above, o.Beyond = "opposite "+o.Name, true, false
	}
	m := mustRun("stalk between two walls", mirror)
	l.add("stalk between two equal walls, ring in the middle: share through the head", "symmetry", 0.5, m.Summary.Stalk.LeakShare, 1e-3, "1")
	l.add("stalk between two equal walls: energy residual", "conservation of energy", 0, m.Balance.EnergyResidual, 1e-9, "1")
	l.add("stalk between two equal walls: charge residual", "conservation of charge", 0, m.Balance.ChargeResidual, 1e-6, "1")
	return l
}
