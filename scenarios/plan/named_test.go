package plan

import (
	"strings"
	"testing"

	"muralheat/scenarios"
)

// A plan of cases that the program writes holds the very cases it was made of, whatever kind of value they set.
func TestOfCases(t *testing.T) {
	base, err := scenarios.Parse("base.yaml", []byte("title: Base\nwall: {site: rectum}\nelectrode: {tip: ball, radius_mm: 1}\ncurrent: {power_W: 1, on_s: 1, limits: {peak_voltage_V: 300}}\n"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := Parse("plan.yaml", []byte(`title: Plan
scenario: base.yaml
vary:
  - {key: current.power_W, values: [1, 2.5]}
  - {key: wall.site, values: [rectum, right-colon]}
  - {key: wall.fibrosis, values: [true, false]}
uncertain:
  - {key: electrode.contact_radius_mm, uniform: {low: 0.6, high: 0.85}}
draws: 2
`), func(string) (*scenarios.Scenario, error) { return base, nil })
	if err != nil {
		t.Fatal(err)
	}
	var cases []Named
	for i := range s.Len() {
		cases = append(cases, Named{Name: "case-" + string(rune('a'+i)), Title: "yes: no, #1", Sets: s.Sets(i)})
	}
	cases = append(cases, Named{Name: "finer", Title: "finer", Sets: append(s.Sets(3), scenarios.Set{Key: "current.power_W", Value: scenarios.Number(3)})})
	n, err := s.OfCases("refined.yaml", "Chosen: cases", cases)
	if err != nil {
		t.Fatal(err)
	}
	if n.Len() != s.Len()+1 || n.CaseTitle(1) != "yes: no, #1" || !strings.Contains(string(n.Text()), "scenario: scenario.yaml\n") {
		t.Fatalf("%d cases, %s", n.Len(), n.Text())
	}
	identity := func(s *Sweep, i int) string {
		x, err := s.Scenario(i)
		if err != nil {
			t.Fatal(err)
		}
		return x.Identity()
	}
	for i := range s.Len() {
		if identity(s, i) != identity(n, i) {
			t.Errorf("case %d is another", i)
		}
	}
	last, err := n.Scenario(s.Len())
	if err != nil || *last.File.Current.PowerW != 3 {
		t.Error("the later of two values does not count", err)
	}
}
