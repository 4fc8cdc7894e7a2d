package experiments

import (
	_ "embed"
	"fmt"
	"math"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
)

// constants.yaml names the constants that may be fitted.
//
//go:embed constants.yaml
var constantsText []byte

// MaxConstants is how many constants may be fitted in all.
const MaxConstants = 6

// Constant is a constant of the model that is fitted to the experiments of part fit.
type Constant struct {
	Key       string  // of a scenario
	Start     float64 // where the search starts
	Low, High float64 // sourced range, which the search does not leave
	Law       string  // linear or log: how the range is searched
	Why       string
}

// At returns the value at the place u of the range, 0 to 1.
func (c Constant) At(u float64) float64 {
	u = math.Min(1, math.Max(0, u))
	if c.Law == "log" {
		return c.Low * math.Pow(c.High/c.Low, u)
	}
	return c.Low + u*(c.High-c.Low)
}

// Place returns where in the range a value lies, 0 to 1.
func (c Constant) Place(v float64) float64 {
	if c.Law == "log" {
		return math.Log(v/c.Low) / math.Log(c.High/c.Low)
	}
	return (v - c.Low) / (c.High - c.Low)
}

// Set returns a constant as a setting of a scenario.
func (c Constant) Set(v float64) scenarios.Set {
	return scenarios.Set{Key: c.Key, Value: scenarios.Number(v)}
}

// Constants returns the constants that may be fitted.
func Constants() ([]Constant, error) {
	var list []Constant
	if err := yaml.Unmarshal(constantsText, &list); err != nil {
		return nil, fmt.Errorf("experiments: constants.yaml: %w", err)
	}
	if len(list) > MaxConstants {
		return nil, fmt.Errorf("experiments: constants.yaml: %d constants, at most %d", len(list), MaxConstants)
	}
	for _, c := range list {
		if !(c.Low < c.High && c.Low <= c.Start && c.Start <= c.High) || c.Why == "" || (c.Law != "log" && c.Law != "linear") || (c.Law == "log" && c.Low <= 0) {
			return nil, fmt.Errorf("experiments: constants.yaml: %s: low <= start <= high, law linear or log, a why", c.Key)
		}
	}
	return list, nil
}
