package experiments

import (
	"context"
	"math"
	"strings"
	"testing"

	"muralheat/scenarios"
	"muralheat/thermal/tissue"
)

func load(t *testing.T) []Experiment {
	t.Helper()
	list, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// TestRecords holds every record to what the set promises: a scenario that reads with every
// draw of its inputs, and enough experiments kept apart.
func TestRecords(t *testing.T) {
	opt := Options{Draws: DefaultDraws}
	sources, apart := map[string]bool{}, 0
	for _, e := range load(t) {
		if e.Part == Apart {
			apart++
			sources[e.Source] = true
		}
		for r := range e.Rows {
			for d := -1; d < draws(&e, opt); d++ {
				if _, err := (job{&e, r, e.Rows[r].Line, d}).scenario(opt); err != nil {
					t.Errorf("%s, %s, draw %d: %v", e.ID, e.Rows[r].ID, d, err)
				}
			}
		}
	}
	if apart < 15 || len(sources) < 10 {
		t.Errorf("%d experiments from %d sources are kept apart, at least 15 from 10 are wanted", apart, len(sources))
	}
}

// TestDraws: each open input takes the middle of each stratum of its range once, in an order
// of its own; rows of an experiment share their draws.
func TestDraws(t *testing.T) {
	e := Experiment{ID: "x", Open: []Open{{Key: "a", Low: 1, High: 100, Law: "log-uniform"}, {Key: "b", Low: 0, High: 1}}}
	seen, same := map[float64]bool{}, true
	for d := range 8 {
		j := job{e: &e, draw: d}
		seen[j.place(0, 8)] = true
		same = same && j.place(0, 8) == j.place(1, 8)
	}
	if len(seen) != 8 || !seen[0.0625] || !seen[0.9375] || same {
		t.Errorf("places %v, same order for both: %v", seen, same)
	}
	if got := e.Open[0].At(0.5); math.Abs(got-10) > 1e-12 {
		t.Errorf("middle of 1 to 100, log-uniform: %g", got)
	}
	if got := e.Open[1].At(0.25); got != 0.25 {
		t.Errorf("quarter of 0 to 1: %g", got)
	}
}

// TestScore checks the arithmetic on made-up results.
func TestScore(t *testing.T) {
	result := func(part Part, source string, residuals ...float64) Result {
		r := Result{Experiment: Experiment{Part: part, Source: source}}
		for _, x := range residuals {
			r.Rows = append(r.Rows, RowResult{Row: Row{SD: 3}, Residual: x, NumericalSD: math.Abs(x)})
		}
		return r
	}
	s := Scores([]Result{result(Fit, "a", 1, 1, 1, 1), result(Fit, "a", 3), result(Apart, "b", 2)})
	want := Score{Fit, 2, 1, 1, math.Sqrt((1. + 9) / 2), 1} // rows of the first count once
	if s[0] != want {
		t.Errorf("%+v, want %+v", s[0], want)
	}
	if s[1].Inside != 1 || s[1].Experiments != 1 || s[1].Sources != 1 {
		t.Errorf("apart: %+v", s[1])
	}
}

// TestRun computes a cheap experiment: the same whatever the number of workers, the residual
// as defined, a ratio read over its row, and constants put into the scenario.
func TestRun(t *testing.T) {
	e, err := parse([]byte(`
id: small
title: invented
source: invented
read: invented
part: apart
regime: [pad]
remark: invented
scenario: |
  title: invented
  scene: neutral-electrode
  wall: {site: back}
  pad: {area_cm2: 4}
  current: {current_A: 0.1, on_s: 5}
  numerics: {quality: draft}
open:
  - {key: current.current_A, low: 0.5, high: 1.5, times: true, why: invented}
rows:
  - {id: one, quantity: pad_mean_rise, mean: 1, sd: 0.5}
  - {id: twice, quantity: pad_mean_rise, set: {current.current_A: 0.2}, over: one, mean: 4, sd: 0.5}
`))
	if err != nil {
		t.Fatal(err)
	}
	run := func(opt Options) Result {
		all, err := Run(context.Background(), []Experiment{e}, opt)
		if err != nil {
			t.Fatal(err)
		}
		return all[0]
	}
	one, four := run(Options{Draws: 2, Workers: 1}), run(Options{Draws: 2, Workers: 4})
	if CSV([]Result{one}) != CSV([]Result{four}) {
		t.Error("the number of workers changes the result")
	}
	x, ratio := one.Rows[0], one.Rows[1]
	if x.NumericalSD <= 0 || x.InputSD <= 0 {
		t.Errorf("spreads %g and %g", x.InputSD, x.NumericalSD)
	}
	if want := (x.Ours - 1) / math.Sqrt(0.25+x.InputSD*x.InputSD+x.NumericalSD*x.NumericalSD); math.Abs(x.Residual-want) > 1e-12 {
		t.Errorf("residual %g, want %g", x.Residual, want)
	}
	// Heat goes with the square of the current; conductivity rises a little with temperature.
	if ratio.Ours < 3.7 || ratio.Ours > 4.05 || ratio.Unit != "1" {
		t.Errorf("twice the current over once: %g %s", ratio.Ours, ratio.Unit)
	}
	steep := run(Options{Draws: 2, NoMesh: true, Constants: []scenarios.Set{{Key: "physics.conductivity_per_K", Value: scenarios.Number(0.05)}}})
	if math.Abs(steep.Rows[0].Ours/x.Ours-1) < 1e-3 {
		t.Error("a constant changes nothing")
	}
}

// TestRefused: records that cannot be scored are refused.
func TestRefused(t *testing.T) {
	const good = "id: x\ntitle: x\nsource: x\nread: x\nremark: x\npart: fit\nregime: [pad]\nopen: [{key: a, low: 1, high: 2, why: x}]\nrows: [{id: a, quantity: injury_depth, line: seen, mean: 1, sd: 1}]\n"
	if _, err := parse([]byte(good)); err != nil {
		t.Fatal(err)
	}
	for _, change := range [][2]string{
		{"part: fit", "part: some"}, {"sd: 1", "sd: 0"}, {"line: seen", "line: other"}, {"low: 1", "low: 3"},
		{"why: x", "why: ''"}, {"injury_depth", "length"}, {"mean: 1", "over: b, mean: 1"}, {"remark: x", "remarks: x"},
	} {
		if _, err := parse([]byte(strings.Replace(good, change[0], change[1], 1))); err == nil {
			t.Errorf("%s is taken", change[1])
		}
	}
}

// TestStored holds the stored score to the experiments as they stand, and to itself.
func TestStored(t *testing.T) {
	all, err := Stored()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range all {
		for _, x := range r.Rows {
			want := (x.Ours - x.Mean) / math.Sqrt(x.SD*x.SD+x.InputSD*x.InputSD+x.NumericalSD*x.NumericalSD)
			if math.IsNaN(x.Residual) || math.Abs(x.Residual-want) > 1e-3*math.Max(1, math.Abs(want)) {
				t.Errorf("%s, %s: residual %g, by its numbers %g", r.ID, x.ID, x.Residual, want)
			}
		}
	}
	if points, _ := Points(all); len(points) == 0 || !strings.Contains(Text(all), "root mean square of the residuals") {
		t.Error("nothing to show")
	}
}

// TestConstants: each key is one of a scenario.
func TestConstants(t *testing.T) {
	constants, err := Constants()
	if err != nil {
		t.Fatal(err)
	}
	e := load(t)[0]
	for _, c := range constants {
		if math.Abs(c.At(c.Place(c.Start))-c.Start) > 1e-9 {
			t.Errorf("%s: %g does not come back from its place", c.Key, c.Start)
		}
		if _, err := (job{&e, 0, e.Rows[0].Line, -1}).scenario(Options{Constants: []scenarios.Set{c.Set(c.Start)}}); err != nil {
			t.Error(err)
		}
	}
}

// TestHeld: the kinetics of the later line are the set that lies closest to the held
// oesophagus: score as 1-exp(-Omega), compared by its logarithm.
func TestHeld(t *testing.T) {
	list, err := HeldExposures()
	if err != nil {
		t.Fatal(err)
	}
	h := list[0]
	off := func(name string) float64 {
		k, ok := tissue.FindKinetics(name)
		if !ok {
			t.Fatalf("no kinetics %s", name)
		}
		sum := 0.0
		for i, c := range h.TemperatureC {
			omega := 60 * h.Minutes * k.Rate(c)
			sum += math.Pow(math.Log(omega/-math.Log(1-h.DamagePercent[i]/100)), 2)
		}
		return math.Exp(math.Sqrt(sum / float64(len(h.TemperatureC))))
	}
	best := kinetics[Dead]
	for _, name := range []string{"skin-1947", "liver-coagulation", "liver-whitening"} {
		if off(name) <= off(best) {
			t.Errorf("%s is off by a factor %.3g, %s by %.3g", name, off(name), best, off(best))
		}
	}
}
