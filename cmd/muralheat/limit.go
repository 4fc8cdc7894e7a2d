package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/urfave/cli/v2"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/limit"
	"muralheat/scenarios/plan"
	"muralheat/scenarios/procedure"
	"muralheat/scenarios/stated"
	"muralheat/thermal"
)

func limitCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "limit",
		Usage:     "find the value of a setting up to which a result stays within a bound",
		UsageText: "muralheat limit [flags] PLAN | PROCEDURE",
		Description: "PLAN has a part limit: the key, the range tried, and the value that a result must stay above or\n" +
			"below. The limit is sought at every point of the plan; with uncertain keys the draws must show with\n" +
			"confidence that the probability beyond it is below a stated one. Of a procedure: the value of a key\n" +
			"of one step up to which every step keeps its margin to the muscle. Computed cases are kept: the same\n" +
			"command resumes.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FOLDER` for the results (default: named after the file, with -limit)"},
			&cli.IntFlag{Name: "workers", Usage: "`NUMBER` of cases computed at a time", DefaultText: "one for each processor"},
			&cli.BoolFlag{Name: "refine", Usage: "compute each limit on two more meshes, and say how far their error moves it", DisableDefaultText: true},
			&cli.BoolFlag{Name: "long", Usage: longUsage, DisableDefaultText: true},
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "no progress and no table: print only the folder's name", DisableDefaultText: true},
		},
		Before: takes(1, 1, "PLAN"),
		Action: func(ctx *cli.Context) error {
			plan, err := planOfLimit(ctx.Args().First())
			if err != nil {
				return err
			}
			workers, err := workersOf(ctx)
			if err != nil {
				return err
			}
			dir, err := outputOf(ctx, folderFor(plan.Name)+"-limit")
			if err != nil {
				return err
			}
			return seek(c, plan, dir, workers, ctx.Bool("refine"), ctx.Bool("long"), ctx.Bool("quiet"))
		},
	}
}

// planOfLimit reads the plan or the procedure that says what is sought.
func planOfLimit(path string) (*plan.Sweep, error) {
	data, err := scenarios.Read(path, "plan")
	if err != nil {
		return nil, err
	}
	if keys.IsProcedureText(path, data) {
		p, err := procedure.Parse(path, data, nil)
		if err != nil {
			return nil, err
		}
		sought, err := p.Limit()
		if sought == nil && err == nil {
			err = wrong("limit: %s has no part limit; give limit: {step: ..., key: ..., from: ..., to: ..., margin_mm: ...}", path)
		}
		return sought, err
	}
	sought, err := readPlan("limit", path, nil)
	if err == nil && sought.Limit == nil {
		err = wrong("limit: %s has no part limit; give limit: {key: ..., from: ..., to: ..., above: ...}", path)
	}
	return sought, err
}

// seek finds the limits of a plan and writes its folder.
func seek(c *console, plan *plan.Sweep, dir string, workers int, refine, long, quiet bool) error {
	first, err := plan.Scenario(0)
	if err != nil {
		return err
	}
	problem := first.Case()
	if _, near, ok := study.ColumnNamed(record.SummaryColumns(&problem), plan.Limit.Column); !ok {
		right := "`muralheat run` writes them all into summary.csv"
		if near != "" {
			right = "did you mean " + near + "?"
		}
		return wrong("%s: limit.column: %q is not a column of numbers; %s", plan.Name, plan.Limit.Column, right)
	}
	memory := memoryBytes() / float64(min(workers, plan.Len()))
	if err := fits(plan.Name, problem.Grid(), memory); err != nil {
		return err
	}
	if err := asked(plan.Name, awaited(problem), "its first case", long); err != nil {
		return err
	}
	memo, err := openMemo(dir, plan.Limit.Column)
	if err != nil {
		return wrong("limit: output folder %s: %v; give another with -o", dir, cause(err))
	}
	defer memo.Close()
	files := map[string][]byte{"plan.yaml": plan.Text(), "scenario.yaml": plan.Base.Text()}
	for name, text := range plan.Base.Sheets() {
		files[filepath.Base(name)] = []byte(text)
	}
	log, err := stated.Read(dir)
	if err != nil {
		return wrong("limit: output folder: %v; give another with -o", err)
	}
	if said := plan.Stated(); said.Made() || len(log.Entries) > 0 {
		files[stated.LogName] = log.Add(said, plan.Digest(), memo.Known(), time.Now()).Encode()
	}
	for name, text := range files {
		if err := record.Replace(filepath.Join(dir, name), text); err != nil {
			return fmt.Errorf("limit: output folder %s: %w", dir, cause(err))
		}
	}
	if n := memo.Known(); n > 0 && !quiet {
		c.say("resuming: %d cases are already computed", n)
	}
	ctx, release := interruptible(c)
	defer release()
	show := seekBar(c, plan.Searches(), quiet)
	value := func(ctx context.Context, s *scenarios.Scenario) (limit.Result, error) {
		p := s.Case()
		r, err := thermal.Simulate(ctx, &p, thermal.Options{MaxBytes: memory})
		if err != nil {
			return limit.Result{}, err
		}
		if !record.Passed(record.Checks(r)) {
			return limit.Result{}, errCheck
		}
		column, _, ok := study.ColumnNamed(record.SummaryColumns(&p), plan.Limit.Column)
		if !ok {
			return limit.Result{}, fmt.Errorf("this case has no column %s", plan.Limit.Column)
		}
		return limit.Result{Value: column.Number(r), Short: phrase.FellShort(r.Summary.MeanPowerW, phrase.SetPowerW(r))}, nil
	}
	kept := memo.Keep(value)
	answers, err := limit.Find(ctx, plan, kept, workers, show)
	if err == nil && refine {
		if err = limit.Refine(ctx, plan, answers, kept, workers); err != nil && ctx.Err() == nil {
			err = fmt.Errorf("limit: the limits are found, but not their numerical error: %w", err)
		}
	}
	if errors.Is(err, context.Canceled) {
		return fmt.Errorf("%w: what was computed is kept in %s; the same command resumes", errStopped, dir)
	}
	if err != nil {
		return err
	}
	if err := record.Replace(filepath.Join(dir, study.LimitName), study.LimitCSV(plan, answers)); err != nil {
		return fmt.Errorf("limit: output folder %s: %w", dir, cause(err))
	}
	if quiet {
		c.print("%s\n", dir)
	} else {
		c.print("%s", study.LimitReport(plan, answers, dir))
	}
	for _, a := range answers {
		if a.Kind == limit.Failed {
			return fmt.Errorf("a point of the plan failed: %s", a.Reason)
		}
	}
	return nil
}

// seekBar returns what shows how many points are done, where somebody watches.
func seekBar(c *console, points int, quiet bool) func(done, of int) {
	if !c.live || quiet {
		return func(int, int) {}
	}
	bar := progressbar.NewOptions(points, progressbar.OptionSetWriter(c.err), progressbar.OptionSetDescription("seeking"),
		progressbar.OptionSetWidth(30), progressbar.OptionSetPredictTime(true), progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionClearOnFinish(), progressbar.OptionSetTheme(progressbar.ThemeASCII))
	return func(done, _ int) { bar.Set(done) } // a bar that cannot be drawn is no failure
}

// openMemo makes the folder of a search, or goes on in it. A folder that holds anything else
// is left alone.
func openMemo(dir, column string) (*limit.Memo, error) {
	there, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := os.MkdirAll(dir, 0o755); err != nil {
			return nil, err
		}
	case err != nil:
		return nil, err
	}
	begun := slices.ContainsFunc(there, func(e fs.DirEntry) bool { return e.Name() == study.MemoName })
	if !begun && slices.ContainsFunc(there, func(e fs.DirEntry) bool { return !strings.HasPrefix(e.Name(), ".") }) {
		return nil, errors.New("it holds files that are not those of a search for a limit")
	}
	return limit.OpenMemo(filepath.Join(dir, study.MemoName), column, program())
}

// cause is what the system says, without the path that is given beside it already.
func cause(err error) error {
	var p *os.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}
