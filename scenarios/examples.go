package scenarios

import (
	"embed"
	"errors"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"muralheat/scenarios/keys"
	"muralheat/scenarios/source"
)

//go:embed examples/*.yaml examples/lectures
var exampleFiles embed.FS

// Example is a starter file.
type Example struct {
	Name string // of the file
	Text []byte
}

// BuiltIn names the example that is run when no file is given.
const BuiltIn = "ball-touch.yaml"

// What starts the names of the examples that are no scenarios.
const (
	planPrefix      = "plan-"
	sheetPrefix     = "unit-"
	procedurePrefix = "procedure-"
)

// Examples returns the scenarios among the starter files, sorted by name.
func Examples() []Example { return starters("") }

// PlanExamples returns the plans among them; each names one of the scenarios.
func PlanExamples() []Example { return starters(planPrefix) }

// SheetExamples returns the source sheets among them.
func SheetExamples() []Example { return starters(sheetPrefix) }

// ProcedureExamples returns the procedures among them.
func ProcedureExamples() []Example { return starters(procedurePrefix) }

// IsSheet reports whether an example is a source sheet.
func (e Example) IsSheet() bool { return kindOf(e.Name) == sheetPrefix }

// kindOf returns the prefix that tells what an example is, "" for a scenario.
func kindOf(name string) string {
	for _, p := range []string{planPrefix, sheetPrefix, procedurePrefix} {
		if strings.HasPrefix(name, p) {
			return p
		}
	}
	return ""
}

func starters(kind string) []Example {
	entries, err := exampleFiles.ReadDir("examples")
	if err != nil {
		panic("scenarios: " + err.Error()) // they are part of the binary
	}
	var examples []Example
	for _, e := range entries {
		if !e.IsDir() && kindOf(e.Name()) == kind {
			examples = append(examples, embedded("examples", e.Name()))
		}
	}
	return examples
}

// embedded returns a file of a folder of the binary.
func embedded(folder, name string) Example {
	data, err := exampleFiles.ReadFile(path.Join(folder, name))
	if err != nil {
		panic("scenarios: " + err.Error())
	}
	return Example{name, data}
}

// FindExample returns the starter file of a name, with or without ".yaml".
func FindExample(name string) (Example, bool) {
	for _, e := range slices.Concat(Examples(), PlanExamples(), SheetExamples(), ProcedureExamples()) {
		if e.Name == name || strings.TrimSuffix(e.Name, ".yaml") == name {
			return e, true
		}
	}
	return Example{}, false
}

// LoadExample reads the scenario of a starter file, for a plan among them.
func LoadExample(file string) (*Scenario, error) {
	e, ok := FindExample(filepath.Base(file))
	if !ok {
		return nil, keys.Problems{{File: file, Wrong: "no such example", Right: "`muralheat examples` lists them"}}
	}
	return e.Scenario()
}

// Scenario reads an example that is a scenario; source sheets that it names are examples too.
func (e Example) Scenario() (*Scenario, error) {
	return parseWith(e.Name, e.Text, nil, source.NewShelf(readExample, nil))
}

func readExample(name string) ([]byte, error) {
	e, ok := FindExample(filepath.Base(name))
	if !ok {
		return nil, errors.New("no such example")
	}
	return e.Text, nil
}
