// Package tissue holds the material data: thermal, dielectric, water content,
// damage kinetics and wall sites, each number with its source and confidence.
package tissue

// Material is what the solver needs to know of one tissue, at 37 C and at one
// frequency.
type Material struct {
	SigmaSM          float64 // electrical conductivity, S/m
	KWMK             float64 // thermal conductivity, W/(m K)
	DensityKgM3      float64 // kg/m3
	HeatCapacityJKgK float64 // J/(kg K)
	PerfusionKgM3S   float64 // blood mass flow per tissue volume, kg/(m3 s)
	WaterFraction    float64 // water mass / tissue mass, 0..1
	MetabolicWM3     float64 // metabolic heat, W/m3
}
