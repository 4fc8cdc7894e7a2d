package batch

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

// queue hands out the cases that are missing, in order.
type queue struct {
	sweep   *plan.Sweep
	slice   Slice
	tell    Tell
	keep    Keep
	missing []int32
	room    *room

	sync.Mutex
	firsts  map[identity]int // the case that is, or was, computed for each
	refused error            // the first case that does not fit into memory, or cannot be kept
}

func newQueue(s *plan.Sweep, j *journal, opt Options) *queue {
	q := &queue{sweep: s, slice: opt.Slice, tell: opt.Tell, keep: opt.Keep, firsts: j.firsts, room: newRoom(opt.MaxBytes)}
	for i := range s.Len() {
		if j.mine(i) && !j.has(i) {
			q.missing = append(q.missing, int32(i))
		}
	}
	return q
}

// next returns the next missing case.
func (q *queue) next() (int, bool) {
	q.Lock()
	defer q.Unlock()
	if len(q.missing) == 0 {
		return 0, false
	}
	i := q.missing[0]
	q.missing = q.missing[1:]
	return int(i), true
}

// first returns the case that is computed for an identity: i itself if it is the first to
// ask.
func (q *queue) first(id identity, i int) int {
	q.Lock()
	defer q.Unlock()
	if first, ok := q.firsts[id]; ok {
		return first
	}
	q.firsts[id] = i
	return i
}

// work computes cases until none is left or ctx ends.
func (q *queue) work(ctx context.Context, done chan<- outcome) {
	for ctx.Err() == nil {
		i, ok := q.next()
		if !ok {
			return
		}
		o := outcome{i: i}
		if q.compute(ctx, &o) {
			done <- o
		}
	}
}

// compute finishes one case; false if ctx ends first, or it does not fit into memory. What
// goes wrong in the case itself is its outcome.
func (q *queue) compute(ctx context.Context, o *outcome) (finished bool) {
	defer func() {
		if p := recover(); p != nil {
			*o = outcome{i: o.i, status: failed, id: o.id, row: row{Inputs: o.Inputs, Reason: fmt.Sprintf("a bug: %v", p)}}
			finished = true
		}
	}()
	s, err := q.sweep.Scenario(o.i)
	o.Inputs = q.sweep.Values(o.i, s)
	if err != nil {
		o.status, o.Reason = failed, reason(err)
		return true
	}
	o.id = identityOf(s)
	if o.first = q.first(o.id, o.i); o.first != o.i {
		o.status = same
		return true
	}
	c := s.Case()
	need := c.Grid().Bytes()
	if need > q.room.size {
		q.refuse(tooLarge{o.i, need, q.room.size})
		return false
	}
	q.room.take(need)
	defer q.room.give(need)
	result, err := thermal.Simulate(ctx, &c, thermal.Options{})
	switch {
	case ctx.Err() != nil && errors.Is(err, ctx.Err()):
		return false
	case err != nil:
		o.status, o.Reason = failed, strings.TrimPrefix(err.Error(), "thermal: ")
		return true
	}
	if o.columns, o.Cells, o.Reason = q.tell(result); o.Reason != "" {
		o.status = doubtful
	}
	if q.keep != nil {
		if err := q.keep(ctx, o.i, s, result); err != nil {
			q.refuse(err)
			return false
		}
	}
	return true
}

func (q *queue) refuse(e error) {
	q.Lock()
	defer q.Unlock()
	if q.refused == nil {
		q.refused = e
	}
}

// room is the memory that cases share: one waits until there is enough for it.
type room struct {
	sync.Mutex
	changed *sync.Cond
	size    float64
	used    float64
	closed  bool
}

func newRoom(bytes float64) *room {
	if bytes <= 0 {
		bytes = math.Inf(1)
	}
	r := &room{size: bytes}
	r.changed = sync.NewCond(r)
	return r
}

func (r *room) take(bytes float64) {
	r.Lock()
	defer r.Unlock()
	for r.used > 0 && r.used+bytes > r.size && !r.closed {
		r.changed.Wait()
	}
	r.used += bytes
}

func (r *room) give(bytes float64) {
	r.Lock()
	defer r.Unlock()
	r.used -= bytes
	r.changed.Broadcast()
}

// close lets all go on who wait.
func (r *room) close() {
	r.Lock()
	defer r.Unlock()
	r.closed = true
	r.changed.Broadcast()
}
