// Package procedure reads a procedure: steps one after another on a wall that some of them change, each with an
// electrode and a current of its own. A step that computes is a named case of a plan, so that a procedure is computed
// as a sweep is.
package procedure

import (
	"slices"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// Procedure is a procedure that has been read and checked.
type Procedure struct {
	Name  string // of its file
	Title string

	Question, ContextOfUse string // "" if it says nothing

	Steps []Step

	padNode padScenario
	root    *yaml.Node
	file    *keys.ProcedureFile
	text    []byte
}

// Step is one step of it.
type Step struct {
	Title    string
	Name     string              // of its case; "" where no current flows
	Wall     []scenarios.Set     // what is different about the wall from it on
	Scenario *scenarios.Scenario // on the wall as it is then; nil where no current flows
	Times    int                 // it is done, each on a fresh place; 0 where no current flows
	PauseS   float64             // between them
	RestS    float64             // after the step
}

// Text returns the procedure as it was read.
func (p *Procedure) Text() []byte { return slices.Clone(p.text) }

// Cases returns the steps in which current flows.
func (p *Procedure) Cases() []Step {
	return slices.DeleteFunc(slices.Clone(p.Steps), func(s Step) bool { return s.Scenario == nil })
}

// Example reads a starter file, with the source sheets among them.
func Example(e scenarios.Example) (*Procedure, error) {
	kin, err := scenarios.LoadExample(scenarios.BuiltIn)
	if err != nil {
		return nil, err
	}
	return parse(e.Name, e.Text, nil, kin)
}
