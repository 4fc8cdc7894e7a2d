package figures

import (
	"math"
	"testing"

	"muralheat/output/internal/fixture"
	"muralheat/output/phrase"
)

// The line drawn must be where the summary says the injury ends.
func TestInjuryLineIsTheDepthReported(t *testing.T) {
	for name, s := range fixture.Synthetics {
		r := s.Result()
		if r.Summary.InjuryDepthM == 0 {
			continue
		}
		i, _ := phrase.Deepest(r)
		lowest := 0.0
		for _, l := range Across(r, i).injury().Isoline(0) {
			for _, q := range l {
				lowest = math.Max(lowest, q.Y)
			}
		}
		if d := math.Abs(lowest - 1e3*r.Summary.InjuryDepthM); d > 1e-9 {
			t.Errorf("%s: line ends at %g mm, summary says %g mm", name, lowest, 1e3*r.Summary.InjuryDepthM)
		}
	}
}
