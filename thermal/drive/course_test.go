package drive

import (
	"math"
	"testing"
)

// A source follows its activations: current, rest, the next current, and nothing after the last.
func TestCourse(t *testing.T) {
	spans := []Span{{0.5, 2, 3}, {0.2, 1, 4}}
	d := Drive{Mode: Mode{DutyCycle: 1, CurrentA: 0.5}, OnS: CourseS(spans), Course: spans}
	if d.OnS != 6 {
		t.Errorf("%g s", d.OnS)
	}
	for _, x := range []struct{ t, amps, until float64 }{{0, 0.5, 2}, {1.9, 0.5, 2}, {2, 0, 5}, {5, 0.2, 6}, {6, 0, math.Inf(1)}} {
		if m, until := d.At(x.t); m.CurrentA != x.amps || until != x.until {
			t.Errorf("at %g s %g A until %g, want %g A until %g", x.t, m.CurrentA, until, x.amps, x.until)
		}
	}
}
