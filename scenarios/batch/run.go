package batch

import (
	"cmp"
	"context"
	"fmt"
	"sync"
	"time"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

// Options are what a caller may ask of a sweep besides its plan.
type Options struct {
	Program  string  // name and version: results of another one are not mixed in
	Tell     Tell    // required
	Workers  int     // cases computed at a time; below 1: 1
	MaxBytes float64 // of memory for all of them together; 0: no limit
	Slice    Slice
	Fresh    bool        // start over; what the folder held is kept under another name
	Keep     Keep        // nil: nothing but the table
	Progress func(Count) // called as cases finish, from one goroutine
	Session  *Session    // who computes: command, host, processors, source, binary and start; nil: it is not written down
}

// Keep stores the complete result of a case before it counts as finished. It is not called for a case that is the same
// as another, and may be called again for one that was at work when a sweep ended. Workers call it side by side.
type Keep func(ctx context.Context, i int, s *scenarios.Scenario, r *thermal.Result) error

// Count is how far a sweep is.
type Count struct {
	Of       int // cases of the slice
	Done     int // of them: finished in whatever way
	Failed   int // of those: no result
	Doubtful int // of those: a self-check failed
	Same     int // of those: taken from an identical case
	Damaged  int // lines of the journal that counted for nothing; their cases were computed again
}

func (c *Count) add(e entry, j *journal) {
	if e.status == same {
		c.Same++
		e = *j.entry(int(e.number))
	}
	c.Done++
	switch e.status {
	case failed:
		c.Failed++
	case doubtful:
		c.Doubtful++
	}
}

// Complete reports whether all cases are finished.
func (c Count) Complete() bool { return c.Done == c.Of }

// Run computes the cases of a sweep, or of a slice of it, that the folder dir does not
// hold yet, and writes the table once all are there. The error is ctx's (what is
// finished is kept), a Refusal, Gone, or why something could not be written or computed here.
func Run(ctx context.Context, s *plan.Sweep, dir string, opt Options) (Count, error) {
	f, err := open(s, dir, opt)
	if err != nil {
		return Count{Of: opt.Slice.cases(s.Len())}, err
	}
	defer f.close()
	c, err := f.compute(ctx, opt)
	if err == nil {
		err = f.finish()
	}
	if err != nil && f.there() != nil { // whatever else it seems to be
		return c, Gone{f.dir}
	}
	return c, cmp.Or(err, f.endSession(c.Done, time.Now()))
}

// compute brings the journal up to date: workers take one missing case after the other, this
// goroutine writes what they bring, all that waits with one sync.
func (f *folder) compute(ctx context.Context, opt Options) (Count, error) {
	j, workers := f.journal, max(1, opt.Workers)
	count := j.count()
	show := func() {
		if opt.Progress != nil {
			opt.Progress(count)
		}
	}
	show()
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	q := newQueue(f.sweep, j, opt)
	defer context.AfterFunc(ctx, q.room.close)()
	done := make(chan outcome, 4*workers)
	var group sync.WaitGroup
	for range workers {
		group.Go(func() { q.work(ctx, done) })
	}
	go func() { group.Wait(); close(done) }()

	var broken error               // why nothing can be written any more
	waiting := map[int][]outcome{} // copies, for the case that they are copies of
	for o := range done {
		some := []outcome{o}
		for more := true; more; {
			select {
			case o, more = <-done:
				if more {
					some = append(some, o)
				}
			default:
				more = false
			}
		}
		for len(some) > 0 && broken == nil {
			var ready, freed []outcome
			for _, o := range some {
				if o.status == same && !j.has(o.first) {
					waiting[o.first] = append(waiting[o.first], o)
				} else {
					ready = append(ready, o)
				}
			}
			if broken = cmp.Or(j.add(ready), f.there()); broken != nil {
				stop(broken)
				break
			}
			for _, o := range ready {
				count.add(*j.entry(o.i), j)
				freed = append(freed, waiting[o.i]...)
				delete(waiting, o.i)
			}
			some = freed
		}
		show()
	}
	switch {
	case broken != nil:
		return count, fmt.Errorf("cannot write the journal of %s: %w", f.dir, broken)
	case count.Complete():
		return count, nil
	case q.refused != nil:
		return count, q.refused
	}
	if ctx.Err() == nil {
		panic("batch: a case was neither finished nor refused")
	}
	return count, context.Cause(ctx)
}
