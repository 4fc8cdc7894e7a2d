package scenarios

import "math"

// Meshes are the three meshes on which a scenario shows its numerical error, finest first: those of
// thermal.Case.Refined, as values of its keys.
type Meshes struct {
	Sets  [3][]Set   // what puts the scenario onto each; nil for its own
	SizeM [3]float64 // finest cells
	Own   int        // which is the scenario's own
}

// Meshes returns the meshes on which muralheat run --refine computes the scenario.
func (s *Scenario) Meshes() Meshes {
	c := s.Case()
	cases, own := c.Refined()
	m := Meshes{Own: own}
	for i := range cases {
		m.SizeM[i] = cases[i].Grid().FinestM
		if i == own {
			continue
		}
		n := cases[i].Numerics
		for _, x := range []struct {
			key   string
			value float64
		}{
			{"numerics.finest_um", 1e6 * n.FinestM}, {"numerics.growth_percent", 100 * n.Growth}, {"numerics.tolerance", n.Tolerance},
			{"numerics.resolve_percent", 100 * n.Resolve}, {"numerics.max_step_ms", 1000 * n.MaxStepS},
		} {
			m.Sets[i] = append(m.Sets[i], Set{Key: x.key, Value: Number(sixDigits(x.value))})
		}
	}
	return m
}

// sixDigits rounds a number to six significant digits, so that a plan of other meshes can be read.
func sixDigits(x float64) float64 {
	scale := math.Pow(10, 5-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*scale) / scale
}
