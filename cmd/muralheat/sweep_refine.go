package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios/batch"
	"muralheat/scenarios/plan"
)

// refined is the value of --refine of a sweep, which may be left out: how many cases on each side of the decision, and
// how many over the design.
type refined struct{ near, spread int }

// Set takes what the flag parser hands over: two numbers, or "true" where there are none.
func (r *refined) Set(text string) error {
	if text == "true" {
		*r = refined{study.UsualNear, study.UsualSpread}
		return nil
	}
	near, spread, two := strings.Cut(text, ",")
	a, err1 := strconv.Atoi(near)
	b, err2 := strconv.Atoi(spread)
	if !two || errors.Join(err1, err2) != nil || a < 0 || b < 0 || a+b < 1 || 2*a+b > study.MostRefined {
		return fmt.Errorf("give how many cases nearest to the decision on each side, and how many over the design, at most %d in all, such as --refine=%d,%d", study.MostRefined, study.UsualNear, study.UsualSpread)
	}
	*r = refined{a, b}
	return nil
}

func (r *refined) String() string { return "" }

// IsBoolFlag lets the flag stand alone.
func (r *refined) IsBoolFlag() bool { return true }

func (r *refined) asked() bool { return r.near+r.spread > 0 }

func refineFlag() cli.Flag {
	return &cli.GenericFlag{Name: "refine", Value: new(refined),
		Usage: fmt.Sprintf("compute some cases on two more meshes and with other damage kinetics, and report the numerical error by regime: the `N,M` nearest to the decision on each side, and over the design (--refine=%d,%d unless told)", study.UsualNear, study.UsualSpread)}
}

// refineSweep computes what --refine asks for of the complete sweep in dir, as a sweep of its own in dir/refined: it resumes
// as any does.
func refineSweep(ctx context.Context, c *console, s *plan.Sweep, dir string, ask refined, opt batch.Options, quiet bool) error {
	t, err := study.ReadSweep(dir)
	if err != nil {
		return err
	}
	chosen, p, err := study.RefinedPlan(s, t, ask.near, ask.spread)
	if errors.Is(err, study.ErrNothing) {
		c.say("%s", strings.TrimPrefix(err.Error(), "output: "))
		return nil
	}
	if err != nil {
		return err
	}
	if !quiet {
		c.say("refining %d of %d cases: %d more to compute", len(chosen.Cases), s.Len(), p.Len())
	}
	progress := newCaseProgress(c, quiet)
	opt.Progress, opt.Slice, opt.Fresh = progress.show, batch.Slice{}, false
	at := filepath.Join(dir, study.RefinedFolder)
	count, err := batch.Run(ctx, p, at, opt)
	var refused batch.Refusal
	if errors.As(err, &refused) && !count.Complete() { // other cases were asked for, or chosen by another table
		opt.Fresh = true
		count, err = batch.Run(ctx, p, at, opt)
	}
	progress.clear()
	switch {
	case errors.Is(err, context.Canceled):
		return fmt.Errorf("%w while cases were refined: the table is in %s, %d of %d refined cases in %s; the same command resumes", errStopped, dir, count.Done, count.Of, at)
	case err != nil:
		return fmt.Errorf("sweep: the table is in %s, but its numerical error is not known: %w", dir, err)
	}
	if n := count.Failed + count.Doubtful; n > 0 {
		c.say("%d of %d refined cases have no result: %s says why", n, count.Of, filepath.Join(at, study.ResultName))
	}
	b, err := json.MarshalIndent(chosen, "", "  ")
	if err != nil {
		return err
	}
	if err := record.Replace(filepath.Join(dir, study.RefinedName), append(b, '\n')); err != nil {
		return err
	}
	if t, err = study.ReadSweep(dir); err != nil {
		return err
	}
	for name, table := range map[string][]byte{study.NumericalName: t.NumericalCSV(), study.UncertaintyName: t.UncertaintyCSV()} {
		if table == nil {
			continue
		}
		if err := record.Replace(filepath.Join(dir, name), table); err != nil {
			return err
		}
	}
	return nil
}
