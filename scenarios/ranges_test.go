package scenarios_test

import (
	"math"
	"testing"

	"muralheat/scenarios"
	"muralheat/thermal/tissue"
)

// noKey holds the constants with a range that no key follows, and why.
var noKey = map[string]string{
	"dry-heat-capacity": "the least that dried tissue holds; stomach and colon lie above it",
	"boil-spread":       "follows the boiling point in plans of what a result depends on",
	"touch-rest":        "a pause of a procedure; no scenario has it",
	"step-rest":         "likewise",
	"dose-level":        "a line of the thermal dose; no injury follows it",
}

// Each constant of the library that has a range is followed by a key of some example, so that tables of what the
// ranges are worth find it by themselves.
func TestRanges(t *testing.T) {
	found := map[string]bool{}
	note := func(s *scenarios.Scenario) {
		for _, r := range s.Ranges() {
			if !(r.Low <= r.Value && r.Value <= r.High && r.Low < r.High) {
				t.Errorf("%s, %s: %g, %g, %g", s.Name, r.Key, r.Low, r.Value, r.High)
			}
			found[r.Constant] = true
		}
	}
	for _, e := range scenarios.Examples() {
		s, err := e.Scenario()
		if err != nil {
			continue // a plan
		}
		note(s)
		for key, word := range map[string]string{"wall.lumen.medium": "water", "pad.skin": "wet"} {
			if other, err := s.With(scenarios.Set{Key: key, Value: scenarios.Word(word)}); err == nil {
				note(other)
			}
		}
	}
	for _, c := range tissue.Constants() {
		if excused := noKey[c.Name] != ""; c.Value.Low < c.Value.High && found[c.Name] == excused {
			t.Errorf("%s: followed by a key: %v, excused: %v", c.Name, found[c.Name], excused)
		}
	}
}

// A key has the range in its own unit, and as it follows the constant: a share of a radius, percent, the root of a
// conductivity. What a scenario states has none.
func TestRangesInTheUnitOfTheKey(t *testing.T) {
	e, _ := scenarios.FindExample("ball-touch")
	s, err := e.Scenario()
	if err != nil {
		t.Fatal(err)
	}
	s, err = s.With(scenarios.Set{Key: "electrode.radius_mm", Value: scenarios.Number(0.5)}, scenarios.Set{Key: "physics.spark_onset_V", Value: scenarios.Number(210)})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]scenarios.Range{}
	for _, r := range s.Ranges() {
		got[r.Key] = r
	}
	// A fin: sqrt(h P k A) in W/K, for 16, 14 and 170 W/(m K).
	fin := func(k float64) float64 {
		const r, h = 0.5e-3, 10
		return math.Sqrt(h * 2 * math.Pi * r * k * math.Pi * r * r)
	}
	for key, want := range map[string][3]float64{
		"electrode.contact_radius_mm":                  {0.3, 0.35, 0.425},
		"physics.coagulated_conductivity_rise_percent": {0, 30, 60},
		"electrode.wire_loss_W_K":                      {fin(14), fin(16), fin(170)},
	} {
		r := got[key]
		for i, v := range []float64{r.Low, r.Value, r.High} {
			if math.Abs(v-want[i]) > 5e-3*want[i] {
				t.Errorf("%s: %v, want %v", key, r, want)
				break
			}
		}
	}
	if r, ok := got["physics.spark_onset_V"]; ok {
		t.Errorf("a stated key has the range %v", r)
	}
}
