package main

import (
	"context"
	"errors"
	"path/filepath"
	"strings"
	"sync"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/output/report"
	"muralheat/scenarios"
	"muralheat/scenarios/brackets"
	"muralheat/thermal/checks"
)

func reportCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "report",
		Usage:     "a credibility report of a run or a sweep: one HTML page, and Markdown",
		UsageText: "muralheat report [flags] FOLDER",
		Description: "FOLDER is the output folder of a run or a sweep. report.html needs nothing else and no script;\n" +
			"it has the sections that ASME V&V 40 and the FDA's guidance of 2023 ask for, and says what is missing.\n" +
			"All checks of the solver and the published experiments are computed for it, which takes up to a minute.\n\n" + exitHelp,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FOLDER` for the report (default: that of the run)"},
			&cli.BoolFlag{Name: "quick", Usage: "compute nothing: neither the checks of the solver nor the published experiments", DisableDefaultText: true},
			&cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "no messages: print only the names of the files", DisableDefaultText: true},
		},
		Before: takes(1, 1, "FOLDER"),
		Action: func(ctx *cli.Context) error {
			if ctx.IsSet("output") && ctx.String("output") == "" {
				return wrong("report: --output is empty; give a folder")
			}
			return writeReport(c, ctx.Args().First(), ctx.String("output"), ctx.Bool("quick"), ctx.Bool("quiet"))
		},
	}
}

// writeReport makes the report of the folder dir and writes it into the folder at.
func writeReport(c *console, dir, at string, quick, quiet bool) error {
	if at == "" {
		at = dir
	}
	bad := func(err error) error {
		return wrong("report: %s; give the output folder of a run or a sweep", strings.TrimPrefix(err.Error(), "output: "))
	}
	if !output.IsSweep(dir) && !output.IsRun(dir) {
		return bad(errors.New(dir + " has neither manifest.json nor sweep.json"))
	}
	evidence := output.Evidence{Build: buildInfo()}
	// What is wrong with the folder is said before anything is computed.
	if _, err := document(dir, at, evidence); err != nil {
		return bad(err)
	}
	var failed error
	if !quick {
		ctx, release := interruptible(c)
		defer release()
		if !quiet {
			c.say("computing the checks of the solver and the published experiments: up to a minute")
		}
		if err := gather(ctx, &evidence); errors.Is(err, context.Canceled) {
			return errInterrupted
		} else if err != nil {
			return err
		}
		for _, g := range evidence.Verified {
			for _, k := range g.Checks {
				if !k.OK() {
					failed = errors.New("a check of the solver fails: " + k.String() + "; the report says so")
				}
			}
		}
	}
	d, err := document(dir, at, evidence)
	if err != nil {
		return bad(err)
	}
	paths, err := output.WriteReport(at, d)
	if err != nil {
		return wrong("report: %s", strings.TrimPrefix(err.Error(), "output: "))
	}
	for _, p := range paths {
		c.print("%s\n", p)
	}
	return failed
}

// document makes the report of a folder.
func document(dir, at string, e output.Evidence) (*report.Document, error) {
	if !output.IsSweep(dir) {
		return output.RunReport(dir, at, e)
	}
	plan, err := scenarios.LoadPlanWith(filepath.Join(dir, "plan.yaml"), filepath.Join(dir, "scenario.yaml"))
	if err != nil {
		return nil, err
	}
	p := output.Planned{Question: plan.Question, ContextOfUse: plan.ContextOfUse, Case: plan.Base.Case(), Notes: plan.Base.Notes(), Plan: plan.Text(), Scenario: plan.Base.Text()}
	for _, s := range plan.Base.Settings() {
		p.Settings = append(p.Settings, output.Setting(s))
		switch {
		case s.Key == "question" && p.Question == "":
			p.Question = s.Value
		case s.Key == "context_of_use" && p.ContextOfUse == "":
			p.ContextOfUse = s.Value
		}
	}
	return output.SweepReport(dir, at, p, e)
}

// gather computes the checks of the solver, and beside them the published experiments.
func gather(ctx context.Context, e *output.Evidence) error {
	var all []brackets.Bracket
	var err error
	var beside sync.WaitGroup
	beside.Go(func() { all, err = brackets.Run(ctx) })
	for _, g := range checks.Groups() {
		if ctx.Err() != nil {
			break
		}
		e.Verified = append(e.Verified, output.Verified{Group: g.Name, Checks: g.Run()})
	}
	beside.Wait()
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		return err
	}
	for _, b := range all {
		e.Compared = append(e.Compared, output.Compared{Measured: b.Measured, Source: b.Source, Unit: b.Unit, Why: b.Why, Low: b.Low, High: b.High, Ours: b.Ours, Inside: b.Inside})
	}
	return nil
}
