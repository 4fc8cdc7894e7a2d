// Command score computes all published experiments and prints them beside the model; with
// -write it stores the score and where each stands (places.csv), which the program shows (go generate ./scenarios/experiments).
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"runtime"
	"strings"

	"muralheat/scenarios/experiments"
)

func main() {
	write := flag.Bool("write", false, "store the score in stored.csv of the package")
	only := flag.String("only", "", "only experiments whose id contains this")
	draws := flag.Int("draws", experiments.DefaultDraws, "draws of the open inputs")
	noMesh := flag.Bool("no-mesh", false, "leave out the second mesh")
	flag.Parse()
	if err := run(*write, *only, experiments.Options{Draws: *draws, NoMesh: *noMesh, Workers: runtime.GOMAXPROCS(0)}); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(write bool, only string, opt experiments.Options) error {
	list, err := experiments.Load()
	if err != nil {
		return err
	}
	var chosen []experiments.Experiment
	for _, e := range list {
		if strings.Contains(e.ID, only) {
			chosen = append(chosen, e)
		}
	}
	if write && (only != "" || opt.NoMesh) {
		return fmt.Errorf("score: -write stores all experiments with their numerical errors; leave out -only and -no-mesh")
	}
	all, err := experiments.Run(context.Background(), chosen, opt)
	if err != nil {
		return err
	}
	fmt.Print(experiments.Text(all))
	if !write {
		return nil
	}
	if err := os.WriteFile("places.csv", []byte(experiments.PlacesCSV(all)), 0o644); err != nil {
		return err
	}
	return os.WriteFile("stored.csv", []byte(experiments.CSV(all)), 0o644)
}
