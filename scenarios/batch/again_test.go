package batch

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// A case computed again is its row in the table, failed ones too; a cell that was edited is named.
func TestAgain(t *testing.T) {
	s, dir := sweepOf(t, "title: Again\nscenario: quick.yaml\ncases:\n  - {name: fine}\n  - {name: more, set: {current.power_W: 2}}\n  - {name: absurd, set: {current.power_W: 500, current.on_s: 60, physics.boiling: false, physics.carbonisation: false, wall.layers.mucosa.material.density_kg_m3: 100, wall.layers.mucosa.material.heat_capacity_J_kgK: 100, wall.layers.mucosa.material.k_W_mK: 0.01, current.limits.peak_voltage_V: 0}}\n"), filepath.Join(t.TempDir(), "out")
	if c := mustRun(t, s, dir, options(1)); c.Failed != 1 {
		t.Fatalf("%+v", c)
	}
	differ := func() (all [][]string) {
		var rows []Row
		if err := Rows(dir, func(r Row) error { rows = append(rows, r.Kept()); return nil }); err != nil {
			t.Fatal(err)
		}
		for _, r := range rows {
			d, err := Again(context.Background(), s, r, tell)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, d)
		}
		return all
	}
	for i, d := range differ() {
		if d != nil {
			t.Errorf("case %d: %v", i, d)
		}
	}
	name := filepath.Join(dir, tableName)
	table, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	lines := bytes.Split(table, []byte("\r\n"))
	cells := bytes.Split(lines[2], []byte(","))
	cells[len(cells)-1] = append(cells[len(cells)-1], '1')
	lines[2] = bytes.Join(cells, []byte(","))
	if err := os.WriteFile(name, bytes.Join(lines, []byte("\r\n")), 0o644); err != nil {
		t.Fatal(err)
	}
	head := bytes.Split(lines[0], []byte(","))
	got := differ()
	if got[0] != nil || !slices.Equal(got[1], []string{string(head[len(head)-1])}) {
		t.Errorf("of an edited cell: %v", got)
	}
}
