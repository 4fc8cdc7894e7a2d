package main

import (
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/scenarios"
	"muralheat/scenarios/brackets"
	"muralheat/thermal/checks"
)

func reportCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "report",
		Usage:     "write a credibility report of a run or a sweep, for a reviewer",
		UsageText: "muralheat report FOLDER",
		Description: "FOLDER is the output folder of a run or a sweep; report.html (one file, no script, no\n" +
			"network) and report.md are written into it: question and context of use, equations,\n" +
			"properties with sources, code verification computed there and then, numerical\n" +
			"uncertainty (of a run with --refine), sensitivity, published experiments, limits,\n" +
			"version and how to compute it again.\n\n" + exitHelp,
		Before: takes(1, 1, "FOLDER"),
		Action: func(ctx *cli.Context) error { return report(c, ctx.Args().First()) },
	}
}

// report gathers what the folder does not hold: the scenario's settings, the checks.
func report(c *console, dir string) error {
	var e output.Evidence
	var text []byte
	name := "scenario.yaml"
	if !output.IsSweep(dir) {
		m, err := output.ReadManifest(dir)
		if err != nil {
			return wrong("report: %s; give the output folder of a run or a sweep", strings.TrimPrefix(err.Error(), "output: "))
		}
		name, text, e.Settings = m.Scenario.File, []byte(m.Scenario.Resolved), m.Settings
	}
	scenario, err := scenarios.Parse(name, text)
	if text == nil {
		scenario, err = scenarios.Load(filepath.Join(dir, name))
	}
	if err != nil {
		return err
	}
	if e.Settings == nil {
		for _, s := range scenario.Settings() {
			e.Settings = append(e.Settings, output.Setting(s))
		}
	}
	problem := scenario.Case()
	e.Case, e.Notes = &problem, scenario.Notes()
	interrupted, release := interruptible(c)
	defer release()
	groups := checks.Groups()
	p := newProgress(c, false)
	e.Verified, err = checks.Run(interrupted, groups, func(n int) { p.show(float64(n), float64(len(groups))) })
	p.clear()
	if err != nil {
		return errStopped
	}
	for _, b := range brackets.Stored() {
		e.Measured = append(e.Measured, output.Measured{What: b.Measured, Source: b.Source, Unit: b.Unit, Low: b.Low, High: b.High, Ours: b.Ours, Inside: b.Inside, Why: b.Why})
	}
	names, err := output.Credibility(dir, e)
	if err != nil {
		return wrong("report: %s", strings.TrimPrefix(err.Error(), "output: "))
	}
	for _, n := range names {
		c.print("%s\n", filepath.Join(dir, n))
	}
	if failed, _ := output.Failed(e.Verified); len(failed) > 0 {
		return errDiffers
	}
	return nil
}
