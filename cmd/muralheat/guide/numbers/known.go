package main

import (
	"context"
	"fmt"

	"muralheat/thermal/checks"
	"muralheat/thermal/tissue"
)

// boilDry is the heat, J/mm3, that boils a stomach wall dry from body temperature.
func boilDry() (float64, error) {
	t, ok := tissue.FindTissue("stomach")
	if !ok {
		return 0, fmt.Errorf("no tissue stomach")
	}
	warm := t.HeatCapacity.Value * (tissue.BoilTemperature.Value - tissue.BodyTemperature.Value)
	return 1e-9 * t.Density.Value * (warm + t.Water.Value*tissue.LatentHeat.Value), nil
}

// countChecks counts what muralheat verify computes.
func countChecks() (float64, error) {
	n := 0
	ran, err := checks.Run(context.Background(), checks.Groups(), func(int) {})
	for _, r := range ran {
		n += len(r.Checks)
	}
	return float64(n), err
}
