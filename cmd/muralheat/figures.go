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
	"muralheat/scenarios/batch"
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
			page, err := pageOf(ctx, figuresFor(dir))
			if err != nil {
				return err
			}
			draw, of, unedited := output.Redraw, "a run, a sweep, a comparison or a procedure", record.Unedited
			switch {
			case procedure.Is(dir):
				draw = output.Procedures
				of, unedited = "a procedure whose runs are where they were", study.Unedited
			case study.IsSweep(dir):
				draw, of, unedited = output.SweepFigures, "a sweep with cases that passed", study.Unedited
			case compare.Is(dir):
				draw = output.Compare
				of, unedited = "a comparison whose runs are where they were", func(string) error { return nil }
			}
			if err := unedited(dir); err != nil {
				return wrong("figures: %s; compute it again", strings.TrimPrefix(err.Error(), "output: "))
			}
			names, err := draw(dir, page)
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

// figuresFor returns the page that the scenario or plan of a folder names, "" for none.
func figuresFor(dir string) string {
	if study.IsSweep(dir) {
		if p, err := batch.Load(dir); err == nil {
			return p.FiguresFor
		}
		return ""
	}
	m, err := record.ReadManifest(dir)
	if err != nil {
		return "" // a comparison, or what comes next says what is wrong
	}
	for _, s := range m.Settings {
		if s.Key == "figures_for" {
			return s.Value
		}
	}
	return ""
}
