package batch

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
)

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
	of := bound(s.Digest(), "test")
	for name, text := range map[string]string{
		"empty":                   "",
		"half a first line":       sound[:20],
		"last byte gone":          sound[:len(sound)-1],
		"a torn line":             sound[:middle+12],
		"a flipped bit":           flip(sound, middle+30),
		"a flipped checksum":      flip(sound, middle+2),
		"a flipped line end":      flip(sound, middle),
		"columns spoilt":          flip(sound, strings.Index(sound, "columns")),
		"zeros at the end":        sound[:middle+1] + strings.Repeat("\x00", 4096),
		"a line of another sweep": sound + string(line(of, 99, failed, 0, identity{}, row{})),
		"a copy of nothing":       sound[:middle+1] + string(line(of, 17, same, 16, identity{}, row{Inputs: []string{"", "", ""}})),
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
