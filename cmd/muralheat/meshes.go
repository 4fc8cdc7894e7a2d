package main

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"

	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/thermal"
)

// meshes are what a run computes: its case alone, or on two more meshes that tell its
// numerical uncertainty.
type meshes struct {
	name    string
	cases   []thermal.Case // finest first
	own     int            // that of the run itself
	moments int            // of it that are kept
	done    float64        // work
}

func meshesOf(s *scenarios.Scenario, refine bool) *meshes {
	c := s.Case()
	if !refine {
		return &meshes{name: s.Name, cases: []thermal.Case{c}}
	}
	three, own := c.Refined()
	return &meshes{name: s.Name, cases: three[:], own: own}
}

// fits refuses what needs more memory than there is; one mesh is computed at a time.
func (m *meshes) fits(bytes float64) error {
	own := m.cases[m.own].Grid()
	if err := fits(m.name, own, bytes-own.MomentBytes(m.moments)); err != nil {
		return err
	}
	if g := m.cases[0].Grid(); g.Bytes() > bytes {
		return wrong("%s: --refine: the finest of its three meshes, %d x %d x %d cells, needs %s of memory, %s may be used; leave --refine out, or make the domain or the track smaller",
			m.name, g.NX, g.NY, g.NZ, gigabytes(g.Bytes()), gigabytes(bytes))
	}
	return nil
}

func (m *meshes) allWork() float64 {
	sum := 0.0
	for i := range m.cases {
		sum += work(&m.cases[i])
	}
	return sum
}

func (m *meshes) String() string {
	var cells []string
	for i := range m.cases {
		cells = append(cells, fmt.Sprint(m.cases[i].Grid().Cells()))
	}
	c := &m.cases[0]
	if len(cells) == 1 {
		return fmt.Sprintf("%s cells, at least %.0f steps", cells[0], leastSteps(c, c.WholeS()))
	}
	return fmt.Sprintf("three meshes of %s cells, at least %.0f steps on the finest", strings.Join(cells, ", "), leastSteps(c, c.WholeS()))
}

// compute simulates the case on mesh i and shows how far all meshes are.
func (m *meshes) compute(ctx context.Context, i int, bytes float64, show func(done, of float64)) (*thermal.Result, error) {
	part, all := work(&m.cases[i]), m.allWork()
	opt := thermal.Options{MaxBytes: bytes, Cores: runtime.GOMAXPROCS(0), Progress: func(t, of float64) { show(m.done+part*t/of, all) }}
	if i == m.own {
		opt.Moments = m.moments
	}
	r, err := thermal.Simulate(ctx, &m.cases[i], opt)
	m.done += part
	return r, err
}

// refine computes the other meshes, the cheapest first.
func (m *meshes) refine(ctx context.Context, own *thermal.Result, bytes float64, show func(done, of float64)) (*record.Refinement, error) {
	var results [3]*thermal.Result
	for i := range slices.Backward(m.cases) {
		if i == m.own {
			results[i] = own
			continue
		}
		r, err := m.compute(ctx, i, bytes, show)
		switch {
		case errors.Is(err, context.Canceled):
			return nil, err
		case err == nil:
			err = selfChecked(r)
		default:
			err = fmt.Errorf("it failed: %s", strings.TrimPrefix(err.Error(), "thermal: "))
		}
		if err != nil {
			return nil, fmt.Errorf("the run is valid, but its numerical uncertainty is unknown: on cells of %.3g um %w", 1e6*m.cases[i].Grid().FinestM, err)
		}
		results[i] = r
	}
	return record.NewRefinement(results, m.own), nil
}

// selfChecked is nil if the self-checks of a result hold.
func selfChecked(r *thermal.Result) error {
	list := record.Checks(r)
	if record.Passed(list) {
		return nil
	}
	err := errCheck
	for _, k := range list {
		if !k.OK {
			err = fmt.Errorf("%w (%s)", err, k)
		}
	}
	return err
}
