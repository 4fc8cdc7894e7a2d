package limit

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/thermal/refine"
)

// Refined is what other meshes say of a limit that was found.
type Refined struct {
	Error float64 // of the column at the limit, half-width: the largest of the cases that were refined
	Cases int     // how many were
	Sure  float64 // the limit if every result is that much worse; NaN if none holds
	Late  float64 // the limit if every result is that much better
}

// refinedDraws is how many draws nearest to the decision are refined on each side of it; assumption.
const refinedDraws = 2

// Refine computes the limits that were found, or the ends of the ranges that hold throughout, on the other meshes of run --refine, and seeks them again with the result worse and
// better by the error that these show. What was computed before is not computed again if value keeps it.
func Refine(ctx context.Context, s *plan.Sweep, answers []Answer, value Value, workers int) error {
	for n := range answers {
		if k := answers[n].Kind; k != Found && k != AllSafe {
			continue
		}
		r, err := refineAt(ctx, s, &answers[n], value, workers)
		if err != nil {
			return fmt.Errorf("point %d: %w", answers[n].Point, err)
		}
		answers[n].Refined = r
	}
	return nil
}

func refineAt(ctx context.Context, s *plan.Sweep, a *Answer, value Value, workers int) (*Refined, error) {
	chosen, err := nearest(ctx, s, a, value)
	if err != nil {
		return nil, err
	}
	r := &Refined{Cases: len(chosen)}
	for _, scenario := range chosen {
		m, study := scenario.Meshes(), refine.Study{}
		study.SizeM = m.SizeM
		for i, sets := range m.Sets {
			on, err := scenario.With(sets...)
			if err != nil {
				return nil, err
			}
			v, err := value(ctx, on)
			if err != nil {
				return nil, fmt.Errorf("on cells of %.3g um: %w", 1e6*m.SizeM[i], err)
			}
			study.Value[i] = v.Value
		}
		e := study.At(m.Own)
		if e.Verdict == refine.None {
			return nil, fmt.Errorf("on other meshes there is no %s", s.Limit.Column)
		}
		r.Error = max(r.Error, e.Uncertainty)
	}
	shifted := func(by float64) (float64, error) {
		moved, l := *s, *s.Limit
		l.Value += by
		moved.Limit = &l
		b := at(ctx, &moved, a.Point, value, make(chan struct{}, max(1, workers)))
		if err := ctx.Err(); err != nil {
			return math.NaN(), err
		}
		if b.Kind == Failed {
			return math.NaN(), fmt.Errorf("%s", b.Reason)
		}
		return b.Limit, nil
	}
	by := r.Error
	if !s.Limit.Above {
		by = -by
	}
	if r.Sure, err = shifted(by); err == nil {
		r.Late, err = shifted(-by)
	}
	return r, err
}

// nearest returns the cases at a limit that decide: the one there is, or of many draws those nearest to the decision on
// each side.
func nearest(ctx context.Context, s *plan.Sweep, a *Answer, value Value) ([]*scenarios.Scenario, error) {
	type draw struct {
		scenario *scenarios.Scenario
		safety   float64
	}
	var all []draw
	f := search{s: s, l: s.Limit}
	for d := range s.Draws {
		tried, err := s.Tried(a.Point, d, a.Limit)
		if err != nil {
			return nil, err
		}
		for _, x := range tried {
			v, err := value(ctx, x)
			if err != nil {
				return nil, err
			}
			all = append(all, draw{x, f.safety(v.Value)})
		}
	}
	slices.SortStableFunc(all, func(a, b draw) int { return cmp.Compare(math.Abs(a.safety), math.Abs(b.safety)) })
	var out []*scenarios.Scenario
	safe, beyond := 0, 0
	for _, x := range all {
		count := &beyond
		if x.safety > 0 {
			count = &safe
		}
		if *count++; *count <= refinedDraws {
			out = append(out, x.scenario)
		}
	}
	return out, nil
}
