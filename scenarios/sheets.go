package scenarios

import (
	"fmt"

	"muralheat/scenarios/keys"
	"muralheat/thermal/tissue"
)

// sheet is one layer of the wall as it is computed.
type sheet struct {
	name     string
	mm       float64 // thickness
	material *keys.Material
	muscle   bool
}

// Names of the layers that a cushion makes of the submucosa: two halves of it, the
// fluid between them.
const (
	submucosa     = "submucosa"
	cushion       = "cushion"
	deepSubmucosa = "submucosa-deep"
)

// sheets returns the layers of the wall as they are computed: stretched, lifted by the
// cushion, and thinned under a ball or disc that presses on them.
func sheets(f *keys.File) []sheet {
	wall := unpressed(f)
	if presses(f) {
		soft := wall[:givesWay(wall)]
		keep := softLayer(f, soft).Squeeze(hold(f).IndentationM)
		for i := range soft {
			soft[i].mm *= keep
		}
	}
	return wall
}

// unpressed returns the layers before the electrode presses on them. Stretch keeps the
// volume of tissue; a cushion is as thick as it is said to be.
func unpressed(f *keys.File) []sheet {
	var wall []sheet
	for _, l := range f.Wall.Layers {
		s := sheet{keys.Word(l.Name), keys.Num(l.ThicknessMM) / keys.Num(f.Wall.Stretch), l.Material, keys.On(l.Muscle)}
		if c := f.Wall.Cushion; c != nil && s.name == submucosa {
			s.mm /= 2
			deep := s
			deep.name = deepSubmucosa
			wall = append(wall, s, sheet{cushion, keys.Num(c.ThicknessMM), c.Material, false}, deep)
			continue
		}
		wall = append(wall, s)
	}
	return wall
}

// cutOpen leaves out the layers before the one that wall.from names.
func cutOpen(f *keys.File, r *keys.Report) {
	const key = "wall.from"
	if f.Wall.From == nil || r.Spoilt(key) || r.Spoilt(wallKeys) || r.Spoilt("wall.site") {
		return
	}
	var names []string
	for i, l := range f.Wall.Layers {
		if name := keys.Word(l.Name); name == *f.Wall.From {
			f.Wall.Layers = f.Wall.Layers[i:]
			return
		} else if name != "" {
			names = append(names, name)
		}
	}
	r.At(key, keys.Quote(*f.Wall.From)+" is no layer of the wall", "name one of "+keys.List(names, "or"))
}

// cushionRules are those of stretch, fibrosis and the injected fluid.
func cushionRules(f *keys.File) []rule {
	rules := []rule{
		{key: "wall.stretch", fill: fixed(1.0, "assumption: as in the library, or as the layers are given")},
		{key: "wall.fibrosis", when: func(f *keys.File) bool { return f.Wall.Site != nil },
			unless: "belongs to a site", right: "give the layer tissue: " + tissue.FibroticSubmucosa,
			fill: fixed(false, "assumption: no scar")},
	}
	if c := f.Wall.Cushion; c != nil {
		rules = append(rules, materialRules("wall.cushion", c.Material, c.Fluid)...)
	}
	return rules
}

var cushionChecks = []check{
	{[]string{"wall.cushion", wallKeys, "wall.site"}, func(f *keys.File) (string, string) {
		if f.Wall.Cushion == nil {
			return "", ""
		}
		found := false
		for _, l := range f.Wall.Layers {
			switch name := keys.Word(l.Name); name {
			case submucosa:
				if keys.On(l.Muscle) {
					return "would split the layer whose injury is judged", "mark another layer as the muscle"
				}
				found = true
			case cushion, deepSubmucosa:
				return "a layer is already named " + name, "give the layer another name, or leave the cushion out"
			}
		}
		if !found {
			return "no layer is named " + submucosa, "give that name to the layer into which the fluid goes"
		}
		return "", ""
	}},
}

// wallNotes are remarks on what was done to the wall before the electrode came.
func wallNotes(f *keys.File) []string {
	var notes []string
	if stretch, mm := *f.Wall.Stretch, wallMM(f); stretch != 1 {
		notes = append(notes, fmt.Sprintf("Stretched to %g times its area: the wall is %.3g mm thick instead of %.3g mm.", stretch, mm/stretch, mm))
	}
	if f.Wall.Cushion == nil {
		return notes
	}
	notes = append(notes, "The fluid of the cushion does not flow in this model. An injury line in it only marks how far the heat went.")
	for _, l := range f.Wall.Layers {
		if keys.Word(l.Name) == submucosa && keys.Word(l.Tissue) == tissue.FibroticSubmucosa {
			notes = append(notes, fmt.Sprintf("A cushion of %g mm in a scar: fibrotic tissue lifts poorly, and the cushion may turn out thinner (common practice, no source).", *f.Wall.Cushion.ThicknessMM))
		}
	}
	return notes
}
