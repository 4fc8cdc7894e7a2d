package main

import (
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output"
)

func figuresCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "figures",
		Usage:       "draw the figures of a run again, computing nothing",
		UsageText:   "muralheat figures FOLDER",
		Description: "FOLDER is the output folder of a run; its figures are replaced one by one.",
		Before:      takes(1, 1, "FOLDER"),
		Action: func(ctx *cli.Context) error {
			dir := ctx.Args().First()
			names, err := output.Redraw(dir)
			if err != nil {
				return wrong("figures: %s; give the output folder of a run", strings.TrimPrefix(err.Error(), "output: "))
			}
			for _, n := range names {
				c.print("%s\n", filepath.Join(dir, n))
			}
			return nil
		},
	}
}
