package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
	"muralheat/scenarios/procedure"
	"muralheat/scenarios/source"
)

const examplesHelp = `Without flags: a list, or the text of the one named.
With -o the files are written to FOLDER, with the schemas that editors complete keys by; a
file that exists is never overwritten.
With --lectures the same for ready lectures: a folder each, with a page for the teacher (the
question for the class, the command, the figure, the answer, what the model leaves out), a plan
and its scenario.
Their data are invented.`

func examplesCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "examples",
		Usage:       "list, print or write starter scenarios and plans, or ready lectures",
		UsageText:   "muralheat examples [--lectures] [-o FOLDER] [NAME]",
		Description: examplesHelp,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write to `FOLDER`"},
			&cli.BoolFlag{Name: "lectures", Usage: "ready lectures in place of starter files", DisableDefaultText: true},
		},
		Before: takes(0, 1, "NAME"),
		Action: func(ctx *cli.Context) error {
			on := starters
			if ctx.Bool("lectures") {
				on = lectures
			}
			list, err := on.offers()
			if err != nil {
				return fmt.Errorf("built-in %s: %v", on.kind, err)
			}
			name, dir := ctx.Args().First(), ctx.String("output")
			if name != "" {
				i := slices.IndexFunc(list, func(o offer) bool { return o.name == name || o.short == name })
				if i < 0 {
					var names []string
					for _, o := range list {
						names = append(names, o.short)
					}
					return wrong("examples: no %s %q; %s", on.kind, name, guess(name, names, on.command+" lists them"))
				}
				list = list[i : i+1]
			}
			switch {
			case dir != "":
				if err := writeExamples(c, dir, list); err != nil || name != "" {
					return err
				}
				c.say(on.next, filepath.Join(dir, on.first))
				return nil
			case ctx.IsSet("output"):
				return wrong("examples: --output is empty; give a folder")
			case name != "":
				c.print("%s", list[0].text)
				return nil
			}
			t := newTable(c)
			for _, o := range list {
				t.row(o.name, o.title)
			}
			t.end()
			return nil
		},
	}
}

// shelf is a kind of file that the binary holds.
type shelf struct {
	kind, command string // what one is called, and what lists them
	offers        func() ([]offer, error)
	first, next   string // the file to begin with, and what to do with it
}

var (
	starters = shelf{"example", "muralheat examples", starterFiles, scenarios.BuiltIn, "next: muralheat check %s, then muralheat run -o result with the same file"}
	lectures = shelf{"lecture", "muralheat examples --lectures", readyLectures, filepath.Join(scenarios.Lectures()[0].Name, scenarios.LecturePage), "next: read %s, and the page of each of the others"}
)

// offer is one of them: a starter file, or a lecture.
type offer struct {
	name, short string // in full, and as it may be asked for
	title       string
	text        []byte // what is printed of it
	files       []scenarios.Example
}

// starterFiles offers scenarios, plans, procedures and source sheets.
func starterFiles() (list []offer, err error) {
	for _, e := range slices.Concat(scenarios.Examples(), scenarios.PlanExamples(), scenarios.ProcedureExamples(), scenarios.SheetExamples()) {
		title, err := titleOf(e)
		if err != nil {
			return nil, err
		}
		list = append(list, offer{e.Name, strings.TrimSuffix(e.Name, ".yaml"), title, e.Text, []scenarios.Example{e}})
	}
	return list, nil
}

// readyLectures offers the lectures.
func readyLectures() (list []offer, err error) {
	for _, l := range scenarios.Lectures() {
		var files []scenarios.Example
		for _, f := range l.Files {
			files = append(files, scenarios.Example{Name: filepath.Join(l.Name, f.Name), Text: f.Text})
		}
		list = append(list, offer{l.Name, l.Short(), l.Title(), l.File(scenarios.LecturePage), files})
	}
	return list, nil
}

// writeExamples writes all files or none, and the schemas that are missing.
func writeExamples(c *console, dir string, list []offer) (err error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return wrong("examples: %v", err)
	}
	var made, folders []string
	defer func() {
		if err != nil {
			for _, name := range append(made, folders...) {
				os.Remove(name)
			}
		}
	}()
	for _, o := range list {
		for _, f := range o.files {
			name := filepath.Join(dir, f.Name)
			if folder := filepath.Dir(name); folder != filepath.Clean(dir) {
				switch err := os.Mkdir(folder, 0o777); {
				case err == nil:
					folders = append(folders, folder)
				case !errors.Is(err, fs.ErrExist):
					return wrong("examples: %v", err)
				}
			}
			if err := writeNew(name, f.Text); err != nil {
				return err
			}
			made = append(made, name)
		}
	}
	for name, text := range map[string][]byte{"scenario.schema.json": scenarios.Schema(), "plan.schema.json": plan.Schema(), "sheet.schema.json": source.Schema(), "procedure.schema.json": procedure.Schema()} {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o666); err != nil { // made, not written by hand: it may be renewed
			return wrong("examples: %v", err)
		}
	}
	for _, name := range made {
		c.print("%s\n", name)
	}
	return nil
}

// writeNew writes a file that is not there yet; what is half written is removed.
func writeNew(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return wrong("examples: %s exists already and is not overwritten; nothing was written", name)
	}
	if err != nil {
		return wrong("examples: %v", err)
	}
	_, err = f.Write(text)
	if err := errors.Join(err, f.Close()); err != nil {
		os.Remove(name)
		return err
	}
	return nil
}

// titleOf returns the title of a starter file.
func titleOf(e scenarios.Example) (string, error) {
	if e.IsSheet() {
		s, err := source.Parse(e.Name, e.Text)
		if err != nil {
			return "", err
		}
		return s.Title, nil
	}
	if keys.IsProcedureText(e.Name, e.Text) {
		p, err := procedure.Example(e)
		if err != nil {
			return "", err
		}
		return p.Title, nil
	}
	if !keys.IsPlanText(e.Name, e.Text) {
		s, err := e.Scenario()
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
