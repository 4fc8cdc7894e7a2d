package thermal_test

import (
	"context"
	"fmt"
	"reflect"
	"testing"

	"muralheat/thermal"
)

// A track comes out the same to the bit on one core and on two: fields, summary, history, energy balance.
func TestTwoCores(t *testing.T) {
	disc := standard(pull(antrum(thermal.Disc, 1e-3, 12, 0), 0.6e-3, 2e-3))
	needle := standard(rhythm(pull(antrum(thermal.Needle, 0.25e-3, 0, 0), 0.8e-3, 1e-3)))
	for _, c := range []thermal.Case{disc, needle} {
		var of [3]*thermal.Result
		for cores := 1; cores <= 2; cores++ {
			r, err := thermal.Simulate(context.Background(), &c, thermal.Options{Cores: cores})
			if err != nil {
				t.Fatal(err)
			}
			of[cores] = r
		}
		t.Logf("%d cells, %d steps, %d solutions, depth %g mm", of[1].Summary.Cells, of[1].Summary.Steps, of[1].Summary.Solves, of[1].Summary.InjuryDepthM*1e3)
		if n := of[1].Summary.Cells; n < 20000 {
			t.Errorf("%d cells are computed on one core in any case", n)
		}
		for name, pair := range map[string][2]any{
			"fields":  {of[1].Fields, of[2].Fields},
			"balance": {of[1].Balance, of[2].Balance},
			"summary": {fmt.Sprint(of[1].Summary), fmt.Sprint(of[2].Summary)},
			"history": {fmt.Sprint(of[1].History), fmt.Sprint(of[2].History)},
		} {
			if !reflect.DeepEqual(pair[0], pair[1]) {
				t.Errorf("%s: %s of one core and of two differ", c.Electrode.Tip, name)
			}
		}
	}
}
