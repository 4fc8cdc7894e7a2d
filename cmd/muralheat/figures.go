package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/output/record"
	"muralheat/output/study"
)

func figuresCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "figures",
		Usage:       "draw the figures of a run or a sweep again from its results",
		UsageText:   "muralheat figures FOLDER",
		Description: "FOLDER is the output folder of a run or a sweep; its figures are replaced one by one.",
		Before:      takes(1, 1, "FOLDER"),
		Action: func(ctx *cli.Context) error {
			dir := ctx.Args().First()
			draw, of := output.Redraw, "a run or a sweep"
			if study.IsSweep(dir) {
				draw, of = output.SweepFigures, "a sweep with cases that passed"
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
