package scenarios

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// resolved reads the resolved text of a scenario, and demands the same case with
// everything written out.
func resolved(t *testing.T, s *Scenario) {
	t.Helper()
	again, err := Parse("resolved", s.ResolvedYAML())
	if err != nil {
		t.Fatalf("the resolved scenario is refused: %v\n%s", err, s.ResolvedYAML())
	}
	if d := cmp.Diff(s.Case(), again.Case()); d != "" {
		t.Errorf("the resolved scenario gives another case (-written +resolved):\n%s", d)
	}
	for _, set := range again.Settings() {
		if !set.Given {
			t.Errorf("%s is not written out in the resolved scenario", set.Key)
		}
	}
}

// Every example reads, its resolved text reads, and both give the same case bit
// for bit.
func TestResolvedScenarioGivesTheSameCase(t *testing.T) {
	for _, e := range Examples() {
		t.Run(e.Name, func(t *testing.T) {
			s, err := e.Scenario()
			if err != nil {
				t.Fatal(err)
			}
			resolved(t, s)
			if !strings.Contains(string(e.Text), "nvented") || !strings.Contains(strings.ReplaceAll(string(e.Text), "\n# ", " "), Caution) {
				t.Error("the example does not say that its data are invented, or lacks the caution")
			}
		})
	}
	if _, ok := FindExample(BuiltIn); !ok {
		t.Errorf("no example %s", BuiltIn)
	}
}

// The two examples of a colon tell what a cushion does: nothing else is different.
func TestColonsDifferByTheirCushion(t *testing.T) {
	settings := func(name string) map[string]string {
		e, _ := FindExample(name)
		s, err := Parse(name, e.Text)
		if err != nil {
			t.Fatal(err)
		}
		keys := map[string]string{}
		for _, set := range s.Settings() {
			if set.Key != "title" && !strings.HasPrefix(set.Key, "wall.cushion.") {
				keys[set.Key] = set.Value
			}
		}
		if keys["wall.site"] != "right-colon" {
			t.Errorf("%s: site %s", name, keys["wall.site"])
		}
		return keys
	}
	if d := cmp.Diff(settings("colon-thin.yaml"), settings("colon-cushion.yaml")); d != "" {
		t.Errorf("thin (-) and cushion (+):\n%s", d)
	}
}
