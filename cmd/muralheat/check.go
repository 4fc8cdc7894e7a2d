package main

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
	"muralheat/scenarios/stated"
	"muralheat/thermal"
)

func checkCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "check a scenario, a plan or a procedure; show its settings with their sources, memory and time",
		UsageText: "muralheat check [flags] SCENARIO | PLAN | PROCEDURE",
		Description: "Shown are the values that the scenario gives, the thickness of each layer, and defaults that are\n" +
			"not those of the built-in scenario, " + scenarios.BuiltIn + "; --all shows the rest.\n" +
			"For a plan or a procedure: its cases, and memory and time estimated from some of them.\n" +
			"The expected time is an estimate from half a second of computing.",
		Flags: []cli.Flag{
			setFlag(),
			&cli.BoolFlag{Name: "all", Usage: "every value, with its unit and its source", DisableDefaultText: true},
			&cli.BoolFlag{Name: "json", Usage: "print one JSON object", DisableDefaultText: true},
		},
		Before: takes(1, 1, "SCENARIO"),
		Action: func(ctx *cli.Context) error {
			path := ctx.Args().First()
			sets, err := setsOf(ctx)
			if err != nil {
				return err
			}
			data, err := scenarios.Read(path, "scenario")
			if err != nil {
				return err
			}
			if keys.IsPlanText(path, data) {
				plan, err := plan.Parse(path, data, plan.Setting(sets))
				if err != nil {
					return err
				}
				workers, err := workersOf(ctx)
				if err != nil {
					return err
				}
				return checkPlan(c, plan, workers, ctx.Bool("json"))
			}
			if keys.IsProcedureText(path, data) {
				workers, err := workersOf(ctx)
				if err != nil {
					return err
				}
				return checkProcedure(c, path, data, sets, workers, ctx.Bool("json"))
			}
			scenario, err := parseScenario(path, data, sets)
			if err != nil {
				return err
			}
			return check(c, scenario, ctx.Bool("all"), ctx.Bool("json"))
		},
	}
}

type meshJSON struct {
	Geometry string  `json:"geometry"`
	NX       int     `json:"nx"`
	NY       int     `json:"ny"`
	NZ       int     `json:"nz"`
	Cells    int     `json:"cells"`
	FinestUM float64 `json:"finest_um"`
}

type costJSON struct {
	Mesh         meshJSON `json:"mesh"`
	MemoryBytes  float64  `json:"memory_bytes"`
	UsableBytes  float64  `json:"usable_bytes"`
	LeastSteps   float64  `json:"steps_at_least"`
	SimulatedS   float64  `json:"simulated_s"`
	ExpectedS    float64  `json:"expected_s,omitempty"` // 0: not to be computed here
	ExpectedNote string   `json:"expected_note,omitempty"`
}

type checkedJSON struct {
	Caution  string           `json:"caution"`
	Title    string           `json:"title"`
	Scenario string           `json:"scenario"`
	Settings []record.Setting `json:"settings"`
	Cost     costJSON         `json:"cost"`
	Stated   stated.Statement `json:"stated,omitzero"`
	Notes    []string         `json:"notes"`
}

// check shows a scenario; one that does not fit into memory is shown, and refused.
func check(c *console, scenario *scenarios.Scenario, all, asJSON bool) error {
	problem := scenario.Case()
	grid, memory := problem.Grid(), memoryBytes()
	refused := fits(scenario.Name, grid, memory)
	cost := costJSON{
		Mesh:        meshJSON{grid.Geometry.String(), grid.NX, max(grid.NY, 1), grid.NZ, grid.Cells(), 1e6 * grid.FinestM},
		MemoryBytes: grid.Bytes(), UsableBytes: memory,
		LeastSteps: leastSteps(&problem, problem.WholeS()), SimulatedS: problem.WholeS(),
	}
	if refused == nil {
		cost.ExpectedS, cost.ExpectedNote = expect(problem)
		if cost.ExpectedS > mostUnasked.Seconds() {
			cost.ExpectedNote += "; more than a day needs --long"
		}
	}
	if asJSON {
		v := checkedJSON{Caution: phrase.Caution, Title: scenario.Title(), Scenario: scenario.Name, Cost: cost, Stated: stated.OfScenario(scenario), Notes: append([]string{}, scenario.Notes()...)}
		for _, s := range scenario.Settings() {
			v.Settings = append(v.Settings, record.Setting(s))
		}
		c.json(v)
		return refused
	}
	c.print("%s\n  %s\n\n", scenario.Title(), scenario.Name)
	t, shown, every := newTable(c), scenario.Own(), scenario.Settings()
	if all {
		shown = every
	}
	for _, s := range shown {
		if strings.HasPrefix(s.Key, "decision.") {
			continue // below, in words
		}
		t.row(s.Key, rounded(s), s.Unit, cmp.Or(s.Source, "given"))
	}
	t.end()
	if more := len(every) - len(shown); more > 0 {
		c.print("%d more values are those of the library or of the built-in scenario: muralheat check --all %s\n", more, scenario.Name)
	}
	c.print("\n")
	t = newTable(c)
	t.row("mesh", fmt.Sprintf("%d cells (%d x %d x %d, %s), finest %.3g um", cost.Mesh.Cells, cost.Mesh.NX, cost.Mesh.NY, cost.Mesh.NZ, cost.Mesh.Geometry, cost.Mesh.FinestUM))
	t.row("memory", fmt.Sprintf("%s; %s may be used", gigabytes(cost.MemoryBytes), gigabytes(cost.UsableBytes)))
	steps := fmt.Sprintf("at least %.0f over %.4g s", cost.LeastSteps, cost.SimulatedS)
	if scenario.Case().Physics.Boiling {
		steps += ", more while tissue boils"
	}
	t.row("steps", steps)
	if cost.ExpectedS > 0 {
		t.row("time", fmt.Sprintf("about %s, %s", about(cost.ExpectedS), cost.ExpectedNote))
	}
	t.end()
	printStated(c, stated.OfScenario(scenario))
	printNotes(c, scenario.Notes())
	c.print("\n%s\n", phrase.Caution)
	return refused
}

// printStated shows what is stated beforehand.
func printStated(c *console, s stated.Statement) {
	if !s.Made() {
		return
	}
	c.print("\nStated beforehand; run, sweep and limit write it down with time and checksum before they compute\n")
	var b strings.Builder
	for _, line := range s.Lines() {
		record.Paragraph(&b, fmt.Sprintf("  %-24s", line[0]), line[1])
	}
	if len(s.Goals) > 0 {
		b.WriteString("Evidence asked for, by credibility factor; a is the least, c the most rigorous\n")
	}
	for _, f := range stated.Factors {
		if g := s.Goals[f.Key]; g != "" {
			record.Paragraph(&b, fmt.Sprintf("  %-24s", f.Key), g+": "+f.Of(g))
		}
	}
	c.print("%s", b.String())
}

func printNotes(c *console, notes []string) {
	if len(notes) > 0 {
		c.print("\nNotes\n")
	}
	for _, n := range notes {
		c.print("  - %s\n", n)
	}
}

// rounded shortens a number for reading; the resolved scenario of a run and --json
// have all its digits.
func rounded(s scenarios.Setting) string {
	if v, err := strconv.ParseFloat(s.Value, 64); err == nil && s.Unit != "" {
		return digits(v)
	}
	return s.Value
}

// leastSteps counts the steps up to a time in s, none of them shortened: whole steps from
// each edge of a pulse to the next. Between pulses a needle that waits rests.
func leastSteps(p *thermal.Case, end float64) (steps float64) {
	for _, c := range p.Sequence() {
		length := min(end, c.TotalS())
		steps += stepsOf(c, length)
		end -= length
	}
	return steps
}

// stepsOf counts those of one case of a sequence.
func stepsOf(p *thermal.Case, end float64) float64 {
	moving, steps := p.StepS(), 0.0
	starts := append(p.StartsS(), end)
	for n, start := range starts[:len(starts)-1] {
		length := min(end, starts[n+1]) - start
		for t := 0.0; t < length; {
			dt := moving
			if p.Motion.Waits && !p.Drive.Pulsing(t) {
				dt = p.Numerics.MaxStepS
			}
			_, until := p.Drive.At(t)
			until = min(until, length)
			steps += max(1, math.Ceil((until-t)/dt-1e-9))
			t = until
		}
	}
	return steps
}

// about prints a time with the accuracy that an estimate has.
func about(s float64) string {
	switch {
	case s < 1:
		return "a second"
	case s < 100:
		return fmt.Sprintf("%.0f s", s)
	case s < 100*60:
		return fmt.Sprintf("%.0f min", s/60)
	case s < 100*3600:
		return fmt.Sprintf("%.1f h", s/3600)
	}
	return fmt.Sprintf("%.0f days", s/86400)
}
