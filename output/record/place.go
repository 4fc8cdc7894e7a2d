package record

import (
	"strings"

	"muralheat/scenarios/experiments"
	"muralheat/thermal"
)

// PlaceOf returns where a case stands among published experiments; settings are those of its scenario.
func PlaceOf(r *thermal.Result, settings []Setting) experiments.Place {
	return experiments.PlaceOf(r.Case, TissueOf(settings), experiments.DeliveredBy(r))
}

// TissueOf returns the organ of the first layer of the wall, as experiments are compared by.
func TissueOf(settings []Setting) string {
	for _, s := range settings {
		if strings.HasPrefix(s.Key, "wall.layers.") && strings.HasSuffix(s.Key, ".tissue") {
			return experiments.Organ(s.Value)
		}
	}
	return "a material of its own"
}
