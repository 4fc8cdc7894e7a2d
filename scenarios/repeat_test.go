package scenarios

import (
	"math"
	"testing"

	"muralheat/thermal"
)

// The key repeat becomes that of the case; without it there is one activation.
func TestRepeat(t *testing.T) {
	for _, tt := range []struct {
		keys   string
		want   thermal.Repeat
		totalS float64
	}{
		{"", thermal.Repeat{}, 12},
		{"repeat: {times: 3, pause_s: 4}\n", thermal.Repeat{Times: 3, PauseS: 4}, 3*2 + 2*4 + 10},
		{"motion: {length_mm: 4, speed_mm_s: 2}\nrepeat: {times: 2, pause_s: 0}\n", thermal.Repeat{Times: 2}, 2*2 + 10},
		{"motion: {length_mm: 4, speed_mm_s: 2}\nrepeat: {times: 2, pause_s: 1, back_and_forth: true}\n", thermal.Repeat{Times: 2, PauseS: 1, BackAndForth: true}, 2*2 + 1 + 10},
	} {
		s := parse1(t, end, end+tt.keys)
		c := s.Case()
		if c.Repeat != tt.want || math.Abs(c.TotalS()-tt.totalS) > 1e-12 || math.Abs(totalS(s.File)-tt.totalS) > 1e-12 {
			t.Errorf("%q: %+v, %g s", tt.keys, c.Repeat, c.TotalS())
		}
	}
}
