package main

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"testing"
)

// TestPagesAreWhatWasComputed: each block of a page is what results.csv renders to, and that file holds just the
// cells of the tables. A figure changed by hand, in either, is found.
func TestPagesAreWhatWasComputed(t *testing.T) {
	kept, err := readResults(resultsName)
	if err != nil {
		t.Fatal(err)
	}
	all, err := blocks(kept)
	if err != nil {
		t.Fatal(err)
	}
	known, cells := map[string]bool{}, 0
	for _, tab := range tables {
		cells += len(tab.rows) * len(tab.columns)
	}
	for b, want := range all {
		known[b.name] = true
		text, err := os.ReadFile(filepath.Join("..", b.page+".md"))
		if err != nil {
			t.Fatal(err)
		}
		from, to, err := b.find(string(text))
		if err != nil {
			t.Error(err)
			continue
		}
		if got := string(text[from:to]); got != want {
			t.Errorf("page %s says\n%s\nit should say\n%s", b.page, got, want)
		}
	}
	if len(kept) != cells {
		t.Errorf("%s has %d numbers, the tables have %d cells", resultsName, len(kept), cells)
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

// TestNumbers computes the first and the last row of every table again.
func TestNumbers(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG") == "" {
		t.Skip("computes rows of every table: set MURALHEAT_LONG=1, as .ci/run does")
	}
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round differently in the last digit")
	}
	kept, err := readResults(resultsName)
	if err != nil {
		t.Fatal(err)
	}
	for _, tab := range tables {
		for _, r := range []row{tab.rows[0], tab.rows[len(tab.rows)-1]} {
			now, err := tab.compute(r)
			if err != nil {
				t.Errorf("%s, %s: %v", tab.name, r.label, err)
			}
			for _, n := range now {
				for _, k := range kept {
					if k.table == n.table && k.row == n.row && k.column == n.column && math.Float64bits(k.value) != math.Float64bits(n.value) {
						t.Errorf("%s, %s, %s: %v is kept, %v comes out: run go generate ./cmd/muralheat", k.table, k.row, k.column, k.value, n.value)
					}
				}
			}
		}
	}
}

func TestRounded(t *testing.T) {
	for want, v := range map[string]float64{"1.25": 1.2549, "-1.25": -1.2549, "0.00": -0.001, "not": math.NaN()} {
		if got := rounded(v, 2); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
	if got := rounded(-0.2, 0); got != "0" {
		t.Error(got)
	}
	if got := rounded(-0.001, 3); got != "-0.001" {
		t.Error(got)
	}
}
