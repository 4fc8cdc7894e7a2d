package procedure

import (
	"slices"
	"strings"
	"testing"

	"muralheat/scenarios"
)

const (
	small  = "{electrode: {tip: disc, radius_mm: 0.5}, current: {power_W: 2, sparks: false, on_s: 1}}"
	needle = "{electrode: {tip: needle, radius_mm: 0.2, insertion_mm: 1}, current: {power_W: 3, sparks: false, on_s: 1}}"
	onDisc = head + "rest_s: 6\nsteps:\n  - {title: first, repeat: {times: 2, pause_s: 1}, rest_s: 4, scenario: " + small + "}\n"
	twice  = onDisc + "  - {title: second, place: same, scenario: " + disc + "}\n"
)

// A step on the place of the one before computes what a scenario computes that says what was done there.
func TestSamePlace(t *testing.T) {
	p := parseText(t, twice+"  - {title: third, place: same, scenario: "+small+"}\n  - {title: fourth, scenario: "+small+"}\n")
	byHand := func(text string) *scenarios.Scenario {
		s, err := scenarios.Parse("s.yaml", []byte("title: by hand\nwall: {site: stomach-antrum}\n"+text))
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	const (
		now    = "electrode: {tip: disc, radius_mm: 1}\ncurrent: {power_W: 3, sparks: false, on_s: 1}\n"
		later  = "electrode: {tip: disc, radius_mm: 0.5}\ncurrent: {power_W: 2, sparks: false, on_s: 1}\n"
		first  = "{title: a, electrode: {tip: disc, radius_mm: 0.5}, current: {power_W: 2, sparks: false, on_s: 1}, repeat: {times: 2, pause_s: 1}, pause_s: 4}"
		second = "{title: b, electrode: {tip: disc, radius_mm: 1}, current: {power_W: 3, sparks: false, on_s: 1}, pause_s: 6}"
	)
	for i, want := range map[int]*scenarios.Scenario{1: byHand(now + "before: [" + first + "]\n"), 2: byHand(later + "before: [" + first + ", " + second + "]\n"), 3: byHand(later)} {
		if p.Steps[i].Scenario.Identity() != want.Identity() {
			t.Errorf("step %d is another scenario:\n%s", i+1, p.Steps[i].Scenario.Text())
		}
	}
	if p.SamePlace(0) || !p.SamePlace(1) || !p.SamePlace(2) || p.SamePlace(3) || p.SamePlace(4) {
		t.Error("other steps share a place")
	}
	s, err := Plan("p", []*Procedure{p})
	if err != nil {
		t.Fatal(err)
	}
	for i := range s.Len() {
		if of, err := s.Scenario(i); err != nil || of.Identity() != p.Steps[i].Scenario.Identity() {
			t.Errorf("the plan computes another step %d (%v)", i+1, err)
		}
	}
}

// A scenario file that names a source sheet of its folder, and a sheet of the procedure, go with what was done before.
func TestSamePlaceOfSheets(t *testing.T) {
	e, _ := scenarios.FindExample("procedure-stomach")
	kin, err := scenarios.LoadExample(scenarios.BuiltIn)
	if err != nil {
		t.Fatal(err)
	}
	text := head + "sheet: unit-gentler.yaml\nsteps:\n  - {title: a, scenario: {electrode: {tip: ball, radius_mm: 1}, current: {source: dots, on_s: 1}}}\n" +
		"  - {title: b, place: same, scenario: {electrode: {tip: ball, radius_mm: 1}, current: {source: dots, on_s: 2}}}\n"
	p, err := parse(e.Name, []byte(text), nil, kin)
	if err != nil {
		t.Fatal(err)
	}
	c := p.Steps[1].Scenario.Case()
	if c.Before[0].Drive.PowerW != 15 || c.Before[0].Drive.OnS != 1 || c.Drive.OnS != 2 {
		t.Errorf("%+v", c.Before[0].Drive)
	}
	if _, err := Plan("p", []*Procedure{p}); err != nil {
		t.Error(err)
	}
}

// What is set from elsewhere is set in what was done before too, in the step and in the plan.
func TestSetOnSamePlace(t *testing.T) {
	set := func(text string) scenarios.Set {
		s, err := scenarios.ParseSet(text, "--set")
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	p := parseText(t, twice, set("current.power_W=1.5"), set("electrode.heat_transfer_W_m2K=4000"), set("wall.layers.muscularis.thickness_mm=2"))
	s, err := Plan("p", []*Procedure{p})
	if err != nil {
		t.Fatal(err)
	}
	planned, err := s.Scenario(1)
	if err != nil {
		t.Fatal(err)
	}
	for _, of := range []*scenarios.Scenario{p.Steps[1].Scenario, planned} {
		c := of.Case()
		if b := c.Before[0]; b.Drive.PowerW != 1.5 || c.Drive.PowerW != 1.5 || b.Electrode.HeatTransferWM2K != 4000 || b.Electrode.ContactRadiusM != 0.5e-3 || b.WallM() != c.WallM() || c.WallM() < 3.5e-3 {
			t.Errorf("%g W, then %g W; %+v on %g m, then %g m", b.Drive.PowerW, c.Drive.PowerW, b.Electrode, b.WallM(), c.WallM())
		}
	}
}

// A draw is the same metal and the same wall in a step and in what was done before on its place.
func TestDrawnOnSamePlace(t *testing.T) {
	p := parseText(t, twice)
	s, err := Drawn("p", []*Procedure{p}, 3)
	if err != nil {
		t.Fatal(err)
	}
	transfer := map[float64]bool{}
	for d := range 3 {
		first, err := s.Scenario(d)
		if err != nil {
			t.Fatal(err)
		}
		second, err := s.Scenario(3 + d)
		if err != nil {
			t.Fatal(err)
		}
		a, c := first.Case(), second.Case()
		if b := c.Before[0]; b.Electrode.HeatTransferWM2K != a.Electrode.HeatTransferWM2K || b.WallM() != a.WallM() || b.Physics != a.Physics {
			t.Errorf("draw %d: %+v, before the second %+v", d, a.Electrode, b.Electrode)
		}
		transfer[a.Electrode.HeatTransferWM2K] = true
	}
	if len(transfer) != 3 {
		t.Errorf("%d values in 3 draws", len(transfer))
	}
}

// Each of these is one line that says why a step cannot be on the place of the one before, and what to do.
func TestPlaceProblems(t *testing.T) {
	uncertain := "uncertain: [{key: current.power_W, uniform: {low: 1, high: 2}}]\n"
	for text, want := range map[string]string{
		head + "steps: [{title: one, place: same, scenario: " + disc + "}]\n":                                                              "p.yaml:3:29: steps[1].place: no step is before the first; leave it out: a step is done on a fresh place",
		onDisc + "  - {title: lift, wall: {stretch: 1.2}}\n  - {title: b, place: same, scenario: " + disc + "}\n":                          `p.yaml:7:23: steps[3].place: step "lift" before it is without current and has no place; leave it out, or do that step earlier or later`,
		onDisc + "  - {title: lift, place: same, wall: {stretch: 1.2}}\n":                                                                  "p.yaml:6:26: steps[2].place: belongs to a step with a scenario; leave it out, or give scenario",
		onDisc + "  - {title: b, place: same, wall: {stretch: 1.2}, scenario: " + disc + "}\n":                                             `p.yaml:6:29: steps[2].wall: changes the wall on the place of step "first"; leave it out, or place: a fresh place may have another wall`,
		onDisc + "  - {title: b, place: same, times: 2, scenario: " + disc + "}\n":                                                         "p.yaml:6:36: steps[2].times: would each be on a fresh place; leave it out, or write repeat",
		onDisc + "  - {title: b, place: fresh, scenario: " + disc + "}\n":                                                                  `p.yaml:6:23: steps[2].place: "fresh" is not known; choose same`,
		onDisc + "  - {title: b, place: same, scenario: " + needle + "}\n":                                                                 `p.yaml:6:23: steps[2].place: "b" cannot follow on the place of "first": its tip is a needle, not a disc; take the same tip, or a fresh place`,
		onDisc + "  - {title: b, place: same, scenario: " + strings.Replace(disc, "radius_mm: 1", "radius_mm: 1, force_N: 1", 1) + "}\n":   `p.yaml:6:23: steps[2].place: "b" cannot follow on the place of "first": its wall has other layers; keep the wall as it is (a harder press changes it too), or take a fresh place`,
		onDisc + "  - {title: b, place: same, scenario: " + strings.Replace(disc, "power_W", "frequency_kHz: 300, power_W", 1) + "}\n":     `p.yaml:6:23: steps[2].place: current.frequency_kHz of step "first": 400 kHz, but that of the scenario is 300 kHz, for which its tissues have their conductivity; give the same`,
		onDisc + "  - {title: b, place: same, scenario: " + strings.Replace(disc, "{elec", "{numerics: {quality: draft}, elec", 1) + "}\n": `p.yaml:6:23: steps[2].place: numerics is not as in step "first", with which it shares tissue and mesh; give it in common, or leave place out for a fresh place`,
		onDisc + "  - {title: b, place: same, scenario: " + strings.Replace(disc, "{elec", "{before: [], elec", 1) + "}\n":                 "p.yaml:6:23: steps[2].place: before is given in the scenario too; leave one of them out",
		head + "steps:\n  - {title: a, times: 3, scenario: " + disc + "}\n  - {title: b, place: same, scenario: " + disc + "}\n":           `p.yaml:5:23: steps[2].place: step "a" before it is done 3 times, each on a fresh place; leave it out, or times there`,
		"limit: {step: first, key: current.power_W, from: 1, to: 2}\n" + twice:                                                             `p.yaml:1:15: limit.step: step "second" is done on the place of step "first", which would stay as it is there; name the last step on the place, or a key of the wall`,
		"limit: {step: second, key: wall.layers.mucosa.thickness_mm, from: 1, to: 2}\n" + twice:                                            `p.yaml:1:15: limit.step: step "second" is done on the place of the step before it, whose wall would be another; name the first step on the place`,
		uncertain + twice: "p.yaml:1:19: uncertain[1].key: draws of current.power_W do not reach a step on whose place another is done; give a key that the step leaves open, or one of the wall or of physics",
		onDisc + "  - {title: b, scenario: " + strings.Replace(needle, "on_s: 1", "on_s: -1", 1) + "}\n  - {title: c, place: same, scenario: " + needle + "}\n": "p.yaml:6:129: steps[2].scenario.current.on_s: -1 is out of range; give a number from 0.001 to 3600 s",
		strings.Replace(twice, "on_s: 1", "on_s: -1", 1): "p.yaml:5:157: steps[1].scenario.current.on_s: -1 is out of range; give a number from 0.001 to 3600 s", // said once, of the first
	} {
		_, err := Parse("p.yaml", []byte(text), nil)
		if err == nil || err.Error() != want {
			t.Errorf("%s\ngot  %v\nwant %s", text, err, want)
		}
	}
	set, err := scenarios.ParseSet("current.limits.load_line[1].power_W=3", "--set")
	if err != nil {
		t.Fatal(err)
	}
	line := strings.ReplaceAll(twice, "sparks: false", "sparks: false, limits: {load_line: [{resistance_ohm: 100, power_W: 5}]}")
	want := `p.yaml:6:28: steps[2].place: current.limits.load_line[1].power_W, which is set, does not reach step "first"; write it in the file`
	if _, err := Parse("p.yaml", []byte(line), []scenarios.Set{set}); err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
	if p := parseText(t, "limit: {step: second, key: current.power_W, from: 1, to: 2}\n"+twice); !slices.Equal(p.taking("second", "current.power_W"), []string{"2-second"}) {
		t.Error("another step takes the value")
	}
}
