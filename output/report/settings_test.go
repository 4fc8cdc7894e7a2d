package report

import (
	"testing"

	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/plan"
)

// The plan that a report offers is one, for every example that can be computed.
func TestStudyPlan(t *testing.T) {
	for _, e := range scenarios.Examples() {
		s, err := e.Scenario()
		if err != nil {
			continue // a plan
		}
		var settings []record.Setting
		for _, x := range s.Settings() {
			settings = append(settings, record.Setting(x))
		}
		resolved, err := scenarios.Parse("scenario.yaml", s.ResolvedYAML())
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan.Parse("sensitivity.yaml", []byte(studyPlan(settings, s.Title()+` "quoted": # \`)), func(string) (*scenarios.Scenario, error) { return resolved, nil })
		if err != nil {
			t.Errorf("%s: %v", e.Name, err)
			continue
		}
		if len(p.Inputs) < 5 {
			t.Errorf("%s: only %d inputs", e.Name, len(p.Inputs))
		}
	}
}
