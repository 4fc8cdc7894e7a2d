package plan

import (
	"slices"
	"strings"
	"testing"

	"muralheat/scenarios"
	"muralheat/thermal/tissue"
)

// The plan of what a result depends on is one for every scene and tip: each of its cases can be computed, and leaves the
// scenario by one key.
func TestSensitivity(t *testing.T) {
	for _, name := range []string{"ball-touch", "by-hand", "colon-cushion", "disc-pulled", "incision-pulses", "pad-full", "stalk-loop"} {
		e, _ := scenarios.FindExample(name)
		s, err := e.Scenario()
		if err != nil {
			t.Fatal(err)
		}
		complete, err := scenarios.Parse("scenario.yaml", s.ResolvedYAML())
		if err != nil {
			t.Fatal(err)
		}
		text := Sensitivity(s, complete, "scenario.yaml")
		p, err := Parse("sensitivity.yaml", text, func(string) (*scenarios.Scenario, error) { return complete, nil })
		if err != nil {
			t.Errorf("%s: %v\n%s", e.Name, err, text)
			continue
		}
		least := 10
		if e.Name == "by-hand.yaml" { // gives nearly all of it
			least = 3
		}
		if len(p.Inputs) < least || p.Design != "one-at-a-time" {
			t.Errorf("%s: only %d inputs, %s", e.Name, len(p.Inputs), p.Design)
		}
		for _, i := range []int{1, p.Len() - 1} { // all of them were built when it was read
			if c, err := p.Scenario(i); err != nil || c.Identity() == complete.Identity() {
				t.Errorf("%s: %v: %v", e.Name, p.Sets(i), err)
			}
		}
	}
}

// What the library has a range for is changed over that range, not by a fifth; what the scenario gives is not, but named.
func TestSensitivityUsesTheLibrary(t *testing.T) {
	e, _ := scenarios.FindExample("disc-antrum")
	s, err := e.Scenario()
	if err != nil {
		t.Fatal(err)
	}
	s, err = s.With(scenarios.Set{Key: "physics.dry_k_W_mK", Value: scenarios.Number(0.21)}, scenarios.Set{Key: "wall.layers.mucosa.thickness_mm", Value: scenarios.Number(0.9)})
	if err != nil {
		t.Fatal(err)
	}
	text := string(Sensitivity(s, s, "run/scenario.yaml"))
	site, _ := tissue.FindSite("stomach-antrum")
	under := site.Layers[slices.IndexFunc(site.Layers, func(l tissue.SiteLayer) bool { return l.Name == "submucosa" })].ThicknessMM
	for _, want := range []string{
		`scenario: "run/scenario.yaml"`,
		`{key: "physics.spark_onset_V", values: [150, 300]}`,
		`{key: "physics.boil_C", values: [95, 101]}`,
		`{key: "wall.lumen.temperature_C", values: [20]}`, // its other end is the value
		`{key: "physics.dry_conductivity_share", values: [`,
		`{key: "damage.kinetics", values: [`,
		`{key: "wall.layers.submucosa.thickness_mm", values: [` + scenarios.Number(under.Low).String() + ", " + scenarios.Number(under.High).String() + `]}`,
		`{key: "wall.layers.mucosa.material.sigma_S_m", values: [`,
		`{key: "current.power_W", values: [2.4, 3.6]}`,
		`#  - {key: wall.layers.mucosa.thickness_mm, values: [...]}  # 0.9 mm`,
		`#  - {key: physics.dry_k_W_mK, values: [...]}  # 0.21 W/(m K)`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s", want)
		}
	}
	if strings.Contains(text, `key: "wall.layers.mucosa.thickness_mm"`) || strings.Contains(text, `key: "physics.dry_k_W_mK"`) {
		t.Error("a given value is changed over a range of the library")
	}
	if t.Failed() {
		t.Log(text)
	}
}
