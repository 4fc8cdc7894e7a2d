package thermal_test

import (
	"context"
	"math"
	"testing"

	"muralheat/thermal"
)

// Steps are as short as Numerics.MaxStepS while resistivity changes fast and several times as long while it hardly does, or no
// current flows; rows of history stay where they are.
func TestCalmSteps(t *testing.T) {
	const onS, afterS = 4.0, 4.0
	c := with(standard(antrum(thermal.Disc, 1e-3, 10, onS)), func(c *thermal.Case) { c.AfterS = afterS })
	c.Numerics.FinestM = 200e-6
	shortest := c.Numerics.MaxStepS
	last, early, late, longest := 0.0, 0.0, 0.0, 0.0
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{Progress: func(clockS, _ float64) {
		stepS := clockS - last
		switch {
		case last < 0.2:
			early = math.Max(early, stepS)
		case last > onS-0.2 && last < onS-0.05:
			late = math.Max(late, stepS)
		}
		longest = math.Max(longest, stepS)
		last = clockS
	}})
	if err != nil {
		t.Fatal(err)
	}
	if early > shortest*1.0001 || late < 1.9*shortest || longest > 4.0001*shortest {
		t.Errorf("steps of up to %g s at first, %g s at the end of the current, %g s at all; Numerics.MaxStepS is %g s", early, late, longest, shortest)
	}
	for i, row := range r.History[1:] {
		due := onS / 200
		if row.TimeS > onS {
			due = afterS / 100
		}
		gap := row.TimeS - r.History[i].TimeS
		if calm := row.TimeS > 0.75*onS && row.TimeS < onS || row.TimeS > onS+0.1; calm && math.Abs(gap-due) > 1e-9 {
			t.Errorf("row at %g s comes %g s after the one before; one each %g s is due", row.TimeS, gap, due)
		}
	}
}
