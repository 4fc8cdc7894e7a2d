package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"muralheat/scenarios/keys"
)

// broken panics when written to, as a bug somewhere in a command would.
type broken struct{ io.Writer }

func (broken) Write([]byte) (int, error) { panic("index out of range [5]") }

func TestBugIsReported(t *testing.T) {
	var said bytes.Buffer
	if code := execute([]string{"muralheat", "schema"}, broken{}, &said); code != exitFailed {
		t.Errorf("exit code %d, want %d", code, exitFailed)
	}
	if got := said.String(); !strings.HasPrefix(got, "muralheat: a bug: index out of range [5]") || !strings.Contains(got, "please report") || strings.Count(got, "\n") != 1 {
		t.Errorf("said %q", got)
	}
}

// full cannot be written to.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

func TestResultThatCannotBePrinted(t *testing.T) {
	for _, command := range []string{"schema", "tissues", "examples"} {
		var said bytes.Buffer
		if code := execute([]string{"muralheat", command}, full{}, &said); code != exitFailed {
			t.Errorf("%s: exit code %d, want %d", command, code, exitFailed)
		}
		if !strings.Contains(said.String(), "no space left") {
			t.Errorf("%s: said %q", command, said.String())
		}
	}
}

func TestExitCode(t *testing.T) {
	for _, tt := range []struct {
		err  error
		want int
	}{
		{nil, exitDone},
		{errors.New("anything"), exitFailed},
		{fmt.Errorf("%w; kept", errCheck), exitFailed},
		{wrong("a flag"), exitInput},
		{keys.Problems{{Wrong: "a key"}}, exitInput},
		{errInterrupted, exitInterrupted},
	} {
		if got := exitCode(tt.err); got != tt.want {
			t.Errorf("%v: exit code %d, want %d", tt.err, got, tt.want)
		}
	}
}
