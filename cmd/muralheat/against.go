package main

import (
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/output/record"
	"muralheat/scenarios/experiments"
)

// against prints the published experiments beside the model, as stored in the program, and draws
// them: to compute them takes minutes (go run ./scenarios/experiments/score).
func against(c *console, ctx *cli.Context) error {
	switch {
	case ctx.String("against") != "experiments":
		return wrong("verify: --against %q is not known; choose experiments", ctx.String("against"))
	case ctx.IsSet("format") || ctx.Bool("json") || ctx.Args().Present():
		return wrong("verify: --against experiments is one table; leave out --format, --json and GROUP")
	case ctx.IsSet("output") && ctx.String("output") == "":
		return wrong("verify: --output is empty; give a folder")
	}
	all, err := experiments.Stored()
	if err != nil {
		return err
	}
	c.print("%s", experiments.Text(all))
	dir := ctx.String("output")
	if dir == "" {
		return nil
	}
	names, err := output.Measured(dir, all)
	if err != nil {
		return wrong("verify: %s; give a folder that can be written", strings.TrimPrefix(err.Error(), "output: "))
	}
	for _, f := range []record.File{{Name: "places.csv", Data: []byte(experiments.PlacesCSV(all))}, {Name: "values.csv", Data: []byte(experiments.CSV(all))}} {
		if err := record.Replace(filepath.Join(dir, f.Name), f.Data); err != nil {
			return wrong("verify: %s; give a folder that can be written", err)
		}
		names = append(names, f.Name)
	}
	c.print("\n")
	for _, n := range names {
		c.print("%s\n", filepath.Join(dir, n))
	}
	return nil
}
