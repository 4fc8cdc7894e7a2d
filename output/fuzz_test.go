package output

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg/vgsvg"
)

// shown draws figures onto paper nobody looks at, as stored does.
func shown(list func() []figure) {
	defer func() { recover() }() // it may make no sense, but must come to an end
	for _, f := range list() {
		if f.w <= largestSheet && f.h <= largestSheet {
			onPaper(vgsvg.New(f.w, f.h), f)
		}
	}
}

// unpacked returns the members of an archive.
func unpacked(t testing.TB, b []byte) map[string][]byte {
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	members := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if members[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
	}
	return members
}

func packed(t testing.TB, members map[string][]byte) []byte {
	var b bytes.Buffer
	w := npzWriter{zip.NewWriter(&b)}
	for name, data := range members {
		if err := w.bytes(name, data); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Whatever somebody has made of a stored result, reading it ends in a result or an error, and
// drawing it ends.
func FuzzResult(f *testing.F) {
	sound, err := encodeResult(synthetics["mild"].result())
	if err != nil {
		f.Fatal(err)
	}
	members := unpacked(f, sound)
	text := string(members["result.yaml"])
	f.Add(members["result.yaml"], "layer.npy", members["layer.npy"])
	every := 9 // line: a drawing takes a tenth of a second
	if os.Getenv("MURALHEAT_SOAK") != "" {
		every = 1
	}
	values := []string{"-1", "1e308", ".nan", "null", "[]", "x"}
	for n, line := range strings.Split(text, "\n") { // gone, or of another value
		if n%every != 0 {
			continue
		}
		if key, _, ok := strings.Cut(line, ": "); ok {
			f.Add([]byte(strings.Replace(text, line, key+": "+values[n%len(values)], 1)), "layer.npy", members["layer.npy"])
		}
		f.Add([]byte(strings.Replace(text, line+"\n", "", 1)), "layer.npy", members["layer.npy"])
	}
	for name, data := range members {
		for _, cut := range []int{0, 5, len(data) / 2, len(data) - 8} {
			f.Add(members["result.yaml"], name, data[:max(0, cut)])
		}
	}
	f.Fuzz(func(t *testing.T, text []byte, name string, data []byte) {
		if strings.ContainsAny(name, "\\/") || len(name) > 100 {
			return
		}
		some := map[string][]byte{}
		for n, d := range members {
			some[n] = d
		}
		some[name], some["result.yaml"] = data, text
		r, err := decodeResult(packed(t, some))
		if err != nil {
			return
		}
		shown(func() []figure { return figures(r) })
	})
}

// The same of the table of a sweep.
func FuzzSweepTable(f *testing.F) {
	for _, m := range madeUps {
		dir := f.TempDir()
		m.write(f, dir)
		record, err1 := os.ReadFile(filepath.Join(dir, sweepName))
		table, err2 := os.ReadFile(filepath.Join(dir, resultName))
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
		s := &sweepTable{sweepRecord: r}
		if s.read(bytes.NewReader(table)) != nil {
			return
		}
		s.oneWall = s.layersHold()
		shown(func() []figure { return sweepFigures(s) })
	})
}

// TestChangedResults: what has been changed by hand is said in a line of its file, and text
// that unpacks to far more than it is, is not unpacked.
func TestChangedResults(t *testing.T) {
	sound, err := encodeResult(synthetics["mild"].result())
	if err != nil {
		t.Fatal(err)
	}
	for name, tt := range map[string]struct {
		old, new, want string
	}{
		"no body": {"body:\n    temperaturec: ", "body:\n    temperaturec: .nan #", "it makes no figure"},
		"huge":    {"contactradiusm: ", "contactradiusm: 1e308 #", "and has been changed"},
		"a bomb":  {"caution: ", "caution: " + strings.Repeat("x", largestText) + " ", "larger than 16 MB"},
	} {
		t.Run(name, func(t *testing.T) {
			members := unpacked(t, sound)
			members["result.yaml"] = bytes.ReplaceAll(members["result.yaml"], []byte(tt.old), []byte(tt.new))
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, recordName), packed(t, members), 0o666); err != nil {
				t.Fatal(err)
			}
			_, err := Redraw(dir)
			if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), recordName) || strings.Contains(err.Error(), "\n") {
				t.Errorf("%.300v", err)
			}
		})
	}
}
