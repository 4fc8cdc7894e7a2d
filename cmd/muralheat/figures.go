package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/output/compare"
	"muralheat/output/record"
	"muralheat/output/study"
)

func figuresCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "figures",
		Usage:       "draw the figures of a run, a sweep or a comparison again from its results",
		UsageText:   "muralheat figures [flags] FOLDER",
		Description: "FOLDER is the output folder of a run, a sweep or a comparison; its figures are replaced one by one.",
		Flags:       []cli.Flag{forFlag()},
		Before:      takes(1, 1, "FOLDER"),
		Action: func(ctx *cli.Context) error {
			dir := ctx.Args().First()
			page, err := pageOf(ctx)
			if err != nil {
				return err
			}
			if page.Name != "" && !compare.Is(dir) {
				return wrong("figures: --for goes with the folder of a comparison, which %s is not", dir)
			}
			draw, of, unedited := output.Redraw, "a run, a sweep or a comparison", record.Unedited
			switch {
			case study.IsSweep(dir):
				draw, of, unedited = output.SweepFigures, "a sweep with cases that passed", study.Unedited
			case compare.Is(dir):
				draw = func(dir string) ([]string, error) { return output.Compare(dir, page) }
				of, unedited = "a comparison whose runs are where they were", func(string) error { return nil }
			}
			if err := unedited(dir); err != nil {
				return wrong("figures: %s; compute it again", strings.TrimPrefix(err.Error(), "output: "))
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
