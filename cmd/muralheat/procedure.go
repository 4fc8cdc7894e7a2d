package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/output/chart"
	"muralheat/output/phrase"
	lists "muralheat/output/procedure"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios"
	"muralheat/scenarios/batch"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
	"muralheat/scenarios/procedure"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

const procedureHelp = `A procedure is a YAML file: a wall, and steps one after another, each with an electrode and a current of its own on
the wall as the steps before left it. Two files are set against each other.

FOLDER gets procedure.csv (a row for each step), totals.csv, the figure procedure (for a document and for a slide), the
time course of the current and of the skin under the neutral electrode, and in cases the complete result of each step.
Steps are computed as the cases of a sweep: the same command resumes what was interrupted.

--uncertain draws the thickness of the layers and the ranges of the library that matter most, or what the file says
in uncertain, and tells for each step how probable it is that the injury reaches the muscle.

`

// drawsFolder holds the sweep of the draws.
const drawsFolder = "uncertain"

func procedureCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "procedure",
		Usage:       "compute the steps of a procedure, or of two side by side: table, figure, neutral electrode",
		UsageText:   "muralheat procedure [flags] A.yaml [B.yaml]",
		Description: procedureHelp,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FOLDER` for the results (default: named after the files)"},
			setFlag(),
			&cli.BoolFlag{Name: "uncertain", Usage: "draw what is uncertain: the probability that each step reaches the muscle", DisableDefaultText: true},
			&cli.IntFlag{Name: "draws", Usage: "`NUMBER` of draws (default: that of the file, or 40)", DefaultText: "none"},
			forFlag(),
			&cli.IntFlag{Name: "workers", Usage: "`NUMBER` of cases computed at a time", DefaultText: "one for each processor"},
			&cli.BoolFlag{Name: "fresh", Usage: "start over; what the folder holds is kept as FOLDER-2", DisableDefaultText: true},
			&cli.BoolFlag{Name: "long", Usage: longUsage, DisableDefaultText: true},
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "no progress and no table: print only the folder's name", DisableDefaultText: true},
			&cli.BoolFlag{Name: "no-color", Usage: "no colour in messages", DisableDefaultText: true},
		},
		Before: takes(1, 2, "A.yaml"),
		Action: func(ctx *cli.Context) error {
			if ctx.Bool("no-color") {
				c.colour = false
			}
			return readProcedures(c, ctx)
		},
	}
}

// procedures are what the command computes.
type procedures struct {
	c     *console
	all   []*procedure.Procedure
	sweep *plan.Sweep
	drawn *plan.Sweep // nil: nothing is drawn
	dir   string
	page  chart.Page
	opt   batch.Options
	quiet bool
}

// readProcedures reads all there is to know before anything is computed.
func readProcedures(c *console, ctx *cli.Context) error {
	sets, err := setsOf(ctx)
	if err != nil {
		return err
	}
	p := &procedures{c: c, quiet: ctx.Bool("quiet")}
	var names []string
	for _, path := range ctx.Args().Slice() {
		one, err := readProcedure("procedure", path, sets)
		if err != nil {
			return err
		}
		p.all, names = append(p.all, one), append(names, folderFor(path))
	}
	title := p.all[0].Title
	if len(p.all) > 1 {
		title = "A: " + p.all[0].Title + ". B: " + p.all[1].Title
	}
	if p.sweep, err = procedure.Plan(title, p.all); err != nil {
		return err
	}
	switch {
	case ctx.Bool("uncertain"):
		if n := ctx.Int("draws"); ctx.IsSet("draws") && (n < 2 || n > 10000) {
			return wrong("procedure: --draws is %d; give a number from 2 to 10000", n)
		}
		if p.drawn, err = procedure.Drawn(title, p.all, ctx.Int("draws")); err != nil {
			return wrong("procedure: --uncertain: %v", err)
		}
	case ctx.IsSet("draws"):
		return wrong("procedure: --draws goes with --uncertain")
	}
	workers, err := workersOf(ctx)
	if err != nil {
		return err
	}
	if p.page, err = pageOf(ctx, ""); err != nil {
		return err
	}
	if p.dir, err = outputOf(ctx, strings.Join(names, "-and-")); err != nil {
		return err
	}
	if err := p.fits(ctx.Bool("long")); err != nil {
		return err
	}
	p.opt = batch.Options{Program: program(), Tell: record.Tell, Workers: workers, MaxBytes: memoryBytes(), Fresh: ctx.Bool("fresh"), Session: session(c)}
	return p.compute()
}

// readProcedure reads the procedure that a command was given.
func readProcedure(command, path string, sets []scenarios.Set) (*procedure.Procedure, error) {
	data, err := scenarios.Read(path, "procedure")
	if err != nil {
		return nil, err
	}
	if !keys.IsProcedureText(path, data) {
		switch {
		case keys.IsPlanText(path, data):
			return nil, wrong("%s: %s is a plan, not a procedure; write: muralheat sweep %s", command, path, path)
		default:
			if _, err := scenarios.Parse(path, data); err == nil {
				return nil, wrong("%s: %s is a scenario, not a procedure; write: muralheat run %s", command, path, path)
			}
		}
	}
	return procedure.Parse(path, data, sets)
}

// fits refuses what does not fit into memory, or takes longer than anybody wants.
func (p *procedures) fits(long bool) error {
	for i := range p.sweep.Len() {
		s, err := p.sweep.Scenario(i)
		if err != nil {
			return caseError(p.sweep, i, err)
		}
		c := s.Case()
		if err := fits(p.sweep.Name, c.Grid(), memoryBytes()); err != nil {
			return err
		}
		if err := asked(p.sweep.Name, awaited(c), "step "+p.sweep.CaseTitle(i), long); err != nil {
			return err
		}
	}
	return nil
}

// compute computes what the folder does not hold yet, and draws.
func (p *procedures) compute() error {
	ctx, release := interruptible(p.c)
	defer release()
	opt := p.opt
	opt.Keep = p.keep
	if err := p.batch(ctx, p.sweep, p.dir, opt); err != nil {
		return err
	}
	rec, err := p.record(ctx)
	if err == nil {
		err = p.pads(ctx, rec)
	}
	if err == nil && p.drawn != nil {
		if err = p.batch(ctx, p.drawn, filepath.Join(p.dir, drawsFolder), p.opt); err == nil {
			rec.Drawn = drawsFolder
		}
	}
	switch {
	case errors.Is(err, context.Canceled):
		return fmt.Errorf("%w: what was computed is kept in %s; the same command resumes", errStopped, p.dir)
	case err != nil:
		return err
	}
	if err := rec.Write(p.dir); err != nil {
		return fmt.Errorf("procedure: output folder %s: %w", p.dir, cause(err))
	}
	return p.show()
}

// batch computes a sweep in a folder.
func (p *procedures) batch(ctx context.Context, s *plan.Sweep, dir string, opt batch.Options) error {
	bar := newCaseProgress(p.c, p.quiet)
	opt.Progress = bar.show
	count, err := batch.Run(ctx, s, dir, opt)
	bar.clear()
	var refused batch.Refusal
	switch {
	case errors.As(err, &refused):
		return wrong("procedure: %v", err)
	case errors.Is(err, context.Canceled):
		return fmt.Errorf("%w: %d of %d cases are finished and kept in %s; the same command resumes", errStopped, count.Done, count.Of, p.dir)
	case err != nil:
		return fmt.Errorf("procedure: %w; %d of %d cases are finished and kept in %s; the same command resumes", err, count.Done, count.Of, p.dir)
	}
	return nil
}

// folderOf is where the complete result of case i is kept.
func (p *procedures) folderOf(i int) string {
	return filepath.Join(p.dir, study.KeptFolder, p.sweep.CaseName(i))
}

// keep stores the complete result of a step, without figures. What an interrupted command left there is replaced.
func (p *procedures) keep(ctx context.Context, i int, s *scenarios.Scenario, r *thermal.Result) error {
	path := p.folderOf(i)
	if err := os.RemoveAll(path); err != nil {
		return err
	}
	folder, err := record.Open(path)
	if err != nil {
		return err
	}
	defer folder.Discard()
	info := recordOf(p.c, s)
	_, _, err = folder.Save(ctx, &info, r, false, nil)
	return err
}

// record says what the folder holds: of steps that are the same one result stands for all.
func (p *procedures) record(ctx context.Context) (*lists.Record, error) {
	reasons, err := lists.Reasons(p.dir)
	if err != nil {
		return nil, err
	}
	first := map[string]string{} // folder of each identity
	rec := &lists.Record{Title: p.sweep.Title, Program: program()}
	i := 0
	for n, one := range p.all {
		list := lists.List{File: one.Name, Title: one.Title}
		for k, s := range one.Steps {
			x := lists.Step{Number: k + 1, Title: s.Title, Wall: phrase.Changes(s.Wall), Name: procedure.CaseName(s, n, len(p.all)), Times: s.Times, PauseS: s.PauseS, RestS: s.RestS}
			if s.Scenario != nil {
				of, err := p.sweep.Scenario(i)
				if err != nil {
					return nil, err
				}
				id := of.Identity()
				x.Case, x.Failed = i, reasons[x.Name]
				if first[id] == "" {
					first[id] = p.folderOf(i)
					if _, err := os.Stat(first[id]); errors.Is(err, os.ErrNotExist) && x.Failed == "" { // somebody removed it
						if _, _, err := computed(ctx, p.c, first[id], of, thermal.Options{MaxBytes: memoryBytes()}, nil); err != nil {
							return nil, err
						}
					}
				}
				if x.Failed == "" {
					x.Folder = seenFrom(p.dir, first[id])
				}
				i++
			}
			list.Steps = append(list.Steps, x)
		}
		rec.Procedures = append(rec.Procedures, list)
	}
	return rec, nil
}

// pads computes the neutral electrode under each whole list, unless it is there already.
func (p *procedures) pads(ctx context.Context, rec *lists.Record) error {
	there, err := lists.Read(p.dir)
	if err != nil {
		there = &lists.Record{}
	}
	for n := range rec.Procedures {
		list := &rec.Procedures[n]
		steps := map[string]*thermal.Result{}
		for i, s := range list.Steps {
			if s.Folder == "" {
				continue
			}
			r, err := record.Load(filepath.Join(p.dir, s.Folder))
			if err != nil {
				return err
			}
			steps[p.all[n].Steps[i].Name] = r
		}
		if slices.ContainsFunc(list.Steps, func(s lists.Step) bool { return s.Failed != "" }) {
			continue // the whole list is not known
		}
		s, err := p.all[n].Pad(func(name string) []drive.Span { return lists.Flows(steps[name]) })
		if err != nil {
			return fmt.Errorf("procedure: neutral electrode: %w", err)
		}
		name := "neutral-electrode"
		if len(p.all) > 1 {
			name += fmt.Sprintf("-%c", 'a'+n)
		}
		list.Pad, list.PadIdentity = name, s.Identity()
		path := filepath.Join(p.dir, name)
		if _, err := os.Stat(filepath.Join(path, record.RecordName)); err == nil && n < len(there.Procedures) && there.Procedures[n].PadIdentity == list.PadIdentity && there.Program == rec.Program {
			continue
		}
		if err := os.RemoveAll(path); err != nil {
			return err
		}
		r, _, err := computed(ctx, p.c, path, s, thermal.Options{MaxBytes: memoryBytes()}, &chart.ForDocument)
		if err == nil {
			err = selfChecked(r)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// show draws what the folder holds and says what came out.
func (p *procedures) show() error {
	files, err := output.Procedures(p.dir, p.page)
	var undrawn record.Undrawn
	if err != nil && !errors.As(err, &undrawn) {
		return err
	}
	rec, openErr := lists.Open(p.dir)
	if openErr != nil {
		return openErr
	}
	if p.quiet {
		p.c.print("%s\n", p.dir)
	} else {
		p.c.print("%s\nFiles in %s\n  %s\n\n%s\n", rec.Report(), p.dir, strings.Join(files, " "), phrase.Caution)
	}
	for _, l := range rec.Procedures {
		for _, s := range l.Steps {
			if s.Failed != "" {
				err = cmp.Or(err, fmt.Errorf("procedure: step %q: %s", s.Title, s.Failed))
			}
		}
	}
	return err
}
