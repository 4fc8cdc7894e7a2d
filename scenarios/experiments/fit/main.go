// Command fit fits the constants named in constants.yaml to the experiments of part fit, by
// the simplex of Nelder and Mead within the sourced ranges. It changes nothing: it prints what
// it found, and with -apart scores the experiments kept apart once with it.
package main

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"runtime"
	"slices"

	"gonum.org/v1/gonum/optimize"

	"muralheat/scenarios"
	"muralheat/scenarios/experiments"
)

func main() {
	runs := flag.Int("evaluations", 40, "sets of constants that are tried at most")
	draws := flag.Int("draws", 4, "draws of the open inputs")
	apart := flag.Bool("apart", false, "score the part kept apart with what is found")
	flag.Parse()
	if err := run(*runs, *draws, *apart); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(evaluations, draws int, apart bool) error {
	constants, err := experiments.Constants()
	if err != nil {
		return err
	}
	list, err := experiments.Load()
	if err != nil {
		return err
	}
	parts := map[experiments.Part][]experiments.Experiment{}
	for _, e := range list {
		parts[e.Part] = append(parts[e.Part], e)
	}
	opt := experiments.Options{Draws: draws, NoMesh: true, Workers: runtime.GOMAXPROCS(0)}
	// score is the mean square of the residuals; constants outside their range are moved to its
	// end and cost as much as they lie outside.
	var failed error
	best, bestAt := math.Inf(1), []float64(nil) // the search may end before its first simplex is whole
	score := func(u []float64) float64 {
		outside := 0.0
		o := opt
		for i, c := range constants {
			outside += max(0, -u[i], u[i]-1)
			o.Constants = append(o.Constants, c.Set(c.At(u[i])))
		}
		all, err := experiments.Run(context.Background(), parts[experiments.Fit], o)
		if err != nil {
			failed = err
			return 1e9
		}
		rms := experiments.Scores(all)[0].RMS
		for i, c := range constants {
			fmt.Printf("%s %.4g  ", c.Key, c.At(u[i]))
		}
		fmt.Printf("-> %.3f\n", rms)
		cost := rms*rms + 10*outside
		if cost < best {
			best, bestAt = cost, slices.Clone(u)
		}
		return cost
	}
	start := make([]float64, len(constants))
	for i, c := range constants {
		start[i] = c.Place(c.Start)
	}
	_, err = optimize.Minimize(optimize.Problem{Func: score}, start,
		&optimize.Settings{FuncEvaluations: evaluations}, &optimize.NelderMead{SimplexSize: 0.2})
	if failed != nil {
		return failed
	}
	if err != nil {
		return fmt.Errorf("fit: %w", err)
	}
	var sets []scenarios.Set
	for i, c := range constants {
		v := c.At(bestAt[i])
		sets = append(sets, c.Set(v))
		fmt.Printf("%s: %.4g (start %g, range %g to %g)\n", c.Key, v, c.Start, c.Low, c.High)
	}
	opt.Constants, opt.NoMesh = sets, false
	for _, part := range []experiments.Part{experiments.Fit, experiments.Apart} {
		if part == experiments.Apart && !apart {
			break
		}
		all, err := experiments.Run(context.Background(), parts[part], opt)
		if err != nil {
			return err
		}
		fmt.Print(experiments.Text(all))
	}
	return nil
}
