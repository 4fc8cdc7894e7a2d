package checks

import (
	"context"
	"fmt"
	"math"

	"muralheat/thermal"
	"muralheat/thermal/exact"
)

const duhamel = "superposition (Duhamel), Carslaw and Jaeger 1959, 1.14"

// Repeated checks activations one after another on the same place where nothing depends on temperature: rises
// are the sum of what each activation does alone.
func Repeated() []Check {
	var l list
	l.evenRepeated()
	l.discInSequence()
	return l
}

// evenRepeated is an even current through a wall, on for 2 s three times with pauses of 1 s.
func (l *list) evenRepeated() {
	c, wall, _ := evenCurrent()
	c.Drive.OnS, c.AfterS, c.Repeat = 2, 2, thermal.Repeat{Times: 3, PauseS: 1}
	pulses := []exact.Pulse{{ToS: 2, Share: 1}, {FromS: 3, ToS: 5, Share: 1}, {FromS: 6, ToS: 8, Share: 1}}
	rise := func(z, t float64) float64 {
		return exact.Superposed(func(t float64) float64 { v, _ := wall.Transient(z, t); return v }, pulses, t)
	}
	r := mustRun("repeated current", c)
	source := "layers by Laplace transform, " + duhamel
	for _, at := range []float64{2, 3, 5, 6, 8, 10} {
		h := nearest(r, at)
		for i, p := range c.Probes {
			l.add(fmt.Sprintf("even current three times: probe %s after %.4g s", p.Name, h.TimeS), source, bodyC+rise(p.ZM, h.TimeS), h.ProbeC[i], 0.02, "C")
		}
	}
	law := exact.Arrhenius{LnA: c.Damage.Kinetics.Segments[0].LnA, ThetaK: c.Damage.Kinetics.Segments[0].ThetaK}
	end := r.History[len(r.History)-1]
	l.relative("even current three times: Omega, the sum over all", henrique,
		law.Omega(func(t float64) float64 { return bodyC + rise(1.5*mm, t) }, 10), end.ProbeOmega[0], 0.02, "1")
	l.relative("even current three times: energy", "P t", 3*c.Drive.PowerW*c.Drive.OnS, r.Balance.ElectricJ, 1e-9, "J")
}

// discInSequence is heat that a film makes evenly under a disc, by three currents one after another.
func (l *list) discInSequence() {
	const a, filmOhmM2, sigma = 4 * mm, 0.01, 500.0
	area := math.Pi * a * a
	first := onSkin(area, 0.1, 4, sheetOf("skin", 12*mm, sigma, false), sheetOf("below", 20*mm, sigma, true))
	first.Electrode.Film = thermal.Film{OhmM2: filmOhmM2, HeatShare: 1}
	first.Numerics.FinestM, first.Numerics.MaxStepS = 0.125*mm, 0.02
	first.AfterS = 3
	first.Probes = []thermal.Probe{{Name: "1 mm deep", ZM: 1 * mm}, {Name: "2 mm deep", ZM: 2 * mm}}
	second, third := first, first
	second.Drive.CurrentA, second.Drive.OnS, second.AfterS = 0.15, 2, 6
	third.Drive.CurrentA, third.Drive.OnS, third.AfterS = 0.08, 8, 5
	cases := thermal.Sequence{&first, &second, &third}
	results, err := thermal.SimulateSequence(context.Background(), cases, thermal.Options{})
	if err != nil {
		panic("checks: disc in sequence: " + err.Error())
	}
	var pulses []exact.Pulse
	starts := 0.0
	for n, r := range results {
		on := cases[n].Drive
		flux := on.CurrentA * on.CurrentA * filmOhmM2 / (area * area)
		pulses = append(pulses, exact.Pulse{FromS: starts, ToS: starts + on.OnS, Share: flux})
		for _, at := range []float64{on.OnS, cases[n].TotalS()} {
			h := nearest(r, at)
			for i, p := range first.Probes {
				want := exact.Superposed(func(t float64) float64 { return exact.DiscAxis(ref, 1, a, p.ZM, t) }, pulses, starts+h.TimeS)
				l.relative(fmt.Sprintf("disc of even heat, current %d of 3: rise %s after %.4g s", n+1, p.Name, h.TimeS), carslaw+", 10.5; "+duhamel, want, h.ProbeC[i]-bodyC, 0.02, "K")
			}
		}
		starts += cases[n].TotalS()
	}
}

// nearest returns the row of history nearest to a time, the last of them.
func nearest(r *thermal.Result, at float64) thermal.Sample {
	h := r.History[0]
	for _, s := range r.History {
		if math.Abs(s.TimeS-at) <= math.Abs(h.TimeS-at) {
			h = s
		}
	}
	return h
}
