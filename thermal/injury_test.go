package thermal

import (
	"math"
	"testing"

	"muralheat/thermal/damage"
)

// heated lets the cell of a run follow a temperature for some seconds, in steps of 10 ms, and returns how
// often its damage was integrated.
func heated(t *testing.T, r *run, p int, seconds float64, atC func(s float64) float64) (times int) {
	t.Helper()
	const dt = 0.01
	start, was := r.timeS, r.injury.dose.Sum[p]
	for n := range int(math.Round(seconds / dt)) {
		r.reach(start + float64(n+1)*dt)
		r.heat.T[p] = atC(r.timeS - start)
		if err := r.injury.step(dt, false); err != nil {
			t.Fatal(err)
		}
		if now := r.injury.dose.Sum[p]; now != was {
			times, was = times+1, now
		}
	}
	return times
}

// A cell is integrated when its temperature has moved by a quarter of a kelvin, not at every step, and at every
// row of history; what it then has is the integral of its rate over time, none of it left out or counted twice.
func TestDamageIsIntegratedEachQuarterKelvin(t *testing.T) {
	c := small(Disc)
	r := newRun(c, c.Grid())
	p := r.m.Index(0, 0, 0)
	row := func() {
		if err := r.injury.step(0, true); err != nil {
			t.Fatal(err)
		}
	}

	// 45 C to 60 C and back, evenly, in 30 s: the steps are of 0.01 K.
	r.heat.T[p] = 45
	if err := r.injury.step(0, false); err != nil {
		t.Fatal(err)
	}
	path := func(s float64) float64 { return 60 - math.Abs(s-15) }
	if n := heated(t, r, p, 30, path); n < 118 || n > 122 {
		t.Errorf("integrated %d times over 30 K, want about 120", n)
	}
	row()
	omega, dose := 0.0, 0.0
	const dt = 1e-3
	for s := dt / 2; s < 30; s += dt {
		omega += c.Damage.Kinetics.Rate(path(s)) * dt
		dose += damage.DoseRate(path(s)) * dt
	}
	if got := r.omega.Sum[p]; math.Abs(got/omega-1) > 5e-3 {
		t.Errorf("omega %g, want %g", got, omega)
	}
	if got := r.injury.dose.Sum[p]; math.Abs(got/dose-1) > 5e-3 {
		t.Errorf("dose %g min, want %g min", got, dose)
	}
	if r.peakC[p] != 60 {
		t.Errorf("peak of %g C, want 60", r.peakC[p])
	}

	// Held at 55 C nothing is integrated until a row asks for it: then all of it.
	heated(t, r, p, 0.01, func(float64) float64 { return 55 })
	was := r.omega.Sum[p]
	if n := heated(t, r, p, 5, func(float64) float64 { return 55 }); n != 0 {
		t.Errorf("at an even temperature integrated %d times", n)
	}
	row()
	if got, want := r.omega.Sum[p]-was, 5*c.Damage.Kinetics.Rate(55); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("omega grows by %g in 5 s at 55 C, want %g", got, want)
	}

	// Time in the cold does not count, however long, when it gets warm again.
	heated(t, r, p, 0.01, func(float64) float64 { return 30 })
	was = r.injury.dose.Sum[p]
	heated(t, r, p, 100, func(float64) float64 { return 30 })
	heated(t, r, p, 0.01, func(float64) float64 { return 45 })
	if got := r.injury.dose.Sum[p] - was; !(got > 0) || got > 0.01*damage.DoseRate(45) {
		t.Errorf("100 s at 30 C and 0.01 s up to 45 C give %g min", got)
	}
}

// At a row of history damage is integrated near the surface of the injury; elsewhere at every allRows'th row, and
// everywhere at the end, and in the cells about a probe.
func TestRowsIntegrateWhereTheyAreRead(t *testing.T) {
	c := small(Disc)
	c.Drive.OnS = 1e3
	rows := func(c *Case, atC float64, n int) (times int) {
		r := newRun(c, c.Grid())
		p := r.m.Index(0, 0, 0)
		heated(t, r, p, 0.01, func(float64) float64 { return atC })
		for range n {
			was := r.omega.Sum[p]
			heated(t, r, p, 0.1, func(float64) float64 { return atC })
			if r.omega.Sum[p] != was {
				t.Error("integrated without a row")
			}
			if err := r.injury.step(0, true); err != nil {
				t.Fatal(err)
			}
			if r.omega.Sum[p] != was {
				times++
			}
		}
		return times
	}
	for _, far := range []float64{45, 90} {
		if got := rows(c, far, 4*allRows); got != 4 {
			t.Errorf("far from the surface of the injury, at %g C, integrated at %d of %d rows, want 4", far, got, 4*allRows)
		}
	}
	if got := rows(c, 57, 4*allRows); got != 4*allRows {
		t.Errorf("near it integrated at %d of %d rows", got, 4*allRows)
	}
	probed := *c
	probed.Probes = []Probe{{ZM: 1e-5}}
	if got := rows(&probed, 90, 4*allRows); got != 4*allRows {
		t.Errorf("with a probe there integrated at %d of %d rows", got, 4*allRows)
	}
	probed.Probes = []Probe{{ZM: 1e-3}}
	if got := rows(&probed, 90, 4*allRows); got != 4 {
		t.Errorf("with a probe elsewhere integrated at %d of %d rows", got, 4*allRows)
	}
	c.Drive.OnS = 0.05
	if got := rows(c, 90, allRows); got != allRows {
		t.Errorf("after the end integrated at %d of %d rows", got, allRows)
	}
}
