// Package limit looks for the value of one key that just keeps a result on the safe side,
// at each point of a plan: the largest power that leaves a margin to the muscle, say.
package limit

import (
	"context"
	"fmt"
	"math"
	"sync"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
)

// Value computes a scenario and returns the result that decides.
type Value func(ctx context.Context, s *scenarios.Scenario) (Result, error)

// Result is what decides, and whether the source gave less than was set.
type Result struct {
	Value float64
	Short bool
}

// Kind says how a search ended.
type Kind string

const (
	Found    Kind = "found"
	AllSafe  Kind = "holds-throughout" // up to the end of the range
	NoneSafe Kind = "holds-nowhere"    // not even at the end it is sought from
	Failed   Kind = "failed"
)

// Answer is the limit at one point of a plan.
type Answer struct {
	Point     int
	Kind      Kind
	Limit     float64 // safe, and within the tolerance of the first value that is not; NaN if there is none
	Unsafe    float64 // the first unsafe value next to it; NaN if there is none
	Measure   float64 // at Limit: the result, or with draws the share of unsafe ones
	Least     int     // of cases that must be safe together: the one that is not, beyond the limit
	ShortFrom float64 // between the safe end and Limit: from there on the source gave less than was set; NaN if at Limit it did not
	Crossings int     // between safe and unsafe values that were seen: more than one is not monotonic
	Computed  int     // cases
	Reason    string  // of a failure
}

// Find searches at every point of a plan that has a limit to look for, workers points at a
// time, and returns the answers in their order. The error is that of ctx, or of the first
// value that could not be kept.
func Find(ctx context.Context, s *plan.Sweep, value Value, workers int, progress func(done, total int)) ([]Answer, error) {
	n := s.Searches()
	answers := make([]Answer, n)
	var wait sync.WaitGroup
	var mu sync.Mutex
	next, done := 0, 0
	for range max(1, min(workers, n)) {
		wait.Go(func() {
			for {
				mu.Lock()
				p := next
				next++
				mu.Unlock()
				if p >= n || ctx.Err() != nil {
					return
				}
				answers[p] = at(ctx, s, p, value)
				mu.Lock()
				done++
				if progress != nil {
					progress(done, n)
				}
				mu.Unlock()
			}
		})
	}
	wait.Wait()
	return answers, ctx.Err()
}

// place is a value that was tried.
type place struct {
	x       float64
	safety  float64 // above 0: safe
	measure float64
	short   bool // the source gave less than was set, in most draws
	least   int  // of the scenarios tried together: the least safe one, of the last draw
}

// search is one point of a plan.
type search struct {
	ctx      context.Context
	s        *plan.Sweep
	l        *plan.LimitSearch
	point    int
	value    Value
	computed int
}

// at searches at one point: some values over the range first, from its safe end on, then
// between the first two neighbours that differ.
func at(ctx context.Context, s *plan.Sweep, point int, value Value) (a Answer) {
	f := &search{ctx: ctx, s: s, l: s.Limit, point: point, value: value}
	a = Answer{Point: point, Limit: math.NaN(), Unsafe: math.NaN(), Measure: math.NaN(), ShortFrom: math.NaN()}
	defer func() { // of this point alone
		if p := recover(); p != nil {
			a.Kind, a.Reason, a.Computed = Failed, fmt.Sprintf("a bug: %v", p), f.computed
		}
	}()
	fail := func(err error) Answer {
		a.Kind, a.Reason, a.Computed = Failed, err.Error(), f.computed
		return a
	}
	var seen []place
	for i := range f.l.Scan {
		u := float64(i) / float64(f.l.Scan-1)
		if !f.l.Largest {
			u = 1 - u
		}
		p, err := f.try(f.l.From + (f.l.To-f.l.From)*u)
		if err != nil {
			return fail(err)
		}
		if len(seen) > 0 && (seen[len(seen)-1].safety > 0) != (p.safety > 0) {
			a.Crossings++
		}
		seen = append(seen, p)
	}
	first := 0 // the first unsafe value from the safe end
	for first < len(seen) && seen[first].safety > 0 {
		first++
	}
	safe := place{}
	switch first {
	case 0:
		a.Kind, a.Unsafe, a.Measure, a.Least = NoneSafe, seen[0].x, seen[0].measure, seen[0].least
	case len(seen):
		safe = seen[len(seen)-1]
		a.Kind, a.Limit, a.Measure, a.Least = AllSafe, safe.x, safe.measure, safe.least
	default:
		unsafe, err := seen[first], error(nil)
		if safe, unsafe, err = f.close(seen[first-1], unsafe); err != nil {
			return fail(err)
		}
		a.Kind, a.Limit, a.Unsafe, a.Measure, a.Least = Found, safe.x, unsafe.x, safe.measure, unsafe.least
	}
	if safe.short {
		var err error
		if a.ShortFrom, err = f.shortFrom(append(seen[:first:first], safe)); err != nil {
			return fail(err)
		}
	}
	a.Computed = f.computed
	return a
}

// close brings a safe and an unsafe value together: regula falsi with the Illinois
// rule (Dowell and Jarratt 1971, BIT 11:168), held off the ends by a tenth and halved
// where the result is a share of draws, which moves in steps.
func (f *search) close(safe, unsafe place) (place, place, error) {
	width := f.l.Tolerance * (f.l.To - f.l.From)
	gs, gu, side := safe.safety, unsafe.safety, 0
	for math.Abs(unsafe.x-safe.x) > width {
		u := 0.5
		if f.s.Draws == 1 && gs-gu > 0 {
			u = math.Min(math.Max(gs/(gs-gu), 0.1), 0.9)
		}
		x := safe.x + (unsafe.x-safe.x)*u
		if x == safe.x || x == unsafe.x { // no number lies between
			break
		}
		p, err := f.try(x)
		if err != nil {
			return safe, unsafe, err
		}
		if p.safety > 0 {
			safe, gs = p, p.safety
			if side == 1 {
				gu /= 2
			}
			side = 1
		} else {
			unsafe, gu = p, p.safety
			if side == -1 {
				gs /= 2
			}
			side = -1
		}
	}
	return safe, unsafe, nil
}

// shortFrom returns from which value on the source gave less than was set, of which the last place is one: by
// halving before the first of the places from which it did throughout.
func (f *search) shortFrom(seen []place) (float64, error) {
	n := len(seen) - 1
	for n > 0 && seen[n-1].short {
		n--
	}
	if n == 0 {
		return seen[0].x, nil
	}
	whole, short, width := seen[n-1].x, seen[n].x, f.l.Tolerance*(f.l.To-f.l.From)
	for math.Abs(short-whole) > width {
		x := whole + (short-whole)/2
		if x == short || x == whole { // no number lies between
			break
		}
		p, err := f.try(x)
		if err != nil {
			return short, err
		}
		if p.short {
			short = x
		} else {
			whole = x
		}
	}
	return short, nil
}

// try computes all draws at one value.
func (f *search) try(x float64) (place, error) {
	bad, short, least, result := 0, 0, 0, math.NaN()
	for d := range f.s.Draws {
		if err := f.ctx.Err(); err != nil {
			return place{}, err
		}
		tried, err := f.s.Tried(f.point, d, x)
		if err != nil {
			return place{}, fmt.Errorf("%s = %g: %w", f.l.Key, x, err)
		}
		worst, held := math.NaN(), false
		for n, s := range tried {
			f.computed++
			r, err := f.value(f.ctx, s)
			if err != nil {
				return place{}, fmt.Errorf("%s = %g: %w", f.l.Key, x, err)
			}
			held = held || r.Short && f.l.Takes(n)
			if math.IsNaN(r.Value) {
				return place{}, fmt.Errorf("%s = %g: there is no %s", f.l.Key, x, f.l.Column)
			}
			if math.IsNaN(worst) || f.safety(r.Value) < f.safety(worst) {
				worst, least = r.Value, n
			}
		}
		if held {
			short++
		}
		result = worst
		if !(f.safety(worst) > 0) {
			bad++
		}
	}
	if f.s.Draws > 1 {
		share := float64(bad) / float64(f.s.Draws)
		safety := f.l.Probability - share
		if safety == 0 { // as many as are allowed
			safety = 1e-12
		}
		return place{x, safety, share, 2*short > f.s.Draws, least}, nil
	}
	return place{x, f.safety(result), result, short > 0, least}, nil
}

// safety is how far a result is on the safe side.
func (f *search) safety(v float64) float64 {
	if f.l.Above {
		return v - f.l.Value
	}
	return f.l.Value - v
}
