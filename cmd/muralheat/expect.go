package main

import (
	"context"
	"runtime"
	"time"

	"muralheat/thermal"
)

// The pilot of expect takes at most pilotTime, on a mesh small enough that starting
// it and a step of it do not take long either.
const (
	pilotTime  = 500 * time.Millisecond
	pilotCells = 30000
)

// A run that will take longer than tellAfter says so before it starts. It is only
// looked at more closely above foreseen, in cells times steps: some five seconds of
// computing.
const (
	tellAfter = time.Minute
	foreseen  = 1e8
)

// mostUnasked is the longest a case is computed without being asked for: it keeps nothing when
// stopped, and longer is more often a slip than a wish (assumption).
const mostUnasked = 24 * time.Hour

const longUsage = "compute even a case that is expected to take more than a day"

// asked refuses a case expected to take longer than anybody wants without saying so.
func asked(name string, seconds float64, of string, long bool) error {
	if long || seconds <= mostUnasked.Seconds() {
		return nil
	}
	return wrong("%s: about %s expected for %s, and nothing is kept if it is stopped; choose a coarser quality, a smaller domain or track, or a shorter time, or give --long",
		name, about(seconds), of)
}

// work of a case is its cells times its steps.
func work(c *thermal.Case) float64 {
	return float64(c.Grid().Cells()) * leastSteps(c, c.WholeS())
}

// awaited returns how many seconds cases are expected to take one after the other, 0 if that is
// not worth a look.
func awaited(cases ...thermal.Case) (seconds float64) {
	sum := 0.0
	for i := range cases {
		sum += work(&cases[i])
	}
	if sum < foreseen {
		return 0
	}
	for _, c := range cases {
		s, _ := expect(c)
		seconds += s
	}
	return seconds
}

// expect estimates how many seconds a run will take: its beginning is computed and
// extrapolated by the steps it took. A coarser mesh of the same kind stands in for a
// large one,
//
//	t = (t_first + rate (1 - part_first)) (cells/cells_pilot) (steps/steps_pilot)
//
// with t_first the time of the first step, which solves the field from nothing.
// Cooling is taken as costly as current, which is too much; drying shortens steps,
// which the pilot may not see.
func expect(full thermal.Case) (seconds float64, note string) {
	pilot := full
	for range 30 {
		if pilot.Grid().Cells() <= pilotCells {
			break
		}
		n := pilot.Numerics
		n.FinestM *= 1.2
		pilot.SetNumerics(n)
	}
	least := leastSteps(&pilot, pilot.WholeS())
	size := float64(full.Grid().Cells()) / float64(pilot.Grid().Cells()) * leastSteps(&full, full.WholeS()) / least

	ctx, cancel := context.WithTimeout(context.Background(), pilotTime)
	defer cancel()
	start := time.Now()
	var first, took, doneFirst, done float64
	// How it ends does not matter: out of time, done, or failed as the run will.
	thermal.Simulate(ctx, &pilot, thermal.Options{Cores: runtime.GOMAXPROCS(0), Progress: func(t, _ float64) {
		done, took = t, time.Since(start).Seconds()
		if doneFirst == 0 {
			doneFirst, first = done, took
		}
	}})
	partFirst, part := leastSteps(&pilot, doneFirst)/least, leastSteps(&pilot, done)/least
	switch {
	case part <= partFirst:
		return size * time.Since(start).Seconds() / max(part, 1/least), "an estimate from a single step"
	case part >= 1 && size == 1:
		return took, "measured"
	}
	return size * (first + (took-first)/(part-partFirst)*(1-partFirst)), "an estimate from half a second of computing"
}
