package study

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
)

// The same of the table of a sweep.
func FuzzSweepTable(f *testing.F) {
	for _, m := range madeUps {
		dir := f.TempDir()
		m.write(f, dir)
		record, err1 := os.ReadFile(filepath.Join(dir, SweepName))
		table, err2 := os.ReadFile(filepath.Join(dir, ResultName))
		if err := errors.Join(err1, err2); err != nil {
			f.Fatal(err)
		}
		f.Add(record, table)
		f.Add(record, table[:len(table)*2/3])
		for old, new := range map[string]string{`"draws": `: `"draws": -`, `"cases": `: `"cases": 9`, `"top_mm": 0`: `"top_mm": 1e308`, `"title": "`: `"title": "<&\u0000`} {
			f.Add(bytes.ReplaceAll(record, []byte(old), []byte(new)), table)
		}
		for old, new := range map[string]string{",0": ",1e308", ",1": ",-1", ".": "", "ok": "failed", ",2": ",Inf"} {
			f.Add(record, bytes.ReplaceAll(table, []byte(old), []byte(new)))
		}
	}
	f.Fuzz(func(t *testing.T, record, table []byte) {
		var r sweepRecord
		if json.Unmarshal(record, &r) != nil {
			return
		}
		s := &SweepTable{sweepRecord: r}
		if s.read(bytes.NewReader(table)) != nil {
			return
		}
		s.oneWall = s.layersHold()
		fixture.Shown(func() []chart.Figure { return SweepFigures(chart.ForDocument, s) })
	})
}
