package record

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"muralheat/output/internal/fixture"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

func TestRelistFollowsADifferentDrawing(t *testing.T) {
	old := []File{{"wall.svg", []byte("a")}, {"wall.png", []byte("b")}}
	text, err := encodeJSON(Manifest{Caution: phrase.Caution, Outputs: list(old)})
	if err != nil {
		t.Fatal(err)
	}
	changed, err := Relist(text, []File{{"wall.svg", []byte("c")}})
	if err != nil {
		t.Fatal(err)
	}
	if want := strings.Replace(string(text), Digest([]byte("a")), Digest([]byte("c")), 1); string(changed) != want {
		t.Errorf("manifest became\n%s", changed)
	}
}

// A digest that is none must not be replaced: it is found everywhere.
func TestRelistLeavesWhatIsNoDigest(t *testing.T) {
	quoted := []byte(`{"outputs": [{"file": "wall.svg", "sha256": ""}, {"file": "wall.png", "sha256": "a"}]}`)
	got, err := Relist(quoted, []File{{"wall.svg", []byte("new")}, {"wall.png", []byte("new")}})
	if err != nil || !bytes.Equal(got, quoted) {
		t.Errorf("%s, %v", got, err)
	}
}

func TestChecks(t *testing.T) {
	r := fixture.Synthetics["mild"].Result()
	if !Passed(Checks(r)) {
		t.Errorf("%v", Checks(r))
	}
	r.Fields.TemperatureC[r.Mesh.Index(2, 0, 1)] = math.NaN()
	if c := Checks(r); Passed(c) || c[5].Value != 1 {
		t.Errorf("%v", c)
	}
	r = fixture.Synthetics["mild"].Result()
	r.Fields.TemperatureC[r.Mesh.Index(2, 0, 1)] = 36.9
	if c := Checks(r); Passed(c) || !(math.Abs(c[4].Value-0.1) < 1e-9) {
		t.Errorf("tissue colder than all around it: %v", c)
	}
	r = fixture.Synthetics["mild"].Result()
	r.Balance.ChargeResidual = math.NaN()
	if Passed(Checks(r)) {
		t.Error("a balance that is not a number passed")
	}
}

func TestReportFitsATerminal(t *testing.T) {
	for name, s := range fixture.Synthetics {
		run := testRun()
		run.Notes = []string{strings.Repeat("a remark on the scenario ", 12)}
		text := Report(run, s.Result(), "/tmp/somewhere", []string{"summary.csv", "wall.svg"})
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
	says("pulsed", fixture.Synthetics["pulsed"].Result(),
		"pulses of 50 ms every 600 ms at 60 W (duty cycle 50 %), 5 W between, for 4 s (mean delivered 9.9 W)",
		"Cut path 8.00 mm of 8 mm, 2.00 mm/s on average sustained yes: heat removed 100 %", "kerf 1.60 mm wide, 1.10 mm deep; 14.08 mm3 removed",
		"injury beside the kerf 0.70 mm", "injury below the kerf 0.94 mm", "3.10 J delivered, 0.90 J in the tissue",
		"dried out first at 41 ms", "sparks for 31 %", "limited by the source for 2 %", "resistance rise highest 1.64 times")
	says("slot", fixture.Synthetics["slot"].Result(), "sustained no, the needle drags: heat removed 40 %")
	still := fixture.Synthetics["slot"].Result()
	still.Summary.Cut = thermal.Cut{PartedShare: math.NaN()}
	says("nothing swept", still, "sustained no: the needle swept nothing")
	says("pressed", fixture.Synthetics["pressed"].Result(), "contact 0.7 mm, pressed with 0.5 N, 10 W")
	for _, word := range []string{"\nCut\n", "dried out", "sparks", "held back"} {
		if strings.Contains(Report(testRun(), fixture.Synthetics["hot"].Result(), "", nil), word) {
			t.Errorf("%q of a standing ball without sparks", word)
		}
	}
	for name, want := range map[string]string{
		"mild": "Injury 0.49 mm deep: 0.51 mm short of the muscle.",
		"hot":  "Injury 1.45 mm deep: 0.15 mm into the muscle (19 % of it).",
		"none": "No injury (the Arrhenius integral stays below 1 everywhere).",
	} {
		if got := phrase.Verdict(fixture.Synthetics[name].Result()); got != want {
			t.Errorf("%s: %s", name, got)
		}
	}
}

// A number and its unit stay on one line.
func TestParagraphKeepsUnits(t *testing.T) {
	var b strings.Builder
	Paragraph(&b, "  ", strings.Repeat("word ", 15)+"41 ms and 5 W")
	if want := "  " + strings.Repeat("word ", 14) + "word\n  41 ms and 5 W\n"; b.String() != want {
		t.Errorf("%q, want %q", b.String(), want)
	}
}

// What a run remarks on sparks and cutting, and its numbers, are in the manifest.
func TestManifestTellsOfTheCut(t *testing.T) {
	r := fixture.Synthetics["slot"].Result()
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

// testRun is a run of an invented scenario file.
func testRun() *Run {
	return &Run{
		Command: []string{"muralheat", "run", "bench.yaml"}, ScenarioName: "bench.yaml",
		Scenario: []byte("title: bench\n"), Resolved: []byte("title: bench # given\n"),
		Settings: []Setting{{Key: "current.power_W", Value: "10", Unit: "W", Given: true}, {Key: "afterwards_s", Value: "10", Unit: "s", Source: "assumption: invented"}},
		Start:    time.Date(2030, 1, 2, 3, 4, 5, 0, time.UTC), End: time.Date(2030, 1, 2, 3, 4, 7, 0, time.UTC),
	}
}
