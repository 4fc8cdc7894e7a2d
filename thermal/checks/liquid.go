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

// Liquid checks what a liquid on the mucosa does to the current.
func Liquid() []Check {
	var l list
	l.film()
	l.leakyFilm()
	l.halfInBath()
	return l
}

// film has a disc stand in a film on a wall that hardly conducts: all current spreads in the film, to the
// grounded side.
func (l *list) film() {
	const a, side, depth, wall = 1 * mm, 20 * mm, 0.4 * mm, 2 * mm
	for _, sigma := range []float64{0.7, 1.8} {
		r := inFilm(a, side, 0.4, filmOn(sigma, depth, 1e-6, wall, 2*wall), thermal.Grounded, thermal.Insulated)
		l.relative(fmt.Sprintf("a disc standing in a film of %g mm and %g S/m: resistance", depth/mm, sigma),
			"radial current in a sheet, ln(R/a)/(2 pi sigma d); Smythe 1968, Static and Dynamic Electricity, from memory",
			math.Log(side/a)/(2*math.Pi*sigma*depth), r.Summary.ResistanceStartOhm, 0.002, "ohm")
	}
}

// leakyFilm has the same disc stand on a film over a thin wall that conducts poorly and is grounded below. Both
// are thin against the length lambda of 6 mm: the next term of lambda is (d^2 + t^2)/(6 lambda^2), 0.15 %, which
// at r = 8 mm is 0.3 % of the potential.
func (l *list) leakyFilm() {
	const a, side, depth, wall, lambda = 1 * mm, 50 * mm, 0.4 * mm, 0.4 * mm, 6 * mm
	const source = "a sheet with a leak, K0(r/lambda)/K0(a/lambda); Abramowitz and Stegun 1964, 9.6.1"
	for _, sigma := range []float64{0.7, 1.8} {
		leak := sigma * depth / (lambda * lambda)
		r := inFilm(a, side, 0.1, filmOn(sigma, depth, leak*wall, wall/2, wall/2), thermal.Insulated, thermal.Grounded)
		sheet := exact.Leaky{SheetS: sigma * depth, LeakSM: leak}
		what := fmt.Sprintf("a disc standing in a film of %g S/m on a leaky wall", sigma)
		k := r.Mesh.Z.Find(-depth / 2)
		for _, x := range []float64{2 * mm, 4 * mm, 8 * mm} {
			i := r.Mesh.X.Find(x)
			c := r.Mesh.X.Centres[i]
			l.relative(fmt.Sprintf("%s: potential at %.3g mm over that of the disc", what, c/mm), source,
				sheet.Share(c, a), r.Fields.PotentialV[r.Mesh.Index(i, 0, k)]*math.Sqrt2, 0.01, "1")
		}
		l.relative(what+": resistance", source, sheet.Resistance(a), r.Summary.ResistanceStartOhm, 0.01, "ohm")
	}
}

// halfInBath has a needle go through a sheet of tissue and a stirred bath as deep that conducts alike: the plane between, which
// is insulated where there is gas, is one of symmetry.
func (l *list) halfInBath() {
	const a, depth, sigma = 0.25 * mm, 1 * mm, 0.5
	ohm := func(bath bool) float64 {
		c := bare([]thermal.Layer{{Name: "wall", ThicknessM: depth, Material: tissue.Material{SigmaSM: sigma, KWMK: 0.5, DensityKgM3: 1000, HeatCapacityJKgK: 3600}}}, 8*mm)
		c.Electrode = thermal.Electrode{Tip: thermal.Needle, ContactRadiusM: a, TipRadiusM: a, InsertionM: depth}
		c.Motion = thermal.Motion{LengthM: 1 * mm, SpeedMS: 0.1 * mm}
		c.Domain.Side = thermal.Open
		if bath {
			c.Layers = append([]thermal.Layer{{Name: "liquid", ThicknessM: depth, Above: true, Liquid: true, Material: c.Layers[0].Material}}, c.Layers...)
			c.Bath = thermal.Bath{SigmaSM: sigma, DepthM: depth}
		}
		return inLiquid(c).Summary.ResistanceStartOhm
	}
	l.relative("a needle through tissue and a bath as deep: resistance over that in gas", "method of images; Smythe 1968, from memory",
		0.5, ohm(true)/ohm(false), 0.005, "1")
}

// filmOn is a film of sigma S/m and the depth given on a wall and what lies beyond, both of wallS S/m.
func filmOn(sigma, depth, wallS, wall, beyond float64) []thermal.Layer {
	solid := tissue.Material{SigmaSM: wallS, KWMK: 0.5, DensityKgM3: 1000, HeatCapacityJKgK: 3600}
	return []thermal.Layer{
		{Name: "liquid", ThicknessM: depth, Above: true, Liquid: true, Material: tissue.Material{SigmaSM: sigma, KWMK: 0.6, DensityKgM3: 1000, HeatCapacityJKgK: 4200}},
		{Name: "wall", ThicknessM: wall, Material: solid},
		{Name: "beyond", ThicknessM: beyond, Beyond: true, Material: solid},
	}
}

// inFilm has a disc of radius a stand in the uppermost layer, at a peak of 1 V.
func inFilm(a, side, growth float64, layers []thermal.Layer, sideEdge, bottom thermal.Edge) *thermal.Result {
	c := bare(layers, side)
	c.Electrode = thermal.Electrode{Tip: thermal.Disc, ContactRadiusM: a, TipRadiusM: a}
	c.Domain.Side, c.Domain.Bottom, c.Numerics.Growth = sideEdge, bottom, growth
	return inLiquid(c)
}

// bare are layers with neither phases nor injury, at a peak of 1 V.
func bare(layers []thermal.Layer, side float64) thermal.Case {
	return thermal.Case{
		Layers:   layers,
		Drive:    drive.Drive{Mode: drive.Mode{DutyCycle: 1, PeakVoltageV: 1}, FrequencyHz: 400e3, OnS: 0.01},
		Body:     thermal.Body{TemperatureC: bodyC, BloodHeatCapacityJKgK: 3600},
		Physics:  thermal.Physics{PerfusionStops: thermal.Never, BoilC: 100},
		Damage:   thermal.Damage{Kinetics: damage.Kinetics{Name: "none", Segments: []damage.Segment{{LnA: 0, ThetaK: 1e5}}}},
		Domain:   thermal.Domain{RadiusM: side},
		Numerics: thermal.Numerics{FinestM: 0.1 * mm, Growth: 0.4, Tolerance: 1e-6, Resolve: 0.02, MaxStepS: 1e-2},
	}
}

func inLiquid(c thermal.Case) *thermal.Result {
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		panic("checks: liquid: " + err.Error())
	}
	return r
}
