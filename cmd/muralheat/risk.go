package main

import (
	"errors"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios"
	"muralheat/scenarios/batch"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
)

const riskHelp = `With --risk two settings get the same draws of what is uncertain, of a plan with two named cases (PLAN, or
PLAN#A PLAN#B) or of another plan with --uncertain: A.yaml B.yaml. FOLDER is then that of a sweep: it resumes,
and muralheat report FOLDER works. Added are probability.csv, pair.csv and the figure pairs.

`

// riskFlags are those of compare that go with --risk.
func riskFlags() []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "risk", Usage: "how probable it is that the muscle is reached with two settings, draw by draw", DisableDefaultText: true},
		&cli.StringFlag{Name: "uncertain", Usage: "with --risk of scenario files: the `PLAN` whose uncertain keys are drawn"},
		&cli.IntFlag{Name: "draws", Usage: "with --risk: `NUMBER` of draws", DefaultText: "that of the plan"},
		&cli.BoolFlag{Name: "fresh", Usage: "with --risk: start over; what the folder holds is kept as FOLDER-2", DisableDefaultText: true},
		refineFlag(),
	}
}

// withoutRisk refuses them without it.
func withoutRisk(ctx *cli.Context) error {
	for _, f := range riskFlags()[1:] {
		if name := f.Names()[0]; ctx.IsSet(name) {
			return wrong("compare: --%s goes with --risk", name)
		}
	}
	return nil
}

// compareRisk computes two settings with the same draws.
func compareRisk(c *console, ctx *cli.Context, sets []scenarios.Set) error {
	if ctx.IsSet("title") {
		return wrong("compare: --title does not go with --risk")
	}
	draws := ctx.Int("draws")
	if ctx.IsSet("draws") && (draws < 2 || draws > 1_000_000) {
		return wrong("compare: --draws is %d; give a number from 2 to 1000000", draws)
	}
	words := ctx.Args().Slice()
	s, err := pairOf(words, ctx.String("uncertain"), draws, sets)
	if err != nil {
		return err
	}
	if s.Draws < 2 {
		return wrong("compare: %s has 1 draw; give --draws", s.Name)
	}
	workers, err := workersOf(ctx)
	if err != nil {
		return err
	}
	path, _, _ := strings.Cut(words[0], "#")
	dir, err := outputOf(ctx, folderFor(path)+"-risk")
	if err != nil {
		return err
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
	return sweep(c, s, dir, page, nil, &page, *ctx.Generic("refine").(*refined), batch.Options{
		Program: program(), Tell: record.Tell, Workers: workers, MaxBytes: memoryBytes(), Slice: batch.Slice{Of: 1}, Fresh: ctx.Bool("fresh"), Session: session(c),
	}, ctx.Bool("quiet"))
}

// pairOf reads the two settings that words name, and what is uncertain.
func pairOf(words []string, uncertain string, draws int, sets []scenarios.Set) (*plan.Sweep, error) {
	if uncertain != "" {
		return pairOfScenarios(words, uncertain, draws, sets)
	}
	path, a, named := strings.Cut(words[0], "#")
	if !named {
		data, err := scenarios.Read(path, "plan")
		if err == nil && !keys.IsPlanText(path, data) {
			return nil, wrong("compare: nothing is uncertain; give --uncertain PLAN, a plan whose uncertain keys are drawn, or a plan with two cases and uncertain")
		}
	}
	s, err := readPlan("compare", path, sets)
	switch {
	case err != nil:
		return nil, err
	case !s.Named():
		return nil, wrong("compare: %s has no named cases; give cases: [{name: ..., title: ..., set: {...}}, ...]", path)
	case !s.Uncertain():
		return nil, wrong("compare: nothing is uncertain in %s; give uncertain and draws", path)
	}
	var names []string
	for i := range s.Points() {
		names = append(names, s.CaseName(i*s.Draws))
	}
	chosen := names
	if named {
		chosen = []string{a}
		for _, w := range words[1:] {
			other, b, ok := strings.Cut(w, "#")
			if !ok || other != path {
				return nil, wrong("compare: %s is not a case of %s; with --risk both are of one plan", w, path)
			}
			chosen = append(chosen, b)
		}
	} else if len(words) > 1 {
		return nil, wrong("compare: --risk takes one plan, or PLAN#A PLAN#B, or with --uncertain two scenario files")
	}
	if len(chosen) != 2 {
		return nil, wrong("compare: --risk takes two cases, not %d; of %s choose two, as in %s#%s %s#%s", len(chosen), path, path, names[0], path, names[len(names)-1])
	}
	for _, name := range chosen {
		if !slices.Contains(names, name) {
			return nil, wrong("compare: %s has no case %q; %s", path, name, guess(name, names, "it has "+strings.Join(names, ", ")))
		}
	}
	return s.Pair(chosen[0], chosen[1], draws)
}

// pairOfScenarios reads two scenario files, and the plan whose uncertain keys are drawn in both.
func pairOfScenarios(words []string, uncertain string, draws int, sets []scenarios.Set) (*plan.Sweep, error) {
	if len(words) != 2 {
		return nil, wrong("compare: --risk takes two scenario files, not %d", len(words))
	}
	of, err := readPlan("compare", uncertain, nil)
	switch {
	case err != nil:
		return nil, err
	case !of.Uncertain():
		return nil, wrong("compare: nothing is uncertain in %s; give uncertain and draws", uncertain)
	}
	var two [2]*scenarios.Scenario
	for n, w := range words {
		if two[n], err = readScenario("compare", w, sets); err != nil {
			return nil, err
		}
	}
	s, err := of.Beside(two[0], two[1], draws)
	var ps keys.Problems
	if err != nil && !errors.As(err, &ps) {
		return nil, wrong("compare: %v", err)
	}
	return s, err
}

// mostTold is how many probabilities are printed.
const mostTold = 12

// drawsTold prints what the draws of a complete folder tell.
func drawsTold(c *console, t *study.SweepTable) {
	say := func(indent, text string) {
		var b strings.Builder
		record.Paragraph(&b, indent, text)
		c.print("%s", b.String())
	}
	if p, ok := t.Pair(); ok {
		for _, line := range p.Words() {
			say("", line)
		}
		return
	}
	all := t.Probabilities()
	for n, p := range all[:min(len(all), mostTold)] {
		if n == 0 {
			say("", "Probability that the injury reaches the muscle:")
		}
		lead := ""
		if p.Title != "" {
			lead = p.Title + ": "
		}
		say("  ", lead+p.Words())
	}
}
