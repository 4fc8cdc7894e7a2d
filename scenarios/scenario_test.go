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
			s, err := Parse(e.Name, e.Text)
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

// What a case is for stands in the resolved text, changes no result and cannot vary.
func TestQuestion(t *testing.T) {
	text := strings.Replace(sound, "title: Case", "title: Case\nquestion: 'How deep, on \"this\" wall: # < > ?'\ncontext_of_use: a lecture", 1)
	plain, err := Parse("s.yaml", []byte(sound))
	if err != nil {
		t.Fatal(err)
	}
	s, err := Parse("s.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if s.Identity() != plain.Identity() {
		t.Error("another identity")
	}
	again, err := Parse("resolved.yaml", s.ResolvedYAML())
	if err != nil {
		t.Fatal(err)
	}
	for _, got := range []*Scenario{s, again} {
		if set := got.Settings()[1]; set != (Setting{Key: "question", Value: `How deep, on "this" wall: # < > ?`, Given: true}) {
			t.Errorf("setting %+v", set)
		}
	}
	if d := cmp.Diff(plain.Case(), again.Case()); d != "" {
		t.Errorf("another case:\n%s", d)
	}
	if set := plain.Settings()[1]; set.Key == "question" {
		t.Errorf("a question out of nowhere: %+v", set)
	}
	load := func(string) (*Scenario, error) { return s, nil }
	plan := "title: Plan\nscenario: s.yaml\nquestion: Which power?\ncontext_of_use: a bench\n"
	p, err := ParsePlan("p.yaml", []byte(plan), load)
	if err != nil || p.Question != "Which power?" || p.ContextOfUse != "a bench" {
		t.Errorf("plan: %q, %q, %v", p.Question, p.ContextOfUse, err)
	}
	if _, err := ParsePlan("p.yaml", []byte(plan+"vary: [{key: question, values: [a, b]}]\n"), load); err == nil || !strings.Contains(err.Error(), `"question" is no key`) {
		t.Errorf("a question that varies: %v", err)
	}
	if _, err := Parse("s.yaml", []byte(strings.Replace(text, "a lecture", strings.Repeat("x", 1001), 1))); err == nil || !strings.Contains(err.Error(), "context_of_use: 1001 characters; at most 1000") {
		t.Errorf("a long text: %v", err)
	}
}
