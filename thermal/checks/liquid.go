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

// Liquid checks what a liquid on the mucosa does to the current.
func Liquid() []Check {
	var l list
	// A disc stands in a film on a wall that hardly conducts: all current spreads in the film, to the grounded side.
	const a, side, film = 1 * mm, 20 * mm, 0.4 * mm
	for _, sigma := range []float64{0.7, 1.8} {
		c := thermal.Case{
			Electrode: thermal.Electrode{Tip: thermal.Disc, ContactRadiusM: a, TipRadiusM: a},
			Drive:     drive.Drive{Mode: drive.Mode{DutyCycle: 1, PeakVoltageV: 1}, FrequencyHz: 400e3, OnS: 0.01},
			Body:      thermal.Body{TemperatureC: bodyC, BloodHeatCapacityJKgK: 3600},
			Physics:   thermal.Physics{PerfusionStops: thermal.Never, BoilC: 100},
			Damage:    thermal.Damage{Kinetics: damage.Kinetics{Name: "none", Segments: []damage.Segment{{LnA: 0, ThetaK: 1e5}}}},
			Domain:    thermal.Domain{RadiusM: side, Side: thermal.Grounded, Bottom: thermal.Insulated},
			Numerics:  thermal.Numerics{FinestM: 0.1 * mm, Tolerance: 1e-6, Resolve: 0.02, MaxStepS: 1e-2},
			Layers: []thermal.Layer{
				{Name: "liquid", ThicknessM: film, Above: true, Liquid: true, Material: tissue.Material{SigmaSM: sigma, KWMK: 0.6, DensityKgM3: 1000, HeatCapacityJKgK: 4200}},
				{Name: "wall", ThicknessM: 2 * mm, Material: tissue.Material{SigmaSM: 1e-6, KWMK: 0.5, DensityKgM3: 1000, HeatCapacityJKgK: 3600}},
				{Name: "beyond", ThicknessM: 4 * mm, Beyond: true, Material: tissue.Material{SigmaSM: 1e-6, KWMK: 0.5, DensityKgM3: 1000, HeatCapacityJKgK: 3600}},
			},
		}
		r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
		if err != nil {
			panic("checks: liquid: " + err.Error())
		}
		l.relative(fmt.Sprintf("a disc standing in a film of %g mm and %g S/m: resistance", film/mm, sigma),
			"radial current in a sheet, ln(R/a)/(2 pi sigma d); Smythe 1968, Static and Dynamic Electricity, from memory",
			math.Log(side/a)/(2*math.Pi*sigma*film), r.Summary.ResistanceStartOhm, 0.002, "ohm")
	}
	return l
}
