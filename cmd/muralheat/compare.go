package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/output/compare"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/scenarios/batch"
	"muralheat/thermal"
)

const compareHelp = `Each of A, B, ... is a scenario file, the folder of a run, a plan (all its named cases) or PLAN#CASE (one of
them); 2 to 12 in all. What is missing is computed, on all processors, and kept in FOLDER/cases: the same command
computes nothing twice, and after a change of a file only that. Captions are the titles of scenarios or cases.

FOLDER gets one figure, sections (.svg, .png, .pdf), and compare.csv, a row each; muralheat figures FOLDER draws
it again. Runs computed here have no figures of their own; muralheat figures FOLDER/cases/NAME draws them.

`

func compareCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "compare",
		Usage:       "put settings side by side: one figure at one scale, what differs, and why",
		UsageText:   "muralheat compare [flags] A B [C ...]",
		Description: compareHelp + riskHelp,
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FOLDER` for the results (default: named after A, with -compare)"},
			setFlag(),
			&cli.StringFlag{Name: "title", Usage: "`TITLE` of the figure (default: that of the plan)"},
			forFlag(),
			&cli.IntFlag{Name: "workers", Usage: "`NUMBER` of cases computed at a time", DefaultText: "one for each processor"},
			&cli.BoolFlag{Name: "long", Usage: longUsage, DisableDefaultText: true},
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "no progress and no table: print only the folder's name", DisableDefaultText: true},
			&cli.BoolFlag{Name: "no-color", Usage: "no colour in messages", DisableDefaultText: true},
		}, riskFlags()...),
		Before: takes(1, compare.Most, "A"),
		Action: func(ctx *cli.Context) error {
			if ctx.Bool("no-color") {
				c.colour = false
			}
			sets, err := setsOf(ctx)
			if err != nil {
				return err
			}
			if ctx.Bool("risk") {
				return compareRisk(c, ctx, sets)
			}
			if err := withoutRisk(ctx); err != nil {
				return err
			}
			sides, err := sidesOf(ctx.Args().Slice(), sets)
			if err != nil {
				return err
			}
			workers, err := workersOf(ctx)
			if err != nil {
				return err
			}
			if sides.page, err = pageOf(ctx, sides.figuresFor); err != nil {
				return err
			}
			if n := len(sides.list); sides.page.Compact() && n > compare.MostOnSlide {
				return wrong("compare: --for %s has room for %d, not for %d; leave some out", sides.page.Name, compare.MostOnSlide, n)
			}
			dir, err := outputOf(ctx, sides.name+"-compare")
			if err != nil {
				return err
			}
			if ctx.String("title") != "" {
				sides.title = ctx.String("title")
			}
			return sides.compare(c, dir, workers, ctx.Bool("long"), ctx.Bool("quiet"))
		},
	}
}

// compare computes what is missing and draws.
func (s *sides) compare(c *console, dir string, workers int, long, quiet bool) error {
	if err := s.fits(workers, long); err != nil {
		return err
	}
	rec, err := compare.Begin(dir, program(), s.sources)
	if err != nil {
		return wrong("compare: output folder %s: %v; give another with -o", dir, cause(err))
	}
	rec.Title = s.title
	for _, x := range s.sets {
		rec.Set = append(rec.Set, x.String())
	}
	if err := rec.Write(dir); err != nil { // before anything is computed
		return wrong("compare: output folder %s: %v; give another with -o", dir, cause(err))
	}
	ctx, release := interruptible(c)
	defer release()
	if err := s.compute(ctx, c, dir, rec, workers, quiet); err != nil {
		if errors.Is(err, context.Canceled) {
			return fmt.Errorf("%w: what was computed is kept in %s; the same command resumes", errStopped, dir)
		}
		return err
	}
	if err := rec.Write(dir); err != nil {
		return fmt.Errorf("compare: output folder %s: %w", dir, cause(err))
	}
	files, err := output.Compare(dir, s.page)
	var undrawn record.Undrawn
	if errors.As(err, &undrawn) {
		err = figuresMissing(dir, s.page, undrawn)
	} else if err != nil {
		return err
	}
	if quiet {
		c.print("%s\n", dir)
		return err
	}
	return cmp.Or(s.tell(c, dir, files), err)
}

// tell prints what came out.
func (s *sides) tell(c *console, dir string, files []string) error {
	title, members, err := compare.Open(dir)
	if err != nil {
		return err
	}
	c.print("%s\nFiles in %s\n  %s\n\n%s\n", compare.Report(title, members), dir, strings.Join(files, " "), phrase.Caution)
	return nil
}

// fits refuses what does not fit into memory, or takes longer than anybody wants.
func (s *sides) fits(workers int, long bool) error {
	memory := memoryBytes() / float64(min(workers, len(s.list)))
	for _, x := range s.list {
		if x.scenario == nil {
			continue
		}
		problem := x.scenario.Case()
		if err := fits(x.scenario.Name, problem.Grid(), memory); err != nil {
			return err
		}
		if err := asked(x.scenario.Name, awaited(problem), x.title, long); err != nil {
			return err
		}
	}
	return nil
}

// compute computes what the folder does not hold yet, some at a time, and enters all members into the record, which
// is written as cases finish.
func (s *sides) compute(ctx context.Context, c *console, dir string, rec *compare.Record, workers int, quiet bool) error {
	var missing []int
	rec.Members = make([]compare.Entry, len(s.list))
	for i, x := range s.list {
		rec.Members[i].Title = x.title
		if x.scenario == nil {
			rec.Members[i].Folder = seenFrom(dir, x.folder)
		} else if rec.Members[i].Folder = rec.Known(dir, x.scenario.Identity()); rec.Members[i].Folder == "" {
			missing = append(missing, i)
		}
	}
	p := newCaseProgress(c, quiet)
	defer p.clear()
	count := batch.Count{Of: len(missing)}
	p.show(count)
	memory := memoryBytes() / float64(max(1, min(workers, len(missing))))
	next := make(chan int, len(missing))
	for _, i := range missing {
		next <- i
	}
	close(next)
	var mu sync.Mutex
	var group sync.WaitGroup
	var failed error
	for range min(workers, len(missing)) {
		group.Go(func() {
			for i := range next {
				x := s.list[i]
				r, at, err := computed(ctx, c, filepath.Join(dir, compare.CasesFolder, x.name), x.scenario, thermal.Options{MaxBytes: memory}, nil)
				if err == nil {
					err = selfChecked(r)
				}
				mu.Lock()
				if err == nil {
					folder := seenFrom(dir, at)
					rec.Members[i].Folder, rec.Computed = folder, append(rec.Computed, compare.Case{Identity: x.scenario.Identity(), Folder: folder})
					err = rec.Write(dir)
				}
				count.Done++
				p.show(count)
				var failure *thermal.Failure
				switch {
				case failed != nil || err == nil:
				case errors.As(err, &failure):
					failed = fmt.Errorf("compare: %s failed: %s", x.title, strings.TrimPrefix(err.Error(), "thermal: "))
				default:
					failed = fmt.Errorf("compare: %s: %w", x.title, err)
				}
				stop := failed != nil
				mu.Unlock()
				if stop {
					return
				}
			}
		})
	}
	group.Wait()
	return failed
}

// seenFrom is a path as seen from a folder, absolute where there is no way.
func seenFrom(dir, path string) string {
	a, err := filepath.Abs(dir)
	if err != nil {
		return path
	}
	b, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	if rel, err := filepath.Rel(a, b); err == nil {
		return filepath.ToSlash(rel)
	}
	return b
}
