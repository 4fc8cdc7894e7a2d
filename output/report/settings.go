package report

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"muralheat/output/document"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

// valueOf prints the value of a setting with its unit, rounded for reading.
func valueOf(s record.Setting) string {
	v := s.Value
	if x, err := strconv.ParseFloat(v, 64); err == nil {
		v = digits(x)
	}
	if s.Unit != "" {
		v += " " + phrase.UnitText(s.Unit)
	}
	return v
}

// subjectOf tells in which section of a report a setting belongs.
func subjectOf(key string) string {
	ends := func(names ...string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return strings.HasSuffix(key, n) })
	}
	top, _, _ := strings.Cut(key, ".")
	switch {
	case key == "title", key == "question", key == "context_of_use", top == "decision", key == "scene", ends(".name"):
		return ""
	case strings.Contains(key, ".material.") || ends(".tissue"):
		return "properties"
	case ends("heat_transfer_W_m2K", "temperature_C", ".medium"), key == "domain.side", key == "domain.bottom", top == "body":
		return "boundaries"
	case top == "physics", top == "damage":
		return "laws"
	case top == "numerics":
		return "numerics"
	case top == "current", top == "afterwards_s":
		return "drive"
	}
	return "geometry"
}

// settingsTable lists the settings of a subject.
func settingsTable(all []record.Setting, subject, caption string) document.Table {
	t := document.Table{Caption: caption, Head: []string{"setting", "value", "unit", "given, or source"}, Stacked: true}
	for _, s := range all {
		if subjectOf(s.Key) != subject {
			continue
		}
		bare := s
		bare.Unit = ""
		t.Rows = append(t.Rows, []string{s.Key, valueOf(bare), phrase.UnitText(s.Unit), sourceOf(s)})
	}
	return t
}

func sourceOf(s record.Setting) string {
	switch {
	case s.Given && s.Source != "":
		return "given by " + s.Source
	case s.Given:
		return "given in the scenario"
	}
	return strings.TrimPrefix(s.Source, "library: ")
}

// ofTissue is the start of a source that names the tissue, which the table has already.
var ofTissue = regexp.MustCompile(`^tissue [^ :]+( at [^:]+)?: `)

var propertyNames = map[string]string{
	"sigma_S_m":           "electrical conductivity, S/m",
	"k_W_mK":              "thermal conductivity, W/(m K)",
	"density_kg_m3":       "density, kg/m3",
	"heat_capacity_J_kgK": "heat capacity, J/(kg K)",
	"perfusion_kg_m3s":    "blood flow, kg/(m3 s)",
	"water_fraction":      "mass fraction of water",
	"metabolic_W_m3":      "metabolic heat, W/m3",
}

// propertyTables puts the properties of all layers side by side, with numbered sources.
func propertyTables(all []record.Setting) []document.Block {
	var layers, properties, sources []string
	cell := map[[2]string]string{}
	for _, s := range all {
		if subjectOf(s.Key) != "properties" {
			continue
		}
		layer, property, ok := strings.Cut(s.Key, ".material.")
		if !ok {
			layer, property = strings.TrimSuffix(s.Key, ".tissue"), "tissue"
		}
		layer = strings.TrimPrefix(strings.TrimPrefix(layer, "wall.layers."), "wall.")
		if !slices.Contains(layers, layer) {
			layers = append(layers, layer)
		}
		if !slices.Contains(properties, property) {
			properties = append(properties, property)
		}
		bare := s
		bare.Unit = ""
		v := valueOf(bare)
		switch source := ofTissue.ReplaceAllString(sourceOf(s), ""); {
		case s.Given:
			v += " (given)"
		case source != "" && property != "tissue":
			n := slices.Index(sources, source)
			if n < 0 {
				n = len(sources)
				sources = append(sources, source)
			}
			v += fmt.Sprintf(" [%d]", n+1)
		}
		cell[[2]string{layer, property}] = v
	}
	t := document.Table{Caption: "Properties at 37 °C and at the frequency of the source; [n]: source, listed below", Head: append([]string{"property"}, layers...)}
	for _, p := range properties {
		row := []string{p}
		if name := propertyNames[p]; name != "" {
			row[0] = name
		}
		for _, l := range layers {
			row = append(row, cell[[2]string{l, p}])
		}
		t.Rows = append(t.Rows, row)
	}
	refs := document.Table{Caption: "Sources of the properties", Head: []string{"no.", "source, tissue, confidence"}, Stacked: true}
	for n, s := range sources {
		refs.Rows = append(refs.Rows, []string{fmt.Sprintf("[%d]", n+1), s})
	}
	blocks := []document.Block{t}
	if len(sources) > 0 {
		blocks = append(blocks, refs)
	}
	return blocks
}
