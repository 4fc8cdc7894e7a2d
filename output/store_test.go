package output

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/output/internal/fixture/bench"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

func entries(t *testing.T, dir string) []string {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range list {
		names = append(names, e.Name())
	}
	return names
}

func saved(t *testing.T, dir string, run *record.Run, s fixture.Synthetic) string {
	t.Helper()
	f, err := record.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	path, _, err := Save(t.Context(), f, run, s.Result(), true, chart.ForDocument)
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func TestFolderIsWholeAndNeverOverwritten(t *testing.T) {
	base := t.TempDir()
	dir := filepath.Join(base, "deep", "bench")
	first := saved(t, dir, bench.Run(), fixture.Synthetics["mild"])
	want := []string{"fields.vtr", "history.csv", "layers.csv", "manifest.json", "result.npz", "scenario.yaml", "summary.csv",
		"timecourse.pdf", "timecourse.png", "timecourse.svg", "wall.pdf", "wall.png", "wall.svg"}
	if got := entries(t, first); !slices.Equal(got, want) || first != dir {
		t.Errorf("%s holds %v", first, got)
	}
	later := bench.Run()
	later.Start, later.End = later.Start.Add(time.Hour), later.End.Add(time.Hour)
	second := saved(t, dir, later, fixture.Synthetics["mild"])
	if second != dir+"-2" {
		t.Errorf("second run in %s", second)
	}
	for _, name := range want {
		a, _ := os.ReadFile(filepath.Join(first, name))
		b, _ := os.ReadFile(filepath.Join(second, name))
		if bytes.Equal(a, b) != (name != record.ManifestName) {
			t.Errorf("%s: equal is %v", name, bytes.Equal(a, b))
		}
	}
	if got := entries(t, filepath.Dir(dir)); !slices.Equal(got, []string{"bench", "bench-2"}) {
		t.Errorf("left behind: %v", got)
	}
}

func TestFolderRefusals(t *testing.T) {
	base := t.TempDir()
	plain := filepath.Join(base, "file")
	if err := os.WriteFile(plain, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := record.Open(filepath.Join(plain, "run")); err == nil || !strings.HasPrefix(err.Error(), "output: ") {
		t.Errorf("a folder inside a file: %v", err)
	}
	foreign := filepath.Join(base, "photos")
	if err := os.Mkdir(foreign, 0o777); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{".", "..", "/", "x/.."} {
		if _, err := record.Open(dir); err == nil || !strings.Contains(err.Error(), "name a new one") {
			t.Errorf("output folder %s: %v", dir, err)
		}
	}
	f, err := record.Open(filepath.Join(base, "run"))
	if err != nil {
		t.Fatal(err)
	}
	f.Discard()
	if got := entries(t, base); !slices.Equal(got, []string{"file", "photos"}) {
		t.Errorf("after Discard: %v", got)
	}
	if _, err := record.Load(foreign); err == nil {
		t.Error("a folder without a record was loaded")
	}
}

func TestNothingIsKeptOnceInterrupted(t *testing.T) {
	base := t.TempDir()
	f, err := record.Open(filepath.Join(base, "run"))
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, err := Save(ctx, f, bench.Run(), fixture.Synthetics["mild"].Result(), false, chart.ForDocument); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	if got := entries(t, base); len(got) > 0 {
		t.Errorf("left behind: %v", got)
	}
}

func TestRedrawChangesNothing(t *testing.T) {
	dir := saved(t, filepath.Join(t.TempDir(), "run"), bench.Run(), fixture.Synthetics["slot"])
	before := map[string][]byte{}
	for _, name := range entries(t, dir) {
		before[name], _ = os.ReadFile(filepath.Join(dir, name))
	}
	if err := os.Remove(filepath.Join(dir, "wall.svg")); err != nil {
		t.Fatal(err)
	}
	names, err := Redraw(dir, chart.ForDocument)
	if err != nil || len(names) != 6 {
		t.Fatalf("%v, %v", names, err)
	}
	if got := entries(t, dir); len(got) != len(before) {
		t.Errorf("left behind: %v", got)
	}
	for name, b := range before {
		if after, _ := os.ReadFile(filepath.Join(dir, name)); !bytes.Equal(after, b) {
			t.Errorf("%s changed", name)
		}
	}
}

func TestManifestTellsTheTruth(t *testing.T) {
	s := fixture.Synthetics["hot"]
	r := s.Result()
	r.Summary.MarginToMuscleM, r.Summary.ResistanceEndOhm = math.NaN(), math.Inf(1)
	r.Balance.EnergyResidual = 1e-3
	f, err := record.Open(filepath.Join(t.TempDir(), "run"))
	if err != nil {
		t.Fatal(err)
	}
	dir, _, err := Save(t.Context(), f, bench.Run(), r, false, chart.ForDocument)
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(dir, record.ManifestName))
	if err != nil {
		t.Fatal(err)
	}
	var m struct {
		Caution  string
		Scenario struct{ SHA256, Text, Resolved string }
		Checks   []struct {
			Name string
			OK   bool
		} `json:"self_checks"`
		Summary []struct {
			Name  string
			Value any
		}
		Settings []record.Setting
		Notes    []string
		Outputs  []record.Written
	}
	if err := json.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	for _, o := range m.Outputs {
		b, err := os.ReadFile(filepath.Join(dir, o.File))
		if err != nil || record.Digest(b) != o.SHA256 {
			t.Errorf("%s: digest does not fit (%v)", o.File, err)
		}
	}
	if len(m.Outputs) != len(entries(t, dir))-1 {
		t.Errorf("%d outputs listed of %d", len(m.Outputs), len(entries(t, dir))-1)
	}
	// SHA-256 of "title: bench\n", by sha256sum of coreutils.
	if got := m.Scenario.SHA256; got != "f0cad7459bb3a99a881f2686c9d395d5bd3232c1e1f2e1c74151f9ab5a0be8be" {
		t.Errorf("scenario digest %s", got)
	}
	if m.Caution != phrase.Caution || m.Checks[0].OK || !m.Checks[1].OK || m.Settings[1].Source != "assumption: invented" {
		t.Errorf("%+v", m)
	}
	for _, q := range m.Summary {
		if (q.Name == "margin_to_muscle_mm" || q.Name == "resistance_end_ohm") && q.Value != nil {
			t.Errorf("%s: %v, want null", q.Name, q.Value)
		}
	}
}
