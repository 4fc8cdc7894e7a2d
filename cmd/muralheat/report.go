package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output/document"
	"muralheat/output/record"
	"muralheat/output/report"
	"muralheat/output/study"
	"muralheat/scenarios"
	"muralheat/scenarios/batch"
	"muralheat/scenarios/experiments"
	"muralheat/scenarios/plan"
	"muralheat/thermal/checks"
)

func reportCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "report",
		Usage:     "write a credibility report of a run, a sweep or a limit, for a reviewer",
		UsageText: "muralheat report [flags] FOLDER",
		Description: "FOLDER is the output folder of a run, a sweep or a limit; report.html (one file, no script, no\n" +
			"network) and report.md are written into it: question and context of use, equations,\n" +
			"properties with sources, code verification computed on the spot, numerical\n" +
			"uncertainty (of a run with --refine), sensitivity, published experiments of its kind, limits,\n" +
			"version and how to compute it again. It names what is missing and the command that adds it.\n" +
			"A box on its first page compares what the folder holds: files, tables, journal, what was\n" +
			"stated beforehand, and with --recompute the results of cases computed again. The exit\n" +
			"code is 1 if anything differs.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FOLDER` for the report (default: that of the run)"},
			&cli.IntFlag{Name: "recompute", Usage: "compute `NUMBER` cases again, chosen at random, and compare them to the last bit; of a run: 1", DefaultText: "none"},
			&cli.Uint64Flag{Name: "seed", Usage: "`NUMBER` that chooses them (default: a new one, which is printed)", DefaultText: "new"},
		},
		Before: takes(1, 1, "FOLDER"),
		Action: func(ctx *cli.Context) error {
			if ctx.IsSet("output") && ctx.String("output") == "" {
				return wrong("report: --output is empty; give a folder")
			}
			n := ctx.Int("recompute")
			switch {
			case ctx.IsSet("recompute") && (n < 1 || n > mostAgain):
				return wrong("report: --recompute is %d; give a number from 1 to %d", n, mostAgain)
			case ctx.IsSet("seed") && n == 0:
				return wrong("report: --seed goes with --recompute NUMBER")
			}
			seed := ctx.Uint64("seed")
			if !ctx.IsSet("seed") {
				seed = uint64(rand.Uint32())
			}
			return writeReport(c, ctx.Args().First(), ctx.String("output"), n, seed)
		},
	}
}

// verified lists the checks of a report; a test that is not about them takes fewer.
var verified = checks.Groups

// writeReport makes the report of the folder dir and writes it into the folder at, with again cases computed again,
// chosen by seed.
func writeReport(c *console, dir, at string, again int, seed uint64) error {
	if at == "" {
		at = dir
	}
	bad := func(err error) error {
		return wrong("report: %s; give the output folder of a run, a sweep or a limit", strings.TrimPrefix(err.Error(), "output: "))
	}
	if !study.IsSweep(dir) && !study.IsLimit(dir) && !report.IsRun(dir) {
		return bad(errors.New("no manifest.json, sweep.json or limit.csv in " + dir))
	}
	e := report.Evidence{Build: buildInfo(), Binary: binarySum()}
	var err error
	if e.Experiments, err = experiments.Stored(); err != nil {
		return err
	}
	// What is wrong with the folder is said before anything is computed.
	if _, err := reportOf(dir, at, e); err != nil {
		return bad(err)
	}
	ctx, release := interruptible(c)
	defer release()
	if again > 0 {
		if e.Recomputed, err = recompute(ctx, c, dir, again, seed); errors.Is(err, context.Canceled) {
			return errUnverified
		} else if err != nil {
			return bad(err)
		}
	}
	groups := verified()
	p := newProgress(c, false)
	e.Verified, err = checks.Run(ctx, groups, func(n int) { p.show(float64(n), float64(len(groups))) })
	p.clear()
	if err != nil {
		return errUnverified
	}
	d, err := reportOf(dir, at, e)
	if err != nil {
		return bad(err)
	}
	paths, err := report.WriteReport(at, d)
	if err != nil {
		return wrong("report: %s", strings.TrimPrefix(err.Error(), "output: "))
	}
	if report.IsRun(dir) {
		path, err := report.WriteSensitivity(dir, at)
		if err != nil {
			c.say("no plan for a sensitivity: %v", err)
		}
		if path != "" {
			paths = append(paths, path)
		}
	}
	for _, p := range paths {
		c.print("%s\n", p)
	}
	if failed, _ := record.Failed(e.Verified); len(failed) > 0 {
		return errDiffers
	}
	if d.Differs {
		return fmt.Errorf("report: %s does not hold what was computed, or not what was stated beforehand; the box on the first page of %s says where", dir, paths[0])
	}
	return nil
}

// reportOf makes the report of a folder.
func reportOf(dir, at string, e report.Evidence) (*document.Document, error) {
	switch {
	case study.IsSweep(dir):
	case study.IsLimit(dir):
		l, err := study.ReadLimit(context.Background(), dir)
		if err != nil {
			return nil, err
		}
		p := sought(l.Plan)
		return report.LimitReport(l, p, e)
	default:
		return report.RunReport(dir, at, e)
	}
	plan, err := batch.Load(dir)
	if err != nil {
		return nil, err
	}
	p := planned(plan)
	switch p.Journal.Inspection, err = batch.Inspect(dir, plan); {
	case errors.Is(err, fs.ErrNotExist):
		p.Journal.None = true
	case err != nil:
		return nil, err
	}
	if p.Place, p.Findings, err = surveyed(dir, plan, &p.Cases); err != nil {
		return nil, err
	}
	p.Cases.Or(plan.Base.Case(), settingsOf(plan.Base))
	return report.SweepReport(dir, at, p, e)
}

// sought is what a report needs of a search for a limit: its cases are those at both ends, of evenly taken draws if there are many.
func sought(s *plan.Sweep) report.Planned {
	p := planned(s)
	every := 1 + 2*s.Searches()*s.Draws/mostSurveyed
	for n := range s.Searches() {
		for d := 0; d < s.Draws; d += every {
			for _, end := range []float64{s.Limit.From, s.Limit.To} {
				of, err := s.Tried(n, d, end)
				if err != nil {
					continue // an end at which there is no scenario: the search has none there either
				}
				for _, one := range of {
					p.Cases.Add(one.Case(), settingsOf(one))
				}
			}
		}
	}
	c, settings := s.Base.Case(), settingsOf(s.Base)
	p.Cases.Or(c, settings)
	p.Place = experiments.PlaceOf(&c, record.TissueOf(settings), experiments.Delivered{EnergyJ: math.NaN(), PeakV: math.NaN(), PathMM: 1e3 * c.Motion.LengthM})
	return p
}

// planned is what a report needs of a plan and its scenario.
func planned(s *plan.Sweep) report.Planned {
	p := report.Planned{Question: s.Question, ContextOfUse: s.ContextOfUse, Notes: s.Base.Notes(), Plan: s.Text(), Scenario: s.Base.Text(), Digest: s.Digest(), Stated: s.Stated()}
	for _, x := range s.Base.Sets() {
		p.Set = append(p.Set, x.String())
	}
	return p
}

func settingsOf(s *scenarios.Scenario) (all []record.Setting) {
	for _, x := range s.Settings() {
		all = append(all, record.Setting(x))
	}
	return all
}
