package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
)

func examplesCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "examples",
		Usage:     "list, print or write starter scenarios and plans",
		UsageText: "muralheat examples [-o FOLDER] [NAME]",
		Description: "Without flags: a list, or the text of the one named.\n" +
			"With -o the files are written to FOLDER, with the schemas that editors complete keys by; a\n" +
			"file that exists is never overwritten.\n" +
			"Their data are invented.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write to `FOLDER`"},
		},
		Before: takes(0, 1, "NAME"),
		Action: func(ctx *cli.Context) error {
			list := append(scenarios.Examples(), scenarios.PlanExamples()...)
			name := ctx.Args().First()
			if name != "" {
				example, ok := scenarios.FindExample(name)
				if !ok {
					var names []string
					for _, e := range list {
						names = append(names, strings.TrimSuffix(e.Name, ".yaml"))
					}
					return wrong("examples: no example %q; %s", name, guess(name, names, "muralheat examples lists them"))
				}
				list = []scenarios.Example{example}
			}
			switch dir := ctx.String("output"); {
			case dir != "":
				return writeExamples(c, dir, list, name == "")
			case ctx.IsSet("output"):
				return wrong("examples: --output is empty; give a folder")
			case name != "":
				c.print("%s", list[0].Text)
				return nil
			}
			t := newTable(c)
			for _, e := range list {
				title, err := titleOf(e)
				if err != nil {
					return fmt.Errorf("built-in example: %v", err)
				}
				t.row(e.Name, title)
			}
			t.end()
			return nil
		},
	}
}

// writeExamples writes all files or none, and the schemas that are missing.
func writeExamples(c *console, dir string, list []scenarios.Example, all bool) (err error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return wrong("examples: %v", err)
	}
	var made []string
	defer func() {
		if err != nil {
			for _, name := range made {
				os.Remove(name)
			}
		}
	}()
	for _, e := range list {
		name := filepath.Join(dir, e.Name)
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) {
			return wrong("examples: %s exists already and is not overwritten; nothing was written", name)
		}
		if err != nil {
			return wrong("examples: %v", err)
		}
		made = append(made, name)
		_, err = f.Write(e.Text)
		if err := errors.Join(err, f.Close()); err != nil {
			return err
		}
	}
	for name, text := range map[string][]byte{"scenario.schema.json": scenarios.Schema(), "plan.schema.json": plan.Schema()} {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o666); err != nil { // made, not written by hand: it may be renewed
			return wrong("examples: %v", err)
		}
	}
	for _, name := range made {
		c.print("%s\n", name)
	}
	if all {
		c.say("next: muralheat check %s, then muralheat run -o result with the same file", filepath.Join(dir, scenarios.BuiltIn))
	}
	return nil
}

// titleOf returns the title of a starter file, of a scenario or a plan.
func titleOf(e scenarios.Example) (string, error) {
	if !keys.IsPlanText(e.Name, e.Text) {
		s, err := scenarios.Parse(e.Name, e.Text)
		if err != nil {
			return "", err
		}
		return s.Title(), nil
	}
	p, err := plan.Parse(e.Name, e.Text, scenarios.LoadExample)
	if err != nil {
		return "", err
	}
	return p.Title, nil
}
