package thermal_test

import (
	"context"
	"errors"
	"math"
	"testing"
	"time"

	"muralheat/thermal"
	"muralheat/thermal/tissue"
)

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	c := draft(antrum(thermal.Disc, 1e-3, 5, 60))
	steps, last := 0, 0.0
	r, err := thermal.Simulate(ctx, &c, thermal.Options{Progress: func(done, total float64) {
		if done < last || total != 60 {
			t.Errorf("progress %g of %g s after %g s", done, total, last)
		}
		last = done
		if steps++; steps == 7 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || r == nil || r.Summary.Steps != 7 || len(r.History) == 0 {
		t.Fatalf("%v after %d steps", err, steps)
	}
	if math.Abs(r.Balance.EnergyResidual) > 1e-9 {
		t.Errorf("energy balance left open: %g", r.Balance.EnergyResidual)
	}
}

// A material that is not a number ends in a Failure that says where, soon.
func TestNotANumber(t *testing.T) {
	nan := math.NaN()
	for name, spoil := range map[string]func(*tissue.Material){
		"conductivity":         func(m *tissue.Material) { m.SigmaSM = nan },
		"thermal conductivity": func(m *tissue.Material) { m.KWMK = nan },
		"density":              func(m *tissue.Material) { m.DensityKgM3 = nan },
		"heat capacity":        func(m *tissue.Material) { m.HeatCapacityJKgK = nan },
		"perfusion":            func(m *tissue.Material) { m.PerfusionKgM3S = nan },
	} {
		for layer := range 2 {
			c := draft(antrum(thermal.Disc, 1e-3, 5, 1))
			c.Layers = append([]thermal.Layer(nil), c.Layers...)
			spoil(&c.Layers[layer].Material)
			ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
			_, err := thermal.Simulate(ctx, &c, thermal.Options{})
			cancel()
			var f *thermal.Failure
			if !errors.As(err, &f) {
				t.Errorf("%s of layer %d: %v", name, layer, err)
				continue
			}
			if f.Error() == "" || f.TimeS > 0.1 {
				t.Errorf("%s of layer %d: found at %g s", name, layer, f.TimeS)
			}
		}
	}
}

// What no solver can follow ends in a Failure that says so, soon, not in numbers.
func TestNothingToSolve(t *testing.T) {
	for name, spoil := range map[string]func(*thermal.Case){
		"heat spreads at once": func(c *thermal.Case) {
			c.Layers[0].Material.KWMK, c.Layers[0].Material.DensityKgM3, c.Layers[0].Material.HeatCapacityJKgK = 500, 1, 1
		},
		"nothing left once dried": func(c *thermal.Case) {
			c.Layers[0].Material.WaterFraction, c.Layers[0].Material.DensityKgM3 = 1-1e-9, 1
		},
		"conductivity below zero": func(c *thermal.Case) { c.Physics.SigmaPerK, c.Body.TemperatureC = 0.1, 5 },
	} {
		t.Run(name, func(t *testing.T) {
			c := draft(antrum(thermal.Disc, 1e-3, 10, 1))
			c.Layers = append([]thermal.Layer(nil), c.Layers...)
			spoil(&c)
			ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
			defer cancel()
			_, err := thermal.Simulate(ctx, &c, thermal.Options{})
			var f *thermal.Failure
			if !errors.As(err, &f) {
				t.Fatalf("no failure: %v", err)
			}
			if f.TimeS > 0.5 {
				t.Errorf("found at %g s", f.TimeS)
			}
			t.Log(f)
		})
	}
}
