package main

import (
	"bytes"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"
)

// readmeCommands returns the muralheat command lines in the fenced sh blocks of
// README.md.
func readmeCommands(t *testing.T) []string {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var commands []string
	shell := false
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		if fence, ok := strings.CutPrefix(line, "```"); ok {
			shell = !shell && fence == "sh"
			continue
		}
		line, _, _ = strings.Cut(line, "#")
		line, _, _ = strings.Cut(line, ">")
		for _, start := range []string{"go run ./cmd/muralheat", "muralheat"} {
			if rest, ok := strings.CutPrefix(line, start); ok && shell && (rest == "" || rest[0] == ' ') {
				commands = append(commands, strings.TrimSpace("muralheat"+rest))
				break
			}
		}
	}
	return commands
}

// TestReadmeCommands holds README.md to the program: each command line in it is one,
// and the first does what it says.
func TestReadmeCommands(t *testing.T) {
	commands := readmeCommands(t)
	if len(commands) == 0 {
		t.Fatal("README.md shows no command")
	}
	for _, line := range commands {
		c := newConsole(nil, io.Discard, io.Discard)
		app := newApp(c)
		for _, cmd := range app.Commands {
			cmd.Action = func(*cli.Context) error { return nil } // parse only
		}
		if err := app.Run(strings.Fields(line)); err != nil {
			t.Errorf("%s: %v", line, err)
		}
	}
	t.Chdir(t.TempDir())
	var out, said bytes.Buffer
	if code := execute(strings.Fields(commands[0]), &out, &said); code != exitDone {
		t.Errorf("%s: exit code %d\n%s", commands[0], code, said.String())
	}
}
