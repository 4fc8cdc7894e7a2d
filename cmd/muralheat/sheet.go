package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output/chart"
)

// forFlag chooses the page that figures are laid out for.
func forFlag() cli.Flag {
	return &cli.StringFlag{Name: "for", Usage: "lay figures out for a `PAGE`, which ends their names: slide (16:9, no text below 18 pt), paper-85 or paper-170 (mm wide, text of 7 to 9 pt); default: figures_for of the file, else a document"}
}

// pageOf reads it; where it is not given the page is that of a name, which a file may have given.
func pageOf(ctx *cli.Context, given string) (chart.Page, error) {
	if ctx.IsSet("for") {
		given = ctx.String("for")
	}
	page, ok := chart.PageFor(given)
	if !ok || ctx.IsSet("for") && page.Name == "" {
		return page, wrong("%s: --for is %q; give %s or %s", ctx.Command.Name, given, strings.Join(chart.PageNames[:2], ", "), chart.PageNames[2])
	}
	return page, nil
}
