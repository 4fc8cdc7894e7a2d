package checks

import (
	"context"
	"fmt"
	"math"

	"muralheat/thermal"
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/exact"
	"muralheat/thermal/tissue"
)

// WholeRun checks a complete computation, from a case to its history: an even
// current through a wall whose electrode covers everything but a thin ring at the side
// of the domain, so that the problem is one-dimensional and known. It is wide so that
// the energy is large: the planner of the mesh then expects a deep injury and all
// cells are fine.
func WholeRun() []Check {
	var l list
	c, wall, resistance := evenCurrent()
	const density = evenDensity
	area := math.Pi * evenRadius * evenRadius
	c.Drive.OnS, c.AfterS = 8, 4
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		panic("checks: whole run: " + err.Error())
	}
	const source = "current in series, " + pennes + "; layers by Laplace transform"
	rise := func(z, t float64) float64 { // on for 8 s, then off
		v, _ := wall.Transient(z, t)
		if t > c.Drive.OnS {
			off, _ := wall.Transient(z, t-c.Drive.OnS)
			v -= off
		}
		return v
	}
	for _, t := range []float64{2, 8, 12} {
		var h thermal.Sample
		for _, s := range r.History {
			if math.Abs(s.TimeS-t) < math.Abs(h.TimeS-t) {
				h = s
			}
		}
		when := fmt.Sprintf("after %.4g s", h.TimeS)
		l.add("even current, whole run: border of layers 1 and 2 "+when, source, bodyC+rise(1*mm, h.TimeS), h.BorderC[1], 0.02, "C")
		l.add("even current, whole run: border of layers 2 and 3 "+when, source, bodyC+rise(2*mm, h.TimeS), h.BorderC[2], 0.02, "C")
		for i, p := range c.Probes {
			l.add("even current, whole run: probe "+p.Name+" "+when, source, bodyC+rise(p.ZM, h.TimeS), h.ProbeC[i], 0.02, "C")
		}
	}
	// The ring left free adds a little constriction.
	first := r.History[1]
	l.relative("even current, whole run: resistance", "Ohm's law in series", resistance/area, first.ResistanceOhm, 1e-4, "ohm")
	l.relative("even current, whole run: voltage", "Ohm's law in series", density*resistance, first.VoltageV, 1e-4, "V")
	l.relative("even current, whole run: energy", "P t", c.Drive.PowerW*c.Drive.OnS, r.Balance.ElectricJ, 1e-9, "J")
	l.add("even current, whole run: energy residual", "conservation of energy", 0, r.Balance.EnergyResidual, 1e-9, "1")
	l.add("even current, whole run: charge residual", "conservation of charge", 0, r.Balance.ChargeResidual, 1e-6, "1")

	law := exact.Arrhenius{LnA: c.Damage.Kinetics.Segments[0].LnA, ThetaK: c.Damage.Kinetics.Segments[0].ThetaK}
	end := r.History[len(r.History)-1]
	l.relative("even current, whole run: Omega at the probe in the middle", henrique,
		law.Omega(func(t float64) float64 { return bodyC + rise(1.5*mm, t) }, 12), end.ProbeOmega[0], 0.02, "1")
	return l
}

// The current density, A/m2, and the radius, m, of an even current through the layers of stack.
const (
	evenDensity = 1500.0
	evenRadius  = 7 * mm
)

// evenCurrent is a case of an even current whose source is not set a time, its layers as exact solutions take them,
// and their resistance, ohm m2.
func evenCurrent() (c thermal.Case, wall exact.Stack, resistance float64) {
	const blood, h = 3600.0, 0.1 * mm
	layers := wall3()
	c = thermal.Case{
		Electrode: thermal.Electrode{Tip: thermal.Disc, ContactRadiusM: evenRadius - 0.01*mm, TipRadiusM: evenRadius},
		Drive:     drive.Drive{Mode: drive.Mode{DutyCycle: 1}},
		Body:      thermal.Body{TemperatureC: bodyC, BloodHeatCapacityJKgK: blood},
		Physics:   thermal.Physics{PerfusionStops: thermal.Never, BoilC: 100},
		Damage:    thermal.Damage{Kinetics: setOf("skin-1947"), Also: []damage.Kinetics{setOf("skin-1947-joule")}},
		Domain:    thermal.Domain{RadiusM: evenRadius, Side: thermal.Insulated, Bottom: thermal.Grounded},
		Numerics:  thermal.Numerics{FinestM: h, Tolerance: 1e-8, Resolve: 0.05, MaxStepS: 5e-3},
	}
	for i, s := range stack {
		m := tissue.Material{SigmaSM: s.SigmaSM, KWMK: layers[i].K, DensityKgM3: 1000, HeatCapacityJKgK: layers[i].RhoC / 1000, PerfusionKgM3S: layers[i].G / blood}
		c.Layers = append(c.Layers, thermal.Layer{Name: fmt.Sprintf("layer-%d", i+1), ThicknessM: s.ThicknessM, Material: m, Beyond: i == 2})
		layers[i].Q = evenDensity * evenDensity / s.SigmaSM
		resistance += s.ThicknessM / s.SigmaSM
	}
	c.Drive.PowerW = evenDensity * evenDensity * resistance * math.Pi * evenRadius * evenRadius
	c.Probes = []thermal.Probe{{Name: "middle", XM: 0.7 * mm, ZM: 1.5 * mm}, {Name: "deep", XM: 1.3 * mm, ZM: 2.6 * mm}}
	return c, exact.Stack{Layers: layers, Bottom: exact.Face{H: inf}}, resistance
}
