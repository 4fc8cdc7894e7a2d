package phrase

import (
	"slices"
	"strings"

	"muralheat/scenarios/keys"
)

// Key is the last part of a key of a scenario in words, without its unit; for a layer with the layer's name, of what was
// done before on the place with its number.
func Key(key, unit string) string {
	if item, within, ok := keys.InBefore(key); ok {
		return strings.NewReplacer("[", " ", "]", " ").Replace(item) + Key(within, unit)
	}
	parts := strings.Split(key, ".")
	last := parts[len(parts)-1]
	for i := strings.IndexByte(last, '_'); i >= 0 && unit != ""; {
		if letters(last[i:]) == letters(unit) {
			last = last[:i]
			break
		}
		next := strings.IndexByte(last[i+1:], '_')
		if next < 0 {
			break
		}
		i += 1 + next
	}
	last = strings.ReplaceAll(last, "_", " ")
	if word, there := readable[last]; there {
		last = word
	}
	last = strings.Replace(last, "sigma", "conductivity", 1)
	parent := ""
	if len(parts) > 1 {
		parent = parts[len(parts)-2]
	}
	switch n := len(parts); {
	case n > 2 && (parts[n-3] == "layers" || parts[0] == "wall" && parent != "material"): // wall.lumen.temperature_C
		return parent + " " + last
	case n > 2 && parent == "material": // of a layer, or of what lies elsewhere
		return parts[n-3] + " " + last
	case parent == "pulses":
		return "pulse " + last
	case parent == "motion" && last == "length":
		return "path length"
	case parent == "between":
		return last + " between pulses"
	case parent == "limits" && n > 2 && parts[n-3] == "between":
		return "limit of " + last + " between pulses"
	case parent == "limits":
		return "limit of " + last
	case parent == "set":
		return last + " as set"
	case slices.Contains(vague, last) && slices.Contains(bodies, parent):
		return parent + " " + last
	}
	return last
}

// bodies have keys that say little without what they belong to, such as vague ones.
var (
	bodies = []string{"wall", "electrode", "pad", "stalk", "loop", "body", "domain"}
	vague  = []string{"area", "radius", "length", "width", "height", "diameter", "thickness", "temperature", "force", "pressure", "heat transfer", "heat capacity"}
)

// readable are the ends of keys that would not be understood as they are.
var readable = map[string]string{
	"on": "time with current", "series": "series resistance", "lost": "loss before the tissue", "k": "thermal conductivity", "dry k": "dry thermal conductivity",
	"boil": "boiling point", "bare": "bare length", "metabolic": "metabolic heat", "times": "number of activations", "Ea": "activation energy",
}

// letters returns what a unit and the ending of a key for it have in common:
// W/(m2 K) and _W_m2K, 1/K and _per_K.
func letters(unit string) string {
	return strings.NewReplacer("1/", "per", "/", "", "(", "", ")", "", " ", "", "_", "").Replace(unit)
}

// UnitText writes a unit as figures do.
func UnitText(unit string) string {
	switch unit {
	case "C":
		return "°C"
	case "percent":
		return "%"
	case "um":
		return "µm"
	}
	return strings.NewReplacer("m2", "m²", "m3", "m³").Replace(unit)
}
