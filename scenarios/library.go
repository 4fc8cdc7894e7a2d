package scenarios

import (
	"fmt"

	"muralheat/scenarios/keys"
	"muralheat/thermal/damage"
	"muralheat/thermal/tissue"
)

// library marks a source as that of the tissue library: the person chose the
// site or tissue, the library its values.
const library = "library: "

// siteLayers returns the layers of a site, its submucosa a scar if so asked, and the
// source of each of their keys.
func siteLayers(name string, fibrosis bool) ([]*keys.Layer, map[string]string) {
	site, _ := tissue.FindSite(name)
	layers, sources := []*keys.Layer{}, map[string]string{}
	for i, l := range site.Layers {
		mm := l.ThicknessMM.Value
		path := keys.Item("wall.layers", i, l.Name)
		of := library + "site " + name
		layer := &keys.Layer{Name: &l.Name, ThicknessMM: &mm, Tissue: &l.Tissue, Muscle: &l.Muscle}
		layers = append(layers, layer)
		sources[path+".name"] = of
		sources[path+".thickness_mm"] = of + ": " + l.ThicknessMM.Cited()
		sources[path+".tissue"] = of
		if fibrosis && l.Name == submucosa {
			scar := tissue.FibroticSubmucosa
			layer.Tissue = &scar
			sources[path+".tissue"] = "fibrosis: in place of " + l.Tissue
		}
		sources[path+".muscle"] = of
	}
	return layers, sources
}

// tissueValue is one value of a tissue's material.
type tissueValue struct {
	key  string
	pick func(t tissue.Tissue, frequencyHz float64) tissue.Value
}

// tissueValues are the keys of Material, each with where the library has it.
var tissueValues = []tissueValue{
	{"sigma_S_m", func(t tissue.Tissue, hz float64) tissue.Value { return t.Sigma(hz) }},
	{"k_W_mK", func(t tissue.Tissue, _ float64) tissue.Value { return t.K }},
	{"density_kg_m3", func(t tissue.Tissue, _ float64) tissue.Value { return t.Density }},
	{"heat_capacity_J_kgK", func(t tissue.Tissue, _ float64) tissue.Value { return t.HeatCapacity }},
	{"perfusion_kg_m3s", func(t tissue.Tissue, _ float64) tissue.Value { return t.Perfusion }},
	{"water_fraction", func(t tissue.Tissue, _ float64) tissue.Value { return t.Water }},
	{"metabolic_W_m3", func(t tissue.Tissue, _ float64) tissue.Value { return t.Metabolic }},
}

// of returns the value for the tissue of a name, and its source.
func (v tissueValue) of(name string, kHz float64) (any, string) {
	t, ok := tissue.FindTissue(name)
	if !ok {
		return nil, ""
	}
	x, at := v.pick(t, kHz*1000), ""
	if v.key == "sigma_S_m" {
		at = fmt.Sprintf(" at %g kHz", kHz)
	}
	return x.Value, library + "tissue " + name + at + ": " + x.Cited()
}

func kineticsSource(name string) string {
	k, _ := tissue.FindKinetics(name)
	if name == tissue.DefaultKinetics {
		return k.Source + "; the default: " + tissue.DefaultReason
	}
	return k.Source
}

// kinetics returns the damage law of a name.
func kinetics(name string) damage.Kinetics {
	k, _ := tissue.FindKinetics(name)
	return k.Kinetics
}
