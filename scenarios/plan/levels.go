package plan

import "muralheat/scenarios"

// levelsOfRange is how many values stand for a range that a design fills.
const levelsOfRange = 11

// Levels returns the values of the keys that vary, key by key as in Inputs; of a range that a design fills, some of it.
// It returns nothing if the cases are named.
func (s *Sweep) Levels() [][]scenarios.Value {
	levels := make([][]scenarios.Value, len(s.axes))
	for a, x := range s.axes {
		levels[a] = x.list
		for n := 0; x.list == nil && n < levelsOfRange; n++ {
			levels[a] = append(levels[a], x.value(float64(n)/(levelsOfRange-1)))
		}
	}
	return levels
}
