package record_test

import (
	"bytes"
	"context"
	"math"
	"os"
	"path/filepath"
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
	s, err := scenarios.Parse(e.Name, e.Text)
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
