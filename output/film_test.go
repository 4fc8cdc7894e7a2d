package output

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/output/internal/fixture/bench"
	"muralheat/output/record"
)

// filmFolder saves a run that keeps a dozen moments.
func filmFolder(t *testing.T, name string) string {
	t.Helper()
	f, err := record.Open(filepath.Join(t.TempDir(), "run"))
	if err != nil {
		t.Fatal(err)
	}
	dir, _, err := Save(t.Context(), f, bench.Run(), fixture.Computed(t, name), false, chart.ForDocument)
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// The film of a run has the same bytes each time, drawn with it or from its folder, and stays small.
func TestFilmIsDrawnAgain(t *testing.T) {
	dir := filmFolder(t, "ball-touch")
	read := func(dir, name string) []byte {
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	film, moments, manifest := read(dir, "film.gif"), read(dir, record.FilmName), read(dir, record.ManifestName)
	if again := filmFolder(t, "ball-touch"); !bytes.Equal(film, read(again, "film.gif")) || !bytes.Equal(moments, read(again, record.FilmName)) {
		t.Error("saved again, its bytes differ")
	}
	if err := os.Remove(filepath.Join(dir, "film.gif")); err != nil {
		t.Fatal(err)
	}
	names, err := Redraw(dir, chart.ForDocument)
	if err != nil || !slices.Contains(names, "film.gif") {
		t.Fatalf("%v (%v)", names, err)
	}
	if !bytes.Equal(film, read(dir, "film.gif")) || !bytes.Equal(manifest, read(dir, record.ManifestName)) {
		t.Error("drawn from its folder, its bytes differ")
	}
	if kB := len(film) / 1000 * 60 / 12; kB > 3000 {
		t.Errorf("a film of 60 moments would take %d kB", kB)
	}
}

// What was changed in a stored film is said in a line that names it, and nothing is drawn.
func TestChangedFilm(t *testing.T) {
	dir := filmFolder(t, "ball-touch")
	name := filepath.Join(dir, record.FilmName)
	sound, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for what, change := range map[string]func(map[string][]byte){
		"no water":  func(m map[string][]byte) { delete(m, "water.npy") },
		"cut short": func(m map[string][]byte) { m["ln_omega.npy"] = m["ln_omega.npy"][:500] },
		"no rows":   func(m map[string][]byte) { delete(m, "row.npy") },
		"of text":   func(m map[string][]byte) { m["time_s.npy"] = []byte("twelve") },
	} {
		members := unpacked(t, sound)
		change(members)
		if err := os.WriteFile(name, packed(t, members), 0o666); err != nil {
			t.Fatal(err)
		}
		if _, err := Redraw(dir, chart.ForDocument); err == nil || !strings.Contains(err.Error(), record.FilmName) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// An interrupt while a film is drawn keeps nothing.
func TestFilmIsInterrupted(t *testing.T) {
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	parent := t.TempDir()
	f, err := record.Open(filepath.Join(parent, "run"))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := Save(ended, f, bench.Run(), fixture.Computed(t, "ball-touch"), false, chart.ForDocument); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	if left := entries(t, parent); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A film of a run that went wrong is drawn as far as it came.
func TestFilmOfAFailure(t *testing.T) {
	r := *fixture.Computed(t, "ball-touch")
	r.Moments = slices.Clone(r.Moments[:1])
	r.History = r.History[:r.Moments[0].Row+1]
	if p, err := filmed(t.Context(), &r); err != nil || len(p) != 1 {
		t.Errorf("of one moment: %v", err)
	}
	broken := r.Moments[0]
	broken.TemperatureC = slices.Clone(broken.TemperatureC)
	nan := float32(0)
	nan /= nan
	for i := range broken.TemperatureC {
		broken.TemperatureC[i] = nan
	}
	r.Moments[0] = broken
	if p, err := filmed(t.Context(), &r); err != nil || len(p) != 1 {
		t.Errorf("of no temperature: %v", err)
	}
}
