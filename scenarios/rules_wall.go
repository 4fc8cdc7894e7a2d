package scenarios

import (
	"muralheat/scenarios/keys"
	"muralheat/thermal/tissue"
)

var beyondKeys = []string{"wall.beyond.tissue", "wall.beyond.material", "wall.beyond.medium"}

// wallRules are those of the wall's two sides and of each layer.
func wallRules(f *keys.File) []rule {
	var rules []rule
	for i, l := range f.Wall.Layers {
		path := keys.Item("wall.layers", i, keys.Word(l.Name))
		rules = append(rules, rule{key: path + ".muscle", fill: func(*keys.File) (any, string) {
			return keys.Word(l.Name) == "muscularis", "assumption: true for a layer named muscularis"
		}})
		rules = append(rules, materialRules(path, l.Material, l.Tissue)...)
	}
	if b := f.Wall.Beyond; b != nil {
		solid := func(why string, fill func(*keys.File) (any, string)) rule {
			return rule{key: "wall.beyond." + why, hangs: beyondKeys, when: solidBeyond, unless: "belongs to a tissue or material", right: "leave it out with a medium", fill: fill}
		}
		fluid := func(f *keys.File) bool { return !solidBeyond(f) }
		rules = append(rules,
			solid("name", func(*keys.File) (any, string) {
				if b.Tissue != nil {
					return *b.Tissue, "the tissue's name"
				}
				return "beyond", "assumption: no other name given"
			}),
			solid("thickness_mm", of(tissue.BeyondThickness)),
			rule{key: "wall.beyond.heat_transfer_W_m2K", hangs: beyondKeys, when: fluid, unless: "belongs to a medium", right: "leave it out with a tissue or material",
				fill: func(*keys.File) (any, string) { return mediumTransfer(keys.Word(b.Medium)) }},
			rule{key: "wall.beyond.temperature_C", hangs: beyondKeys, when: fluid, unless: "belongs to a medium", right: "leave it out: its far side stays at body temperature",
				fill: asBody},
		)
		rules = append(rules, materialRules("wall.beyond", b.Material, b.Tissue)...)
	}
	return append(rules,
		rule{key: "wall.lumen.medium", fill: func(f *keys.File) (any, string) {
			if f.Wall.Lumen.HeatTransferWM2K != nil {
				return none(f)
			}
			if stirred(f) {
				return "water", "the liquid of wall.liquid"
			}
			return "gas", "assumption: the lumen is opened with gas"
		}},
		rule{key: "wall.lumen.heat_transfer_W_m2K", hangs: []string{"wall.lumen.medium"}, fill: func(f *keys.File) (any, string) {
			return mediumTransfer(keys.Word(f.Wall.Lumen.Medium))
		}},
		rule{key: "wall.lumen.temperature_C", fill: func(f *keys.File) (any, string) {
			value, _ := asBody(f)
			return value, "as body.temperature_C; " + tissue.LumenTemperature.Cited()
		}},
	)
}

// materialRules are those of a material: values of a tissue at the scenario's
// frequency, or what a hand-written material may leave out.
func materialRules(path string, m *keys.Material, name *string) []rule {
	path += ".material"
	if name != nil {
		var rules []rule
		for _, v := range tissueValues {
			rules = append(rules, rule{key: path + "." + v.key, fill: func(f *keys.File) (any, string) {
				if f.Current.FrequencyKHz == nil {
					return none(f)
				}
				return v.of(*name, *f.Current.FrequencyKHz)
			}})
		}
		return rules
	}
	if m == nil {
		return nil
	}
	return []rule{
		{key: path + ".perfusion_kg_m3s", fill: fixed(0.0, "assumption: no blood flow unless given")},
		{key: path + ".water_fraction", hangs: []string{"physics.boiling"}, fill: func(f *keys.File) (any, string) {
			if boils(f) {
				return nil, ""
			}
			return 0.0, "not used without boiling"
		}, needed: "give the mass share of water, from 0 to below 1, or set physics.boiling: false"},
		{key: path + ".metabolic_W_m3", fill: fixed(0.0, "assumption: no metabolic heat unless given")},
	}
}

func mediumTransfer(medium string) (any, string) {
	switch medium {
	case "gas":
		return tissue.LumenGasHeatTransfer.Value, tissue.LumenGasHeatTransfer.Cited()
	case "water":
		return tissue.LumenWaterHeatTransfer.Value, tissue.LumenWaterHeatTransfer.Cited()
	}
	return nil, ""
}
