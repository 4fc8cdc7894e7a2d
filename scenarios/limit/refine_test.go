package limit

import (
	"context"
	"math"
	"sync/atomic"
	"testing"

	"muralheat/scenarios"
)

// meshed is a margin of known root whose error goes with the cells: on cells of h um it is 0.001 h mm too small.
func meshed(count *atomic.Int64) Value {
	return func(_ context.Context, s *scenarios.Scenario) (Result, error) {
		count.Add(1)
		c := s.Case()
		return Result{Value: 2 - 0.2*c.Drive.PowerW - 1e-3*1e6*c.Numerics.FinestM}, nil
	}
}

// A limit is refined by the error that finer meshes show, and moves by as much as that error over the slope; the second time
// everything is known.
func TestRefine(t *testing.T) {
	var n atomic.Int64
	known := map[string]Result{}
	keep := func(v Value) Value { // as a memo does
		return func(ctx context.Context, s *scenarios.Scenario) (Result, error) {
			if r, there := known[s.Identity()]; there {
				return r, nil
			}
			r, err := v(ctx, s)
			known[s.Identity()] = r
			return r, err
		}
	}
	for _, tt := range []struct {
		limit      string
		sure, late float64
	}{ // 0.1 mm is the error of the standard mesh, 1.25 times that its bound, over 0.2 mm/W
		{"{key: current.power_W, from: 1, to: 9, above: 0.2, tolerance_percent: 0.1}", 8.5 - 0.625, 9},
		{"{key: current.power_W, from: 1, to: 9, above: 0.6, tolerance_percent: 0.1}", 6.5 - 0.625, 6.5 + 0.625},
		{"{key: current.power_W, from: 1, to: 9, below: 0.6, find: smallest, column: margin_to_muscle_mm, tolerance_percent: 0.1}", 6.5 + 0.625, 6.5 - 0.625},
	} {
		s := asking(t, tt.limit, "")
		value := keep(meshed(&n))
		answers, err := Find(context.Background(), s, value, 1, nil)
		if err != nil {
			t.Fatal(err)
		}
		for range 2 {
			before := n.Load()
			if err := Refine(context.Background(), s, answers, value, 1); err != nil {
				t.Fatal(err)
			}
			r := answers[0].Refined
			if r == nil || math.Abs(r.Error-0.125) > 1e-4 || r.Cases != 1 {
				t.Fatalf("%s: %+v", tt.limit, r)
			}
			if math.Abs(r.Sure-tt.sure) > 0.01 || math.Abs(r.Late-tt.late) > 0.01 {
				t.Errorf("%s: %g to %g, want %g to %g", tt.limit, r.Sure, r.Late, tt.sure, tt.late)
			}
			if computed := n.Load() - before; computed > 40 {
				t.Errorf("%s: %d computed", tt.limit, computed)
			}
		}
		before := n.Load()
		if err := Refine(context.Background(), s, answers, value, 1); err != nil || n.Load() != before {
			t.Errorf("%s: computed again what is known (%v)", tt.limit, err)
		}
	}
}

// With draws, those nearest to the decision on each side are refined, and the largest error counts.
func TestRefineDraws(t *testing.T) {
	var n atomic.Int64
	s := asking(t, "{key: current.power_W, from: 1, to: 9, above: 0.6, probability_percent: 45, tolerance_percent: 1}",
		"uncertain:\n  - {key: wall.layers.mucosa.thickness_mm, uniform: {low: 0.4, high: 0.8}}\ndraws: 20\n")
	value := func(ctx context.Context, x *scenarios.Scenario) (Result, error) {
		n.Add(1)
		c := x.Case()
		thick := c.Layers[0].ThicknessM * 1e3
		return Result{Value: 1 + thick - 0.2*c.Drive.PowerW - 1e-3*thick*1e6*c.Numerics.FinestM}, nil
	}
	answers, err := Find(context.Background(), s, value, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := Refine(context.Background(), s, answers, value, 1); err != nil {
		t.Fatal(err)
	}
	r := answers[0].Refined
	if r.Cases != 2*refinedDraws || !(r.Error > 0.125*0.4 && r.Error < 0.125*0.8) {
		t.Errorf("%+v", r)
	}
	if !(r.Sure < answers[0].Limit && r.Late > answers[0].Limit) {
		t.Errorf("%+v beside a limit of %g", r, answers[0].Limit)
	}
}
