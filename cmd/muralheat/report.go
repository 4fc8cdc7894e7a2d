package main

import (
	"context"
	"errors"
	"io/fs"
	"math"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output/document"
	"muralheat/output/record"
	"muralheat/output/report"
	"muralheat/output/study"
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
			"uncertainty (of a run with --refine), sensitivity, published experiments, limits,\n" +
			"version and how to compute it again. It names what is missing and the command that adds it.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FOLDER` for the report (default: that of the run)"},
		},
		Before: takes(1, 1, "FOLDER"),
		Action: func(ctx *cli.Context) error {
			if ctx.IsSet("output") && ctx.String("output") == "" {
				return wrong("report: --output is empty; give a folder")
			}
			return writeReport(c, ctx.Args().First(), ctx.String("output"))
		},
	}
}

// verified lists the checks of a report; a test that is not about them takes fewer.
var verified = checks.Groups

// writeReport makes the report of the folder dir and writes it into the folder at.
func writeReport(c *console, dir, at string) error {
	if at == "" {
		at = dir
	}
	bad := func(err error) error {
		return wrong("report: %s; give the output folder of a run, a sweep or a limit", strings.TrimPrefix(err.Error(), "output: "))
	}
	if !study.IsSweep(dir) && !study.IsLimit(dir) && !report.IsRun(dir) {
		return bad(errors.New("no manifest.json, sweep.json or limit.csv in " + dir))
	}
	e := report.Evidence{Build: buildInfo()}
	// What is wrong with the folder is said before anything is computed.
	if _, err := reportOf(dir, at, e); err != nil {
		return bad(err)
	}
	all, err := experiments.Stored()
	if err != nil {
		return err
	}
	for _, r := range all {
		for _, x := range r.Rows {
			e.Compared = append(e.Compared, report.Compared{Part: string(r.Part), Measured: r.Title + ": " + x.Measured, Source: r.Source + ", " + r.Read, Unit: x.Unit, Why: r.Remark,
				Mean: x.Mean, SD: x.SD, Ours: x.Ours, OursSD: math.Hypot(x.InputSD, x.NumericalSD), Residual: x.Residual})
		}
	}
	for _, s := range experiments.Scores(all) {
		e.Scores = append(e.Scores, s.String())
	}
	ctx, release := interruptible(c)
	defer release()
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
		return report.LimitReport(l, planned(l.Plan), e), nil
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
	return report.SweepReport(dir, at, p, e)
}

// planned is what a report needs of a plan and its scenario.
func planned(s *plan.Sweep) report.Planned {
	p := report.Planned{Question: s.Question, ContextOfUse: s.ContextOfUse, Case: s.Base.Case(), Notes: s.Base.Notes(), Plan: s.Text(), Scenario: s.Base.Text(), Digest: s.Digest()}
	for _, x := range s.Base.Sets() {
		p.Set = append(p.Set, x.String())
	}
	for _, x := range s.Base.Settings() {
		p.Settings = append(p.Settings, record.Setting(x))
	}
	return p
}
