package checks

import (
	"context"
	"errors"
	"testing"
)

func TestRunKeepsTheOrder(t *testing.T) {
	var groups []Group
	for _, name := range []string{"a", "b", "c", "d", "e"} {
		groups = append(groups, Group{name, func() []Check { return []Check{{What: name}} }})
	}
	last := 0
	ran, err := Run(context.Background(), groups, func(n int) {
		if n != last+1 {
			t.Errorf("%d after %d", n, last)
		}
		last = n
	})
	if err != nil || len(ran) != len(groups) || last != len(groups) {
		t.Fatal(err, ran, last)
	}
	for i, r := range ran {
		if r.Group != groups[i].Name || r.Checks[0].What != r.Group {
			t.Errorf("%d: %+v", i, r)
		}
	}
}

// What is being computed does not hold up who asked to stop.
func TestRunStopsAtOnce(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	busy := make(chan struct{})
	t.Cleanup(func() { close(busy) })
	endless := Group{"endless", func() []Check { cancel(); <-busy; return nil }}
	if ran, err := Run(ctx, []Group{endless, endless, endless, endless}, func(int) {}); !errors.Is(err, context.Canceled) || ran != nil {
		t.Errorf("%v, %v", ran, err)
	}
}

// A bug in a check reaches who asked for it, and so the one place that reports bugs.
func TestRunHandsPanicsOn(t *testing.T) {
	defer func() {
		if p := recover(); p != "out of range" {
			t.Errorf("panic %v", p)
		}
	}()
	Run(context.Background(), []Group{{"broken", func() []Check { panic("out of range") }}}, func(int) {})
	t.Error("no panic")
}
