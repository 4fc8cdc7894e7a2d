package limit

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
)

// asking returns a sweep over two walls that asks for a limit of the power.
func asking(t *testing.T, limit, more string) *plan.Sweep {
	t.Helper()
	return askingOf(t, "vary:\n  - {key: wall.site, values: [right-colon, rectum]}\n", limit, more)
}

func askingOf(t *testing.T, vary, limit, more string) *plan.Sweep {
	t.Helper()
	text := "title: T\nscenario: base.yaml\n" + vary + "limit: " + limit + "\n" + more
	s, err := plan.Parse("p.yaml", []byte(text), func(string) (*scenarios.Scenario, error) {
		return scenarios.Parse("base.yaml", []byte("title: B\nwall: {site: rectum}\nelectrode: {tip: disc, radius_mm: 1}\ncurrent: {sparks: false, power_W: 1, on_s: 1}\n"))
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// known stands in for the solver: a function of power and thickness of the mucosa.
func known(f func(powerW, mucosaMM float64) float64, count *atomic.Int64) Value {
	return func(_ context.Context, s *scenarios.Scenario) (Result, error) {
		if count != nil {
			count.Add(1)
		}
		c := s.Case()
		return Result{Value: f(c.Drive.PowerW, c.Layers[0].ThicknessM*1000)}, nil
	}
}

const margin = "{key: current.power_W, from: 1, to: 9, above: 0.2, tolerance_percent: 0.1}"

// The root of a known function, at each wall, from its safe side, in few computations.
func TestFound(t *testing.T) {
	var n atomic.Int64
	s := asking(t, margin, "")
	got, err := Find(context.Background(), s, known(func(p, mm float64) float64 { return 2*mm - 0.02*p*p }, &n), 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, mm := range []float64{0.45, 0.85} {
		want := math.Sqrt((2*mm - 0.2) / 0.02)
		a := got[i]
		if a.Kind != Found || a.Limit > want || want-a.Limit > 0.008 || a.Unsafe <= want || a.Crossings != 1 || a.Measure < 0.2 || a.Point != i {
			t.Errorf("wall %d: %+v, root %g", i, a, want)
		}
		if a.Computed > 16 {
			t.Errorf("%d computations", a.Computed)
		}
	}
	if int(n.Load()) != got[0].Computed+got[1].Computed {
		t.Errorf("%d computed, %d and %d told", n.Load(), got[0].Computed, got[1].Computed)
	}
}

// The smallest safe value, a result that must stay below, nothing safe, all safe.
func TestEnds(t *testing.T) {
	rises := func(p, _ float64) float64 { return 10 * p }
	for _, c := range []struct {
		limit string
		kind  Kind
		want  float64
	}{
		{"{key: current.power_W, from: 1, to: 9, column: peak_C, below: 44, tolerance_percent: 0.1}", Found, 4.4},
		{"{key: current.power_W, from: 1, to: 9, column: peak_C, above: 44, find: smallest, tolerance_percent: 0.1}", Found, 4.4},
		{"{key: current.power_W, from: 1, to: 9, column: peak_C, below: 5}", NoneSafe, math.NaN()},
		{"{key: current.power_W, from: 1, to: 9, column: peak_C, below: 100}", AllSafe, 9},
		{"{key: current.power_W, from: 1, to: 9, column: peak_C, above: 1, find: smallest}", AllSafe, 1},
	} {
		got, err := Find(context.Background(), asking(t, c.limit, ""), known(rises, nil), 1, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a := got[1]; a.Kind != c.kind || !(math.Abs(a.Limit-c.want) <= 0.008) && !math.IsNaN(c.want) || math.IsNaN(c.want) != math.IsNaN(a.Limit) {
			t.Errorf("%s: %+v", c.limit, a)
		}
	}
}

// Safe again further on: the limit is that of the values connected to the safe end, and
// the crossings tell.
func TestNotMonotonic(t *testing.T) {
	got, err := Find(context.Background(), asking(t, "{key: current.power_W, from: 1, to: 9, above: 0, scan: 9, tolerance_percent: 0.1}", ""),
		known(func(p, _ float64) float64 { return (p - 3.3) * (p - 6.6) }, nil), 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a := got[0]; a.Crossings != 2 || math.Abs(a.Limit-3.3) > 0.008 || a.Limit > 3.3 {
		t.Errorf("%+v", a)
	}
}

// thinMucosa is drawn: 0.8 mm with a standard deviation of 0.1 mm.
const thinMucosa = "uncertain:\n  - {key: wall.layers.mucosa.thickness_mm, normal: {mean: 0.8, sd: 0.1}, within: {low: 0.2, high: 2}}\nseed: 3\n"

// thicknesses returns those of the mucosa that are drawn, mm, the thinnest first.
func thicknesses(t *testing.T, s *plan.Sweep) []float64 {
	t.Helper()
	var drawn []float64
	for d := range s.Draws {
		c, err := s.Base.With(s.Sets(d)...)
		if err != nil {
			t.Fatal(err)
		}
		of := c.Case()
		drawn = append(drawn, of.Layers[0].ThicknessM*1000)
	}
	slices.Sort(drawn)
	return drawn
}

// With draws an exact bound decides: with 300 and 5 % not to be passed 8 may lie beyond (scipy.stats.binomtest), not 9, and
// the probability at the limit, known here, is below 5 %.
func TestDraws(t *testing.T) {
	s := askingOf(t, "", "{key: current.power_W, from: 0.5, to: 0.8, above: 0, probability_percent: 5, tolerance_percent: 0.2, scan: 2}", thinMucosa+"draws: 300\n")
	got, err := Find(context.Background(), s, known(func(p, mm float64) float64 { return mm - p }, nil), 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	first := thicknesses(t, s)[8] // that must not lie beyond
	a := got[0]
	if a.Kind != Found || a.Limit >= first || first-a.Limit > 0.002*0.3 || a.Measure != 8.0/300 || s.Limit.Allowed != 8 || s.Limit.Chosen {
		t.Errorf("%+v, want up to %g", a, first)
	}
	if a.AtMost > 0.05 || a.AtMost < 0.045 {
		t.Errorf("at most %g", a.AtMost)
	}
	if truth := (distuv.Normal{Mu: 0.8, Sigma: 0.1}).CDF(a.Limit); truth > 0.05 {
		t.Errorf("%g %% lie beyond %g", 100*truth, a.Limit)
	}
}

// Without draws in the plan there are as many as can show it: 59 for 5 % with 95 %, of which none may lie beyond; 299
// for 1 %. The workers share the draws of one point, and the answer is that of one worker.
func TestDrawsAreChosen(t *testing.T) {
	const search = "{key: current.power_W, from: 0.3, to: 0.9, above: 0, tolerance_percent: 1"
	s := askingOf(t, "", search+"}", thinMucosa)
	if s.Draws != 59 || s.Limit.Allowed != 0 || !s.Limit.Chosen {
		t.Fatalf("%d draws, %d allowed", s.Draws, s.Limit.Allowed)
	}
	if s := askingOf(t, "", search+", probability_percent: 1}", thinMucosa); s.Draws != 299 {
		t.Errorf("%d draws for 1 %%", s.Draws)
	}
	if s := askingOf(t, "", search+", confidence_percent: 99}", thinMucosa); s.Draws != 90 {
		t.Errorf("%d draws with 99 %%", s.Draws)
	}
	var busy, most atomic.Int64
	value := func(_ context.Context, s *scenarios.Scenario) (Result, error) {
		most.Store(max(most.Load(), busy.Add(1)))
		defer busy.Add(-1)
		time.Sleep(time.Microsecond)
		c := s.Case()
		return Result{Value: c.Layers[0].ThicknessM*1000 - c.Drive.PowerW}, nil
	}
	one, err := Find(t.Context(), s, value, 1, nil)
	if err != nil || most.Load() != 1 {
		t.Fatalf("%v, %d at a time", err, most.Load())
	}
	four, err := Find(t.Context(), s, value, 4, nil)
	if err != nil || most.Load() < 2 || most.Load() > 4 {
		t.Errorf("%v, %d at a time", err, most.Load())
	}
	if thinnest := thicknesses(t, s)[0]; one[0].Limit >= thinnest || thinnest-one[0].Limit > 0.006 || one[0].Measure != 0 || fmt.Sprint(one) != fmt.Sprint(four) {
		t.Errorf("%+v and %+v, the thinnest %g", one, four, thinnest)
	}
}

// A case that fails ends the search of its point alone, with the reason; a stop ends all.
func TestFailures(t *testing.T) {
	s := asking(t, margin, "")
	got, err := Find(context.Background(), s, func(_ context.Context, s *scenarios.Scenario) (Result, error) {
		if c := s.Case(); c.Layers[0].ThicknessM < 0.5e-3 {
			return Result{}, errors.New("cold")
		} else {
			return Result{Value: 1 - 0.1*c.Drive.PowerW}, nil
		}
	}, 1, nil)
	if err != nil || got[0].Kind != Failed || !strings.Contains(got[0].Reason, "current.power_W = 1: cold") || got[1].Kind != Found {
		t.Errorf("%v, %+v", err, got)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Find(ctx, s, known(func(p, _ float64) float64 { return p }, nil), 2, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if fmt.Sprint(got[0].Limit) != "NaN" {
		t.Errorf("a limit without an answer: %g", got[0].Limit)
	}
}

// A range with hardly a number in it ends, and a bug at one point is that point's failure.
func TestEndsAnyhow(t *testing.T) {
	s := asking(t, "{key: current.power_W, from: 499.9999999999999, to: 500, above: 0, tolerance_percent: 0.01, scan: 2}", "")
	step := func(p, mm float64) float64 {
		if mm > 0.5 {
			panic("index out of range [-1]")
		}
		return 499.99999999999995 - p
	}
	got, err := Find(t.Context(), s, known(step, nil), 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a := got[0]; a.Kind != Found || !(a.Limit < a.Unsafe) {
		t.Errorf("%+v", a)
	}
	if a := got[1]; a.Kind != Failed || !strings.Contains(a.Reason, ": a bug: index out of range [-1]") {
		t.Errorf("%+v", a)
	}
}

// With twenty draws and a quarter allowed, one may lie beyond (scipy.stats.binomtest), not two.
func TestAsManyDrawsAsAllowed(t *testing.T) {
	s := asking(t, "{key: current.power_W, from: 0.1, to: 2, above: 0, probability_percent: 25, tolerance_percent: 0.05}", thinMucosa+"draws: 20\n")
	drawn := thicknesses(t, s)
	got, err := Find(context.Background(), s, known(func(p, mm float64) float64 { return mm - p }, nil), 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	// Beyond the thinnest, not beyond the second.
	if a := got[0]; a.Kind != Found || a.Measure != 0.05 || a.Limit >= drawn[1] || drawn[1]-a.Limit > 0.002 || a.Limit < drawn[0] {
		t.Errorf("%+v, drawn %v", a, drawn)
	}
}

// Where a result hangs on one side and falls on the other, interpolation alone would creep: the search
// keeps off the ends.
func TestSteepResult(t *testing.T) {
	s := asking(t, "{key: current.power_W, from: 1, to: 9, above: 0, tolerance_percent: 0.01}", "")
	for name, f := range map[string]func(p float64) float64{
		"steep beyond": func(p float64) float64 {
			if p < 7.9 {
				return 1e-9
			}
			return -1e9
		},
		"steep before": func(p float64) float64 {
			if p < 1.1 {
				return 1e9
			}
			return -1e-9
		},
	} {
		got, err := Find(context.Background(), s, known(func(p, _ float64) float64 { return f(p) }, nil), 1, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a := got[0]; a.Kind != Found || a.Computed > 60 || a.Unsafe-a.Limit > 0.0009 || !(f(a.Limit) > 0 && f(a.Unsafe) < 0) {
			t.Errorf("%s: %+v", name, a)
		}
	}
}

// Where a result bends, interpolation alone keeps one end of the bracket and comes nearer from the other
// only: the weight of an end that stays is halved (Dowell and Jarratt 1971, BIT 11:168). It takes 14
// computations here, 17 without (measured).
func TestBentResult(t *testing.T) {
	s := asking(t, "{key: current.power_W, from: 1, to: 9, above: 0, tolerance_percent: 0.01, scan: 2}", "")
	for root, f := range map[float64]func(p float64) float64{
		6: func(p float64) float64 { return 1 - math.Pow((p-1)/5, 6) },
		4: func(p float64) float64 { return math.Pow((9-p)/5, 6) - 1 },
	} {
		got, err := Find(t.Context(), s, known(func(p, _ float64) float64 { return f(p) }, nil), 1, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a := got[0]; a.Kind != Found || a.Limit > root || a.Unsafe < root || a.Computed > 15 {
			t.Errorf("root %g: %+v", root, a)
		}
	}
}

// Where the source gives less than was set, from there on the limit is the source's, and the answer says from
// where; where it does not, the answer is silent.
func TestShortOfTheSource(t *testing.T) {
	for _, c := range []struct {
		limit  string
		most   float64 // that the source gives
		kind   Kind
		from   float64
		within float64
	}{
		{"{key: current.power_W, from: 1, to: 9, above: 0.2, tolerance_percent: 0.1}", 4.4, AllSafe, 4.4, 0.008},
		{"{key: current.power_W, from: 1, to: 9, above: 0.2, tolerance_percent: 0.1}", 0.5, AllSafe, 1, 0},
		{"{key: current.power_W, from: 1, to: 9, above: 0.2}", 9, Found, math.NaN(), 0},                           // found at 8 W
		{"{key: current.power_W, from: 1, to: 9, above: 0.6, tolerance_percent: 0.1}", 4.4, Found, math.NaN(), 0}, // found at 4 W
		{"{key: current.power_W, from: 1, to: 9, above: 1, tolerance_percent: 0.1}", 4.4, NoneSafe, math.NaN(), 0},
	} {
		// The margin falls with the power delivered.
		value := func(_ context.Context, s *scenarios.Scenario) (Result, error) {
			set := s.Case().Drive.PowerW
			return Result{Value: 1 - 0.1*math.Min(set, c.most), Short: set > c.most}, nil
		}
		got, err := Find(t.Context(), asking(t, c.limit, ""), value, 1, nil)
		if err != nil {
			t.Fatal(err)
		}
		a := got[0]
		if a.Kind != c.kind || math.IsNaN(a.ShortFrom) != math.IsNaN(c.from) || a.ShortFrom < c.from || a.ShortFrom-c.from > c.within {
			t.Errorf("%s, at most %g W: %+v, want short from %g W", c.limit, c.most, a, c.from)
		}
	}
}
