package thermal

import (
	"math"

	"muralheat/thermal/heat"
	"muralheat/thermal/tissue"
)

// thermalMaterial returns the thermal behaviour of a layer. Dried tissue is what is left when its
// water is taken away: mass and heat capacity of the rest, at least that of protein.
func (c *Case) thermalMaterial(l Layer) heat.Material {
	mt, ph := l.Material, c.Physics
	dry := mt.DensityKgM3 * (1 - mt.WaterFraction)
	wet := mt.DensityKgM3 * mt.HeatCapacityJKgK
	return heat.Material{
		KWetWMK:       mt.KWMK,
		KDryWMK:       math.Min(ph.DryKWMK, mt.KWMK),
		CWetJM3K:      wet,
		CDryJM3K:      math.Min(wet, math.Max(wet-mt.DensityKgM3*mt.WaterFraction*tissue.WaterHeatCapacity.Value, dry*tissue.DryHeatCapacity.Value)),
		LatentJM3:     mt.DensityKgM3 * mt.WaterFraction * ph.LatentJKg,
		SmokeJM3:      dry * ph.CarbonJKg,
		PerfusionWM3K: mt.PerfusionKgM3S*c.Body.BloodHeatCapacityJKgK + l.RenewalPerS*wet,
		RenewalPerS:   l.RenewalPerS,
		Liquid:        l.Liquid,
	}
}
