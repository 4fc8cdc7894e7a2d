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

// Metal checks how the metal of an electrode warms on tissue that stays at 90 C: it conducts so well and holds
// so much heat that a disc does not cool it.
func Metal() []Check {
	var l list
	const (
		source             = "a lumped body with a loss, T' = (h A (T_tissue - T) - G (T - T0))/C; Incropera and DeWitt, ch. 5, from memory"
		a, h, loss         = 1 * mm, 1e4, 0.01
		tissueC, coldC     = 90.0, 20.0
		thickness, onS, dt = 4 * mm, 2.0, 5e-3
	)
	hA := h * math.Pi * a * a
	for _, capacity := range []float64{0.02, 0.005} {
		base := tissue.Material{SigmaSM: 0.5, KWMK: 1e4, DensityKgM3: 1000, HeatCapacityJKgK: 1e6}
		c := thermal.Case{
			Layers: []thermal.Layer{{Name: "wall", ThicknessM: thickness, Material: base}, {Name: "beyond", ThicknessM: thickness, Material: base, Beyond: true}},
			Electrode: thermal.Electrode{Tip: thermal.Disc, ContactRadiusM: a, TipRadiusM: a, CapacityJK: capacity, LossWK: loss,
				Surface: thermal.Surface{HeatTransferWM2K: h, TemperatureC: coldC}},
			Drive:    drive.Drive{Mode: drive.Mode{DutyCycle: 1, PeakVoltageV: 1e-3}, FrequencyHz: 400e3, OnS: onS},
			Body:     thermal.Body{TemperatureC: tissueC, BloodHeatCapacityJKgK: 3600},
			Physics:  thermal.Physics{PerfusionStops: thermal.Never, BoilC: 100},
			Damage:   thermal.Damage{Kinetics: damage.Kinetics{Name: "none", Segments: []damage.Segment{{LnA: 0, ThetaK: 1e5}}}},
			Domain:   thermal.Domain{RadiusM: 8 * mm, Side: thermal.Insulated, Bottom: thermal.Grounded},
			Numerics: thermal.Numerics{FinestM: 0.2 * mm, Tolerance: 1e-4, Resolve: 0.02, MaxStepS: dt},
		}
		r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
		if err != nil {
			panic("checks: metal: " + err.Error())
		}
		rest, rate := coldC+hA*(tissueC-coldC)/(hA+loss), (hA+loss)/capacity
		warm := func(t float64) float64 { return rest + (coldC-rest)*math.Exp(-rate*t) }
		for _, t := range []float64{0.2, 0.5, 2} {
			var at thermal.Sample
			for _, s := range r.History {
				if math.Abs(s.TimeS-t) < math.Abs(at.TimeS-t) {
					at = s
				}
			}
			// Explicit steps run ahead by half a step, which is most after one time constant.
			l.add(fmt.Sprintf("a tip of %g J/K on tissue of %g C: its metal after %.4g s", capacity, tissueC, at.TimeS), source,
				warm(at.TimeS), at.ElectrodeC, (rest-coldC)*rate*dt/2/math.E+0.1, "C")
		}
		taken := capacity*(warm(onS)-coldC) + loss*((rest-coldC)*onS-(rest-coldC)*(-math.Expm1(-rate*onS))/rate)
		l.relative(fmt.Sprintf("a tip of %g J/K on tissue of %g C: heat that it took in %g s", capacity, tissueC, onS), source, taken, r.Balance.ElectrodeJ, 0.01, "J")
	}
	return l
}
