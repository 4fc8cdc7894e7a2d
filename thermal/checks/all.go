package checks

import (
	"context"
	"runtime"
	"sync"
)

// Ran is a group of checks that was computed.
type Ran struct {
	Group  string
	Checks []Check
}

// Run computes groups, several at a time, and returns them in their order. It calls done
// after each, one call at a time, and stops between groups when ctx ends.
func Run(ctx context.Context, groups []Group, done func(n int)) ([]Ran, error) {
	all := make([]Ran, len(groups))
	next := make(chan int)
	var wait sync.WaitGroup
	var mu sync.Mutex
	n := 0
	for range min(runtime.GOMAXPROCS(0), len(groups)) {
		wait.Go(func() {
			for i := range next {
				all[i] = Ran{groups[i].Name, groups[i].Run()}
				mu.Lock()
				n++
				done(n)
				mu.Unlock()
			}
		})
	}
	for i := range groups {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wait.Wait()
	return all, ctx.Err()
}
