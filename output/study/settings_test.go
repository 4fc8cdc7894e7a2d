package study

import (
	"os"
	"path/filepath"
	"testing"

	"muralheat/output/record"
)

// A level of each choice is one row and no other, whatever the plan.
func TestChoicesTellRowsApart(t *testing.T) {
	for name, m := range madeUps {
		dir := t.TempDir()
		m.write(t, dir)
		table, err := ReadSweep(dir)
		if err != nil {
			t.Fatal(err)
		}
		choices := table.Choices()
		seen := map[string]int{}
		for row := range table.Case {
			key := ""
			for _, c := range choices {
				if c.Of[row] < 0 {
					t.Fatalf("%s: row %d has no %s", name, row, c.Title)
				}
				key += c.Levels[c.Of[row]] + "|"
			}
			if other, there := seen[key]; there {
				t.Errorf("%s: rows %d and %d are both %q", name, other, row, key)
			}
			seen[key] = row
		}
	}
}

// What a sweep keeps is found by the number of the case, or by its name.
func TestKeptPath(t *testing.T) {
	dir := t.TempDir()
	table := &SweepTable{Case: []int{3, 12}, name: nil}
	table.Cases, table.Draws = 40, 1
	make := func(folder string) {
		if err := os.MkdirAll(filepath.Join(dir, KeptFolder, folder), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, KeptFolder, folder, record.RecordName), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	make("case-03")
	if got, none := table.KeptPath(dir, 0), table.KeptPath(dir, 1); filepath.Base(got) != "case-03" || none != "" {
		t.Errorf("%q, %q", got, none)
	}
	make("gentle")
	table.name = []string{"gentle", "usual"}
	if got, none := table.KeptPath(dir, 0), table.KeptPath(dir, 1); filepath.Base(got) != "gentle" || none != "" {
		t.Errorf("%q, %q", got, none)
	}
}

// Two cases of one title have a level each.
func TestChoicesOfOneTitle(t *testing.T) {
	table := &SweepTable{Case: []int{0, 1, 2}, Point: []int{0, 1, 2}, name: []string{"a", "b", "c"}}
	table.Titles, table.Cases, table.Draws = []string{"Slow", "Slow", "Fast"}, 3, 1
	if c := table.Choices(); len(c) != 1 || len(c[0].Levels) != 3 || c[0].Levels[1] != "Slow (case 1)" {
		t.Errorf("%+v", c)
	}
}
