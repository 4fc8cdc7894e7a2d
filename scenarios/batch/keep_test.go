package batch

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"muralheat/scenarios"
	"muralheat/thermal"
)

// Each result is kept once before its case counts as finished, copies are not; one that cannot be kept is no row.
func TestKeep(t *testing.T) {
	s := sweepOf(t, "title: T\nscenario: quick.yaml\ncases: [{name: a, set: {current.on_s: 0.1}}, {name: b, set: {current.on_s: 0.2}}, {name: copy, set: {current.on_s: 0.1}}]\n")
	var mu sync.Mutex
	var kept []int
	opt := Options{Program: "p", Tell: tell, Workers: 1, Keep: func(_ context.Context, i int, _ *scenarios.Scenario, r *thermal.Result) error {
		mu.Lock()
		defer mu.Unlock()
		if kept = append(kept, i); i == 1 && len(kept) < 3 {
			return errors.New("the disk is full")
		}
		return nil
	}}
	dir := filepath.Join(t.TempDir(), "s")
	if count, err := Run(t.Context(), s, dir, opt); err == nil || count.Complete() {
		t.Fatalf("a case that cannot be kept: %+v, %v", count, err)
	}
	if count, err := Run(t.Context(), s, dir, opt); err != nil || !count.Complete() {
		t.Fatal(count, err)
	}
	if !slices.Equal(kept, []int{0, 1, 1}) {
		t.Errorf("kept %v", kept)
	}
}
