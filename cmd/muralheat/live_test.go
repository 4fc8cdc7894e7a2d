package main

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"muralheat/cmd/muralheat/live"
	"muralheat/output/page"
	"muralheat/scenarios"
)

const liveText = `title: Touch
wall: {site: rectum}
electrode: {tip: disc, radius_mm: 1}
current: {sparks: false, power_W: 2, on_s: 0.3}
afterwards_s: 0.2
`

// lessonWith makes a lesson of a scenario whose sliders are some.
func lessonWith(t *testing.T, vary ...string) *lesson {
	t.Helper()
	base, err := scenarios.Parse("touch.yaml", []byte(liveText))
	if err != nil {
		t.Fatal(err)
	}
	sliders, err := askedSliders(base, vary)
	if err != nil {
		t.Fatal(err)
	}
	l := &lesson{c: newConsole([]string{"muralheat"}, io.Discard, io.Discard), base: base, sliders: sliders, quality: "draft", longest: time.Minute,
		dir: filepath.Join(t.TempDir(), "kept"), program: "test", file: filepath.Join(t.TempDir(), "page.html")}
	var choices []page.Choice
	for _, s := range sliders {
		choices = append(choices, s.Choice)
	}
	l.page = page.Grow("Touch", liveText, choices)
	if err := openKept(l.dir); err != nil {
		t.Fatal(err)
	}
	return l
}

// TestLessonRefuses: what cannot be shown is said in words, and nothing is kept of it.
func TestLessonRefuses(t *testing.T) {
	l := lessonWith(t, "numerics.geometry=axisymmetric,3-D", "numerics.finest_um=10,100", "current.power_W=1..5")
	for _, tt := range []struct {
		at   []int
		want string
	}{
		{nil, "0 levels, but there are 3 choices"},
		{[]int{0, 1}, "2 levels"},
		{[]int{0, 1, 2, 0}, "4 levels"},
		{[]int{0, 1, -1}, "no level -1 of power"},
		{[]int{0, 1, rangeSteps}, "no level 10 of power"},
		{[]int{2, 1, 0}, "no level 2 of geometry"},
		{[]int{1, 0, 0}, " cells; a page that answers at once takes at most 2000000"},
	} {
		_, err := l.Case(context.Background(), tt.at, 0, func(float64) {})
		var refusal live.Refusal
		if !errors.As(err, &refusal) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%v: %v, want %q", tt.at, err, tt.want)
		}
	}
	l.longest = time.Millisecond
	if _, err := l.Case(context.Background(), []int{0, 0, 0}, 0, func(float64) {}); err == nil || !strings.Contains(err.Error(), "too long for a lecture") {
		t.Errorf("too long: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := l.Case(ctx, []int{0, 0, 0}, 0, func(float64) {}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	entries, err := os.ReadDir(l.dir)
	if err != nil || len(entries) != 1 || entries[0].Name() != markName {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}

// TestLessonKeeps: a case is computed once by a program, whatever it is called; another program computes it anew; a
// damaged one is computed again.
func TestLessonKeeps(t *testing.T) {
	l := lessonWith(t, "current.power_W=1,2")
	kept := func() int {
		entries, err := os.ReadDir(l.dir)
		if err != nil {
			t.Fatal(err)
		}
		return len(entries) - 1
	}
	computed := false
	get := func(at ...int) page.Grown {
		t.Helper()
		computed = false
		g, err := l.Case(context.Background(), at, 0, func(float64) { computed = true })
		if err != nil {
			t.Fatal(err)
		}
		return g.(page.Grown)
	}
	first := get(0)
	if again := get(0); computed || again.Data != first.Data || len(again.Rows) != 1 || kept() != 1 {
		t.Errorf("again: computed %t, %d kept", computed, kept())
	}
	fresh := func() { l.page = page.Grow("Another title", liveText, []page.Choice{l.sliders[0].Choice}) }
	fresh()
	if again := get(0); computed || again.Rows[0].Numbers[0] != first.Rows[0].Numbers[0] {
		t.Errorf("another day: computed %t, %q, before %q", computed, again.Rows, first.Rows)
	}
	if get(1); !computed || kept() != 2 {
		t.Errorf("another case: computed %t, %d kept", computed, kept())
	}
	l.program = "another"
	fresh()
	if get(0); !computed || kept() != 3 {
		t.Errorf("another program: computed %t, %d kept", computed, kept())
	}
	results, err := filepath.Glob(filepath.Join(l.dir, "*", "result.npz"))
	if err != nil || len(results) != 3 {
		t.Fatal(results, err)
	}
	for _, r := range results {
		if err := os.Truncate(r, 100); err != nil {
			t.Fatal(err)
		}
	}
	fresh()
	if get(0); !computed || kept() != 3 {
		t.Errorf("damaged: computed %t, %d kept", computed, kept())
	}

	// In whatever order: the same page.
	save := func(order ...int) string {
		fresh()
		for _, at := range order {
			get(at)
		}
		file, err := l.Save()
		if err != nil {
			t.Fatal(err)
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	one, other := save(0, 1), save(1, 0)
	if one != other {
		t.Error("the saved page hangs on the order in which it was computed")
	}
	if strings.Contains(one, "connect-src") || !strings.Contains(one, "Settings computed: 2") {
		t.Error("a saved page is not one that needs no server")
	}
}

// TestUsualSliders: every example has sliders that start where it stands, and each of their levels goes with it.
func TestUsualSliders(t *testing.T) {
	for _, e := range scenarios.Examples() {
		base, err := e.Scenario()
		if err != nil {
			t.Fatal(err)
		}
		sliders, err := usualSliders(base)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		var names []string
		for _, s := range sliders {
			names = append(names, s.Title)
			if got, err := base.With(s.sets[s.start]...); err != nil || got.Identity() != base.Identity() {
				t.Errorf("%s: %s starts at %s, which is not where it stands: %v", e.Name, s.Title, s.Levels[s.start], err)
			}
		}
		t.Logf("%s: %s", e.Name, strings.Join(names, ", "))
		if e.Name == scenarios.BuiltIn {
			if got, want := strings.Join(names, ", "), "power, time with current, duty cycle, peak voltage at most, site"; got != want {
				t.Errorf("%s: %s, want %s", e.Name, got, want)
			}
		}
	}
}

// TestSlidersOfPlans: a plan gives its levels in ascending order with their units, its named cases by their titles.
func TestSlidersOfPlans(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "touch.yaml"), []byte(liveText), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ plan, want string }{
		{"vary:\n  - {key: current.power_W, title: watts, values: [3, 1, 2]}\n  - {key: wall.site, values: [right-colon, rectum]}", "watts: 1 W, [2 W], 3 W; site: right-colon, [rectum]"},
		{"vary: [{key: current.on_s, from: 0.1, to: 1, steps: 4}]", "time with current: 0.1 s, [0.4 s], 0.7 s, 1 s"},
		{"design: halton\npoints: 5\nvary: [{key: current.power_W, from: 0, to: 20}]", "power: 0 W, [2 W], 4 W, 6 W, 8 W, 10 W, 12 W, 14 W, 16 W, 18 W, 20 W"},
		{"cases: [{name: a, title: As it is}, {name: b, set: {current.power_W: 4}}]", "case: [As it is], b"},
	} {
		path := filepath.Join(dir, "plan.yaml")
		if err := os.WriteFile(path, []byte("title: T\nscenario: touch.yaml\n"+tt.plan+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		l := &lesson{}
		if _, _, err := l.open(path, nil); err != nil {
			t.Errorf("%s: %v", tt.plan, err)
			continue
		}
		var said []string
		for _, s := range l.sliders {
			levels := append([]string{}, s.Levels...)
			levels[s.start] = "[" + levels[s.start] + "]"
			said = append(said, s.Title+": "+strings.Join(levels, ", "))
		}
		if got := strings.Join(said, "; "); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.plan, got, tt.want)
		}
	}
}
