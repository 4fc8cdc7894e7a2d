package plan

import (
	"strings"
	"testing"

	"muralheat/scenarios"
)

func TestIdentity(t *testing.T) {
	s := mustPlan(t, "cases: [{name: a}, {name: b, set: {current.power_W: 10}}, {name: c, set: {current.power_W: 11}}]\n")
	var id []string
	for i := range s.Len() {
		of, err := s.Scenario(i)
		if err != nil {
			t.Fatal(err)
		}
		id = append(id, of.Identity())
	}
	if id[0] != id[1] || id[0] == id[2] {
		t.Errorf("identities %q: the first two cases are the same, the third is not", id)
	}
}

func TestDigest(t *testing.T) {
	const text = "vary: [{key: current.power_W, values: [1, 2]}]\nuncertain: [{key: current.on_s, normal: {mean: 2, sd: 0.1}, within: {low: 1, high: 3}}]\ndraws: 2\nseed: 1\n"
	digest := func(plan, scenario string) string {
		s, err := Parse("p.yaml", []byte("title: Plan\nscenario: s.yaml\n"+plan), func(string) (*scenarios.Scenario, error) { return scenarios.Parse("s.yaml", []byte(scenario)) })
		if err != nil {
			t.Fatalf("%s: %v", plan, err)
		}
		return s.Digest()
	}
	first := digest(text, sound)
	for _, same := range [][2]string{
		{"# a remark\n" + text, sound},
		{text, strings.Replace(sound, "title: Case", "title: Other", 1)},
		{text, strings.Replace(sound, "title: Case", "title: Case\nquestion: How deep?\ncontext_of_use: a lecture", 1)},
		{"question: How deep?\ncontext_of_use: a lecture\n" + text, sound},
		{strings.Replace(text, "[1, 2]}", "[1.0, 2e0], title: Power}", 1), sound},
		{strings.Replace(text, "values: [1, 2]", "from: 1, to: 2, steps: 2", 1), sound},
	} {
		if digest(same[0], same[1]) != first {
			t.Errorf("other digest, but the same cases:\n%s", same[0])
		}
	}
	if untitled, titled := digest("cases: [{name: a}]\n", sound), digest("cases: [{name: a, title: \"As it is\"}]\n", sound); untitled != titled {
		t.Error("the title of a case makes another digest")
	}
	seen := map[string]string{first: "the first plan"}
	for _, r := range []struct{ old, new string }{
		{"[1, 2]", "[1, 3]"}, {"[1, 2]", "[2, 1]"}, {"[1, 2]", "[1, 2, 3]"}, {"power_W", "peak_voltage_V"}, {"power_W", "duty_cycle_percent"},
		{"mean: 2", "mean: 2.1"}, {"sd: 0.1", "sd: 0.2"}, {"low: 1, high: 3", "low: 1.9, high: 3"},
		{"draws: 2", "draws: 3"}, {"seed: 1", "seed: 2"}, {"normal: {mean: 2, sd: 0.1}", "uniform: {low: 1, high: 2}"},
		{"vary:", "design: paired\nvary:"}, {"vary:", "design: one-at-a-time\nvary:"},
		{"vary:", "design: halton\npoints: 2\nvary:"}, {"vary:", "design: halton\npoints: 3\nvary:"}, {"vary:", "design: latin-hypercube\npoints: 2\nvary:"},
		{"vary: [{key: current.power_W, values: [1, 2]}]", "cases: [{name: a, set: {current.power_W: 1}}]"},
		{"vary: [{key: current.power_W, values: [1, 2]}]", "cases: [{name: b, set: {current.power_W: 1}}]"},
		{"vary: [{key: current.power_W, values: [1, 2]}]", "cases: [{name: a, set: {current.power_W: 2}}]"},
	} {
		scenario := sound
		if r.new == "peak_voltage_V" {
			scenario = strings.Replace(sound, "power_W: 10", "peak_voltage_V: 10", 1)
		}
		d := digest(strings.Replace(text, r.old, r.new, 1), scenario)
		if seen[d] != "" {
			t.Errorf("%q has the digest of %q", r.new, seen[d])
		}
		seen[d] = r.new
	}
	for _, new := range []string{"power_W: 10\n  duty_cycle_percent: 50", "power_W: 10\n  duty_cycle_percent: 100", "power_W: 9"} {
		d := digest(text, strings.Replace(sound, "power_W: 10", new, 1))
		if seen[d] != "" {
			t.Errorf("scenario with %q has the digest of %q", new, seen[d])
		}
		seen[d] = new
	}
}

// A sheet that a case sets is part of what the plan means, and is read once, as it was when the plan was.
func TestDigestOfSheets(t *testing.T) {
	const sheet = "title: Invented\nsources: [{name: a, origin: invented, power_W: 3, limits: {peak_voltage_V: 100}}]\n"
	sweep := func(ohms, plan string) *Sweep {
		t.Helper()
		b := strings.Replace(sheet, "power_W", "series_ohm: "+ohms+", power_W", 1)
		s, err := Parse("p.yaml", []byte("title: Plan\nscenario: s.yaml\n"+plan), func(string) (*scenarios.Scenario, error) {
			text := strings.Replace(sound, "  power_W: 10\n", "  sheet: a.yaml\n  source: a\n", 1)
			return scenarios.ParseStored("s.yaml", []byte(text), map[string]string{"a.yaml": sheet, "b.yaml": b})
		})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	for _, plan := range []string{"vary: [{key: current.sheet, values: [a.yaml, b.yaml]}]\n", "cases: [{name: a}, {name: b, set: {current.sheet: b.yaml}}]\n"} {
		first, other := sweep("1", plan), sweep("2", plan)
		if first.Digest() == other.Digest() {
			t.Errorf("%s: another sheet, the same digest", plan)
		}
		if again := sweep("1", plan); first.Digest() != again.Digest() {
			t.Errorf("%s: the same sheet, another digest", plan)
		}
		if got := first.Base.Sheets(); got["b.yaml"] == "" || len(got) != 2 {
			t.Errorf("%s: keeps %q", plan, got)
		}
	}
}
