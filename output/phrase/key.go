package phrase

import (
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
	switch last {
	case "on":
		last = "time with current"
	case "series":
		last = "series resistance"
	case "lost":
		last = "loss before the tissue"
	}
	last = strings.Replace(last, "sigma", "conductivity", 1)
	switch n := len(parts); {
	case n > 2 && parts[n-3] == "layers":
		last = parts[n-2] + " " + last
	case n > 2 && parts[n-2] == "material": // of a layer, or of what lies elsewhere
		last = parts[n-3] + " " + last
	case n > 2 && parts[0] == "wall": // wall.lumen.temperature_C
		last = parts[n-2] + " " + last
	}
	return last
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
