package report

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"muralheat/output/document"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/plan"
)

// SensitivityName is the plan that is written beside the report of a run: what its result depends on.
const SensitivityName = "sensitivity.yaml"

// scenarioName is the scenario of a run in its folder, every default written out.
const scenarioName = "scenario.yaml"

// WriteSensitivity writes that plan of the run in dir into the folder at and returns its path; "" if one is there already,
// which somebody may have changed.
func WriteSensitivity(dir, at string) (string, error) {
	m, err := record.ReadManifest(dir)
	if err != nil {
		return "", err
	}
	path := filepath.Join(at, SensitivityName)
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	text, err := sensitivityPlan(m, dir, at)
	if err != nil {
		return "", err
	}
	return path, record.Replace(path, text)
}

// sensitivityPlan returns it.
func sensitivityPlan(m record.Manifest, dir, at string) ([]byte, error) {
	complete, err := scenarios.Parse(scenarioName, []byte(m.Scenario.Resolved))
	if err != nil {
		return nil, err
	}
	written, err := asWritten(m)
	if err != nil { // by a version that knew other keys
		written = complete
	}
	file := filepath.Join(dir, scenarioName)
	if rel, err := relative(at, file); err == nil {
		file = rel
	}
	return plan.Sensitivity(written, complete, filepath.ToSlash(file)), nil
}

// asWritten reads the scenario of a run as it was written, with what was set.
func asWritten(m record.Manifest) (*scenarios.Scenario, error) {
	s, err := scenarios.Parse(m.Scenario.File, []byte(m.Scenario.Text))
	if err != nil {
		return nil, err
	}
	var sets []scenarios.Set
	for _, text := range m.Scenario.Set {
		x, err := scenarios.ParseSet(text, "")
		if err != nil {
			return nil, err
		}
		sets = append(sets, x)
	}
	return s.With(sets...)
}

// sensitivitySection says how to find out what the result of a run depends on.
func sensitivitySection(m record.Manifest, dir, at string) document.Section {
	blocks := []document.Block{document.Note{Label: "Not computed", Text: "A single run does not show how its result depends on its inputs. The plan " + SensitivityName + " beside this report changes them one at a time, over the ranges that the library has for constants of the model, tissues and layers, and the output of the source by what its accuracy allows. muralheat sweep computes it, and the report of that sweep shows the outcome in this section."}}
	if text, err := sensitivityPlan(m, dir, at); err == nil {
		blocks = append(blocks, document.Code{Label: SensitivityName + ", for muralheat sweep " + SensitivityName + " (as written first; one that was there is left as it is)", Text: string(text), Folded: true})
	} else {
		blocks = append(blocks, document.Note{Label: "No plan", Text: "This version of the program does not read the scenario of the run: " + err.Error()})
	}
	return document.Section{ID: "sensitivity", Title: "Sensitivity", Blocks: append(blocks, document.Text("A plan can also draw inputs that are not known exactly from probability distributions (uncertain, draws)."))}
}
