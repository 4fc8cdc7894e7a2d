package output

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"muralheat/thermal"
)

func entries(t *testing.T, dir string) []string {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range list {
		names = append(names, e.Name())
	}
	return names
}

func saved(t *testing.T, dir string, run *Run, s synthetic) string {
	t.Helper()
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	path, _, err := f.Save(t.Context(), run, s.result(), true)
	if err != nil {
		t.Fatal(err)
	}
	return path
}

func TestFolderIsWholeAndNeverOverwritten(t *testing.T) {
	base := t.TempDir()
	dir := filepath.Join(base, "deep", "bench")
	first := saved(t, dir, testRun(), synthetics["mild"])
	want := []string{"fields.vtr", "history.csv", "layers.csv", "manifest.json", "result.npz", "scenario.yaml", "summary.csv",
		"timecourse.pdf", "timecourse.png", "timecourse.svg", "wall.pdf", "wall.png", "wall.svg"}
	if got := entries(t, first); !slices.Equal(got, want) || first != dir {
		t.Errorf("%s holds %v", first, got)
	}
	later := testRun()
	later.Start, later.End = later.Start.Add(time.Hour), later.End.Add(time.Hour)
	second := saved(t, dir, later, synthetics["mild"])
	if second != dir+"-2" {
		t.Errorf("second run in %s", second)
	}
	for _, name := range want {
		a, _ := os.ReadFile(filepath.Join(first, name))
		b, _ := os.ReadFile(filepath.Join(second, name))
		if bytes.Equal(a, b) != (name != manifestName) {
			t.Errorf("%s: equal is %v", name, bytes.Equal(a, b))
		}
	}
	if got := entries(t, filepath.Dir(dir)); !slices.Equal(got, []string{"bench", "bench-2"}) {
		t.Errorf("left behind: %v", got)
	}
}

func TestFolderRefusals(t *testing.T) {
	base := t.TempDir()
	plain := filepath.Join(base, "file")
	if err := os.WriteFile(plain, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(filepath.Join(plain, "run")); err == nil || !strings.HasPrefix(err.Error(), "output: ") {
		t.Errorf("a folder inside a file: %v", err)
	}
	foreign := filepath.Join(base, "photos")
	if err := os.Mkdir(foreign, 0o777); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{".", "..", "/", "x/.."} {
		if _, err := Open(dir); err == nil || !strings.Contains(err.Error(), "name a new one") {
			t.Errorf("output folder %s: %v", dir, err)
		}
	}
	f, err := Open(filepath.Join(base, "run"))
	if err != nil {
		t.Fatal(err)
	}
	f.Discard()
	if got := entries(t, base); !slices.Equal(got, []string{"file", "photos"}) {
		t.Errorf("after Discard: %v", got)
	}
	if _, err := Load(foreign); err == nil {
		t.Error("a folder without a record was loaded")
	}
}

func TestNothingIsKeptOnceInterrupted(t *testing.T) {
	base := t.TempDir()
	f, err := Open(filepath.Join(base, "run"))
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, err := f.Save(ctx, testRun(), synthetics["mild"].result(), false); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	if got := entries(t, base); len(got) > 0 {
		t.Errorf("left behind: %v", got)
	}
}

func TestRedrawChangesNothing(t *testing.T) {
	dir := saved(t, filepath.Join(t.TempDir(), "run"), testRun(), synthetics["slot"])
	before := map[string][]byte{}
	for _, name := range entries(t, dir) {
		before[name], _ = os.ReadFile(filepath.Join(dir, name))
	}
	if err := os.Remove(filepath.Join(dir, "wall.svg")); err != nil {
		t.Fatal(err)
	}
	names, err := Redraw(dir)
	if err != nil || len(names) != 6 {
		t.Fatalf("%v, %v", names, err)
	}
	if got := entries(t, dir); len(got) != len(before) {
		t.Errorf("left behind: %v", got)
	}
	for name, b := range before {
		if after, _ := os.ReadFile(filepath.Join(dir, name)); !bytes.Equal(after, b) {
			t.Errorf("%s changed", name)
		}
	}
}

func TestRelistFollowsADifferentDrawing(t *testing.T) {
	old := []file{{"wall.svg", []byte("a")}, {"wall.png", []byte("b")}}
	text, err := encodeJSON(manifest{Caution: Caution, Outputs: list(old)})
	if err != nil {
		t.Fatal(err)
	}
	changed, err := relist(text, []file{{"wall.svg", []byte("c")}})
	if err != nil {
		t.Fatal(err)
	}
	if want := strings.Replace(string(text), digest([]byte("a")), digest([]byte("c")), 1); string(changed) != want {
		t.Errorf("manifest became\n%s", changed)
	}
}

// A digest that is none must not be replaced: it is found everywhere.
func TestRelistLeavesWhatIsNoDigest(t *testing.T) {
	record := []byte(`{"outputs": [{"file": "wall.svg", "sha256": ""}, {"file": "wall.png", "sha256": "a"}]}`)
	got, err := relist(record, []file{{"wall.svg", []byte("new")}, {"wall.png", []byte("new")}})
	if err != nil || !bytes.Equal(got, record) {
		t.Errorf("%s, %v", got, err)
	}
}

func TestManifestTellsTheTruth(t *testing.T) {
	s := synthetics["hot"]
	r := s.result()
	r.Summary.MarginToMuscleM, r.Summary.ResistanceEndOhm = math.NaN(), math.Inf(1)
	r.Balance.EnergyResidual = 1e-3
	f, err := Open(filepath.Join(t.TempDir(), "run"))
	if err != nil {
		t.Fatal(err)
	}
	dir, _, err := f.Save(t.Context(), testRun(), r, false)
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(dir, manifestName))
	if err != nil {
		t.Fatal(err)
	}
	var m struct {
		Caution  string
		Scenario struct{ SHA256, Text, Resolved string }
		Checks   []struct {
			Name string
			OK   bool
		} `json:"self_checks"`
		Summary []struct {
			Name  string
			Value any
		}
		Settings []Setting
		Notes    []string
		Outputs  []written
	}
	if err := json.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	for _, o := range m.Outputs {
		b, err := os.ReadFile(filepath.Join(dir, o.File))
		if err != nil || digest(b) != o.SHA256 {
			t.Errorf("%s: digest does not fit (%v)", o.File, err)
		}
	}
	if len(m.Outputs) != len(entries(t, dir))-1 {
		t.Errorf("%d outputs listed of %d", len(m.Outputs), len(entries(t, dir))-1)
	}
	// SHA-256 of "title: bench\n", by sha256sum of coreutils.
	if got := m.Scenario.SHA256; got != "f0cad7459bb3a99a881f2686c9d395d5bd3232c1e1f2e1c74151f9ab5a0be8be" {
		t.Errorf("scenario digest %s", got)
	}
	if m.Caution != Caution || m.Checks[0].OK || !m.Checks[1].OK || m.Settings[1].Source != "assumption: invented" {
		t.Errorf("%+v", m)
	}
	for _, q := range m.Summary {
		if (q.Name == "margin_to_muscle_mm" || q.Name == "resistance_end_ohm") && q.Value != nil {
			t.Errorf("%s: %v, want null", q.Name, q.Value)
		}
	}
}

func TestChecks(t *testing.T) {
	r := synthetics["mild"].result()
	if !Passed(Checks(r)) {
		t.Errorf("%v", Checks(r))
	}
	r.Fields.TemperatureC[r.Mesh.Index(2, 0, 1)] = math.NaN()
	if c := Checks(r); Passed(c) || c[3].Value != 1 {
		t.Errorf("%v", c)
	}
	r = synthetics["mild"].result()
	r.Fields.TemperatureC[r.Mesh.Index(2, 0, 1)] = 36.9
	if c := Checks(r); Passed(c) || !(math.Abs(c[2].Value-0.1) < 1e-9) {
		t.Errorf("tissue colder than all around it: %v", c)
	}
	r = synthetics["mild"].result()
	r.Balance.ChargeResidual = math.NaN()
	if Passed(Checks(r)) {
		t.Error("a balance that is not a number passed")
	}
}

func TestReportFitsATerminal(t *testing.T) {
	for name, s := range synthetics {
		run := testRun()
		run.Notes = []string{strings.Repeat("a remark on the scenario ", 12)}
		text := Report(run, s.result(), "/tmp/somewhere", []string{"summary.csv", "wall.svg"})
		for _, l := range strings.Split(text, "\n") {
			if n := len([]rune(l)); n > tableWidth {
				t.Errorf("%s: %d columns: %s", name, n, l)
			}
		}
		for _, want := range []string{"muscularis *", "Self-checks", "summary.csv", "does not set treatment"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in\n%s", name, want, text)
			}
		}
	}
	says := func(name string, r *thermal.Result, want ...string) {
		t.Helper()
		text := strings.Join(strings.Fields(Report(testRun(), r, "", nil)), " ")
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%s: no %q in\n%s", name, w, text)
			}
		}
	}
	says("pulsed", synthetics["pulsed"].result(),
		"pulses of 50 ms every 600 ms at 60 W (duty cycle 50 %), 5 W between, for 4 s (mean delivered 9.9 W)",
		"Cut path 8.00 mm of 8 mm, 2.00 mm/s on average sustained yes: 100 %", "kerf 1.60 mm wide, 1.10 mm deep; 14.08 mm3 removed",
		"injury beside the kerf 0.70 mm", "injury below the kerf 0.94 mm", "3.10 J delivered, 0.90 J in the tissue",
		"dried out first at 41 ms", "sparks for 31 %", "held back by a limit for 2 %", "resistance rise highest 1.64 times")
	says("slot", synthetics["slot"].result(), "sustained no, the needle drags: 40 %")
	still := synthetics["slot"].result()
	still.Summary.Cut = thermal.Cut{PartedShare: math.NaN()}
	says("nothing swept", still, "sustained no: the needle swept nothing")
	says("pressed", synthetics["pressed"].result(), "contact 0.7 mm, pressed with 0.5 N, 10 W")
	for _, word := range []string{"\nCut\n", "dried out", "sparks", "held back"} {
		if strings.Contains(Report(testRun(), synthetics["hot"].result(), "", nil), word) {
			t.Errorf("%q of a standing ball without sparks", word)
		}
	}
	for name, want := range map[string]string{
		"mild": "Injury 0.49 mm deep: 0.51 mm short of the muscle.",
		"hot":  "Injury 1.45 mm deep: 0.15 mm into the muscle (19 % of it).",
		"none": "No injury (the Arrhenius integral stays below 1 everywhere).",
	} {
		if got := verdict(synthetics[name].result()); got != want {
			t.Errorf("%s: %s", name, got)
		}
	}
}

// A number and its unit stay on one line.
func TestParagraphKeepsUnits(t *testing.T) {
	var b strings.Builder
	paragraph(&b, "  ", strings.Repeat("word ", 15)+"41 ms and 5 W")
	if want := "  " + strings.Repeat("word ", 14) + "word\n  41 ms and 5 W\n"; b.String() != want {
		t.Errorf("%q, want %q", b.String(), want)
	}
}

// What a run remarks on sparks and cutting, and its numbers, are in the manifest.
func TestManifestTellsOfTheCut(t *testing.T) {
	r := synthetics["slot"].result()
	r.Notes = []string{"Sparks carried current for 31 % of the time.", "The cut was not sustained."}
	b, err := encodeJSON(newManifest(testRun(), r, nil))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range append(slices.Clone(r.Notes), "\"dry_out_s\",\n      \"value\": null", `"spark_share"`, "\"cut_sustained\",\n      \"value\": 0", "\"kerf_width_mm\",\n      \"value\": 1.6") {
		if !strings.Contains(string(b), want) {
			t.Errorf("no %s in the manifest", want)
		}
	}
}
