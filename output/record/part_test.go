package record

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// What a kill has left is removed by the next start of a run of the same name; what another run is
// at work on stays.
func TestPartsLeftByAKill(t *testing.T) {
	parent := t.TempDir()
	killed, err := Open(filepath.Join(parent, "out"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(killed.part.dir, "summary.csv"), []byte("half"), 0o666); err != nil {
		t.Fatal(err)
	}
	killed.part.lock.Unlock() // as a kill does
	other, err := Open(filepath.Join(parent, "out"))
	if err != nil {
		t.Fatal(err)
	}
	third, err := Open(filepath.Join(parent, "out"))
	if err != nil {
		t.Fatal(err)
	}
	var want, got []string
	for _, f := range []*Folder{other, third} {
		want = append(want, filepath.Base(f.part.dir), filepath.Base(f.part.dir)+lockExt)
	}
	entries, err := os.ReadDir(parent)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		got = append(got, e.Name())
	}
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("there are %q, want those of the two at work, %q", got, want)
	}
	if info, err := os.Stat(other.part.dir); err != nil || info.Mode().Perm() != 0o755 {
		t.Errorf("%v, %v", info, err)
	}
	other.Discard()
	third.Discard()
	if entries, err := os.ReadDir(parent); err != nil || len(entries) > 0 {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}
