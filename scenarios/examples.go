package scenarios

import (
	"embed"
	"path"
	"path/filepath"
	"strings"

	"muralheat/scenarios/keys"
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

// planPrefix starts the names of the examples that are plans.
const planPrefix = "plan-"

// Examples returns the scenarios among the starter files, sorted by name.
func Examples() []Example { return starters(false) }

// PlanExamples returns the plans among them; each names one of the scenarios.
func PlanExamples() []Example { return starters(true) }

func starters(plans bool) []Example {
	entries, err := exampleFiles.ReadDir("examples")
	if err != nil {
		panic("scenarios: " + err.Error()) // they are part of the binary
	}
	var examples []Example
	for _, e := range entries {
		if !e.IsDir() && strings.HasPrefix(e.Name(), planPrefix) == plans {
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
	for _, e := range append(Examples(), PlanExamples()...) {
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
	return Parse(e.Name, e.Text)
}
