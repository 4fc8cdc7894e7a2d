package batch

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

// TestFailures: a case that fails is a row, whatever way it fails.
func TestFailures(t *testing.T) {
	const failing = `title: Failures
scenario: quick.yaml
cases:
  - {name: fine}
  - {name: again, set: {current.power_W: 1}}
  - {name: doubtful, set: {current.power_W: 1.5}}
  - {name: bug, set: {current.power_W: 2}}
  - {name: absurd, set: {current.power_W: 500, current.on_s: 60, physics.boiling: false, physics.carbonisation: false, wall.layers.mucosa.material.density_kg_m3: 100, wall.layers.mucosa.material.heat_capacity_J_kgK: 100, wall.layers.mucosa.material.k_W_mK: 0.01, current.limits.peak_voltage_V: 0}}
`
	s, dir := sweepOf(t, failing), filepath.Join(t.TempDir(), "out")
	opt := options(2)
	opt.Tell = func(r *thermal.Result) ([]Column, []string, string) {
		cols, cells, doubt := tell(r)
		switch r.Case.Drive.PowerW {
		case 1.5:
			doubt = "=energy"
		case 2:
			panic("index out of range")
		}
		return cols, cells, doubt
	}
	c := mustRun(t, s, dir, opt)
	if c != (Count{Of: 5, Done: 5, Failed: 2, Doubtful: 1, Same: 1}) {
		t.Errorf("%+v", c)
	}
	lines := strings.Split(read(t, dir, tableName), "\r\n")
	for k, want := range []string{",ok,,", ",ok,,", ",doubtful,'=energy,", ",failed,a bug: index out of range,,", ",failed,"} {
		if !strings.Contains(lines[k+1], want) {
			t.Errorf("row %d: %s", k, lines[k+1])
		}
	}
	if strings.TrimPrefix(lines[1], "0,fine,0") != strings.TrimPrefix(lines[2], "1,again,1") {
		t.Errorf("the same case twice:\n%s\n%s", lines[1], lines[2])
	}
	if !strings.HasSuffix(lines[5], ",") || !strings.Contains(lines[5], " s in cell ") {
		t.Errorf("row of a failure: %s", lines[5])
	}
}

// TestTooLarge: what does not fit into memory here is no row, for it may fit elsewhere.
func TestTooLarge(t *testing.T) {
	s, dir := sweepOf(t, "title: One\nscenario: quick.yaml\nvary: [{key: numerics.finest_um, values: [200, 20]}]\n"), filepath.Join(t.TempDir(), "out")
	opt := options(1)
	of, _ := s.Scenario(0)
	small := of.Case()
	opt.MaxBytes = 1.01 * small.Grid().Bytes()
	c, err := Run(t.Context(), s, dir, opt)
	if err == nil || !strings.HasPrefix(err.Error(), "case 1 needs ") || c.Done != 1 {
		t.Errorf("%+v, %v", c, err)
	}
	if c := mustRun(t, s, dir, options(1)); c.Done != 2 {
		t.Errorf("%+v", c)
	}
}

// TestFullDisk: /dev/full stands for a disk on which nothing can be written any more.
func TestFullDisk(t *testing.T) {
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Skip("no /dev/full")
	}
	s, root := sweepOf(t, mixed), t.TempDir()
	whole, dir := filepath.Join(root, "whole"), filepath.Join(root, "out")
	mustRun(t, s, whole, options(2))
	f, err := open(s, dir, options(2))
	if err != nil {
		t.Fatal(err)
	}
	full, err := os.OpenFile("/dev/full", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	sound := f.journal.file
	n := 0
	opt := options(1)
	opt.Progress = func(Count) {
		if n++; n == 2 {
			f.journal.file = full
		}
	}
	c, err := f.compute(t.Context(), opt)
	if err == nil || !strings.Contains(err.Error(), "no space left on device") || c.Complete() || c.Done == 0 {
		t.Errorf("%+v, %v", c, err)
	}
	sound.Close()
	f.close()
	mustRun(t, s, dir, options(2))
	sameBytes(t, whole, dir)
}

func TestRefusals(t *testing.T) {
	s, root := sweepOf(t, mixed), t.TempDir()
	dir := filepath.Join(root, "out")
	mustRun(t, s, dir, options(2))
	sliced, other := options(1), options(1)
	sliced.Slice, other.Program = Slice{0, 2}, "test 2"
	file, full := filepath.Join(root, "file"), filepath.Join(root, "full")
	os.WriteFile(file, nil, 0o666)
	os.Mkdir(full, 0o777)
	os.WriteFile(filepath.Join(full, "thesis"), nil, 0o666)
	// A journal that never ends, or is none.
	endless, hollow := filepath.Join(root, "endless"), filepath.Join(root, "hollow")
	for name, put := range map[string]func(journal string) error{
		endless: func(journal string) error { return os.Symlink("/dev/zero", journal) },
		hollow:  func(journal string) error { return os.Mkdir(journal, 0o777) },
	} {
		journal := filepath.Join(name, journalName)
		if err := errors.Join(os.CopyFS(name, os.DirFS(dir)), os.Remove(journal), put(journal)); err != nil {
			t.Fatal(err)
		}
	}
	changed := sweepOf(t, strings.Replace(mixed, "[1, 2, 3]", "[1, 2, 4]", 1))
	for name, tt := range map[string]struct {
		sweep *plan.Sweep
		dir   string
		opt   Options
		want  string
	}{
		"another plan":    {changed, dir, options(1), "holds results of another plan or scenario; give another folder with -o, or --fresh"},
		"another program": {s, dir, other, "holds results of another program (test, this is test 2); "},
		"another slice":   {s, dir, sliced, "holds results of another slice (the whole, not 0/2); "},
		"something else":  {s, full, options(1), "holds files that are not those of a sweep"},
		"a file":          {s, file, options(1), "not a directory; give another folder"},
		"endless journal": {s, endless, options(1), "journal is not a file; give another folder"},
		"hollow journal":  {s, hollow, options(1), "journal: is a directory; give another folder"},
		"below a file":    {s, filepath.Join(file, "out"), options(1), "not a directory; give another folder"},
	} {
		var refused Refusal
		if _, err := Run(t.Context(), tt.sweep, tt.dir, tt.opt); !errors.As(err, &refused) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	old := read(t, dir, tableName)
	fresh := options(2)
	fresh.Fresh = true
	mustRun(t, changed, dir, fresh)
	if read(t, dir+"-2", tableName) != old {
		t.Error("starting over did not keep the old results")
	}
	if !strings.Contains(read(t, dir, tableName), ",4,rectum,") {
		t.Error("starting over kept the old plan")
	}
}

// TestTwoAtOnce: the second sweep on a folder is refused while the first is at work.
func TestTwoAtOnce(t *testing.T) {
	s, dir := sweepOf(t, mixed), filepath.Join(t.TempDir(), "out")
	opt := options(1)
	var second error
	tried := false
	opt.Progress = func(Count) {
		if !tried {
			tried = true
			_, second = Run(t.Context(), s, dir, options(1))
		}
	}
	mustRun(t, s, dir, opt)
	if second == nil || !strings.Contains(second.Error(), "another sweep is running there") {
		t.Errorf("%v", second)
	}
}
