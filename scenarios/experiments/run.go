package experiments

import (
	"context"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"gonum.org/v1/gonum/stat"

	"muralheat/scenarios"
	"muralheat/thermal"
)

// Options says how the experiments are computed.
type Options struct {
	Draws     int             // of the open inputs; 0: DefaultDraws
	Constants []scenarios.Set // put into every scenario that has the key
	NoMesh    bool            // leaves out the second mesh: numerical errors are 0
	Workers   int             // 0: one
	Progress  func(done, of int)
}

// DefaultDraws is how many draws an experiment gets.
const DefaultDraws = 8

// RowResult is a row beside the model.
type RowResult struct {
	Row
	Unit        string
	Ours        float64 // mean over the draws
	InputSD     float64 // standard deviation over the draws
	NumericalSD float64 // estimated from a second mesh
	Residual    float64 // (Ours - Mean) / root of the summed squares of the three spreads
}

// Result is an experiment beside the model.
type Result struct {
	Experiment
	Place Place // of its draws
	Rows  []RowResult
}

// RMS returns the root mean square of the residuals of the rows.
func (r *Result) RMS() float64 {
	sum := 0.0
	for _, x := range r.Rows {
		sum += x.Residual * x.Residual
	}
	return math.Sqrt(sum / float64(len(r.Rows)))
}

// Inside reports whether the model lies within twice the combined spread.
func (r *Result) Inside() bool { return r.RMS() <= 2 }

// Resolved reports whether the numerical error is below a third of the measured spread in
// every row.
func (r *Result) Resolved() bool {
	return !slices.ContainsFunc(r.Rows, func(x RowResult) bool { return x.NumericalSD > x.SD/3 })
}

// job is one run of the solver: a row's settings and line, and a draw. Draw -1 is the middle
// of all ranges, -2 the same on the second mesh.
type job struct {
	e    *Experiment
	row  int
	line Line
	draw int
}

// values are what a run gives: by quantity, and where it stands.
type values struct {
	of    map[string]float64
	place Place
}

// Run computes experiments. It fails when a run does or ctx ends.
func Run(ctx context.Context, list []Experiment, opt Options) ([]Result, error) {
	if opt.Draws == 0 {
		opt.Draws = DefaultDraws
	}
	var jobs []job
	index := map[string]int{}
	for i := range list {
		e := &list[i]
		first := 0
		if !opt.NoMesh {
			first = -2
		}
		for r := range e.Rows {
			for d := first; d < draws(e, opt); d++ {
				j := job{e, r, e.Rows[r].Line, d}
				if _, ok := index[j.key()]; !ok {
					index[j.key()] = len(jobs)
					jobs = append(jobs, j)
				}
			}
		}
	}
	got, factors, err := compute(ctx, jobs, opt)
	if err != nil {
		return nil, err
	}
	results := make([]Result, len(list))
	for i := range list {
		e := &list[i]
		at := func(row, draw int) float64 {
			x := &e.Rows[row]
			v := got[index[job{e, row, x.Line, draw}.key()]].of[x.Quantity]
			if x.Over != "" {
				o := slices.IndexFunc(e.Rows, func(y Row) bool { return y.ID == x.Over })
				v /= got[index[job{e, o, e.Rows[o].Line, draw}.key()]].of[e.Rows[o].Quantity]
			}
			return v
		}
		results[i].Experiment = *e
		for r, x := range e.Rows {
			y := RowResult{Row: x, Unit: Quantities[x.Quantity].Unit}
			if x.Over != "" {
				y.Unit = "1"
			}
			drawn := make([]float64, draws(e, opt))
			for d := range drawn {
				drawn[d] = at(r, d)
				results[i].Place = results[i].Place.And(got[index[job{e, r, x.Line, d}.key()]].place)
			}
			y.Ours = stat.Mean(drawn, nil)
			if len(drawn) > 1 {
				y.InputSD = stat.StdDev(drawn, nil)
			}
			if !opt.NoMesh {
				y.NumericalSD = factors[index[job{e, r, x.Line, -2}.key()]] * math.Abs(at(r, -1)-at(r, -2))
			}
			y.Residual = (y.Ours - x.Mean) / math.Sqrt(x.SD*x.SD+y.InputSD*y.InputSD+y.NumericalSD*y.NumericalSD)
			results[i].Rows = append(results[i].Rows, y)
		}
	}
	return results, nil
}

// draws returns how many draws an experiment gets: one if nothing is open.
func draws(e *Experiment, opt Options) int {
	switch {
	case len(e.Open) == 0:
		return 1
	case e.Draws > 0:
		return min(e.Draws, opt.Draws)
	}
	return opt.Draws
}

// key is equal for jobs that are one run.
func (j job) key() string {
	return fmt.Sprint(j.e.ID, j.e.Rows[j.row].Set, j.line, j.draw)
}

// compute runs jobs on a few workers; the results do not depend on how many.
func compute(ctx context.Context, jobs []job, opt Options) ([]values, []float64, error) {
	got, factors, errs := make([]values, len(jobs)), make([]float64, len(jobs)), make([]error, len(jobs))
	next, done := 0, 0
	var lock sync.Mutex
	var group sync.WaitGroup
	for range max(1, opt.Workers) {
		group.Go(func() {
			for {
				lock.Lock()
				i := next
				next++
				lock.Unlock()
				if i >= len(jobs) || ctx.Err() != nil {
					return
				}
				got[i], factors[i], errs[i] = jobs[i].run(ctx, opt)
				lock.Lock()
				done++
				if opt.Progress != nil {
					opt.Progress(done, len(jobs))
				}
				lock.Unlock()
			}
		})
	}
	group.Wait()
	for i, err := range errs {
		if err != nil {
			return nil, nil, fmt.Errorf("experiments: %s, row %s, draw %d: %w", jobs[i].e.ID, jobs[i].e.Rows[jobs[i].row].ID, jobs[i].draw, err)
		}
	}
	return got, factors, ctx.Err()
}

// run computes one job. The factor turns its difference from the first mesh into the error
// of the first, for convergence of order one on meshes of ratio 1.5: 3 if the second is finer,
// 2 if it is coarser (tracks, where a finer one would take hours).
func (j job) run(ctx context.Context, opt Options) (v values, errorFactor float64, err error) {
	s, err := j.scenario(opt)
	if err != nil {
		return v, 0, err
	}
	c, factor := s.Case(), 0.0
	if j.draw == -2 {
		cases, stated := c.Refined()
		c, factor = cases[1], 3
		if stated == 0 {
			factor = 2
		}
	}
	r, err := thermal.Simulate(ctx, &c, thermal.Options{})
	if err != nil {
		return v, 0, err
	}
	v = values{map[string]float64{}, PlaceOf(&c, j.e.Setting.Tissue, DeliveredBy(r))}
	for _, row := range j.e.Rows {
		v.of[row.Quantity] = Quantities[row.Quantity].Read(r)
	}
	return v, factor, nil
}

// scenario returns the scenario of a job.
func (j job) scenario(opt Options) (*scenarios.Scenario, error) {
	base, err := scenarios.Parse(j.e.ID+".yaml", []byte(j.e.Scenario))
	if err != nil {
		return nil, err
	}
	var sets []scenarios.Set
	for key, v := range j.e.Rows[j.row].Set {
		sets = append(sets, scenarios.Set{Key: key, Value: scenarios.Number(v)})
	}
	slices.SortFunc(sets, func(a, b scenarios.Set) int {
		if a.Key < b.Key {
			return -1
		}
		return 1
	})
	if j.line != "" {
		sets = append(sets, scenarios.Set{Key: "damage.kinetics", Value: scenarios.Word(kinetics[j.line])})
	}
	stated, err := base.With(sets...)
	if err != nil {
		return nil, err
	}
	known := map[string]string{}
	for _, x := range stated.Settings() {
		known[x.Key] = x.Value
	}
	for _, c := range opt.Constants {
		if _, ok := known[c.Key]; ok { // a pad has no sparks
			sets = append(sets, c)
		}
	}
	for i, o := range j.e.Open {
		v := o.At(j.place(i, draws(j.e, opt)))
		if o.Times {
			var was float64
			if _, err := fmt.Sscan(known[o.Key], &was); err != nil {
				return nil, fmt.Errorf("%s is not a number to be multiplied", o.Key)
			}
			v *= was
		}
		for _, key := range append([]string{o.Key}, o.Also...) {
			sets = slices.DeleteFunc(sets, func(s scenarios.Set) bool { return s.Key == key })
			sets = append(sets, scenarios.Set{Key: key, Value: scenarios.Number(v)})
		}
	}
	return base.With(sets...)
}

// place returns where in its distribution open input i lies in the draw of a job: the middles
// of n strata, in an order fixed by the experiment and the key (a centred Latin hypercube).
func (j job) place(i, n int) float64 {
	if j.draw < 0 {
		return 0.5
	}
	h := fnv.New64a()
	fmt.Fprint(h, j.e.ID, j.e.Open[i].Key)
	order := rand.New(rand.NewPCG(h.Sum64(), 1)).Perm(n)
	return (float64(order[j.draw]) + 0.5) / float64(n)
}
