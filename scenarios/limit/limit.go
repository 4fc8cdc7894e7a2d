// Package limit looks for the value of one key that just keeps a result on the safe side,
// at each point of a plan: the largest power that leaves a margin to the muscle, say.
package limit

import (
	"context"
	"fmt"
	"math"
	"sync"

	"muralheat/scenarios"
	"muralheat/scenarios/binomial"
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
	Measure   float64 // at Limit, or at Unsafe where there is none: the result, or with draws the share of unsafe ones
	AtMost    float64 // with draws: below which the probability of an unsafe result is there, with the confidence asked for
	Least     int     // of cases that must be safe together: the one that is not, beyond the limit
	ShortFrom float64 // between the safe end and Limit: from there on the source gave less than was set; NaN if at Limit it did not
	Crossings int     // between safe and unsafe values that were seen: more than one is not monotonic
	Computed  int     // cases
	Reason    string  // of a failure

	Refined *Refined // what other meshes say of a limit that was found; nil: not asked
}

// Find searches at every point of a plan that has a limit to look for, computes workers cases at a
// time, and returns the answers in their order. The error is that of ctx, or of the first
// value that could not be kept.
func Find(ctx context.Context, s *plan.Sweep, value Value, workers int, progress func(done, total int)) ([]Answer, error) {
	n := s.Searches()
	answers := make([]Answer, n)
	slots := make(chan struct{}, max(1, workers))
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
				answers[p] = at(ctx, s, p, value, slots)
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
	atMost  float64
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
	slots    chan struct{} // one for each case that may be computed at a time
	computed int
}

// at searches at one point: some values over the range first, from its safe end on, then
// between the first two neighbours that differ.
func at(ctx context.Context, s *plan.Sweep, point int, value Value, slots chan struct{}) (a Answer) {
	f := &search{ctx: ctx, s: s, l: s.Limit, point: point, value: value, slots: slots}
	a = Answer{Point: point, Limit: math.NaN(), Unsafe: math.NaN(), Measure: math.NaN(), AtMost: math.NaN(), ShortFrom: math.NaN()}
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
		a.Kind, a.Unsafe, a.Measure, a.AtMost, a.Least = NoneSafe, seen[0].x, seen[0].measure, seen[0].atMost, seen[0].least
	case len(seen):
		safe = seen[len(seen)-1]
		a.Kind, a.Limit, a.Measure, a.AtMost, a.Least = AllSafe, safe.x, safe.measure, safe.atMost, safe.least
	default:
		unsafe, err := seen[first], error(nil)
		if safe, unsafe, err = f.close(seen[first-1], unsafe); err != nil {
			return fail(err)
		}
		a.Kind, a.Limit, a.Unsafe, a.Measure, a.AtMost, a.Least = Found, safe.x, unsafe.x, safe.measure, safe.atMost, unsafe.least
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

// try computes all draws at one value. The draws are the same at each value: where a result only gets worse along the
// range, the search is one test of the limit it finds, which holds with the confidence of that test.
func (f *search) try(x float64) (place, error) {
	draws, failed := make([]drawn, f.s.Draws), make([]error, f.s.Draws)
	var wait sync.WaitGroup
	for d := range f.s.Draws {
		f.slots <- struct{}{}
		wait.Go(func() {
			defer func() {
				if p := recover(); p != nil {
					failed[d] = fmt.Errorf("a bug: %v", p)
				}
				<-f.slots
			}()
			draws[d], failed[d] = f.draw(x, d)
		})
	}
	wait.Wait()
	if err := f.ctx.Err(); err != nil {
		return place{}, err
	}
	bad, short, last := 0, 0, drawn{}
	for d, r := range draws {
		if failed[d] != nil {
			return place{}, fmt.Errorf("%s = %g: %w", f.l.Key, x, failed[d])
		}
		f.computed += r.cases
		if r.short {
			short++
		}
		if !(f.safety(r.worst) > 0) {
			bad++
		}
		last = r
	}
	p := place{x: x, measure: last.worst, safety: f.safety(last.worst), atMost: math.NaN(), short: 2*short > f.s.Draws, least: last.least}
	if f.s.Draws > 1 {
		p.measure, p.safety = float64(bad)/float64(f.s.Draws), float64(f.l.Allowed-bad)+0.5
		p.atMost = binomial.AtMost(bad, f.s.Draws, f.l.Confidence)
	}
	return p, nil
}

// drawn is what one draw came to at a value.
type drawn struct {
	worst float64 // the least safe result of what is tried together
	least int     // of which scenario
	short bool    // in one whose key is sought the source gave less than was set
	cases int
}

// draw computes one draw at a value.
func (f *search) draw(x float64, d int) (drawn, error) {
	tried, err := f.s.Tried(f.point, d, x)
	if err != nil {
		return drawn{}, err
	}
	out := drawn{worst: math.NaN()}
	for n, s := range tried {
		if err := f.ctx.Err(); err != nil {
			return drawn{}, err
		}
		out.cases++
		r, err := f.value(f.ctx, s)
		if err == nil && math.IsNaN(r.Value) {
			err = fmt.Errorf("there is no %s", f.l.Column)
		}
		if err != nil {
			return drawn{}, err
		}
		out.short = out.short || r.Short && f.l.Takes(n)
		if math.IsNaN(out.worst) || f.safety(r.Value) < f.safety(out.worst) {
			out.worst, out.least = r.Value, n
		}
	}
	return out, nil
}

// safety is how far a result is on the safe side.
func (f *search) safety(v float64) float64 {
	if f.l.Above {
		return v - f.l.Value
	}
	return f.l.Value - v
}
