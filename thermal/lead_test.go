package thermal

import (
	"context"
	"math"
	"testing"
)

// The heat of a disc that moves lies about it on average, not behind it: a field that holds for half a cell of its path is that of
// the middle of them.
func TestHeatMovesWithTheDisc(t *testing.T) {
	c := small(Disc)
	c.Physics.Boiling, c.Physics.Carbonisation, c.Physics.SigmaPerK = false, false, 0
	c.Motion = Motion{LengthM: 2e-3, SpeedMS: 1e-3}
	c.Drive.OnS = 2
	r := newRun(c, c.Grid())
	behind, n := 0.0, 0
	err := r.simulate(context.Background(), c, true, Options{Progress: func(float64, float64) {
		if r.xM < 0.5e-3 || r.mode.DutyCycle == 0 {
			return
		}
		sum, moment := 0.0, 0.0
		r.each(func(p, i, _, _ int) {
			if x := r.m.X.Centres[i]; math.Abs(x-r.xM) < 2e-3 {
				sum, moment = sum+r.q[p], moment+r.q[p]*(r.xM-x)
			}
		})
		behind, n = behind+moment/sum, n+1
	}})
	if err != nil {
		t.Fatal(err)
	}
	if behind /= float64(n); math.Abs(behind) > r.finestM/12 || n < 100 || r.conduction.solves > n/2 {
		t.Errorf("heat lies %g um behind the disc on average, cells are %g um; %d steps, %d solutions", 1e6*behind, 1e6*r.finestM, n, r.conduction.solves)
	}
}
