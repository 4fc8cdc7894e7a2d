package procedure

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"muralheat/scenarios"
	"muralheat/thermal/drive"
)

const (
	disc = "{electrode: {tip: disc, radius_mm: 1}, current: {power_W: 3, sparks: false, on_s: 1}}"
	head = "title: P\nwall: {site: stomach-antrum}\n"
)

func parseText(t *testing.T, text string, sets ...scenarios.Set) *Procedure {
	t.Helper()
	p, err := Parse("p.yaml", []byte(text), sets)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A step computes what the same scenario computes by itself on the wall as the steps before have left it.
func TestStepsOnTheWallAsItIs(t *testing.T) {
	p := parseText(t, head+"common: {afterwards_s: 7}\nsteps:\n"+
		"  - {title: first, scenario: "+disc+"}\n"+
		"  - {title: injection, wall: {cushion: {fluid: saline, thickness_mm: 3}}}\n"+
		"  - {title: second, scenario: "+disc+"}\n"+
		"  - {title: third, wall: {from: submucosa, cushion: {thickness_mm: 2}}, scenario: "+disc+"}\n")
	alone := func(wall string) string {
		s, err := scenarios.Parse("s.yaml", []byte("title: alone\nafterwards_s: 7\nwall: "+wall+"\nelectrode: {tip: disc, radius_mm: 1}\ncurrent: {power_W: 3, sparks: false, on_s: 1}\n"))
		if err != nil {
			t.Fatal(err)
		}
		return s.Identity()
	}
	for i, wall := range map[int]string{0: "{site: stomach-antrum}", 2: "{site: stomach-antrum, cushion: {fluid: saline, thickness_mm: 3}}", 3: "{site: stomach-antrum, from: submucosa, cushion: {fluid: saline, thickness_mm: 2}}"} {
		if p.Steps[i].Scenario.Identity() != alone(wall) {
			t.Errorf("step %d is not the scenario on %s", i+1, wall)
		}
	}
	if got := p.Steps[3].Scenario.Case().Layers[0].Name; got != "submucosa" {
		t.Errorf("cut open down to %s", got)
	}
	if s := p.Steps[1]; s.Scenario != nil || s.Times != 0 || len(s.Wall) != 2 {
		t.Errorf("a step without current: %+v", s)
	}
	s, err := Plan("both", []*Procedure{p, p})
	if err != nil {
		t.Fatal(err)
	}
	if got := []string{s.CaseName(0), s.CaseName(2), s.CaseName(5)}; s.Len() != 6 || !slices.Equal(got, []string{"a1-first", "a4-third", "b4-third"}) {
		t.Errorf("%d cases, %v", s.Len(), got)
	}
	of, err := s.Scenario(5)
	if err != nil || of.Identity() != p.Steps[3].Scenario.Identity() {
		t.Errorf("the plan computes another step (%v)", err)
	}
}

// A draw is the same wall in every step; a layer that has been cut open is not drawn any more.
func TestDrawn(t *testing.T) {
	p := parseText(t, head+"steps:\n  - {title: first, scenario: "+disc+"}\n  - {title: second, wall: {from: submucosa}, scenario: "+disc+"}\n")
	s, err := Drawn("p", []*Procedure{p}, 5)
	if err != nil {
		t.Fatal(err)
	}
	if s.Draws != 5 || s.Len() != 10 {
		t.Errorf("%d draws, %d cases", s.Draws, s.Len())
	}
	for d := range 5 {
		first, second := map[string]string{}, map[string]string{}
		for _, x := range s.Sets(d) {
			first[x.Key] = x.Value.String()
		}
		for _, x := range s.Sets(5 + d) {
			second[x.Key] = x.Value.String()
		}
		const muscle = "wall.layers.muscularis.thickness_mm"
		if first[muscle] == "" || first[muscle] != second[muscle] {
			t.Errorf("draw %d: muscle of %s mm, then of %s", d, first[muscle], second[muscle])
		}
		if _, drawn := second["wall.layers.mucosa.thickness_mm"]; drawn || first["wall.layers.mucosa.thickness_mm"] == "" {
			t.Errorf("draw %d: mucosa that was cut open is drawn: %v", d, drawn)
		}
		if _, err := s.Scenario(5 + d); err != nil {
			t.Error(err)
		}
	}
}

// Activations and rests of the neutral electrode follow the list; a step without current lengthens the rest before it.
func TestPad(t *testing.T) {
	p := parseText(t, head+"rest_s: 10\nsteps:\n  - {title: first, times: 2, pause_s: 3, scenario: "+disc+"}\n  - {title: rinse, wall: {stretch: 1.1}, rest_s: 5}\n"+
		"  - {title: last, repeat: {times: 2, pause_s: 4, place: same}, scenario: "+disc+"}\n")
	s, err := p.Pad(func(name string) []drive.Span {
		if name == "1-first" {
			return []drive.Span{{CurrentA: 0.5, OnS: 1}}
		}
		return []drive.Span{{CurrentA: 0.3, OnS: 2, RestS: 4}, {CurrentA: 0.3, OnS: 2, RestS: 4}}
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []drive.Span{{CurrentA: 0.5, OnS: 1, RestS: 3}, {CurrentA: 0.5, OnS: 1, RestS: 15}, {CurrentA: 0.3, OnS: 2, RestS: 4}, {CurrentA: 0.3, OnS: 2, RestS: 10}}
	c := s.Case()
	if !slices.Equal(c.Drive.Course, want) || c.Drive.OnS != 28 {
		t.Errorf("%v for %g s", c.Drive.Course, c.Drive.OnS)
	}
	if n := p.Steps[2].Scenario.Case(); n.Activations() != 2 || n.Repeat.PauseS != 4 {
		t.Errorf("repeated %+v", n.Repeat)
	}
}

// A key of the wall is tried in its step and the later ones, up to one that says it anew; another key in its step alone.
func TestLimitTakes(t *testing.T) {
	text := head + "steps:\n  - {title: a, scenario: " + disc + "}\n  - {title: lift, wall: {cushion: {fluid: saline, thickness_mm: 3}}}\n  - {title: b, scenario: " + disc + "}\n" +
		"  - {title: c, scenario: " + disc + "}\n  - {title: d, wall: {cushion: {thickness_mm: 1}}, scenario: " + disc + "}\n"
	for limit, want := range map[string]string{
		"limit: {step: lift, key: wall.cushion.thickness_mm, from: 1, to: 4, find: smallest}\n": "3-b 4-c",
		"limit: {step: b, key: current.power_W, from: 1, to: 4}\n":                              "3-b",
	} {
		p := parseText(t, text+limit)
		s, err := p.Limit()
		if err != nil {
			t.Fatal(err)
		}
		tried, err := s.Tried(0, 0, 2)
		if err != nil {
			t.Fatal(err)
		}
		var changed []string
		for i, x := range tried {
			if before, _ := s.Scenario(i); x.Identity() != before.Identity() {
				changed = append(changed, s.CaseName(i))
			}
		}
		if got := strings.Join(changed, " "); got != want || s.Searches() != 1 || len(tried) != 4 {
			t.Errorf("%s: %q of %d, want %q", limit, got, len(tried), want)
		}
	}
}

// Each of these is one line that says file, line, key, what is wrong and what would be right.
func TestProblems(t *testing.T) {
	step := "steps: [{title: one, scenario: " + disc + "}]\n"
	for text, want := range map[string]string{
		"title: P\n" + step:                                                                            "p.yaml:1:1: wall: missing; this key is needed",
		head + "steps: [{title: one}]\n":                                                               "p.yaml:3:9: steps[1]: neither wall nor scenario; give what changes the wall, or what the electrode does",
		head + "steps: [{title: lift, wall: {stretch: 1.2}}]\n":                                        "p.yaml:3:1: steps: no step has a scenario; give one to each step in which current flows",
		head + "steps: [{title: one, wall: thin, scenario: " + disc + "}]\n":                           `p.yaml:3:28: steps[1].wall: the text "thin" where keys are needed; write {key: value, ...} with keys of a scenario`,
		head + "steps: [{title: one, scenario: nowhere.yaml}]\n":                                       "p.yaml:3:32: steps[1].scenario: nowhere.yaml: no such file or directory; name a scenario file that can be read",
		head + "steps: [{title: one, pause_s: 1, scenario: " + disc + "}]\n":                           "p.yaml:3:31: steps[1].pause_s: there is no pause in a step that is done once; leave it out, or give times",
		head + "steps: [{title: one, times: 1.5, scenario: " + disc + "}]\n":                           "p.yaml:3:29: steps[1].times: 1.5 is not a whole number; write one",
		head + strings.Replace(step, "on_s: 1}", "on_s: 1,5}", 1):                                      `p.yaml:3:114: steps[1].scenario.current.on_s: "1,5" where a number is needed; use a decimal point: a comma ends the value`,
		head + strings.Replace(step, "{electrode", "{wall: {site: rectum}, electrode", 1):              "p.yaml:3:39: steps[1].scenario.wall: the wall is that of the procedure; give what is different from this step on in wall of the step",
		head + "steps: [{title: one, scenario: " + disc + "}, {title: one, scenario: " + disc + "}]\n": `p.yaml:3:128: steps[2].title: "one" is the title of a step above; give each step its own`,
		head + "steps: [{title: one, wall: {from: submucosa}, scenario: " + disc + "}, {title: two, wall: {from: mucosa}, scenario: " + disc + "}]\n": `p.yaml:3:171: steps[2].wall.from: the mucosa was removed by step "one"; name submucosa, muscularis or serosa`,
		head + "common: {wall: {site: rectum}}\n" + step:                                                            "p.yaml:3:1: common: holds a wall; give it in wall",
		head + "neutral_electrode: {wall: {site: thigh}}\n" + step:                                                  "p.yaml:3:1: neutral_electrode.pad: missing; this key is needed: it says how large the pad is",
		head + "sheet: gone.yaml\n" + strings.Replace(step, "power_W: 3, sparks: false", "source: dots", 1):         `p.yaml:4:22: steps[1].scenario.current.sheet: "gone.yaml": no such file or directory; name a source sheet, relative to the folder of p.yaml`,
		head + "limit: {step: two, key: current.power_W, from: 1, to: 2}\n" + step:                                  `p.yaml:3:15: limit.step: "two" is no step; name "one"`,
		head + "limit: {step: one, key: current.power_W, from: 3, to: 2}\n" + step:                                  "p.yaml:3:55: limit.to: is not above from; give the lowest value, then the highest",
		head + "uncertain: [{key: wall.layers.nope.thickness_mm, uniform: {low: 1, high: 2}}]\n" + step:             `p.yaml:3:19: uncertain[1].key: "wall.layers.nope.thickness_mm" is not a key of p.yaml; did you mean wall.layers.mucosa.thickness_mm?`,
		head + "steps: [" + strings.Repeat("{title: one, wall: {stretch: 1}}, ", 10000) + "]\n":                     "p.yaml:3:1: steps: 10000 items; at most 100",
		head + "steps: [{title: one, times: 1000, scenario: " + disc + "}, {title: two, scenario: " + disc + "}]\n": "p.yaml:3:1: steps: 1001 activations in all; at most 1000: give fewer times",
		head + "steps: [{title: one, repeat: {times: 2, pause_s: 1, place: fresh}, scenario: " + disc + "}]\n":      `p.yaml:3:60: steps[1].repeat.place: "fresh" is not known; choose same`,
	} {
		_, err := Parse("p.yaml", []byte(text), nil)
		if err == nil || !slices.Contains(strings.Split(err.Error(), "\n"), want) {
			t.Errorf("%.300s\ngot  %v\nwant %s", text, err, want)
		}
	}
}

// Values set from elsewhere are in every step, and one that a step does not take is named with it.
func TestSet(t *testing.T) {
	set, err := scenarios.ParseSet("current.power_W=2", "--set")
	if err != nil {
		t.Fatal(err)
	}
	p := parseText(t, head+"steps: [{title: one, scenario: "+disc+"}]\n", set)
	if got := p.Steps[0].Scenario.Case().Drive.PowerW; got != 2 {
		t.Errorf("%g W", got)
	}
	s, err := Plan("p", []*Procedure{p})
	if err != nil {
		t.Fatal(err)
	}
	if of, err := s.Scenario(0); err != nil || of.Case().Drive.PowerW != 2 {
		t.Errorf("the plan forgets what is set (%v)", err)
	}
	bad, _ := scenarios.ParseSet("electrode.insertion_mm=1", "--set")
	if _, err := Parse("p.yaml", []byte(head+"steps: [{title: one, scenario: "+disc+"}]\n"), []scenarios.Set{bad}); err == nil || !strings.Contains(err.Error(), "steps[1].scenario: electrode.insertion_mm: ") {
		t.Error(err)
	}
}

// A scenario file of another folder stands for a step with its own source sheet, on the wall of the procedure.
func TestFileOfAStep(t *testing.T) {
	dir := t.TempDir()
	sheet, _ := scenarios.FindExample("unit-gentler")
	for name, text := range map[string]string{
		"other/unit.yaml": string(sheet.Text),
		"other/s.yaml":    "title: S\nwall: {site: rectum}\nelectrode: {tip: ball, radius_mm: 1}\ncurrent: {sheet: unit.yaml, source: dots, on_s: 1}\n",
	} {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	p, err := Parse(filepath.Join(dir, "p.yaml"), []byte(head+"steps: [{title: one, scenario: other/s.yaml}]\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	c := p.Steps[0].Scenario.Case()
	if c.Drive.PowerW != 15 || c.WallM() < 2.9e-3 || c.Title != "one" {
		t.Errorf("%s: %g W on %g m", c.Title, c.Drive.PowerW, c.WallM())
	}
}

// The starter files can be computed as they are, and say that they are invented.
func TestExamples(t *testing.T) {
	for _, e := range scenarios.ProcedureExamples() {
		p, err := Example(e)
		if err != nil {
			t.Error(err)
			continue
		}
		if _, err := Plan(p.Title, []*Procedure{p}); err != nil || !strings.Contains(p.Title, "invented") || !strings.Contains(string(e.Text), "Invented data") {
			t.Errorf("%s: %v", e.Name, err)
		}
	}
}
