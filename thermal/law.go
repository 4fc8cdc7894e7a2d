package thermal

import (
	"math"

	"muralheat/thermal/heat"
)

// waterHeatJKgK is the heat capacity of water, J/(kg K), at 37 C.
const waterHeatJKgK = 4180

// law turns a layer into its thermal law. Dried tissue is what is left when its
// water is taken away: mass and heat capacity of the rest, at least 1200 J/(kg K)
// (assumption: protein, from memory 1200-2000).
func (c *Case) law(l Layer) heat.Law {
	mt, ph := l.Material, c.Physics
	dry := mt.DensityKgM3 * (1 - mt.WaterFraction)
	wet := mt.DensityKgM3 * mt.HeatCapacityJKgK
	return heat.Law{
		KWetWMK:       mt.KWMK,
		KDryWMK:       math.Min(ph.DryKWMK, mt.KWMK),
		CWetJM3K:      wet,
		CDryJM3K:      math.Min(wet, math.Max(wet-mt.DensityKgM3*mt.WaterFraction*waterHeatJKgK, dry*1200)),
		LatentJM3:     mt.DensityKgM3 * mt.WaterFraction * ph.LatentJKg,
		SmokeJM3:      dry * ph.CarbonJKg,
		PerfusionWM3K: mt.PerfusionKgM3S * c.Body.BloodHeatCapacityJKgK,
	}
}
