package batch

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// A folder that is deleted while the sweep is at work ends it, early or after the last case.
func TestFolderDeleted(t *testing.T) {
	s := sweepOf(t, mixed)
	for _, at := range []int{3, 18} {
		dir := filepath.Join(t.TempDir(), "out")
		opt, done, deleted := options(1), 0, false
		opt.Progress = func(c Count) {
			if done = c.Done; done >= at && !deleted {
				deleted = true
				os.RemoveAll(dir)
			}
		}
		_, err := Run(t.Context(), s, dir, opt)
		var gone Gone
		if !errors.As(err, &gone) || at == 3 && done > 12 {
			t.Errorf("deleted after %d cases: %v, %d computed", at, err, done)
		}
		if _, err := os.Stat(dir); err == nil {
			t.Error("the folder is there again")
		}
	}
}

// What a kill has left half written is cleared by the next start; nothing else is.
func TestPartsAreCleared(t *testing.T) {
	s, dir := sweepOf(t, mixed), filepath.Join(t.TempDir(), "out")
	mustRun(t, s, dir, options(2))
	for _, name := range []string{".results.csv.part", "depth.svg.part", "notes.txt"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("half"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "my.part"), 0o777); err != nil {
		t.Fatal(err)
	}
	mustRun(t, s, dir, options(2))
	for name, stays := range map[string]bool{".results.csv.part": false, "depth.svg.part": false, "notes.txt": true, "my.part": true, journalName: true} {
		if _, err := os.Stat(filepath.Join(dir, name)); (err == nil) != stays {
			t.Errorf("%s: %v", name, err)
		}
	}
}
