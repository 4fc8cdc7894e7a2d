package scenarios

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"muralheat/thermal"
)

const (
	onPlace = sound + "numerics: {quality: draft}\nafterwards_s: 1\n"
	touch   = "before: [{title: touch, current: {power_W: 10, sparks: false, on_s: 1}, pause_s: 3}]\n"
	wider   = "before: [{title: wide, electrode: {tip: disc, radius_mm: 8}, current: {power_W: 5, sparks: false, on_s: 1}, pause_s: 2}, {title: fine, electrode: {tip: disc, radius_mm: 0.3}, current: {power_W: 1, sparks: false, on_s: 1}, repeat: {times: 2, pause_s: 1}, pause_s: 0}]\n"
)

func parseOK(t *testing.T, text string, sets ...Set) *Scenario {
	t.Helper()
	s, err := Parse("s.yaml", []byte(text))
	if err == nil {
		s, err = s.With(sets...)
	}
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What was done before becomes cases before that share all but electrode, track, current and times.
func TestBefore(t *testing.T) {
	s := parseOK(t, onPlace+wider)
	c := s.Case()
	alone := parseOK(t, strings.Replace(onPlace, "on_s: 2", "on_s: 1", 1)).Case()
	wide, fine := c.Before[0], c.Before[1]
	if len(c.Before) != 2 || wide.Title != "wide" || wide.AfterS != 2 || wide.Electrode.ContactRadiusM != 8e-3 || wide.Drive.PowerW != 5 || fine.Repeat.Times != 2 || fine.Drive.OnS != 1 {
		t.Errorf("%+v\n%+v", wide, fine)
	}
	if d := cmp.Diff(alone.Layers, fine.Layers); d != "" || wide.Numerics != c.Numerics || wide.Domain != c.Domain {
		t.Errorf("not on the same wall and mesh: %s", d)
	}
	if c.Domain.RadiusM != 80e-3 || c.Numerics.FinestM != 150e-6 { // ten of the widest, half of the finest
		t.Errorf("domain of %g m, cells of %g m", c.Domain.RadiusM, c.Numerics.FinestM)
	}
	if err := c.Sequence().Check(); err != nil {
		t.Error(err)
	}
	inherits := parseOK(t, onPlace+touch)
	if c := inherits.Case(); !cmp.Equal(c.Before[0].Electrode, c.Electrode) {
		t.Errorf("another electrode: %+v", c.Before[0].Electrode)
	}
	moving := parseOK(t, onPlace+strings.Replace(touch, "current", "motion: {length_mm: 2, speed_mm_s: 2}, current", 1)).Case()
	if !moving.Domain.ThreeD || moving.Motion.Moving() || !moving.Before[0].Motion.Moving() {
		t.Errorf("a spot on a line: %+v", moving.Domain)
	}
	if err := moving.Sequence().Check(); err != nil {
		t.Error(err)
	}
}

// Resolved text gives the same cases; every value has a source.
func TestBeforeResolved(t *testing.T) {
	for _, text := range []string{touch, wider} {
		s := parseOK(t, onPlace+text)
		resolved(t, s)
		everySetting(t, s)
	}
}

// A scenario on a place is another than on a fresh one, and than on one where something else was done; not by its title.
func TestBeforeIdentity(t *testing.T) {
	seen := []string{parseOK(t, onPlace).Identity()}
	for _, text := range []string{touch, wider, strings.Replace(touch, "pause_s: 3", "pause_s: 4", 1), strings.Replace(touch, "power_W: 10", "power_W: 9", 1)} {
		id := parseOK(t, onPlace+text).Identity()
		if slices.Contains(seen, id) {
			t.Errorf("%s is a scenario seen before", text)
		}
		seen = append(seen, id)
	}
	if id := parseOK(t, onPlace+strings.Replace(touch, "title: touch", "title: other", 1)).Identity(); id != seen[1] {
		t.Error("a title makes it another scenario")
	}
}

// Values set from outside hold for all where they are of the wall or the mesh, and for electrodes that say nothing of their own.
func TestBeforeSet(t *testing.T) {
	set := func(text string) Set {
		s, err := ParseSet(text, "--set")
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	c := parseOK(t, onPlace+wider, set("wall.layers.muscularis.thickness_mm=3"), set("electrode.heat_transfer_W_m2K=5000"), set("electrode.radius_mm=2"),
		set("before[2].current.power_W=2"), set("current.power_W=7")).Case()
	wide, fine := c.Before[0], c.Before[1]
	if c.WallM() != wide.WallM() || c.WallM() != fine.WallM() || c.WallM() < 4e-3 {
		t.Errorf("walls of %g, %g and %g m", wide.WallM(), fine.WallM(), c.WallM())
	}
	if wide.Electrode.HeatTransferWM2K != 5000 || wide.Electrode.ContactRadiusM != 8e-3 || c.Electrode.ContactRadiusM != 2e-3 {
		t.Errorf("electrodes %+v, then %+v", wide.Electrode, c.Electrode)
	}
	if wide.Drive.PowerW != 5 || fine.Drive.PowerW != 2 || c.Drive.PowerW != 7 {
		t.Errorf("%g, %g and %g W", wide.Drive.PowerW, fine.Drive.PowerW, c.Drive.PowerW)
	}
}

// The result is that of the sequence put together by hand.
func TestBeforeComputes(t *testing.T) {
	c := parseOK(t, onPlace+touch).Case()
	first, second := parseOK(t, strings.NewReplacer("on_s: 2", "on_s: 1", "afterwards_s: 1", "afterwards_s: 3").Replace(onPlace)).Case(), parseOK(t, onPlace).Case()
	want, err := thermal.SimulateSequence(context.Background(), thermal.Sequence{&first, &second}, thermal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want[1].Fields, got.Fields); d != "" || got.Summary.InjuryDepthM != want[1].Summary.InjuryDepthM || got.Balance != want[1].Balance {
		t.Errorf("%g m deep, by hand %g m", got.Summary.InjuryDepthM, want[1].Summary.InjuryDepthM)
	}
	if !(got.Summary.InjuryDepthM >= want[0].Summary.InjuryDepthM && want[0].Summary.InjuryDepthM > 0) {
		t.Errorf("%g m deep after %g m", got.Summary.InjuryDepthM, want[0].Summary.InjuryDepthM)
	}
}

// Each of these is one line that says what cannot be done before.
func TestBeforeProblems(t *testing.T) {
	line := strings.Count(onPlace, "\n") + 1
	at := func(s string) string {
		return strings.ReplaceAll(s, "L", string(rune('0'+line/10))+string(rune('0'+line%10)))
	}
	for name, c := range map[string]struct{ old, new, want string }{
		"no pause":         {", pause_s: 3", "", "s.yaml:L:10: before[1].pause_s: missing; give a number from 0 to 3600 s"},
		"no current":       {"current: {power_W: 10, sparks: false, on_s: 1}, ", "", "s.yaml:L:10: before[1].current: missing; this key is needed"},
		"no time":          {", on_s: 1", "", "s.yaml:L:25: before[1].current.on_s: missing; give the time in s for which the current is on"},
		"a wall":           {"title: touch", "title: touch, wall: {site: rectum}", "s.yaml:L:25: before[1].wall: unknown key; keys here are title, electrode, motion, current, repeat and pause_s"},
		"no number":        {"on_s: 1}", "on_s: x}", `s.yaml:L:69: before[1].current.on_s: the text "x" where a number is needed; give a number from 0.001 to 3600 s`},
		"another tip":      {"title: touch", "title: touch, electrode: {tip: needle, radius_mm: 0.2, insertion_mm: 1}", `s.yaml:L:10: before[1]: "Case" cannot follow on the place of "touch": its tip is a disc, not a needle; take the same tip, or a fresh place`},
		"pressed":          {"title: touch", "title: touch, electrode: {tip: disc, radius_mm: 1, force_N: 0.5}", `s.yaml:L:10: before[1]: "Case" cannot follow on the place of "touch": its wall has other layers; keep the wall as it is (a harder press changes it too), or take a fresh place`},
		"another current":  {"power_W: 10", "power_W: 10, frequency_kHz: 300", "s.yaml:L:63: before[1].current.frequency_kHz: 300 kHz, but that of the scenario is 400 kHz, for which its tissues have their conductivity; give the same"},
		"not whole":        {"pause_s: 3", "repeat: {times: 1.5, pause_s: 1}, pause_s: 3", "s.yaml:L:89: before[1].repeat.times: 1.5 is out of range; give a number from 2 to 200"},
		"a list too long":  {"before: [", "before: [" + strings.Repeat("{title: a}, ", 100), "s.yaml:L:1: before: 101 items; at most 100"},
		"an empty list":    {touch, "before: []\n", "s.yaml:L:1: before: an empty list; give at least one item"},
		"does not fit":     {"title: touch", "title: touch, electrode: {tip: disc, radius_mm: 1, insertion_mm: 1}", "s.yaml:L:76: before[1].electrode.insertion_mm: only a needle is inserted into the tissue; leave it out, or write tip: needle"},
		"nearly its width": {"title: touch", "title: touch, electrode: {tip: disc, radius_mm: 1.05}", `s.yaml:L:10: before[1]: "Case" cannot follow on the place of "touch": its contact has a radius of 1 mm, less than a cell from 1.05 mm; make them equal, or take smaller cells`},
	} {
		t.Run(name, func(t *testing.T) {
			if !strings.Contains(touch, c.old) {
				t.Fatalf("%q is not there", c.old)
			}
			_, err := Parse("s.yaml", []byte(onPlace+strings.Replace(touch, c.old, c.new, 1)))
			if err == nil || err.Error() != at(c.want) {
				t.Errorf("got  %v\nwant %s", err, at(c.want))
			}
		})
	}
	for text, want := range map[string]string{
		strings.Replace(onPlace, "site: rectum", "site: nowhere", 1): "wall.site: ",
		strings.Replace(onPlace, "power_W: 10", "power_W: -1", 1):    "current.power_W: ",
		onPlace + "physics: {boil_C: 20}\n":                          "physics.boil_C: ",
		onPlace + "probes: [{name: p, z_mm: 200}]\n":                 "probes.p.z_mm: ", // found in both: said once
	} {
		if _, err := Parse("s.yaml", []byte(text+touch)); err == nil || strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), ": "+want) {
			t.Errorf("%s: %v", want, err)
		}
	}
	if _, err := Parse("s.yaml", []byte(padText+touch)); err == nil || !strings.Contains(err.Error(), "before: belongs to scene: wall") {
		t.Error(err)
	}
}
