package main

import (
	"context"
	"errors"
	"strings"
	"testing"

	"muralheat/scenarios"
)

const shortTouch = `title: A short touch
wall: {site: right-colon}
electrode: {tip: disc, radius_mm: 1}
current: {sparks: false, power_W: 1, on_s: 0.05}
afterwards_s: 0
numerics: {quality: draft}
`

func shortMeshes(t *testing.T) *meshes {
	s, err := scenarios.Parse("short.yaml", []byte(shortTouch))
	if err != nil {
		t.Fatal(err)
	}
	return meshesOf(s, true)
}

// The finest of three meshes is refused before anything is computed, and by what asks for it.
func TestFinestMeshMustFit(t *testing.T) {
	m := shortMeshes(t)
	own, finest := m.cases[m.own].Grid().Bytes(), m.cases[0].Grid().Bytes()
	if err := m.fits(finest); err != nil {
		t.Errorf("refused what fits: %v", err)
	}
	if err := m.fits((own + finest) / 2); exitCode(err) != exitInput || !strings.HasPrefix(err.Error(), "short.yaml: --refine: the finest of its three meshes") {
		t.Errorf("the finest: %v", err)
	}
	if err := m.fits(own / 2); exitCode(err) != exitInput || !strings.HasPrefix(err.Error(), "short.yaml: numerics.finest_um: ") {
		t.Errorf("its own: %v", err)
	}
}

// One bar goes over all meshes: from 0 to all of the work, never back.
func TestProgressOverThreeMeshes(t *testing.T) {
	m := shortMeshes(t)
	last, all := 0.0, m.allWork()
	show := func(done, of float64) {
		if done <= last || done > of*(1+1e-9) || of != all {
			t.Fatalf("%g of %g after %g", done, of, last)
		}
		last = done
	}
	own, err := m.compute(context.Background(), m.own, 1e9, show)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := m.refine(context.Background(), own, 1e9, show); err != nil {
		t.Fatal(err)
	}
	if last < all*(1-1e-9) {
		t.Errorf("ends at %g of %g", last, all)
	}
}

// Where another mesh fails the run is kept, but not said to be more than it is.
func TestMeshThatFails(t *testing.T) {
	m := shortMeshes(t)
	own, err := m.compute(context.Background(), m.own, 1e9, func(_, _ float64) {})
	if err != nil {
		t.Fatal(err)
	}
	m.cases[0].Physics.Boiling = false
	m.cases[0].Drive.Mode.PowerW = 1e6
	m.cases[0].Drive.Mode.Limits.PeakVoltageV = 0
	refinement, err := m.refine(context.Background(), own, 1e9, func(_, _ float64) {})
	if refinement != nil || exitCode(err) != exitFailed || !strings.Contains(err.Error(), "its numerical uncertainty is unknown: on cells of 88.9 um it failed") {
		t.Errorf("%v, %v", refinement, err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := m.refine(ctx, own, 1e9, func(_, _ float64) {}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}
