package batch

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

// quick is a scenario that computes in some ten milliseconds.
const quick = `title: Quick
wall: {site: right-colon}
electrode: {tip: disc, radius_mm: 1}
current: {power_W: 1, on_s: 0.1}
afterwards_s: 0
domain: {radius_mm: 5}
numerics: {quality: draft, finest_um: 200, max_step_ms: 50}
`

// mixed has words and numbers, draws, a key without a value, and pairs that are one case.
const mixed = `title: Mixed
scenario: quick.yaml
vary:
  - {key: current.power_W, values: [1, 2, 3], title: Power}
  - {key: wall.site, values: [right-colon, rectum]}
uncertain: [{key: current.on_s, uniform: {low: 0.05, high: 0.2}}]
draws: 3
seed: 5
`

func sweepOf(t testing.TB, text string) *plan.Sweep {
	t.Helper()
	s, err := plan.Parse("plan.yaml", []byte(text), func(string) (*scenarios.Scenario, error) {
		return scenarios.Parse("quick.yaml", []byte(quick))
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// tell is a small table: another column for power above 2 W, as cases may differ in theirs.
func tell(r *thermal.Result) (cols []Column, cells []string, doubt string) {
	cols = []Column{{Name: "peak_C", Unit: "C", Text: "hottest"}, {Name: "deepest_layer", Text: "layer", Word: true}}
	cells = []string{fmt.Sprint(r.Summary.PeakC), r.Summary.DeepestLayer}
	if r.Case.Drive.PowerW > 2 {
		cols, cells = append(cols, Column{Name: "energy_J", Unit: "J", Text: "energy"}), append(cells, fmt.Sprint(r.Balance.ElectricJ))
	}
	if math.Abs(r.Balance.EnergyResidual) > 1e-6 {
		doubt = "energy"
	}
	return cols, cells, doubt
}

func options(workers int) Options { return Options{Program: "test", Tell: tell, Workers: workers} }

func mustRun(t testing.TB, s *plan.Sweep, dir string, opt Options) Count {
	t.Helper()
	c, err := Run(t.Context(), s, dir, opt)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func read(t testing.TB, dir, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// sameBytes compares all files that a sweep leaves to be read.
func sameBytes(t *testing.T, want, got string) {
	t.Helper()
	for _, name := range []string{recordName, planName, scenarioName, tableName, meaningName} {
		if a, b := read(t, want, name), read(t, got, name); a != b {
			t.Errorf("%s differs:\n%s\n%s", name, a, b)
		}
	}
}

// child makes this test binary compute a sweep in a folder, to be killed.
const child = "MURALHEAT_TEST_SWEEP"

func TestMain(m *testing.M) {
	if dir := os.Getenv(child); dir != "" {
		s, err := plan.Parse("plan.yaml", []byte(mixed), func(string) (*scenarios.Scenario, error) {
			return scenarios.Parse("quick.yaml", []byte(quick))
		})
		if err == nil {
			_, err = Run(context.Background(), s, dir, options(2))
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func TestTable(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	c := mustRun(t, sweepOf(t, mixed), dir, options(2))
	if c != (Count{Of: 18, Done: 18}) {
		t.Errorf("%+v", c)
	}
	lines := strings.Split(read(t, dir, tableName), "\r\n")
	if want := "case,point,draw,current.power_W,wall.site,current.on_s,status,reason,peak_C,deepest_layer,energy_J"; lines[0] != want {
		t.Errorf("header %s", lines[0])
	}
	if len(lines) != 20 || lines[19] != "" {
		t.Fatalf("%d lines", len(lines))
	}
	for i, want := range []string{"0,0,0,1,right-colon,", "1,0,1,1,right-colon,", "2,0,2,1,right-colon,", "3,1,0,1,rectum,"} {
		if !strings.HasPrefix(lines[1+i], want) || !strings.Contains(lines[1+i], ",ok,,") || !strings.HasSuffix(lines[1+i], ",") {
			t.Errorf("row %d: %s", i, lines[1+i])
		}
	}
	if strings.HasSuffix(lines[18], ",") {
		t.Errorf("no energy in row %s", lines[18])
	}
	if r, err := readRecord(dir); err != nil || len(r.Columns) != 3 || len(r.Layers) < 3 || r.Inputs[0].Title != "Power" || r.Cases != 18 {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestSameBytes(t *testing.T) {
	s, root := sweepOf(t, mixed), t.TempDir()
	one := filepath.Join(root, "one")
	mustRun(t, s, one, options(1))

	four := filepath.Join(root, "four")
	mustRun(t, s, four, options(4))
	sameBytes(t, one, four)

	var parts []string
	for i := range 3 {
		opt := options(2)
		opt.Slice = Slice{i, 3}
		part := filepath.Join(root, "part"+opt.Slice.Suffix())
		if c := mustRun(t, s, part, opt); c.Of != 6 {
			t.Errorf("slice %d: %+v", i, c)
		}
		parts = append(parts, part)
	}
	merged := filepath.Join(root, "merged")
	for range 2 { // the second time nothing is left to do
		if c, err := Merge(merged, []string{parts[2], parts[0], parts[1]}); err != nil || !c.Complete() {
			t.Fatal(c, err)
		}
		sameBytes(t, one, merged)
	}
	if c := mustRun(t, s, merged, options(1)); c.Done != 18 {
		t.Errorf("%+v", c)
	}
	sameBytes(t, one, merged)

	for name, tt := range map[string]struct {
		parts []string
		want  string
	}{
		"a gap":      {parts[:2], "slice 2/3 is missing; give all 3"},
		"twice":      {[]string{parts[0], parts[1], parts[1]}, "are both slice 1/3"},
		"a whole":    {[]string{one}, "holds a whole sweep"},
		"no sweep":   {[]string{root}, "is not the folder of a sweep"},
		"own folder": {append(parts[:3:3], one), "holds a whole sweep"},
	} {
		var refused Refusal
		if _, err := Merge(filepath.Join(root, "none"), tt.parts); !errors.As(err, &refused) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := os.Stat(filepath.Join(root, "none")); err == nil {
		t.Error("a refused merge left a folder")
	}
}

// TestResume interrupts a sweep again and again.
func TestResume(t *testing.T) {
	s, root := sweepOf(t, mixed), t.TempDir()
	whole, dir := filepath.Join(root, "whole"), filepath.Join(root, "out")
	mustRun(t, s, whole, options(2))
	last := -1
	for {
		ctx, stop := context.WithCancel(t.Context())
		opt, started := options(2), -1
		opt.Progress = func(c Count) {
			if started < 0 {
				started = c.Done
			}
			if c.Done >= started+3 {
				stop()
			}
		}
		c, err := Run(ctx, s, dir, opt)
		stop()
		if started < last {
			t.Fatalf("%d cases were finished, %d are left", last, started)
		}
		last = c.Done
		if err == nil {
			break
		}
		if !errors.Is(err, context.Canceled) {
			t.Fatal(err)
		}
		if _, err := os.Stat(filepath.Join(dir, tableName)); err == nil {
			t.Fatal("a table of an unfinished sweep")
		}
	}
	sameBytes(t, whole, dir)
}

// TestKill kills the process at 20 moments.
func TestKill(t *testing.T) {
	s, root := sweepOf(t, mixed), t.TempDir()
	whole, dir := filepath.Join(root, "whole"), filepath.Join(root, "out")
	start := time.Now()
	mustRun(t, s, whole, options(2))
	all := time.Since(start)
	finished := 0
	for k := range 20 {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), child+"="+dir)
		var said bytes.Buffer
		cmd.Stderr = &said
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.AfterFunc(20*time.Millisecond+all*time.Duration(k*7%20)/20, func() { cmd.Process.Kill() })
		cmd.Wait()
		if said.Len() > 0 {
			t.Fatal(said.String())
		}
		if cmd.ProcessState.Success() {
			finished++
			sameBytes(t, whole, dir)
			os.RemoveAll(dir)
		}
	}
	mustRun(t, s, dir, options(2))
	sameBytes(t, whole, dir)
	t.Logf("%d of 20 came to the end", finished)
}

// TestTornJournal cuts and spoils a journal everywhere.
func TestTornJournal(t *testing.T) {
	s, root := sweepOf(t, mixed), t.TempDir()
	whole := filepath.Join(root, "whole")
	mustRun(t, s, whole, options(1))
	sound := read(t, whole, journalName)
	flip := func(text string, at int) string {
		b := []byte(text)
		b[at] ^= 1
		return string(b)
	}
	middle := strings.Index(sound[len(sound)/2:], "\n") + len(sound)/2
	for name, text := range map[string]string{
		"empty":                   "",
		"half a first line":       sound[:20],
		"last byte gone":          sound[:len(sound)-1],
		"a torn line":             sound[:middle+12],
		"a flipped bit":           flip(sound, middle+30),
		"a flipped checksum":      flip(sound, middle+2),
		"a flipped line end":      flip(sound, middle),
		"columns spoilt":          flip(sound, 15),
		"zeros at the end":        sound[:middle+1] + strings.Repeat("\x00", 4096),
		"a line of another sweep": sound + string(line(99, failed, 0, identity{}, row{})),
		"a copy of nothing":       sound[:middle+1] + string(line(17, same, 16, identity{}, row{Inputs: []string{"", "", ""}})),
	} {
		dir := filepath.Join(root, strings.ReplaceAll(name, " ", "-"))
		if err := os.CopyFS(dir, os.DirFS(whole)); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, journalName), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		first := -1
		opt := options(2)
		opt.Progress = func(c Count) {
			if first < 0 {
				first = c.Done
			}
		}
		mustRun(t, s, dir, opt)
		if name != "a line of another sweep" && first == 18 {
			t.Errorf("%s: nothing was missed", name)
		}
		sameBytes(t, whole, dir)
		if again := mustRun(t, s, dir, options(1)); again.Done != 18 {
			t.Errorf("%s: %+v the second time", name, again)
		}
	}
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

func TestOneCase(t *testing.T) {
	s, root := sweepOf(t, "title: One\nscenario: quick.yaml\n"), t.TempDir()
	dir := filepath.Join(root, "out")
	if c := mustRun(t, s, dir, options(4)); c != (Count{Of: 1, Done: 1}) {
		t.Errorf("%+v", c)
	}
	opt := options(1) // a slice without a case
	opt.Slice = Slice{1, 2}
	if c := mustRun(t, s, filepath.Join(root, "empty"), opt); c != (Count{}) || !c.Complete() {
		t.Errorf("%+v", c)
	}
	opt.Slice = Slice{0, 2}
	mustRun(t, s, filepath.Join(root, "first"), opt)
	merged := filepath.Join(root, "merged")
	if _, err := Merge(merged, []string{filepath.Join(root, "empty"), filepath.Join(root, "first")}); err != nil {
		t.Fatal(err)
	}
	sameBytes(t, dir, merged)
}
