package batch

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"muralheat/scenarios/disk"
	"muralheat/scenarios/plan"
)

// listen notes the names of files that are synced while a test runs.
func listen(t *testing.T) func() []string {
	var mu sync.Mutex
	var names []string
	was := disk.Sync
	disk.Sync = func(f *os.File) error {
		mu.Lock()
		defer mu.Unlock()
		names = append(names, filepath.Base(f.Name()))
		return was(f)
	}
	t.Cleanup(func() { disk.Sync = was })
	return func() []string {
		mu.Lock()
		defer mu.Unlock()
		return append([]string(nil), names...)
	}
}

// What a sweep has told of is on disk: the journal is synced before a case counts as done, the
// tables before they have their names, the folder once its files are in it.
func TestWhatIsKeptIsSynced(t *testing.T) {
	synced := listen(t)
	s, dir := sweepOf(t, mixed), filepath.Join(t.TempDir(), "out")
	opt, late := options(1), 0
	opt.Progress = func(c Count) {
		n := 0
		for _, name := range synced() {
			if name == journalName {
				n++
			}
		}
		if c.Done > 0 && n == 0 {
			late++
		}
	}
	mustRun(t, s, dir, opt)
	if late > 0 {
		t.Errorf("%d times cases were done that were not on disk", late)
	}
	all := strings.Join(synced(), " ") + " "
	for _, name := range []string{journalName, ".sweep.json.part", ".results.csv.part", filepath.Base(dir)} {
		if !strings.Contains(all, name+" ") {
			t.Errorf("%s was never synced: %s", name, all)
		}
	}
}

// A line that is torn at the end of the journal is cut off, so that the next one begins a line of its
// own.
func TestTornEndIsCutOff(t *testing.T) {
	s, dir := sweepOf(t, mixed), filepath.Join(t.TempDir(), "out")
	mustRun(t, s, dir, options(1))
	name := filepath.Join(dir, journalName)
	sound := read(t, dir, journalName)
	for _, torn := range []string{"torn", "0123abcd 3 ok 0 ", "\x00\x00\x00"} {
		if err := os.WriteFile(name, []byte(sound+torn), 0o666); err != nil {
			t.Fatal(err)
		}
		j, err := openJournal(name, bound(s.Digest(), "test"), Slice{}, s.Len())
		if err != nil {
			t.Fatal(err)
		}
		if err := j.close(); err != nil {
			t.Fatal(err)
		}
		if got := read(t, dir, journalName); got != sound {
			t.Errorf("%q is left at the end", strings.TrimPrefix(got, sound))
		}
	}
}

// Slices that another program computed are not put together with ours.
func TestSlicesOfAnotherProgram(t *testing.T) {
	s, root := sweepOf(t, mixed), t.TempDir()
	var parts []string
	for i := range 2 {
		opt := options(1)
		opt.Slice = Slice{i, 2}
		if i == 1 {
			opt.Program += ", another"
		}
		parts = append(parts, filepath.Join(root, "part"+opt.Slice.Suffix()))
		mustRun(t, s, parts[i], opt)
	}
	var refused Refusal
	if _, err := Merge(filepath.Join(root, "all"), parts); !errors.As(err, &refused) || !strings.Contains(err.Error(), "another program") {
		t.Errorf("%v", err)
	}
}

// Cases that differ in a numerical setting are two cases.
func TestNumericsTellCasesApart(t *testing.T) {
	for _, key := range []string{"numerics.max_step_ms", "numerics.tolerance", "numerics.finest_um", "numerics.resolve_percent", "numerics.growth_percent"} {
		value := map[string]string{"numerics.max_step_ms": "[5, 6]", "numerics.tolerance": "[0.01, 0.02]", "numerics.finest_um": "[100, 90]", "numerics.resolve_percent": "[1, 2]", "numerics.growth_percent": "[20, 30]"}[key]
		s := sweepOf(t, "title: T\nscenario: quick.yaml\nvary: [{key: "+key+", values: "+value+"}]\n")
		if a, b := caseOf(t, s, 0), caseOf(t, s, 1); a == b {
			t.Errorf("%s: one identity for two cases", key)
		}
	}
}

func caseOf(t *testing.T, s *plan.Sweep, i int) string {
	t.Helper()
	c, err := s.Base.With(s.Sets(i)...)
	if err != nil {
		t.Fatal(err)
	}
	return c.Identity()
}

// A file has its name only once it is on disk, and the names of a folder are on disk before its first case.
func TestOrderOfSyncs(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	was, folder := disk.Sync, false
	disk.Sync = func(f *os.File) error { // one worker, one writer: no lock
		switch name := filepath.Base(f.Name()); {
		case f.Name() == dir:
			folder = true
		case name == journalName && !folder:
			t.Error("a case is kept before the folder is on disk")
		case strings.HasSuffix(name, ".part"):
			final := filepath.Join(filepath.Dir(f.Name()), strings.TrimSuffix(name[1:], ".part"))
			mine, err := f.Stat()
			if err != nil {
				t.Error(err)
			}
			if there, err := os.Stat(final); err == nil && os.SameFile(mine, there) {
				t.Errorf("%s has its name before it is on disk", filepath.Base(final))
			}
		}
		return was(f)
	}
	t.Cleanup(func() { disk.Sync = was })
	mustRun(t, sweepOf(t, mixed), dir, options(1))
	if !folder {
		t.Error("the folder was never synced")
	}
}
