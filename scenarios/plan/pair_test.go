package plan

import (
	"strings"
	"testing"

	"muralheat/scenarios"
)

const pairBase = "title: Gentle\nwall: {site: rectum}\nelectrode: {tip: disc, radius_mm: 1}\ncurrent: {sparks: false, power_W: 1, on_s: 1}\n"

func parsed(t *testing.T, name, text string) *scenarios.Scenario {
	t.Helper()
	s, err := scenarios.Parse(name, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func drawnPlan(t *testing.T, more string) *Sweep {
	t.Helper()
	s, err := Parse("p.yaml", []byte("title: T\nquestion: Which?\nscenario: base.yaml\n"+more+"uncertain: [{key: wall.layers.mucosa.thickness_mm, uniform: {low: 0.5, high: 1}}]\ndraws: 5\nseed: 3\n"),
		func(string) (*scenarios.Scenario, error) { return parsed(t, "base.yaml", pairBase), nil })
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Two of three cases keep what they set, and each draw is that of the plan.
func TestPairOfCases(t *testing.T) {
	s := drawnPlan(t, "cases:\n  - {name: a, set: {current.power_W: 1}}\n  - {name: b, title: Two, set: {current.power_W: 2}}\n  - {name: c, set: {current.on_s: 3}}\n")
	p, err := s.Pair("c", "b", 0)
	if err != nil {
		t.Fatal(err)
	}
	if p.Points() != 2 || p.Draws != 5 || p.CaseName(0) != "c" || p.CaseTitle(5) != "Two" || p.Question != "Which?" {
		t.Errorf("%d points, %d draws, %q, %q", p.Points(), p.Draws, p.CaseName(0), p.CaseTitle(5))
	}
	for d := range 5 {
		for n, of := range []int{2, 1} {
			want, err := s.Scenario(of*5 + d)
			got, err2 := p.Scenario(n*5 + d)
			if err != nil || err2 != nil || got.Identity() != want.Identity() {
				t.Fatalf("draw %d of %s: %v, %v", d, p.CaseName(n*5), err, err2)
			}
		}
	}
	if p, err = s.Pair("a", "b", 9); err != nil || p.Draws != 9 {
		t.Errorf("%d draws, %v", p.Draws, err)
	}
}

// Two scenarios: the second is the first with its values, in each draw, whatever either leaves to defaults.
func TestPairOfScenarios(t *testing.T) {
	of := drawnPlan(t, "")
	for name, text := range map[string]string{
		"power":          strings.Replace(pairBase, "power_W: 1", "power_W: 2", 1),
		"another site":   strings.Replace(pairBase, "rectum", "right-colon", 1),
		"more given":     pairBase + "afterwards_s: 3\nphysics: {spark_onset_V: 210}\nnumerics: {quality: fine}\n",
		"another switch": strings.Replace(pairBase, "sparks: false, power_W: 1, on_s: 1", "sparks: true, power_W: 1, on_s: 1, limits: {peak_voltage_V: 300}", 1),
	} {
		a, b := parsed(t, "a.yaml", pairBase), parsed(t, "b.yaml", text)
		for range 2 {
			p, err := of.Beside(a, b, 7)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			for d := range 7 {
				for n, s := range []*scenarios.Scenario{a, b} {
					want, err := s.With(of.Sets(0)[0], p.Sets(d)[len(p.Sets(d))-1])
					got, err2 := p.Scenario(n*7 + d)
					if err != nil || err2 != nil || got.Identity() != want.Identity() {
						t.Fatalf("%s, draw %d of %d: %v, %v", name, d, n, err, err2)
					}
				}
			}
			if again, err := Parse("q.yaml", p.Text(), func(string) (*scenarios.Scenario, error) { return a, nil }); err != nil || again.Digest() != p.Digest() {
				t.Errorf("%s: the plan as written reads otherwise: %v", name, err)
			}
			a, b = b, a
		}
	}
	for name, text := range map[string]string{
		"of other keys": strings.Replace(pairBase, "sparks: false, power_W: 1, on_s: 1", "power_W: 1, on_s: 1, limits: {peak_voltage_V: 300}", 1),
		"the same case": strings.Replace(pairBase, "Gentle", "Again", 1),
	} {
		b, err := scenarios.Parse("b.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]string{"the same case": "are the same case; there is nothing to compare", "of other keys": "b.yaml is not a.yaml with other values: it does not give current.sparks; give the same keys in both"}[name]
		if _, err := of.Beside(parsed(t, "a.yaml", pairBase), b, 0); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What one scenario gives and the other leaves to a default that follows a drawn key is the same only as long as nothing is drawn.
func TestPairFollowsDrawsAlike(t *testing.T) {
	ball := strings.Replace(pairBase, "tip: disc, radius_mm: 1", "tip: ball, radius_mm: 1", 1)
	a := parsed(t, "a.yaml", strings.Replace(ball, "radius_mm: 1", "radius_mm: 1, contact_radius_mm: 0.7", 1))
	b := parsed(t, "b.yaml", strings.Replace(ball, "power_W: 1", "power_W: 2", 1))
	if _, err := drawnPlan(t, "").Beside(a, b, 3); err != nil {
		t.Errorf("of the mucosa: %v", err)
	}
	of, err := Parse("p.yaml", []byte("title: T\nscenario: b.yaml\nuncertain: [{key: electrode.radius_mm, uniform: {low: 0.8, high: 1.2}}]\ndraws: 5\n"), func(string) (*scenarios.Scenario, error) { return b, nil })
	if err != nil {
		t.Fatal(err)
	}
	if _, err := of.Beside(a, b, 3); err == nil || !strings.Contains(err.Error(), "in draw 0 the two do not follow the drawn keys alike") {
		t.Errorf("of the radius: %v", err)
	}
}
