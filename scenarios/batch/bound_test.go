package batch

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A journal is bound to its plan, scenario and program: put into the folder of another sweep it is
// refused on resume and on merging, though the table is gone.
func TestJournalOfAnotherSweep(t *testing.T) {
	s, root := sweepOf(t, mixed), t.TempDir()
	other := sweepOf(t, strings.Replace(mixed, "seed: 5", "seed: 6", 1))
	sound := filepath.Join(root, "sound")
	mustRun(t, s, sound, options(2))
	later := options(2)
	later.Program = "test 2"
	for name, compute := range map[string]func(dir string){
		"another plan":    func(dir string) { mustRun(t, other, dir, options(2)) },
		"another program": func(dir string) { mustRun(t, s, dir, later) },
	} {
		theirs, dir := filepath.Join(root, name), filepath.Join(root, name+" in ours")
		compute(theirs)
		if err := errors.Join(os.CopyFS(dir, os.DirFS(sound)), os.Remove(filepath.Join(dir, tableName)),
			os.WriteFile(filepath.Join(dir, journalName), []byte(read(t, theirs, journalName)), 0o666)); err != nil {
			t.Fatal(err)
		}
		var refused Refusal
		if _, err := Run(t.Context(), s, dir, options(1)); !errors.As(err, &refused) || !strings.Contains(err.Error(), "19 lines of its journal are of another plan, scenario or program") &&
			!strings.Contains(err.Error(), "20 lines of its journal are of another plan, scenario or program") {
			t.Errorf("%s: %v", name, err)
		}
		if read(t, dir, journalName) != read(t, theirs, journalName) {
			t.Errorf("%s: the journal was changed", name)
		}
	}

	var parts []string
	for i := range 2 {
		sliced := options(2)
		sliced.Slice = Slice{i, 2}
		ours, theirs := filepath.Join(root, "ours"+sliced.Slice.Suffix()), filepath.Join(root, "theirs"+sliced.Slice.Suffix())
		mustRun(t, s, ours, sliced)
		mustRun(t, other, theirs, sliced)
		if i == 1 {
			if err := os.WriteFile(filepath.Join(ours, journalName), []byte(read(t, theirs, journalName)), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		parts = append(parts, ours)
	}
	var refused Refusal
	if _, err := Merge(filepath.Join(root, "merged"), parts); !errors.As(err, &refused) || !strings.Contains(err.Error(), parts[1]) || !strings.Contains(err.Error(), "of another plan, scenario or program") {
		t.Errorf("merging: %v", err)
	}
}

// Damaged lines are counted and reported, on resume, on merging and when a folder is inspected.
func TestDamagedLinesAreCounted(t *testing.T) {
	s, root := sweepOf(t, mixed), t.TempDir()
	dir := filepath.Join(root, "out")
	mustRun(t, s, dir, options(1))
	spoil := func(dir string, lines ...int) {
		all := strings.SplitAfter(read(t, dir, journalName), "\n")
		for _, n := range lines {
			all[n] = strings.Replace(all[n], `"in"`, `"IN"`, 1)
		}
		if err := os.WriteFile(filepath.Join(dir, journalName), []byte(strings.Join(all, "")), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	spoil(dir, 5, 9)
	if got, err := Inspect(dir, s); err != nil || got.Damaged != 2 || got.Missing != 2 || got.Foreign != 0 || got.SHA256 != "" {
		t.Errorf("%+v, %v", got, err)
	}
	if c := mustRun(t, s, dir, options(2)); c != (Count{Of: 18, Done: 18, Damaged: 2}) {
		t.Errorf("%+v", c)
	}
	r, err := readRecord(dir)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := Inspect(dir, s); err != nil || got.Damaged != 2 || got.Missing != 0 || got.SHA256 != r.SHA256 || r.SHA256 == "" {
		t.Errorf("%+v, %v; table %s", got, err, r.SHA256)
	}
	if got, err := Inspect(dir, sweepOf(t, strings.Replace(mixed, "seed: 5", "seed: 6", 1))); err != nil || got.SHA256 != "" || got.Foreign != 0 {
		t.Errorf("a plan that is not that of the record: %+v, %v", got, err)
	}
	if err := os.Remove(filepath.Join(dir, journalName)); err != nil {
		t.Fatal(err)
	}
	if _, err := Inspect(dir, s); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no journal: %v", err)
	}
	if _, err := os.Stat(filepath.Join(dir, journalName)); err == nil {
		t.Error("inspecting made a journal")
	}

	var parts []string
	for i := range 2 {
		opt := options(1)
		opt.Slice = Slice{i, 2}
		part := filepath.Join(root, "part"+opt.Slice.Suffix())
		mustRun(t, s, part, opt)
		spoil(part, 3)
		mustRun(t, s, part, opt)
		parts = append(parts, part)
	}
	if c, err := Merge(filepath.Join(root, "merged"), parts); err != nil || c.Damaged != 2 {
		t.Errorf("merging: %+v, %v", c, err)
	}
}
