package plan

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// TestLaws compares draws with the moments and quantiles of gonum's distributions, by the
// standard error of each over 4000 draws, five of them allowed.
func TestLaws(t *testing.T) {
	const draws = 4000
	tri := distuv.NewTriangle(1, 4, 2, nil)
	for name, tt := range map[string]struct {
		law      string
		mean, sd float64
		low, top float64 // no draw beyond
	}{
		"normal":     {"normal: {mean: 10, sd: 0.5}, within: {low: 0, high: 500}", 10, 0.5, 7, 13},
		"lognormal":  {"lognormal: {median: 2, gsd: 1.3}, within: {low: 0, high: 500}", distuv.LogNormal{Mu: math.Log(2), Sigma: math.Log(1.3)}.Mean(), distuv.LogNormal{Mu: math.Log(2), Sigma: math.Log(1.3)}.StdDev(), 0, 10},
		"uniform":    {"uniform: {low: 2, high: 5}", 3.5, 3 / math.Sqrt(12), 2, 5},
		"triangular": {"triangular: {low: 1, mode: 2, high: 4}", tri.Mean(), tri.StdDev(), 1, 4},
		// The upper half of a normal law: mean sqrt(2/pi) sd, variance (1 - 2/pi) sd2.
		"half normal": {"normal: {mean: 10, sd: 1}, within: {low: 10, high: 99}", 10 + math.Sqrt(2/math.Pi), math.Sqrt(1 - 2/math.Pi), 10, 99},
		"cut off":     {"normal: {mean: 10, sd: 100}, within: {low: 9, high: 11}", 10, 2 / math.Sqrt(12), 9, 11},
	} {
		s := mustPlan(t, "uncertain: [{key: current.power_W, "+tt.law+"}]\ndraws: 4000\nseed: 11\n")
		var x []float64
		for i := range s.Len() {
			v, _ := s.Sets(i)[0].Value.Number()
			x = append(x, v)
		}
		mean, sd := stat.MeanStdDev(x, nil)
		if se := tt.sd / math.Sqrt(draws); math.Abs(mean-tt.mean) > 5*se {
			t.Errorf("%s: mean %.4f, want %.4f within %.4f", name, mean, tt.mean, 5*se)
		}
		if math.Abs(sd/tt.sd-1) > 0.06 {
			t.Errorf("%s: sd %.4f, want %.4f", name, sd, tt.sd)
		}
		if slices.Min(x) < tt.low || slices.Max(x) > tt.top {
			t.Errorf("%s: draws from %g to %g leave %g to %g", name, slices.Min(x), slices.Max(x), tt.low, tt.top)
		}
	}
}

// TestDraws: the draws are the same at every point, differ between keys and with the
// seed, and are still the same when there are more of them.
func TestDraws(t *testing.T) {
	const text = "vary: [{key: current.on_s, values: [1, 2]}]\nuncertain: [{key: current.power_W, uniform: {low: 1, high: 2}}, {key: afterwards_s, uniform: {low: 1, high: 2}}]\n"
	s := mustPlan(t, text+"draws: 5\nseed: 2\n")
	if s.Len() != 10 || s.Points() != 2 {
		t.Fatalf("%d cases, %d points", s.Len(), s.Points())
	}
	seen := map[string]bool{}
	for d := range 5 {
		a, b := s.Sets(d), s.Sets(5+d)
		if a[1].Value.String() != b[1].Value.String() || a[2].Value.String() != b[2].Value.String() {
			t.Errorf("draw %d differs between points", d)
		}
		seen[a[1].Value.String()], seen[a[2].Value.String()] = true, true
	}
	if len(seen) != 10 {
		t.Errorf("%d different values in 10 draws", len(seen))
	}
	if more := mustPlan(t, text+"draws: 9\nseed: 2\n"); !slices.Equal(said(s)[:5], said(more)[:5]) {
		t.Error("more draws change the first ones")
	}
	if other := mustPlan(t, text+"draws: 5\nseed: 3\n"); slices.Equal(said(s), said(other)) {
		t.Error("another seed gives the same draws")
	}
}

// What is uncertain is called as the plan says, as what varies is; else by its key.
func TestUncertainHasATitle(t *testing.T) {
	s := mustPlan(t, "uncertain: [{key: current.power_W, title: drawn power, uniform: {low: 1, high: 2}}, {key: afterwards_s, uniform: {low: 1, high: 2}}]\ndraws: 2\n")
	if a, b := s.Inputs[0].Title, s.Inputs[1].Title; a != "drawn power" || b != "afterwards_s" {
		t.Errorf("titles %q and %q", a, b)
	}
}
