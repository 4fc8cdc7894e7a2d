package output

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/output/internal/fixture/bench"
	"muralheat/output/record"
	"muralheat/scenarios/disk"
)

// Without a folder for temporary files PDF cannot be made: the results and the other figures are
// kept, and what is missing is named and can be drawn later.
func TestNothingIsLostForAFigure(t *testing.T) {
	f, err := record.Open(filepath.Join(t.TempDir(), "run"))
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("TMPDIR", filepath.Join(t.TempDir(), "none"))
	dir, _, err := Save(t.Context(), f, bench.Run(), fixture.Synthetics["mild"].Result(), false, chart.ForDocument)
	var undrawn record.Undrawn
	if !errors.As(err, &undrawn) || !strings.Contains(err.Error(), "wall.pdf") || !strings.Contains(err.Error(), "TMPDIR") || strings.Contains(err.Error(), "\n") {
		t.Fatalf("%v", err)
	}
	listed := func() (names []string) {
		text, err := os.ReadFile(filepath.Join(dir, record.ManifestName))
		if err != nil {
			t.Fatal(err)
		}
		var m record.Manifest
		if err := json.Unmarshal(text, &m); err != nil {
			t.Fatal(err)
		}
		for _, o := range m.Outputs {
			names = append(names, o.File)
			if b, err := os.ReadFile(filepath.Join(dir, o.File)); err != nil || record.Digest(b) != o.SHA256 {
				t.Errorf("%s: digest does not fit (%v)", o.File, err)
			}
		}
		slices.Sort(names)
		return names
	}
	want := []string{"history.csv", "layers.csv", "result.npz", "scenario.yaml", "summary.csv", "timecourse.png", "timecourse.svg", "wall.png", "wall.svg"}
	if got := listed(); !slices.Equal(got, want) {
		t.Errorf("listed %v", got)
	}
	os.Unsetenv("TMPDIR")
	if names, err := Redraw(dir, chart.ForDocument); err != nil || len(names) != 6 {
		t.Fatalf("%v, %v", names, err)
	}
	want = append(want, "timecourse.pdf", "wall.pdf")
	slices.Sort(want)
	if got := listed(); !slices.Equal(got, want) {
		t.Errorf("listed once all are drawn: %v", got)
	}
}

// Where a disk is full, pictures make room for the record.
func TestPicturesMakeRoom(t *testing.T) {
	f, err := record.Open(filepath.Join(t.TempDir(), "run"))
	if err != nil {
		t.Fatal(err)
	}
	was := disk.Sync
	defer func() { disk.Sync = was }()
	disk.Sync = func(f *os.File) error {
		there, err := os.ReadDir(filepath.Dir(f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		if filepath.Base(f.Name()) == record.ManifestName && len(there) > 9 || filepath.Ext(f.Name()) == ".png" {
			return syscall.ENOSPC
		}
		return was(f)
	}
	dir, names, err := Save(t.Context(), f, bench.Run(), fixture.Synthetics["mild"].Result(), false, chart.ForDocument)
	var undrawn record.Undrawn
	if !errors.As(err, &undrawn) || !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("%v", err)
	}
	want := []string{"history.csv", "layers.csv", "manifest.json", "result.npz", "scenario.yaml", "summary.csv", "timecourse.svg", "wall.pdf", "wall.svg"}
	if got := entries(t, dir); !slices.Equal(got, want) || len(names) != len(want) {
		t.Errorf("%s holds %v, told are %v; want %v", dir, got, names, want)
	}
}
