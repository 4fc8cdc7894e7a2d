package scenarios

import (
	"fmt"

	"muralheat/scenarios/keys"
)

// geometryKeys decide whether the mesh has two or three dimensions.
var geometryKeys = []string{"motion", "numerics.geometry", "electrode.tip"}

var numericsRules = []rule{
	{key: "numerics.quality", fill: fixed("standard", "assumption: the error of the depth is below the spread of the model")},
	{key: "numerics.finest_um", hangs: []string{"numerics.quality", "electrode"}, fill: func(f *keys.File) (any, string) {
		q, name := qualityOf(f)
		least, _ := contactsMM(f)
		return min(q.finestUM, least*1000/2), name + "; at most half the contact radius"
	}},
	preset("numerics.growth_percent", func(q quality) float64 { return q.growthPercent }, 2),
	preset("numerics.tolerance", func(q quality) float64 { return q.tolerance }, 15),
	preset("numerics.resolve_percent", func(q quality) float64 { return q.resolvePercent }, 20),
	preset("numerics.max_step_ms", func(q quality) float64 { return q.maxStepMS }, 1),
	{key: "numerics.geometry", fill: fixed("auto", "assumption: axisymmetric is faster and agrees with 3-D")},
}

// quality is one preset of numerics.
type quality struct{ finestUM, growthPercent, tolerance, resolvePercent, maxStepMS float64 }

// qualityOf returns the preset of a file and its name.
func qualityOf(f *keys.File) (quality, string) {
	return sceneOf(f).quality(keys.Word(f.Numerics.Quality))
}

// cellsOfWall returns the preset of scenes in the gut.
func cellsOfWall(name string) (quality, string) { return qualities[name], "quality " + name }

// qualities are the presets; assumption: 100 um is where the error of the depth
// (0.03 mm, measured on prototypes) falls below the spread of the model. An old field
// lags where conductivity rises without boiling: one that waits for 5 % leaves 0.03 mm of depth,
// for 0.5 % 0.002 mm, for a tenth more time (measured against finite elements, DEVELOPERS.md). A tolerance five times as large moves
// depths by up to 0.003 mm at standard and fine, 0.006 mm at draft, for a twentieth less time (likewise).
var qualities = map[string]quality{
	"draft":    {200, 40, 2e-3, 1, 20},
	"standard": {100, 20, 1e-3, 0.5, 10},
	"fine":     {50, 10, 4e-4, 0.25, 5},
}

var domainRules = []rule{
	{key: "domain.radius_mm", hangs: geometryKeys, fill: func(f *keys.File) (any, string) {
		_, widest := contactsMM(f)
		if threeD(f) {
			return max(20, 10*widest), "assumption: 20 mm, at least 10 contact radii; over fat a wider body has a higher resistance (muralheat guide results)"
		}
		return max(60, 10*widest), "assumption: 60 mm, at least 10 contact radii; over fat the wall carries current far sideways, and a wider body has a higher resistance (muralheat guide results)"
	}},
	{key: "domain.half_width_mm", hangs: geometryKeys, when: threeD, unless: "belongs to 3-D", right: "leave it out: radius_mm is enough",
		fill: func(f *keys.File) (any, string) { return keys.Num(f.Domain.RadiusMM), "assumption: as radius_mm" }},
	{key: "domain.side", fill: fixed("open", "assumption: the body goes on")},
	{key: "domain.bottom", hangs: []string{"wall.beyond"}, fill: func(f *keys.File) (any, string) {
		if solidBeyond(f) {
			return "open", "assumption: the body goes on"
		}
		return "insulated", "assumption: no current leaves through the medium beyond"
	}},
}

// preset takes a value from the quality, in 3-D so many times as large: cells and solutions cost
// more there, a moving tip asks for a new field all the time, and depth moves by less than
// 0.01 mm (measured).
func preset(key string, pick func(quality) float64, in3D float64) rule {
	return rule{key: key, hangs: append([]string{"numerics.quality"}, geometryKeys...), fill: func(f *keys.File) (any, string) {
		q, source := qualityOf(f)
		x := pick(q)
		if threeD(f) && in3D != 1 {
			return in3D * x, fmt.Sprintf("%s, %g times that in 3-D", source, in3D)
		}
		return x, source
	}}
}

// probeRules are those of the places where history is recorded.
func probeRules(f *keys.File) []rule {
	var rules []rule
	for i, p := range f.Probes {
		path := keys.Item("probes", i, keys.Word(p.Name))
		flat := func(f *keys.File) bool { return !threeD(f) }
		rules = append(rules,
			rule{key: path + ".r_mm", hangs: geometryKeys, when: flat, unless: "belongs to the axisymmetric geometry", right: "give x_mm and y_mm in 3-D", fill: fixed(0.0, "assumption: on the axis")},
			rule{key: path + ".x_mm", hangs: geometryKeys, when: threeD, unless: "belongs to 3-D", right: "give r_mm for a stationary electrode", fill: fixed(0.0, "assumption: where the electrode starts")},
			rule{key: path + ".y_mm", hangs: geometryKeys, when: threeD, unless: "belongs to 3-D", right: "give r_mm for a stationary electrode", fill: fixed(0.0, "assumption: on the track")},
		)
	}
	return rules
}
