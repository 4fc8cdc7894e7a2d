package experiments

import (
	_ "embed"
	"fmt"

	"go.yaml.in/yaml/v4"
)

//go:embed held.yaml
var heldText []byte

// Held is tissue that was held at temperatures, for checks of damage kinetics.
type Held struct {
	ID, Title, Source, Read, Where string
	Line                           Line
	Minutes                        float64
	TemperatureC                   []float64 `yaml:"temperature_C"`
	DamagePercent                  []float64 `yaml:"damage_percent"` // at each temperature
}

// HeldExposures returns the exposures of tissue held at a temperature.
func HeldExposures() ([]Held, error) {
	var list []Held
	if err := yaml.Unmarshal(heldText, &list); err != nil {
		return nil, fmt.Errorf("experiments: held.yaml: %w", err)
	}
	for _, h := range list {
		if len(h.TemperatureC) == 0 || len(h.TemperatureC) != len(h.DamagePercent) {
			return nil, fmt.Errorf("experiments: held.yaml: %s: as many temperatures as shares", h.ID)
		}
	}
	return list, nil
}
