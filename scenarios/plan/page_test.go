package plan

import (
	"strings"
	"testing"

	"muralheat/scenarios"
)

// The page of the figures is that of the plan, else of its scenario, else none.
func TestFiguresFor(t *testing.T) {
	for _, c := range []struct{ plan, scenario, want string }{
		{"", "", ""}, {"", "figures_for: slide\n", "slide"}, {"figures_for: paper-85\n", "figures_for: slide\n", "paper-85"},
	} {
		s, err := scenarios.Parse("s.yaml", []byte(strings.Replace(sound, "title: Case\n", "title: Case\n"+c.scenario, 1)))
		if err != nil {
			t.Fatal(err)
		}
		p, err := Parse("p.yaml", []byte("title: Plan\nscenario: s.yaml\n"+c.plan+"vary: [{key: current.on_s, values: [1, 2]}]\n"), func(string) (*scenarios.Scenario, error) { return s, nil })
		if err != nil || p.FiguresFor != c.want {
			t.Errorf("%q in the scenario, %q in the plan: %q, want %q (%v)", c.scenario, c.plan, p.FiguresFor, c.want, err)
		}
	}
	if _, err := scenarios.Parse("s.yaml", []byte(strings.Replace(sound, "title: Case\n", "title: Case\nfigures_for: poster\n", 1))); err == nil || !strings.Contains(err.Error(), "slide, paper-85 or paper-170") {
		t.Errorf("a poster: %v", err)
	}
}
