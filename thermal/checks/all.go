package checks

import (
	"context"
	"runtime"
)

// Ran is a group of checks that was computed.
type Ran struct {
	Group  string
	Checks []Check
}

// Run computes groups, several at a time, and returns them in their order. It calls done
// after each, one call at a time. When ctx ends it returns at once; a group that is being
// computed then goes on in vain. A panic of a group is the caller's.
func Run(ctx context.Context, groups []Group, done func(n int)) ([]Ran, error) {
	type computed struct {
		i        int
		ran      Ran
		panicked any
	}
	next := make(chan int, len(groups))
	for i := range groups {
		next <- i
	}
	close(next)
	finished := make(chan computed)
	compute := func(i int) (c computed) {
		defer func() { c.panicked = recover() }()
		return computed{i: i, ran: Ran{groups[i].Name, groups[i].Run()}}
	}
	for range min(runtime.GOMAXPROCS(0), len(groups)) {
		go func() {
			for i := range next {
				c := compute(i)
				select {
				case finished <- c:
				case <-ctx.Done():
					return
				}
			}
		}()
	}
	all := make([]Ran, len(groups))
	for n := range groups {
		select {
		case c := <-finished:
			if c.panicked != nil {
				panic(c.panicked)
			}
			all[c.i] = c.ran
			done(n + 1)
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
	return all, nil
}
