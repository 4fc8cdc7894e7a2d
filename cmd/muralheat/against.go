package main

import (
	"github.com/urfave/cli/v2"

	"muralheat/scenarios/experiments"
)

// against prints the published experiments beside the model, as stored in the program: to
// compute them takes minutes (go run ./scenarios/experiments/score).
func against(c *console, ctx *cli.Context) error {
	switch {
	case ctx.String("against") != "experiments":
		return wrong("verify: --against %q is not known; choose experiments", ctx.String("against"))
	case ctx.IsSet("format") || ctx.Bool("json") || ctx.Args().Present():
		return wrong("verify: --against experiments is one table; leave out --format, --json and GROUP")
	}
	all, err := experiments.Stored()
	if err != nil {
		return err
	}
	c.print("%s", experiments.Text(all))
	return nil
}
