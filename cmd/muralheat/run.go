package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/output/chart"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/stated"
	"muralheat/thermal"
)

func runCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "run",
		Usage:     "compute one scenario: table, CSV, figures and a record in a folder",
		UsageText: "muralheat run [flags] [SCENARIO]",
		Description: "Without SCENARIO the built-in one is computed, " + scenarios.BuiltIn + ".\n" +
			"An existing folder is never overwritten: a free name FOLDER-2, FOLDER-3, ... is taken.\n" +
			"Ctrl-C stops at once and keeps nothing; a second one kills the program.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FOLDER` for the results (default: named after the file)"},
			setFlag(),
			&cli.BoolFlag{Name: "watch", Usage: "compute again, into the next free folder, each time SCENARIO is saved; Ctrl-C ends", DisableDefaultText: true},
			&cli.BoolFlag{Name: "refine", Usage: "compute two more meshes and report the numerical uncertainty (refine.csv)", DisableDefaultText: true},
			&cli.BoolFlag{Name: "long", Usage: longUsage, DisableDefaultText: true},
			&cli.BoolFlag{Name: "fields", Usage: "also write the final fields for viewers (fields.vtr)", DisableDefaultText: true},
			filmFlag(),
			forFlag(),
			&cli.BoolFlag{Name: "json", Usage: "print one JSON object instead of the table", DisableDefaultText: true},
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "no progress and no table: print only the folder's name", DisableDefaultText: true},
			&cli.BoolFlag{Name: "no-color", Usage: "no colour in messages", DisableDefaultText: true},
		},
		Before: filmAlone(takes(0, 1, "SCENARIO")),
		Action: func(ctx *cli.Context) error {
			if ctx.Bool("no-color") {
				c.colour = false
			}
			sets, err := setsOf(ctx)
			if err != nil {
				return err
			}
			path := ctx.Args().First()
			once := func() error {
				scenario, err := open(path, sets)
				if err != nil {
					return err
				}
				dir, err := outputOf(ctx, folderFor(scenario.Name))
				if err != nil {
					return err
				}
				page, err := pageOf(ctx, scenario.FiguresFor())
				if err != nil {
					return err
				}
				return run(c, scenario, dir, runOptions{page: page, fields: ctx.Bool("fields"), refine: ctx.Bool("refine"), film: int(*ctx.Generic("film").(*moments)), long: ctx.Bool("long"), json: ctx.Bool("json"), quiet: ctx.Bool("quiet")})
			}
			if ctx.Bool("watch") {
				return watch(c, path, once)
			}
			return once()
		},
	}
}

// open reads a scenario; no path means the built-in one.
func open(path string, sets []scenarios.Set) (*scenarios.Scenario, error) {
	if path != "" {
		return readScenario("run", path, sets)
	}
	example, _ := scenarios.FindExample(scenarios.BuiltIn)
	return parseScenario(example.Name, example.Text, sets)
}

// folderFor names a folder after a scenario file.
func folderFor(file string) string {
	base := filepath.Base(file)
	if name := strings.TrimSuffix(base, filepath.Ext(base)); name != "" {
		return name
	}
	return base
}

type runOptions struct {
	fields, refine, long, json, quiet bool
	film                              int // moments of it; 0: none
	page                              chart.Page
}

// run computes a scenario and writes its folder.
func run(c *console, scenario *scenarios.Scenario, dir string, opt runOptions) error {
	m, memory := meshesOf(scenario, opt.refine), memoryBytes()
	m.moments = opt.film
	if err := m.fits(memory); err != nil {
		return err
	}
	seconds := awaited(m.cases...)
	if err := asked(scenario.Name, seconds, m.String(), opt.long); err != nil {
		return err
	}
	if seconds > tellAfter.Seconds() && !opt.quiet {
		c.say("about %s expected: %s", about(seconds), m)
	}
	folder, err := record.Open(dir)
	if err != nil {
		return wrong("run: output folder %s: %s", dir, strings.TrimPrefix(err.Error(), "output: "))
	}
	defer folder.Discard()

	info, err := begin(c, folder, scenario)
	if err != nil {
		return err
	}

	ctx, release := interruptible(c)
	defer release()
	p := newProgress(c, opt.quiet)
	result, err := m.compute(ctx, m.own, memory, p.show)

	var failure *thermal.Failure
	switch {
	case errors.As(err, &failure):
		info.Failure = strings.TrimPrefix(err.Error(), "thermal: ")
		err = fmt.Errorf("the run failed: %s", info.Failure)
	case err == nil:
		if err = selfChecked(result); err == nil && opt.refine {
			info.Refinement, err = m.refine(ctx, result, memory, p.show)
		}
	}
	p.clear()
	info.End = time.Now()
	if errors.Is(err, context.Canceled) {
		return errInterrupted
	}
	if result == nil {
		return err
	}
	// What helps to find out why is kept as well.
	dir, files, saveErr := output.Save(ctx, folder, &info, result, opt.fields || err != nil, opt.page)
	if errors.Is(saveErr, context.Canceled) {
		return errInterrupted
	}
	var undrawn record.Undrawn
	switch {
	case errors.As(saveErr, &undrawn):
		err = errors.Join(err, figuresMissing(dir, opt.page, undrawn))
	case saveErr != nil:
		return errors.Join(err, saveErr)
	case err != nil:
		err = fmt.Errorf("%w; what was computed is in %s", err, dir)
	}
	switch {
	case opt.json:
		c.json(resultJSON(&info, result, dir, files))
	case opt.quiet:
		c.print("%s\n", dir)
	default:
		c.print("%s", record.Report(&info, result, dir, files))
	}
	return err
}

// figuresMissing says how figures are drawn that could not be.
func figuresMissing(dir string, page chart.Page, e record.Undrawn) error {
	if lack := (chart.Unwritten{}); errors.As(e, &lack) { // to draw again is no help
		return fmt.Errorf("the results are in %s, but not all figures: %w", dir, e)
	}
	return fmt.Errorf("the results are in %s, but not all figures: %w; muralheat figures %s draws them", dir, e, redrawn(dir, page))
}

// redrawn is what muralheat figures is to be given for a folder and a page.
func redrawn(dir string, page chart.Page) string {
	if page.Name == "" {
		return dir
	}
	return "--for " + page.Name + " " + dir
}

// begin returns what is known of a run before it is computed, and writes what its scenario states into its folder.
func begin(c *console, folder *record.Folder, scenario *scenarios.Scenario) (record.Run, error) {
	info := recordOf(c, scenario)
	said := stated.OfScenario(scenario)
	if !said.Made() {
		return info, nil
	}
	log := stated.Log{}.Add(said, record.Digest(info.Resolved), 0, info.Start)
	return info, folder.Put(record.File{Name: stated.LogName, Data: log.Encode()})
}

// recordOf is what is known of a run before it is computed.
func recordOf(c *console, scenario *scenarios.Scenario) record.Run {
	info := record.Run{
		Build: buildInfo(), Binary: binarySum(), Command: c.args, ScenarioName: scenario.Name, Scenario: scenario.Text(),
		Resolved: scenario.ResolvedYAML(), Notes: scenario.Notes(), Start: time.Now(),
	}
	for _, s := range scenario.Sets() {
		info.Set = append(info.Set, s.String())
	}
	for _, s := range scenario.Settings() {
		info.Settings = append(info.Settings, record.Setting(s))
	}
	return info
}
