package main

import (
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"muralheat/thermal/checks"
)

// long makes reports compute every check, as they do outside of tests: a quarter of a minute each.
const long = "MURALHEAT_LONG"

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"muralheat": func() {
		if os.Getenv(long) == "" { // thermal/checks tests them all
			verified = func() []checks.Group { return checks.Groups()[:1] }
		}
		main()
	}})
}

// TestScripts runs the scripts of testdata, one per subject, through the real main.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata",
		Setup: func(env *testscript.Env) error {
			env.Setenv(long, os.Getenv(long))
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits": exits, "json": hasJSON, "interrupt": interrupt, "resolved": resolvedOf, "appears": appears,
		},
	})
}

// resolvedOf MANIFEST FILE: writes the resolved scenario of a manifest into a file.
func resolvedOf(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: resolved MANIFEST FILE")
	}
	var m struct{ Scenario struct{ Resolved string } }
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &m))
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(m.Scenario.Resolved), 0o644))
}

// appears PATTERN [TEXT]: waits for a file that something in the background writes, and for a text in it.
func appears(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 || len(args) > 2 {
		ts.Fatalf("usage: appears PATTERN [TEXT]")
	}
	for range 600 {
		found, err := filepath.Glob(ts.MkAbs(args[0]))
		ts.Check(err)
		for _, name := range found {
			if len(args) == 1 || strings.Contains(ts.ReadFile(name), args[1]) {
				return
			}
		}
		time.Sleep(50 * time.Millisecond)
	}
	ts.Fatalf("%q does not appear", args)
}

// exits CODE COMMAND...: the command ends with that exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND...")
	}
	got := 0
	err := ts.Exec(args[1], args[2:]...)
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if strconv.Itoa(got) != args[0] {
		ts.Fatalf("exit code %d, want %s", got, args[0])
	}
}

// json FILE KEY...: the file, or stdout, is one JSON value that holds the keys.
func hasJSON(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: json FILE KEY...")
	}
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &v))
	for _, path := range args[1:] {
		at := v
		for key := range strings.SplitSeq(path, ".") {
			var ok bool
			switch in := at.(type) {
			case map[string]any:
				at, ok = in[key]
			case []any:
				if i, err := strconv.Atoi(key); err == nil && i < len(in) {
					at, ok = in[i], true
				}
			}
			if !ok || at == nil {
				ts.Fatalf("no %s", path)
			}
		}
	}
}

// interrupt PATTERN ARGS...: starts muralheat, sends it an interrupt
// once a file of that pattern is there, and wants exit code 75 within two seconds.
func interrupt(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: interrupt PATTERN ARGS...")
	}
	path, err := exec.LookPath("muralheat")
	ts.Check(err)
	said, err := os.Create(ts.MkAbs("said"))
	ts.Check(err)
	defer said.Close()
	cmd := exec.Command(path, args[1:]...)
	cmd.Dir, cmd.Stdout, cmd.Stderr = ts.MkAbs("."), said, said
	ts.Check(cmd.Start())
	for range 500 {
		if found, _ := filepath.Glob(ts.MkAbs(args[0])); len(found) > 0 {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	time.Sleep(100 * time.Millisecond) // now it computes
	ts.Check(cmd.Process.Signal(os.Interrupt))
	// The run would take minutes: one that does not stop is killed and has another code.
	kill := time.AfterFunc(30*time.Second, func() { cmd.Process.Kill() })
	defer kill.Stop()
	cmd.Wait()
	if code := cmd.ProcessState.ExitCode(); code != exitInterrupted {
		ts.Fatalf("exit code %d, want %d; it said:\n%s", code, exitInterrupted, ts.ReadFile("said"))
	}
}
