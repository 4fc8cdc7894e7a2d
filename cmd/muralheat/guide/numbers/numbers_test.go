package main

import (
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
)

// TestBlocks: each table has its block in its page, with a row for each change and a cell for each
// column, and no block is of an unknown table.
func TestBlocks(t *testing.T) {
	known := map[string]bool{}
	for _, tab := range tables {
		known[tab.name] = true
		text, err := os.ReadFile(filepath.Join("..", tab.page+".md"))
		if err != nil {
			t.Fatal(err)
		}
		from, to, err := tab.block(string(text))
		if err != nil {
			t.Error(err)
			continue
		}
		lines := strings.Split(strings.TrimSpace(string(text[from:to])), "\n")
		if len(lines) != len(tab.rows)+2 {
			t.Errorf("%s: %d lines for %d rows: run go generate ./cmd/muralheat", tab.name, len(lines), len(tab.rows))
			continue
		}
		for i, r := range tab.rows {
			if !strings.HasPrefix(lines[i+2], "| "+r.label+" | ") || strings.Count(lines[i+2], "|") != len(tab.columns)+2 {
				t.Errorf("%s: %q is not the row of %q", tab.name, lines[i+2], r.label)
			}
		}
	}
	pages, err := filepath.Glob("../*.md")
	if err != nil || len(pages) == 0 {
		t.Fatal("no pages", err)
	}
	for _, p := range pages {
		text, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`<!-- numbers: (\S+) -->`).FindAllStringSubmatch(string(text), -1) {
			if !known[m[1]] {
				t.Errorf("%s: block %s is no table", p, m[1])
			}
		}
	}
}

// TestNumbers computes the table of pads again and holds the guide to it.
func TestNumbers(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG") == "" {
		t.Skip("computes the cases of a table: set MURALHEAT_LONG=1, as .ci/run does")
	}
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round differently in the last digit")
	}
	tab := tables[0]
	want, err := tab.compute()
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join("..", tab.page+".md"))
	if err != nil {
		t.Fatal(err)
	}
	from, to, err := tab.block(string(text))
	if err != nil {
		t.Fatal(err)
	}
	if got := string(text[from:to]); got != want {
		t.Errorf("the guide says\n%s\nthe program\n%s\nrun go generate ./cmd/muralheat", got, want)
	}
}
