package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/output/record"
	"muralheat/output/sources"
	"muralheat/scenarios"
	"muralheat/scenarios/source"
)

func sourceCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:  "source",
		Usage: "what the sources of source sheets give into any load; a sheet from a bench table",
		UsageText: "muralheat source [-o FOLDER] SHEET...\n" +
			"muralheat source --from BENCH.csv -o SHEET.yaml [--name NAME]",
		Description: "A source sheet describes one person's generator as physics; a scenario uses it by\n" +
			"current: {sheet: SHEET, source: NAME, set: {power_W: 30}}. Printed are power, RMS current and peak\n" +
			"voltage of each source over the load; -o writes a table and a figure with the band of accuracy that\n" +
			"the standard asks for, up to three sheets side by side.\n" +
			"--from makes a sheet of a measured table with the columns load_ohm, power_W and peak_V.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write to `FOLDER`; with --from the sheet to write"},
			&cli.StringFlag{Name: "from", Usage: "make a sheet from the bench table `FILE`"},
			&cli.StringFlag{Name: "name", Usage: "with --from: `NAME` of the source in the sheet; without it that of the table's file"},
		},
		Before: takes(0, 100, "SHEET"),
		Action: func(ctx *cli.Context) error {
			dir, from := ctx.String("output"), ctx.String("from")
			switch {
			case ctx.IsSet("output") && dir == "":
				return wrong("source: --output is empty; give a folder, or with --from a file")
			case ctx.IsSet("from") && ctx.NArg() > 0:
				return wrong("source: --from together with a sheet %q; give one of them", ctx.Args().First())
			case ctx.IsSet("from"):
				return fromBench(c, from, dir, ctx.String("name"))
			case ctx.IsSet("name"):
				return wrong("source: --name belongs to --from")
			case ctx.NArg() == 0:
				return wrong("source: SHEET is missing; muralheat source --help shows how")
			case ctx.NArg() > sources.MostSheets:
				return wrong("source: %d sheets; at most %d fit side by side", ctx.NArg(), sources.MostSheets)
			}
			var sheets []*source.Sheet
			for _, path := range ctx.Args().Slice() {
				data, err := scenarios.Read(path, "source sheet")
				if err != nil {
					return err
				}
				sheet, err := source.Parse(path, data)
				if err != nil {
					return err
				}
				sheets = append(sheets, sheet)
			}
			c.print("%s", sources.Text(sheets))
			if dir == "" {
				return nil
			}
			names, err := output.Sources(dir, sheets)
			var undrawn record.Undrawn
			if err != nil && !errors.As(err, &undrawn) {
				return wrong("source: %s; give a folder that can be written", strings.TrimPrefix(err.Error(), "output: "))
			}
			c.print("\n")
			for _, n := range names {
				c.print("%s\n", filepath.Join(dir, n))
			}
			return err
		},
	}
}

// fromBench writes a sheet made from a bench table.
func fromBench(c *console, table, sheet, name string) error {
	if sheet == "" {
		return wrong("source: --from without -o; name the sheet to write, as in -o unit.yaml")
	}
	if ext := filepath.Ext(sheet); ext != ".yaml" && ext != ".yml" {
		return wrong("source: -o %s is to be a source sheet; give a name that ends in .yaml", sheet)
	}
	if name == "" {
		name = strings.TrimSuffix(filepath.Base(table), filepath.Ext(table))
	}
	if !source.CanBeName(name) {
		return wrong("source: %q cannot be the name of a source; give --name with letters, digits, dot, hyphen and underscore, 40 at most", name)
	}
	data, err := scenarios.Read(table, "bench table")
	if err != nil {
		return err
	}
	rows, err := source.ReadBench(table, data)
	if err != nil {
		return err
	}
	text, remark, err := source.FromBench(rows, name, table)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(sheet, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return wrong("source: %s exists already and is not overwritten", sheet)
	}
	if err != nil {
		return wrong("source: %v", err)
	}
	_, err = f.Write(text)
	if err := errors.Join(err, f.Close()); err != nil {
		os.Remove(sheet)
		return err
	}
	if remark != "" {
		c.say("note: %s", remark)
	}
	c.print("%s\n", sheet)
	return nil
}
