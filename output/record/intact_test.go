package record_test

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"

	"muralheat/output/internal/fixture/bench"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/thermal"
)

func computed(t *testing.T, example string, sets ...scenarios.Set) *thermal.Result {
	t.Helper()
	e, ok := scenarios.FindExample(example)
	if !ok {
		t.Fatal(example)
	}
	s, err := e.Scenario()
	if err != nil {
		t.Fatal(err)
	}
	if s, err = s.With(append(sets, scenarios.Set{Key: "numerics.quality", Value: scenarios.Word("draft")})...); err != nil {
		t.Fatal(err)
	}
	c := s.Case()
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The depth of a summary is that of its fields, for each kind of electrode.
func TestDepthByFields(t *testing.T) {
	for example, sets := range map[string][]scenarios.Set{
		"disc-antrum.yaml": nil, "disc-film.yaml": nil, "stalk-loop.yaml": nil, "pad-peeled.yaml": nil,
		"incision-pulses.yaml": {{Key: "motion.length_mm", Value: scenarios.Number(1)}},
	} {
		r := computed(t, example, sets...)
		if again := r.DepthByFields(); again != r.Summary.InjuryDepthM {
			t.Errorf("%s: %g m, by its fields %g m", example, r.Summary.InjuryDepthM, again)
		}
	}
}

// A needle that only drags injures no deeper than it removes: what is removed counts.
func TestDepthByFieldsOfWhatIsRemoved(t *testing.T) {
	s, err := scenarios.Parse("drag.yaml", []byte("title: Drag\nwall: {site: stomach-antrum}\nelectrode: {tip: needle, radius_mm: 0.3, insertion_mm: 1}\nmotion: {length_mm: 0.5, speed_mm_s: 2}\ncurrent: {sparks: false, power_W: 0.01}\ndomain: {radius_mm: 3, half_width_mm: 3}\nnumerics: {quality: draft}\n"))
	if err != nil {
		t.Fatal(err)
	}
	c := s.Case()
	r, err := thermal.Simulate(t.Context(), &c, thermal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if again := r.DepthByFields(); again != r.Summary.InjuryDepthM || !(again > 0.9e-3) {
		t.Errorf("%g m, by its fields %g m", r.Summary.InjuryDepthM, again)
	}
}

// A record says what is known of the source of its program: without version control that is nothing, never that it is
// unchanged; records of before, which said true or false, are read.
func TestSource(t *testing.T) {
	build := func(settings ...debug.BuildSetting) *debug.BuildInfo { return &debug.BuildInfo{Settings: settings} }
	commit := debug.BuildSetting{Key: "vcs.revision", Value: "0123456789"}
	for want, b := range map[string]*debug.BuildInfo{
		"unknown, built without version control":     build(),
		"commit 0123456789, unchanged":               build(commit, debug.BuildSetting{Key: "vcs.modified", Value: "false"}),
		"commit 0123456789 with changes":             build(commit, debug.BuildSetting{Key: "vcs.modified", Value: "true"}),
		"commit 0123456789, changed or not: unknown": build(commit),
	} {
		p := record.Describe(b, "00ff")
		if got := p.Source(); got != want || p.Binary != "00ff" {
			t.Errorf("%q, want %q", got, want)
		}
		text, err := json.Marshal(p)
		var back record.Program
		if err == nil {
			err = json.Unmarshal(text, &back)
		}
		if err != nil || back.Source() != want {
			t.Errorf("read back %q, %v", back.Source(), err)
		}
	}
	if got := record.Describe(nil, "").Modified; got != "unknown" {
		t.Errorf("of nothing: %q", got)
	}
	var old record.Program
	if err := json.Unmarshal([]byte(`{"commit": "0123456789", "modified": false}`), &old); err != nil || old.Source() != "commit 0123456789, unchanged" {
		t.Errorf("a record of before: %q, %v", old.Source(), err)
	}
}

// Whatever is edited in the folder of a run is found, and nothing where nothing is.
func TestIntact(t *testing.T) {
	good := computed(t, "disc-antrum.yaml")
	found := func(r *thermal.Result, spoil func(dir string)) (bad []string) {
		f, err := record.Open(filepath.Join(t.TempDir(), "out"))
		if err != nil {
			t.Fatal(err)
		}
		dir, _, err := f.Save(t.Context(), bench.Run(), r, false, nil)
		if err != nil {
			t.Fatal(err)
		}
		spoil(dir)
		m, err := record.ReadManifest(dir)
		if err != nil {
			t.Fatal(err)
		}
		if r, err = record.Load(dir); err != nil {
			t.Fatal(err)
		}
		for _, x := range record.Intact(dir, m, r) {
			if !x.OK {
				bad = append(bad, strings.SplitN(x.What, ",", 2)[0])
			}
		}
		return bad
	}
	edit := func(name, from, to string) func(string) {
		return func(dir string) {
			path := filepath.Join(dir, name)
			data, err := os.ReadFile(path)
			if err != nil || !bytes.Contains(data, []byte(from)) {
				t.Fatalf("%s: no %s, %v", name, from, err)
			}
			if err := os.WriteFile(path, bytes.Replace(data, []byte(from), []byte(to), 1), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	if bad := found(good, func(string) {}); bad != nil {
		t.Errorf("untouched: %v", bad)
	}
	for want, spoil := range map[string]func(string){
		"files summary.csv": edit("summary.csv", "injury_depth_mm", "injury_depth_mn"),
		"files":             edit("scenario.yaml", "bench", "Bench"),
		"summary and self-checks of manifest.json": edit("manifest.json", `"ok": true`, `"ok": false`),
	} {
		if bad := strings.Join(found(good, spoil), " "); bad != want {
			t.Errorf("found %q, want %q", bad, want)
		}
	}
	// A result whose depth was made less before it was stored: its tables and its record agree with it.
	shallow := *good
	shallow.Summary.InjuryDepthM -= 1e-4
	if bad := strings.Join(found(&shallow, func(string) {}), "; "); bad != "injury depth of the summary; injury depth plus margin" {
		t.Errorf("of a depth made less: %q", bad)
	}
	shallow.Summary.MarginToMuscleM += 1e-4
	if bad := strings.Join(found(&shallow, func(string) {}), "; "); bad != "injury depth of the summary" {
		t.Errorf("of depth and margin: %q", bad)
	}
	if math.IsNaN(record.MuscleTopMM(good.Case)) {
		t.Error("no muscle in the example")
	}
}

// A result that is not the one computed is refused where figures are drawn.
func TestUnedited(t *testing.T) {
	f, err := record.Open(filepath.Join(t.TempDir(), "out"))
	if err != nil {
		t.Fatal(err)
	}
	dir, _, err := f.Save(t.Context(), bench.Run(), computed(t, "disc-antrum.yaml"), false, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := record.Unedited(dir); err != nil {
		t.Error(err)
	}
	other, err := record.EncodeResult(computed(t, "disc-antrum.yaml", scenarios.Set{Key: "current.power_W", Value: scenarios.Number(2.5)}))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, record.RecordName), other, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := record.Unedited(dir); err == nil || !strings.Contains(err.Error(), "result.npz is not what was computed") {
		t.Error(err)
	}
}
