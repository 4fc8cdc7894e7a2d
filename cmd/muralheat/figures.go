package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/output/compare"
	"muralheat/output/procedure"
	"muralheat/output/record"
	"muralheat/output/study"
)

func figuresCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "figures",
		Usage:       "draw the figures of a run, a sweep, a comparison or a procedure again from its results",
		UsageText:   "muralheat figures [flags] FOLDER",
		Description: "FOLDER is the output folder of a run, a sweep, a comparison or a procedure; its figures are replaced one by one.",
		Flags:       []cli.Flag{forFlag()},
		Before:      takes(1, 1, "FOLDER"),
		Action: func(ctx *cli.Context) error {
			dir := ctx.Args().First()
			page, err := pageOf(ctx)
			if err != nil {
				return err
			}
			if page.Name != "" && !compare.Is(dir) && !procedure.Is(dir) {
				return wrong("figures: --for goes with the folder of a comparison or a procedure, which %s is not", dir)
			}
			draw, of := output.Redraw, "a run, a sweep, a comparison or a procedure"
			switch {
			case procedure.Is(dir):
				draw = func(dir string) ([]string, error) { return output.Procedures(dir, page) }
				of = "a procedure whose runs are where they were"
			case study.IsSweep(dir):
				draw, of = output.SweepFigures, "a sweep with cases that passed"
			case compare.Is(dir):
				draw = func(dir string) ([]string, error) { return output.Compare(dir, page) }
				of = "a comparison whose runs are where they were"
			}
			names, err := draw(dir)
			var undrawn record.Undrawn
			if err != nil && !errors.As(err, &undrawn) {
				return wrong("figures: %s; give the output folder of %s", strings.TrimPrefix(err.Error(), "output: "), of)
			}
			for _, n := range names {
				c.print("%s\n", filepath.Join(dir, n))
			}
			if err != nil {
				return fmt.Errorf("figures: not all are drawn: %w", err)
			}
			return nil
		},
	}
}
