package plan

import (
	"bytes"
	"testing"

	"muralheat/scenarios"
)

// Every plan among the starter files reads, says that it is invented, and its cases can
// be built.
func TestPlanExamples(t *testing.T) {
	if len(scenarios.PlanExamples()) < 7 {
		t.Errorf("%d plans", len(scenarios.PlanExamples()))
	}
	for _, e := range scenarios.PlanExamples() {
		s, err := Parse(e.Name, e.Text, scenarios.LoadExample)
		if err != nil {
			t.Error(err)
			continue
		}
		for _, words := range []string{"Invented data", "not for setting treatment"} {
			if !bytes.Contains(e.Text, []byte(words)) {
				t.Errorf("%s does not say %q", e.Name, words)
			}
		}
		for i := range s.Len() {
			if _, err := s.Scenario(i); err != nil {
				t.Errorf("%s, case %d: %v", e.Name, i, err)
			}
		}
		if s.Len() < 2 || s.Len() > 400 {
			t.Errorf("%s has %d cases", e.Name, s.Len())
		}
	}
}
