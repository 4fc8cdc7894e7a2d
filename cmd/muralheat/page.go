package main

import (
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output/page"
)

const pageHelp = `FOLDER is the output folder of a sweep or of a comparison; or give the folders of some runs. The page is one HTML
file that needs no network and no server: a slider or choice for each key that varies, which steps through what was
computed; the wall in cross-section, a gauge of the depth, the time course, what came out and why. "Keep this one"
lays the injury line of one setting over another; "Ask first" hides what came out until the class has guessed. The
film of a run (muralheat run --film) plays in it, but for tracks.

Cross-sections are there for the cases that a sweep keeps, muralheat sweep --keep-fields all PLAN; of the others the
page has what results.csv has.

`

func pageCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "page",
		Usage:       "make one HTML file to teach with: sliders over what was computed",
		UsageText:   "muralheat page [flags] FOLDER [FOLDER ...]",
		Description: pageHelp,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FILE` to write", DefaultText: "page.html in FOLDER; of several folders, here"},
		},
		Before: takes(1, mostAll, "FOLDER"),
		Action: func(ctx *cli.Context) error {
			path, dirs := ctx.String("output"), ctx.Args().Slice()
			switch {
			case ctx.IsSet("output") && path == "":
				return wrong("page: --output is empty; give a file")
			case path == "" && len(dirs) == 1:
				path = filepath.Join(dirs[0], page.Name)
			case path == "":
				path = page.Name
			}
			if err := page.Write(path, dirs); err != nil {
				return wrong("page: %s; give the output folder of a sweep or a comparison, or those of runs", strings.TrimPrefix(err.Error(), "output: "))
			}
			c.print("%s\n", path)
			return nil
		},
	}
}
