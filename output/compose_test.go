package output

import (
	"archive/zip"
	"bytes"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/figures"
	"muralheat/output/internal/fixture"
	"muralheat/output/internal/fixture/bench"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
)

// Code page 1252 as in the mapping of the Unicode consortium, CP1252.TXT.

// Whatever a run leaves behind can be written and drawn: it is then that people
// need to see it.
func TestBrokenResultsAreDrawn(t *testing.T) {
	for name, spoil := range map[string]func(*thermal.Result){
		"not a number": func(r *thermal.Result) {
			for i := range r.Fields.PeakC {
				r.Fields.PeakC[i], r.Fields.Omega[i] = math.NaN(), math.NaN()
			}
			r.Summary.InjuryDepthM, r.Summary.PeakC = math.NaN(), math.NaN()
		},
		"infinite": func(r *thermal.Result) {
			for i := range r.Fields.PeakC {
				r.Fields.PeakC[i], r.Fields.Omega[i] = math.Inf(1), math.Inf(1)
			}
		},
		"no history": func(r *thermal.Result) { r.History = nil },
		"no muscle": func(r *thermal.Result) {
			r.Summary.MarginToMuscleM, r.Summary.MuscleInjuredShare = math.NaN(), math.NaN()
		},
		"long names": func(r *thermal.Result) {
			for i := range r.Case.Layers {
				r.Case.Layers[i].Name = strings.Repeat("lamina-", 20)
			}
			r.Case.Title = strings.Repeat("A very long title ", 20)
		},
	} {
		r := fixture.Synthetics["hot"].Result()
		spoil(r)
		if _, err := drawings(chart.ForDocument, r); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := record.EncodeResult(r); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if got := record.Report(bench.Run(), r, "", nil); !strings.Contains(got, phrase.Caution[:40]) {
			t.Errorf("%s: no caution in the report", name)
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
	w := zip.NewWriter(&b)
	for name, data := range members {
		m, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := m.Write(data); err != nil {
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
	sound, err := record.EncodeResult(fixture.Synthetics["mild"].Result())
	if err != nil {
		f.Fatal(err)
	}
	members := unpacked(f, sound)
	text := string(members["result.yaml"])
	f.Add(members["result.yaml"], "layer.npy", members["layer.npy"])
	every := 29                            // line: a drawing takes a tenth of a second
	if os.Getenv("MURALHEAT_LONG") != "" { // .ci/run sets it
		every = 9
	}
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
		r, err := record.DecodeResult(packed(t, some))
		if err != nil {
			return
		}
		fixture.Shown(func() []chart.Figure { return figures.Of(chart.ForDocument, r) })
	})
}

// TestChangedResults: what has been changed by hand is said in a line of its file, and text
// that unpacks to far more than it is, is not unpacked.
func TestChangedResults(t *testing.T) {
	sound, err := record.EncodeResult(fixture.Synthetics["mild"].Result())
	if err != nil {
		t.Fatal(err)
	}
	for name, tt := range map[string]struct {
		old, new, want string
	}{
		"no body": {"body:\n    temperaturec: ", "body:\n    temperaturec: .nan #", "it makes no figure"},
		"huge":    {"contactradiusm: ", "contactradiusm: 1e308 #", "and has been changed"},
		"a bomb":  {"caution: ", "caution: " + strings.Repeat("x", record.LargestText) + " ", "larger than 16 MB"},
	} {
		t.Run(name, func(t *testing.T) {
			members := unpacked(t, sound)
			members["result.yaml"] = bytes.ReplaceAll(members["result.yaml"], []byte(tt.old), []byte(tt.new))
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, record.RecordName), packed(t, members), 0o666); err != nil {
				t.Fatal(err)
			}
			_, err := Redraw(dir, chart.ForDocument)
			if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), record.RecordName) || strings.Contains(err.Error(), "\n") {
				t.Errorf("%.300v", err)
			}
		})
	}
}

// Letters that cannot be drawn are named before and after.
func TestLettersThatCannotBeDrawn(t *testing.T) {
	r := fixture.Synthetics["mild"].Result()
	for title, more := range map[string]int{"plain": 0, "漢字 Ωж": 0, "مرحبا": 1} {
		r.Case.Title = title
		if got := record.Remarks(&record.Run{}, r); len(got) != len(r.Notes)+more {
			t.Errorf("remarks %q on the title %s", got, title)
		}
		pictures, err := chart.Rendered(figures.Of(chart.ForDocument, r))
		if more == 0 && err != nil || more > 0 && (err == nil || !strings.Contains(err.Error(), `"مرحبا"`) || !strings.Contains(err.Error(), "wall.png") || !strings.Contains(err.Error(), "wall.pdf") || len(pictures) != 2) {
			t.Errorf("%s: %d pictures, %v", title, len(pictures), err)
		}
	}
}
