package scenarios

import (
	"embed"
	"strings"
)

//go:embed examples/*.yaml
var exampleFiles embed.FS

// Example is a starter file.
type Example struct {
	Name string // of the file
	Text []byte
}

// BuiltIn names the example that is run when no file is given.
const BuiltIn = "ball-touch.yaml"

// Examples returns the starter files, sorted by name.
func Examples() []Example {
	entries, err := exampleFiles.ReadDir("examples")
	if err != nil {
		panic("scenarios: " + err.Error()) // they are part of the binary
	}
	var examples []Example
	for _, e := range entries {
		data, err := exampleFiles.ReadFile("examples/" + e.Name())
		if err != nil {
			panic("scenarios: " + err.Error())
		}
		examples = append(examples, Example{e.Name(), data})
	}
	return examples
}

// FindExample returns the starter file of a name, with or without ".yaml".
func FindExample(name string) (Example, bool) {
	for _, e := range Examples() {
		if e.Name == name || strings.TrimSuffix(e.Name, ".yaml") == name {
			return e, true
		}
	}
	return Example{}, false
}
