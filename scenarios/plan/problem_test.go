package plan

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

func TestPlanProblems(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"vary: [{key: curent.power_W, values: [1]}]\n",
			`p.yaml:3:14: vary[1].key: "curent.power_W" is not a key of s.yaml; did you mean current.power_W?`},
		{"vary: [{key: wall.layers.mucossa.thickness_mm, values: [1]}]\n",
			`p.yaml:3:14: vary[1].key: "wall.layers.mucossa.thickness_mm" is not a key of s.yaml; did you mean wall.layers.mucosa.thickness_mm?`},
		{"vary: [{key: power_W, values: [1]}]\n",
			`p.yaml:3:14: vary[1].key: "power_W" is not a key of s.yaml; did you mean current.power_W?`},
		{"vary: [{key: power, values: [1]}]\n",
			`p.yaml:3:14: vary[1].key: "power" is not a key of s.yaml; did you mean current.power_W?`},
		{"vary: power_W\n",
			`p.yaml:3:7: vary: the text "power_W" where a list is needed; write [{key: current.power_W, values: [...]}]`},
		{"vary: [power_W, on_s]\n",
			"p.yaml:3:8: vary[1]: the text \"power_W\" where keys are needed; write [{key: current.power_W, values: [...]}]\n" +
				"p.yaml:3:17: vary[2]: the text \"on_s\" where keys are needed; write [{key: current.on_s, values: [...]}]"},
		{"vary: [{key: wall.layers.muscle.thickness_mm, values: [1]}]\n",
			`p.yaml:3:14: vary[1].key: "wall.layers.muscle.thickness_mm" is not a key of s.yaml; did you mean wall.layers.muscularis.thickness_mm?`},
		{"vary: [{key: wall.layers.muscle, values: [1]}]\n",
			`p.yaml:3:14: vary[1].key: "wall.layers.muscle" is not a key of s.yaml; did you mean wall.layers.muscularis.thickness_mm?`},
		{"vary: [{key: damage.also, values: [cell-death]}]\n",
			`p.yaml:3:14: vary[1].key: "damage.also" holds a list; write it in the scenario`},
		{"vary: [{key: current, values: [1]}]\n",
			`p.yaml:3:14: vary[1].key: "current" holds keys of its own; name one of them, as in current.sheet`},
		{"cases: [{name: a, set: {current: {power_W: 1}}}]\n",
			`p.yaml:3:25: cases.a.set.current: keys within keys; write the whole path: current.power_W: 1`},
		{"cases: [{name: a, set: {current: {pulses: {length_ms: 5}, power_W: 1}}}]\n",
			`p.yaml:3:25: cases.a.set.current: keys within keys; write the whole path: current.pulses.length_ms: 5`},
		{"vary: [{key: wall.cushion.thickness_mm, from: 0, to: 3, steps: 4}]\n",
			`p.yaml:3:47: vary[1].from: 0 is out of range; give a number from 0.1 to 20 mm; for none use a scenario without wall.cushion`},
		{"vary: [{key: current.limits.peak_voltage_V, from: 0, to: 400, steps: 3}]\n",
			`p.yaml:3:51: vary[1].from: 0 means no limit; give a range above 0; in a list of values 0 may stand beside others`},
		{"limit: {key: current.limits.current_A, from: 0, to: 2, above: 1}\n",
			`p.yaml:3:46: limit.from: 0 means no limit; give a range above 0; in a list of values 0 may stand beside others`},
		{"# nothing\n",
			`p.yaml:1:1: nothing varies; give vary, cases, uncertain or limit, or compute the scenario alone: muralheat run s.yaml`},
		{"vary: [{key: title, values: [a]}]\n",
			"p.yaml:3:14: vary[1].key: \"title\" is not a key of s.yaml; `muralheat check --all` lists the keys of a scenario"},
		{"varry: [{key: current.power_W, values: [1]}]\n",
			`p.yaml:3:1: varry: unknown key; did you mean vary?`},
		{"vary: [{key: current.power_W, values: [1, 1000]}]\n",
			`p.yaml:3:43: vary[1].values[2]: 1000 is out of range; give a number from 0 to 500 W`},
		{"vary: [{key: current.power_W, values: [1, a]}]\n",
			`p.yaml:3:43: vary[1].values[2]: the text "a" where a number is needed; give a number from 0 to 500 W`},
		{"vary: [{key: current.power_W, values: [1, 1.0]}]\n",
			`p.yaml:3:43: vary[1].values[2]: 1 is already in the list; give each value once`},
		{"vary: [{key: wall.site, values: [rectumm]}]\n", `p.yaml:3:34: vary[1].values[1]: `},
		{"vary: [{key: current.power_W, from: 1, to: 900, steps: 3}]\n",
			`p.yaml:3:44: vary[1].to: 900 is out of range; give a number from 0 to 500 W`},
		{"vary: [{key: current.power_W, from: 1, to: 9}]\n",
			`p.yaml:3:8: vary[1]: a range without steps; give steps, the number of values`},
		{"vary: [{key: current.power_W, from: 0, to: 9, steps: 3, spacing: log}]\n",
			`p.yaml:3:66: vary[1].spacing: log needs both ends above 0; write linear, or move the ends`},
		{"vary: []\n", `p.yaml:3:1: vary: an empty list; give at least one item`},
		{"cases: [{name: a}, {name: a}]\n",
			`p.yaml:3:27: cases[1].name: "a" is the name of an item above; give each item its own name`},
		{"cases: [{title: First}, {name: b}]\n", `p.yaml:3:9: cases[0].name: missing; this key is needed`},
		{"cases: []\n", `p.yaml:3:1: cases: an empty list; give at least one item`},
		{"design: paired\nvary: [{key: current.power_W, values: [1, 2]}, {key: current.on_s, values: [1]}]\n",
			`p.yaml:4:48: vary[2]: 1 values, but the first key has 2; a paired design needs the same number of each`},
		{"design: halton\nvary: [{key: current.power_W, from: 1, to: 2}]\n",
			`p.yaml:3:9: design: halton without points; give points, their number`},
		{"vary: [{key: current.power_W, values: [1]}, {key: current.power_W, values: [2]}]\n",
			`p.yaml:3:51: vary[2].key: "current.power_W" is already in the plan; name each key once`},
		{"draws: 3\n", `p.yaml:3:8: draws: nothing is uncertain; give uncertain, or leave it out`},
		{"uncertain: [{key: wall.site, uniform: {low: 1, high: 2}}]\ndraws: 2\n",
			`p.yaml:3:19: uncertain[1].key: "wall.site" is not a number; only numbers can be drawn`},
		{"uncertain: [{key: current.on_s, normal: {mean: 1, sd: 1}, within: {low: 80, high: 90}}]\ndraws: 2\n",
			`p.yaml:3:59: uncertain[1].within: the whole distribution is cut off; move the ends`},
		{"cases: [{name: a, set: {curent.power_W: 1}}]\n",
			`p.yaml:3:25: cases.a.set.curent.power_W.key: "curent.power_W" is not a key of s.yaml; did you mean current.power_W?`},
		{"cases: [{name: a, set: {\"curent\\npower\\e[31m_W\": 1}}]\n",
			`p.yaml:3:25: cases.a.set.curent\npower\x1b[31m_W.key: "curent\npower\x1b[31m_W" is not a key of s.yaml; ` + "`muralheat check --all` lists the keys of a scenario"},
		{"limit: {key: current.power_W, from: -5, to: 9, above: 1}\n",
			`p.yaml:3:37: limit.from: -5 is out of range; give a number from 0 to 500 W`},
		{"limit: {key: current.power_W, from: 5, to: 900, above: 1}\n",
			`p.yaml:3:44: limit.to: 900 is out of range; give a number from 0 to 500 W`},
		{"cases: [{name: a, set: {current.power_W: 1, current.peak_voltage_V: 100}}]\n",
			`p.yaml:3:9: cases.a: with this current.peak_voltage_V: is given together with power_W; give only one of power_W, burst_power_W, peak_voltage_V and current_A`},
		{"design: one-at-a-time\nvary: [{key: current.on_s, values: [1]}, {key: numerics.finest_um, values: [50, 900]}]\n",
			`p.yaml:4:42: vary[2]: with this numerics.finest_um: 900 um leaves fewer than two cells per contact radius; at most 500, half the contact radius`},
		{"vary: [{key: numerics.finest_um, values: [50, 900]}]\n",
			`p.yaml:3:47: vary[1].values[2]: with this numerics.finest_um: 900 um leaves fewer than two cells per contact radius; at most 500, half the contact radius`},
		{"vary: [{key: current.power_W, from: 1, to: 2, steps: 10000}, {key: current.on_s, from: 1, to: 2, steps: 10000}]\n",
			`p.yaml:3:1: vary: 100000000 cases; at most 10000000: give fewer values or draws, or a design that fills the range`},
	} {
		_, err := planned(tt.text)
		if err == nil {
			t.Errorf("no problem found in\n%s", tt.text)
			continue
		}
		if got := err.Error(); got != tt.want && !(strings.HasSuffix(tt.want, ": ") && strings.HasPrefix(got, tt.want)) {
			t.Errorf("%s got  %s\nwant %s", tt.text, got, tt.want)
		}
	}
}

func TestPlanFiles(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	scenario := write("s.yaml", sound)
	plan := write("p.yaml", "title: Plan\nscenario: s.yaml\nvary: [{key: current.power_W, values: [3]}]\n")
	for path, want := range map[string]bool{plan: true, scenario: false} {
		data, err := scenarios.Read(path, "plan")
		if err != nil || keys.IsPlanText(path, data) != want {
			t.Errorf("%s: %v, taken for a plan: %t", path, err, !want)
		}
	}
	if s, err := Load(plan); err != nil || s.Len() != 1 {
		t.Errorf("%v", err)
	}
	lost := write("lost.yaml", "title: Plan\nscenario: none.yaml\n")
	if _, err := Load(lost); err == nil || err.Error() != filepath.Join(dir, "none.yaml")+": no such file or directory; name a scenario file that can be read" {
		t.Errorf("%v", err)
	}
}
