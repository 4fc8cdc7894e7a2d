package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"

	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
	"muralheat/scenarios/procedure"
)

const readme = "../../README.md"

// commandsIn returns the muralheat command lines in the fenced sh blocks of a page.
func commandsIn(t *testing.T, page string) []string {
	text, err := os.ReadFile(page)
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

// handbook returns README.md, the pages of the guide and those of the lectures.
func handbook() []string {
	all := []string{readme}
	for _, p := range pages {
		all = append(all, filepath.Join("guide", p.name+".md"))
	}
	for _, l := range scenarios.Lectures() {
		all = append(all, filepath.Join("../../scenarios/examples/lectures", l.Name, scenarios.LecturePage))
	}
	return all
}

// TestCommandsOfTheHandbook holds README.md and the guide to the program: each command line in
// them is one, and the first of README.md does what it says.
func TestCommandsOfTheHandbook(t *testing.T) {
	for _, page := range handbook() {
		for _, line := range commandsIn(t, page) {
			c := newConsole(nil, io.Discard, io.Discard)
			app := newApp(c)
			for _, cmd := range app.Commands {
				cmd.Action = func(*cli.Context) error { return nil } // parse only
			}
			if err := app.Run(strings.Fields(line)); err != nil {
				t.Errorf("%s: %s: %v", page, line, err)
			}
		}
	}
	commands := commandsIn(t, readme)
	if len(commands) == 0 {
		t.Fatal("README.md shows no command")
	}
	t.Chdir(t.TempDir())
	var out, said bytes.Buffer
	if code := execute(strings.Fields(commands[0]), &out, &said); code != exitDone {
		t.Errorf("%s: exit code %d\n%s", commands[0], code, said.String())
	}
}

// TestHandbook: README.md stays short, every page is listed and in the binary, links and pictures
// lead to files, and the scenarios and plans shown are right.
func TestHandbook(t *testing.T) {
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(text), "\n"); n > 150 {
		t.Errorf("README.md has %d lines; at most 150", n)
	}
	files, err := filepath.Glob("guide/*.md")
	if err != nil || len(files) != len(pages) {
		t.Errorf("%d pages listed, %d files (%v)", len(pages), len(files), err)
	}
	link := regexp.MustCompile(`\]\(([^)#]+)\)`)
	for _, page := range handbook() {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Error(err)
			continue
		}
		for _, l := range link.FindAllStringSubmatch(string(text), -1) {
			if _, err := os.Stat(filepath.Join(filepath.Dir(page), l[1])); err != nil && !strings.Contains(l[1], "://") {
				t.Errorf("%s: %v", page, err)
			}
		}
		for _, block := range regexp.MustCompile("(?s)```yaml\n(title: .*?)```").FindAllStringSubmatch(string(text), -1) {
			yaml := []byte(block[1])
			if keys.IsProcedureText(page, yaml) {
				_, err = procedure.Parse(page, yaml, nil)
			} else if keys.IsPlanText(page, yaml) {
				_, err = plan.Parse(page, yaml, scenarios.LoadExample)
			} else {
				_, err = scenarios.Parse(page, yaml)
			}
			if err != nil {
				t.Errorf("%s: %v", page, err)
			}
		}
	}
}

// TestVersion holds the version of the program, the changelog and the citation together.
func TestVersion(t *testing.T) {
	for file, want := range map[string]string{"../../CHANGELOG.md": "\n## " + record.Version, "../../CITATION.cff": "\nversion: " + record.Version + "\n"} {
		if text, err := os.ReadFile(file); err != nil || !strings.Contains(string(text), want) {
			t.Errorf("%s: no %q (%v)", file, want, err)
		}
	}
	if !strings.HasPrefix(version(), record.Version) {
		t.Error(version())
	}
}
