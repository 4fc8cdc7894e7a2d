package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios/batch"
	"muralheat/scenarios/plan"
)

const sweepHelp = `The folder holds a journal: whatever ends a sweep, the same command resumes with the cases that
are missing. Ctrl-C keeps what is finished; a second one kills the program, and loses no more
than the cases at work.

One of many machines computes a slice, the cases i with i mod N = I, in a folder of its own;
muralheat merge puts them together. Without --slice it is taken from MURALHEAT_SLICE (I/N), from the
variables of a Slurm job array, or from JOB_COMPLETION_INDEX with --slices N.

`

func sweepCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "sweep",
		Usage:       "compute the cases of a plan: one table, in a folder; the same command resumes it",
		UsageText:   "muralheat sweep [flags] PLAN",
		Description: sweepHelp,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FOLDER` for the results (default: named after the file and the slice)"},
			setFlag(),
			&cli.IntFlag{Name: "workers", Usage: "`NUMBER` of cases computed at a time", DefaultText: "one for each processor"},
			&cli.StringFlag{Name: "slice", Usage: "compute slice `I/N` only, counted from 0"},
			&cli.IntFlag{Name: "slices", Usage: "`NUMBER` of slices, where the scheduler gives only the index", DefaultText: "none"},
			&cli.StringFlag{Name: "keep-fields", Usage: "keep the complete results of these `CASES`, numbers (from 0, as in results.csv) or names, in FOLDER/cases; all: of up to 200, without figures"},
			refineFlag(),
			forFlag(),
			&cli.BoolFlag{Name: "fresh", Usage: "start over; what the folder holds is kept as FOLDER-2", DisableDefaultText: true},
			&cli.BoolFlag{Name: "long", Usage: longUsage, DisableDefaultText: true},
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "no progress: print only the folder's name", DisableDefaultText: true},
			&cli.BoolFlag{Name: "no-color", Usage: "no colour in messages", DisableDefaultText: true},
		},
		Before: takes(1, 1, "PLAN"),
		Action: func(ctx *cli.Context) error {
			if ctx.Bool("no-color") {
				c.colour = false
			}
			path := ctx.Args().First()
			sets, err := setsOf(ctx)
			if err != nil {
				return err
			}
			s, err := readPlan("sweep", path, sets)
			if err != nil {
				return err
			}
			if len(s.Inputs) == 0 && !s.Named() {
				return wrong("sweep: %s varies nothing, it seeks a limit; write: muralheat limit %s", path, path)
			}
			slice, err := sliceOf(ctx)
			if err != nil {
				return wrong("sweep: %v", err)
			}
			workers, err := workersOf(ctx)
			if err != nil {
				return err
			}
			dir, err := outputOf(ctx, folderFor(path)+slice.Suffix())
			if err != nil {
				return err
			}
			kept, err := chosen(s, ctx.String("keep-fields"))
			if err != nil {
				return err
			}
			if len(kept) > 0 && slice.Of > 1 {
				return wrong("sweep: --keep-fields goes with a whole sweep, not with a slice; give it with the same plan after merging")
			}
			ask := *ctx.Generic("refine").(*refined)
			if ask.asked() && slice.Of > 1 {
				return wrong("sweep: --refine goes with a whole sweep, not with a slice; give it with the same plan after merging")
			}
			if first, err := s.Scenario(0); err == nil { // else it will be a failed row
				if err := asked(s.Name, awaited(first.Case()), "its first case", ctx.Bool("long")); err != nil {
					return err
				}
			}
			page, err := pageOf(ctx, s.FiguresFor)
			if err != nil {
				return err
			}
			drawn := &page
			if ctx.String("keep-fields") == allCases {
				drawn = nil
			}
			return sweep(c, s, dir, page, kept, drawn, ask, batch.Options{
				Program: program(), Tell: record.Tell, Workers: workers, MaxBytes: memoryBytes(), Slice: slice, Fresh: ctx.Bool("fresh"), Session: session(c),
			}, ctx.Bool("quiet"))
		},
	}
}

// sweep computes what the folder does not hold yet.
func sweep(c *console, s *plan.Sweep, dir string, page chart.Page, kept []int, drawn *chart.Page, ask refined, opt batch.Options, quiet bool) error {
	ctx, release := interruptible(c)
	defer release()
	if !quiet {
		for _, n := range s.Notes() {
			c.say("%s", n)
		}
	}
	p := newCaseProgress(c, quiet)
	opt.Progress = p.show
	count, err := batch.Run(ctx, s, dir, opt)
	p.clear()
	var refused batch.Refusal
	var gone batch.Gone
	switch {
	case errors.As(err, &refused):
		return wrong("sweep: %v", err)
	case errors.As(err, &gone):
		return fmt.Errorf("sweep: %v: nothing is kept there, the sweep has stopped; the same command starts anew", err)
	case errors.Is(err, context.Canceled):
		return fmt.Errorf("%w: %d of %d cases are finished and kept in %s; the same command resumes", errStopped, count.Done, count.Of, dir)
	case err != nil:
		return fmt.Errorf("%w; %d of %d cases are finished and kept in %s; the same command resumes", err, count.Done, count.Of, dir)
	}
	if ask.asked() && count.Done > count.Failed+count.Doubtful {
		if err := refineSweep(ctx, c, s, dir, ask, opt, quiet); err != nil {
			return err
		}
	}
	var undrawn record.Undrawn
	keptErr := keep(ctx, c, s, dir, kept, drawn)
	switch {
	case errors.Is(keptErr, context.Canceled):
		return fmt.Errorf("%w while cases were kept: the table is in %s; the same command resumes", errStopped, dir)
	case keptErr != nil && !errors.As(keptErr, &undrawn):
		return fmt.Errorf("sweep: keeping cases: %w", keptErr)
	}
	return cmp.Or(swept(c, "sweep", dir, page, count, opt.Slice.Of <= 1, quiet), keptErr)
}

// swept says what a complete folder holds.
func swept(c *console, command, dir string, page chart.Page, count batch.Count, whole, quiet bool) error {
	tables := []string{study.ResultName}
	var figures []string
	var err error
	if whole && count.Done > count.Failed+count.Doubtful { // a slice is no picture of anything
		more, untold := output.SweepTables(dir)
		if untold != nil {
			return fmt.Errorf("%s: %w; the table of all cases is in %s", command, untold, dir)
		}
		tables = append(tables, more...)
		figures, err = output.SweepFigures(dir, page)
	}
	if errors.Is(err, study.ErrNothing) {
		c.say("no figures: %s", strings.TrimPrefix(err.Error(), "output: "))
		err = nil
	}
	if count.Damaged > 0 {
		c.say("%d damaged lines of the journal count for nothing; their cases are computed again", count.Damaged)
	}
	if quiet {
		c.print("%s\n", dir)
	} else {
		c.print("%d cases%s\nTable in %s\n", count.Of, besides(count), filepath.Join(dir, tables[0]))
		if len(tables) > 1 {
			c.print("Besides it %s\n", strings.Join(tables[1:], " "))
		}
		if len(figures) > 0 {
			c.print("Figures %s\n", strings.Join(figures, " "))
		}
		if whole {
			told(c, dir)
		}
		c.print("%s\n", phrase.Caution)
	}
	switch {
	case count.Doubtful > 0:
		return fmt.Errorf("%s: %w: %d of %d cases are doubtful, the table says why", command, errCheck, count.Doubtful, count.Of)
	case count.Failed == count.Of && count.Of > 0:
		return fmt.Errorf("%s: every case failed, the table says why", command)
	case err != nil: // the table is there: that is what a sweep is for
		return fmt.Errorf("%s: the table is in %s, but not all figures: %s; muralheat figures %s draws them", command, dir, strings.TrimPrefix(err.Error(), "output: "), redrawn(dir, page))
	}
	return nil
}

// told says how certain the results of a complete folder are, what its draws show, and which of its cases got less than was set.
func told(c *console, dir string) {
	t, err := study.ReadSweep(dir)
	if err != nil { // the figures have said so
		return
	}
	if marks := record.MarksOf(t.Marks); marks != "" {
		c.print("%s\n", marks)
	}
	combined := t.Combined()
	if combined != nil {
		combined = []string{combined[0], "Combined by root sum of squares; muralheat guide plans says what that assumes."}
	}
	for _, line := range append(combined, t.Numerical()...) {
		var b strings.Builder
		record.Paragraph(&b, "", line)
		c.print("%s", b.String())
	}
	drawsTold(c, t)
	for n, line := range t.Limited() {
		var b strings.Builder
		record.Paragraph(&b, strings.Repeat("  ", min(n, 1)), line)
		c.print("%s", b.String())
	}
}

// besides lists what is not as usual.
func besides(n batch.Count) string {
	text := ""
	for _, x := range []struct {
		n    int
		what string
	}{{n.Failed, "failed"}, {n.Doubtful, "doubtful"}, {n.Same, "the same as another"}} {
		if x.n > 0 {
			text += fmt.Sprintf(", %d %s", x.n, x.what)
		}
	}
	return text
}

// sliceOf reads which slice to compute from the flags, else from the environment.
func sliceOf(ctx *cli.Context) (batch.Slice, error) {
	n := ctx.Int("slices")
	if ctx.IsSet("slices") && n < 1 {
		return batch.Slice{}, fmt.Errorf("--slices is %d; give how many there are", n)
	}
	if ctx.IsSet("slice") {
		s, err := batch.ParseSlice(ctx.String("slice"))
		if err == nil && n > 0 && s.Of != n {
			err = fmt.Errorf("--slice %s, but --slices %d", s, n)
		}
		return s, err
	}
	return batch.SliceFrom(os.Getenv, n)
}

// workersOf returns how many cases to compute at a time: as many as the program may use
// processors, of which a Slurm job may have fewer than it sees.
func workersOf(ctx *cli.Context) (int, error) {
	if n := ctx.Int("workers"); ctx.IsSet("workers") {
		if n < 1 || n > 10000 {
			return 0, wrong("%s: --workers is %d; give a number from 1 to 10000", ctx.Command.Name, n)
		}
		return n, nil
	}
	n := runtime.GOMAXPROCS(0)
	if slurm, err := strconv.Atoi(os.Getenv("SLURM_CPUS_ON_NODE")); err == nil && slurm > 0 {
		n = min(n, slurm)
	}
	return n, nil
}

func mergeCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "merge",
		Usage:       "put the slices of a sweep together",
		UsageText:   "muralheat merge -o FOLDER SLICE...",
		Description: "FOLDER gets the same bytes as from a sweep in one piece. All slices are needed, each once.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FOLDER` for the whole sweep", Required: false},
			forFlag(),
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "print only the folder's name", DisableDefaultText: true},
		},
		Before: takes(1, 1<<20, "SLICE"),
		Action: func(ctx *cli.Context) error {
			dir := ctx.String("output")
			if dir == "" {
				return wrong("merge: -o FOLDER is missing")
			}
			count, err := batch.Merge(dir, ctx.Args().Slice())
			var refused batch.Refusal
			if errors.As(err, &refused) {
				return wrong("merge: %v", err)
			}
			if err != nil {
				return err
			}
			page, err := pageOf(ctx, figuresFor(dir))
			if err != nil {
				return err
			}
			return swept(c, "merge", dir, page, count, true, ctx.Bool("quiet"))
		},
	}
}
