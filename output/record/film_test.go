package record

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"muralheat/scenarios"
	"muralheat/thermal"
)

// filmed computes a short run and keeps moments of it.
func filmed(t *testing.T) *thermal.Result {
	t.Helper()
	s, err := scenarios.Parse("short.yaml", []byte(`title: A short touch
wall: {site: right-colon}
electrode: {tip: ball, radius_mm: 1}
current: {limits: {peak_voltage_V: 200}, power_W: 3, on_s: 0.3}
afterwards_s: 0.2
numerics: {quality: draft}
`))
	if err != nil {
		t.Fatal(err)
	}
	c := s.Case()
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{Moments: 7})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A film reads back as it was kept, and written again its bytes are the same.
func TestFilmReadsBackTheSame(t *testing.T) {
	r := filmed(t)
	b, err := EncodeFilm(r)
	if err != nil {
		t.Fatal(err)
	}
	dir, again := t.TempDir(), *r
	again.Moments = nil
	if err := LoadFilm(dir, &again); err != nil || again.Moments != nil {
		t.Errorf("no film: %d moments (%v)", len(again.Moments), err)
	}
	if err := os.WriteFile(filepath.Join(dir, FilmName), b, 0o666); err != nil {
		t.Fatal(err)
	}
	if err := LoadFilm(dir, &again); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(r.Moments, again.Moments); d != "" || len(r.Moments) != 7 {
		t.Errorf("of 7 moments %d; (-kept +read):\n%.2000s", len(r.Moments), d)
	}
	if c, err := EncodeFilm(&again); err != nil || !bytes.Equal(b, c) {
		t.Errorf("written again, the bytes differ (%v)", err)
	}
	whole, err := EncodeFilm(filmed(t))
	if err != nil || !bytes.Equal(b, whole) {
		t.Errorf("computed again, the bytes differ (%v)", err)
	}
}

// A film of another run, or one that was changed, is refused in one line that names the file.
func TestFilmOfAnotherRun(t *testing.T) {
	for what, tt := range map[string]struct {
		change func(*thermal.Result)
		want   string
	}{
		"other times":    {func(r *thermal.Result) { r.History[r.Moments[3].Row].TimeS += 0.01 }, "of another run"},
		"fewer rows":     {func(r *thermal.Result) { r.History = r.History[:5] }, "of another run"},
		"another mesh":   {func(r *thermal.Result) { r.Mesh.NX-- }, "not on the mesh"},
		"moments turned": {nil, "of another run"},
		"not an archive": {nil, "zip"},
	} {
		r := filmed(t)
		if what == "moments turned" {
			r.Moments[2], r.Moments[3] = r.Moments[3], r.Moments[2]
		}
		b, err := EncodeFilm(r)
		if err != nil {
			t.Fatal(err)
		}
		if what == "not an archive" {
			b = b[:100]
		}
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, FilmName), b, 0o666); err != nil {
			t.Fatal(err)
		}
		if tt.change != nil {
			tt.change(r)
		}
		err = LoadFilm(dir, r)
		if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), FilmName) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// A run that keeps moments has its film among its files; one that does not has none.
func TestFilmIsInTheFolder(t *testing.T) {
	r := filmed(t)
	for _, want := range []bool{true, false} {
		if !want {
			r.Moments = nil
		}
		f, err := Open(filepath.Join(t.TempDir(), "run"))
		if err != nil {
			t.Fatal(err)
		}
		dir, _, err := f.Save(t.Context(), testRun(), r, false, nil)
		if err != nil {
			t.Fatal(err)
		}
		_, err = os.Stat(filepath.Join(dir, FilmName))
		text, _ := os.ReadFile(filepath.Join(dir, ManifestName))
		if is := err == nil; is != want || strings.Contains(string(text), FilmName) != want {
			t.Errorf("a film in the folder: %v, want %v", is, want)
		}
	}
}
