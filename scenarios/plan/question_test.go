package plan

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"muralheat/scenarios"
)

const sound = `title: Case
wall:
  site: rectum
electrode:
  tip: disc
  radius_mm: 1
current:
  power_W: 10
  sparks: false
  on_s: 2
`

// What a case is for stands in the resolved text, changes no result and cannot vary.
func TestQuestion(t *testing.T) {
	text := strings.Replace(sound, "title: Case", "title: Case\nquestion: 'How deep, on \"this\" wall: # < > ?'\ncontext_of_use: a lecture", 1)
	plain, err := scenarios.Parse("s.yaml", []byte(sound))
	if err != nil {
		t.Fatal(err)
	}
	s, err := scenarios.Parse("s.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if s.Identity() != plain.Identity() {
		t.Error("another identity")
	}
	again, err := scenarios.Parse("resolved.yaml", s.ResolvedYAML())
	if err != nil {
		t.Fatal(err)
	}
	for _, got := range []*scenarios.Scenario{s, again} {
		if set := got.Settings()[1]; set != (scenarios.Setting{Key: "question", Value: `How deep, on "this" wall: # < > ?`, Given: true}) {
			t.Errorf("setting %+v", set)
		}
	}
	if d := cmp.Diff(plain.Case(), again.Case()); d != "" {
		t.Errorf("another case:\n%s", d)
	}
	if set := plain.Settings()[1]; set.Key == "question" {
		t.Errorf("a question out of nowhere: %+v", set)
	}
	load := func(string) (*scenarios.Scenario, error) { return s, nil }
	plan := "title: Plan\nscenario: s.yaml\nquestion: Which power?\ncontext_of_use: a bench\n"
	p, err := Parse("p.yaml", []byte(plan+"vary: [{key: current.on_s, values: [1, 2]}]\n"), load)
	if err != nil || p.Question != "Which power?" || p.ContextOfUse != "a bench" {
		t.Errorf("plan: %q, %q, %v", p.Question, p.ContextOfUse, err)
	}
	if _, err := Parse("p.yaml", []byte(plan+"vary: [{key: question, values: [a, b]}]\n"), load); err == nil || !strings.Contains(err.Error(), `"question" is not a key`) {
		t.Errorf("a question that varies: %v", err)
	}
	if _, err := scenarios.Parse("s.yaml", []byte(strings.Replace(text, "a lecture", strings.Repeat("x", 1001), 1))); err == nil || !strings.Contains(err.Error(), "context_of_use: 1001 characters; at most 1000") {
		t.Errorf("a long text: %v", err)
	}
}
