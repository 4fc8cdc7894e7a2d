package scenarios

import (
	"slices"

	"muralheat/scenarios/keys"
)

// liquidName is the layer of liquid on the mucosa.
const liquidName = "liquid"

func liquidRules(f *keys.File) []rule {
	l := f.Wall.Liquid
	if l == nil {
		return nil
	}
	return append([]rule{{key: "wall.liquid.renewal_per_s", fill: fixed(0.0, "assumption: still")}},
		materialRules("wall.liquid", l.Material, l.Fluid)...)
}

var liquidChecks = []check{
	{[]string{"wall.liquid", "scene", "motion", "electrode.tip", "numerics.geometry", "electrode.force_N", "electrode.pressure_kPa"}, func(f *keys.File) (string, string) {
		switch {
		case f.Wall.Liquid == nil:
		case scene(f) != sceneWall:
			return "lies around an electrode on the wall only", "leave it out"
		case threeD(f):
			return "is computed around an electrode at rest only", "leave it out, or leave out motion and numerics.geometry: 3d"
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
