package scenarios

import (
	"slices"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
)

// liquidName is the layer of liquid on the mucosa.
const liquidName = "liquid"

// stirred reports whether the liquid is stirred by metal that moves through it, or has all the lumen to mix with: around
// a stalk. Else it lies still around an electrode at rest.
func stirred(f *keys.File) bool {
	return f.Wall.Liquid != nil && (f.Motion != nil || scene(f) == sceneStalk)
}

func liquidRules(f *keys.File) []rule {
	l := f.Wall.Liquid
	if l == nil {
		return nil
	}
	return append([]rule{{
		key: "wall.liquid.renewal_per_s", fill: fixed(0.0, "assumption: still"), when: func(f *keys.File) bool { return !stirred(f) },
		unless: "belongs to an electrode at rest: metal that moves stirs the liquid, which keeps the temperature of the lumen", right: "leave it out",
	}}, materialRules("wall.liquid", l.Material, l.Fluid)...)
}

var liquidChecks = []check{
	{[]string{"wall.liquid", "scene", "motion", "electrode.tip", "numerics.geometry", "electrode.force_N", "electrode.pressure_kPa"}, func(f *keys.File) (string, string) {
		switch {
		case f.Wall.Liquid == nil:
		case scene(f) != sceneWall && scene(f) != sceneStalk:
			return "lies around an electrode on the wall or around a loop", "leave it out"
		case f.Motion != nil && keys.Word(f.Electrode.Tip) == string(thermal.Ball):
			return "is computed around a ball at rest only", "tip: disc, or leave out motion"
		case f.Motion == nil && scene(f) == sceneWall && threeD(f):
			return "is computed around an electrode at rest that is round, or that moves", "leave it out, or leave out numerics.geometry: 3-D"
		}
		return "", ""
	}},
	{[]string{"wall.liquid", wallKeys}, func(f *keys.File) (string, string) {
		if f.Wall.Liquid != nil && slices.ContainsFunc(f.Wall.Layers, func(l *keys.Layer) bool { return keys.Word(l.Name) == liquidName }) {
			return "a layer is already named " + liquidName, "give the layer another name"
		}
		return "", ""
	}},
}
