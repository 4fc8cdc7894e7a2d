package main

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"muralheat/output/phrase"
	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/scenarios/procedure"
	"muralheat/scenarios/stated"
)

// shownRows is how many cases check prints.
const shownRows = 8

// pilots is how many cases, evenly taken from a plan, stand for the cost of all.
const pilots = 5

type inputJSON struct {
	Key       string `json:"key"`
	Title     string `json:"title"`
	Unit      string `json:"unit,omitempty"`
	Uncertain bool   `json:"uncertain"`
}

type planJSON struct {
	Caution   string           `json:"caution"`
	Title     string           `json:"title"`
	Plan      string           `json:"plan"`
	Scenario  string           `json:"scenario"`
	Digest    string           `json:"digest"`
	Points    int              `json:"points"`
	Draws     int              `json:"draws"`
	Cases     int              `json:"cases"`
	Inputs    []inputJSON      `json:"inputs"`
	Rows      [][]string       `json:"first_rows"` // values of the inputs
	Workers   int              `json:"workers"`
	Cells     [2]int           `json:"cells"` // least and most among the cases looked at
	Memory    float64          `json:"memory_bytes"`
	Usable    float64          `json:"usable_bytes"`
	ExpectedS float64          `json:"expected_s"`
	Stated    stated.Statement `json:"stated,omitzero"`
	Notes     []string         `json:"notes"`
}

// checkPlan shows what a plan asks for and what that will cost.
func checkPlan(c *console, s *plan.Sweep, workers int, asJSON bool) error {
	v := planJSON{
		Caution: phrase.Caution, Title: s.Title, Plan: s.Name, Scenario: s.Base.Name, Digest: s.Digest(),
		Points: s.Points(), Draws: s.Draws, Cases: s.Len(), Inputs: []inputJSON{}, Workers: min(workers, s.Len()), Usable: memoryBytes(), Stated: s.Stated(), Notes: append([]string{}, s.Notes()...),
	}
	for _, in := range s.Inputs {
		v.Inputs = append(v.Inputs, inputJSON{in.Key, in.Title, in.Unit, in.Uncertain})
	}
	for i := range min(s.Len(), shownRows) {
		of, _ := s.Scenario(i) // one that fails shows what it sets
		v.Rows = append(v.Rows, s.Values(i, of))
	}
	looked, refused := v.estimate(s)
	if asJSON {
		c.json(v)
		return refused
	}
	v.print(c, s, looked)
	return refused
}

// print says what the plan asks for.
func (v *planJSON) print(c *console, s *plan.Sweep, looked int) {
	c.print("%s\n  %s\n\n", v.Title, v.Plan)
	c.print("%d cases of %s: %d points", v.Cases, v.Scenario, v.Points)
	if v.Draws > 1 {
		c.print(", %d draws each", v.Draws)
	}
	c.print("\n\n")
	v.printCases(c, s)
	c.print("\n")
	v.printCost(c, looked)
	printStated(c, v.Stated)
	printNotes(c, v.Notes)
	c.print("\n%s\n", phrase.Caution)
}

// checkProcedure shows the steps of a procedure and what they will cost.
func checkProcedure(c *console, path string, data []byte, sets []scenarios.Set, workers int, asJSON bool) error {
	p, err := procedure.Parse(path, data, sets)
	if err != nil {
		return err
	}
	s, err := procedure.Plan(p.Title, []*procedure.Procedure{p})
	if err != nil || asJSON {
		return cmp.Or(err, checkPlan(c, s, workers, asJSON))
	}
	c.print("%s\n  %s\n\n", p.Title, path)
	t := newTable(c)
	t.row("step", "title", "times", "what is set")
	for i, x := range p.Steps {
		row := []string{strconv.Itoa(i + 1), x.Title, "", "wall: " + phrase.Changes(x.Wall)}
		if x.Scenario != nil {
			of := x.Scenario.Case()
			row[2], row[3] = strconv.Itoa(x.Times), strings.Join(phrase.Set(&of), ", ")
			if len(x.Wall) > 0 {
				row[3] += "; wall: " + phrase.Changes(x.Wall)
			}
		}
		t.row(row...)
	}
	t.end()
	c.print("\n")
	v := planJSON{Cases: s.Len(), Workers: min(workers, s.Len()), Usable: memoryBytes()}
	looked, refused := v.estimate(s)
	v.printCost(c, looked)
	c.print("\n%s\n", phrase.Caution)
	return refused
}

// estimate fills in what the plan will cost from pilots, its cases in the middle of equal
// shares. It returns how many of them could be looked at, and an error if one does not fit
// into memory.
func (v *planJSON) estimate(s *plan.Sweep) (looked int, refused error) {
	n, sumS := min(pilots, s.Len()), 0.0
	for k := range n {
		i := (2*k + 1) * s.Len() / (2 * n)
		of, err := s.Scenario(i)
		if err != nil {
			continue // it will be a failed row
		}
		problem := of.Case()
		grid := problem.Grid()
		if err := fits(s.Base.Name, grid, v.Usable); err != nil && refused == nil {
			refused = err
		}
		if looked == 0 || grid.Cells() < v.Cells[0] {
			v.Cells[0] = grid.Cells()
		}
		v.Cells[1] = max(v.Cells[1], grid.Cells())
		v.Memory = max(v.Memory, float64(v.Workers)*grid.Bytes())
		if refused == nil {
			seconds, _ := expect(problem)
			sumS += seconds
		}
		looked++
	}
	if refused == nil && looked > 0 {
		v.ExpectedS = sumS / float64(looked) * float64(v.Cases) / float64(v.Workers)
	}
	return looked, refused
}

// printCases prints what the first cases set.
func (v *planJSON) printCases(c *console, s *plan.Sweep) {
	t := newTable(c)
	head := []string{"case"}
	if s.Named() {
		head = append(head, "name")
	}
	for _, in := range v.Inputs {
		text := in.Key
		if in.Uncertain {
			text += " (drawn)"
		}
		head = append(head, text)
	}
	t.row(head...)
	for i, values := range v.Rows {
		row := []string{strconv.Itoa(i)}
		if s.Named() {
			row = append(row, s.CaseName(i))
		}
		for k, x := range values {
			if number, err := strconv.ParseFloat(x, 64); err == nil && s.Inputs[k].Number {
				x = digits(number)
			}
			row = append(row, x)
		}
		t.row(row...)
	}
	t.end()
	if v.Cases > shownRows {
		c.print("... and %d more\n", v.Cases-shownRows)
	}
}

// printCost prints cells, memory and time, estimated from so many cases.
func (v *planJSON) printCost(c *console, looked int) {
	t := newTable(c)
	cells := strconv.Itoa(v.Cells[0])
	if v.Cells[1] > v.Cells[0] {
		cells += fmt.Sprintf(" to %d", v.Cells[1])
	}
	t.row("mesh", cells+" cells a case")
	t.row("memory", fmt.Sprintf("%s for %d at a time; %s may be used", gigabytes(v.Memory), v.Workers, gigabytes(v.Usable)))
	if v.ExpectedS > 0 {
		t.row("time", fmt.Sprintf("about %s with %d at a time, an estimate from the beginning of %d cases", about(v.ExpectedS), v.Workers, looked))
	}
	t.end()
}
