package brackets

import (
	"context"
	"flag"
	"math"
	"os"
	"runtime"
	"strings"
	"testing"

	"muralheat/scenarios"
)

var regen = flag.Bool("regen", false, "write the table of the guide (page experiments) anew")

// TestFiles holds the scenario files to the experiments: each is used, says what it is,
// and is the first setting that is run from it.
func TestFiles(t *testing.T) {
	entries, err := published.ReadDir("published")
	if err != nil {
		t.Fatal(err)
	}
	first := map[string]experiment{}
	for _, e := range experiments() {
		if _, ok := first[e.file]; !ok {
			first[e.file] = e
		}
	}
	if len(first) != len(entries) {
		t.Errorf("%d files are run, there are %d", len(first), len(entries))
	}
	for name, e := range first {
		text, err := published.ReadFile("published/" + name)
		if err != nil {
			t.Error(err)
			continue
		}
		if !strings.Contains(string(text), "restated; what the paper") || !strings.Contains(string(text), "assumed:") {
			t.Errorf("%s does not say that it is a published experiment and what is assumed", name)
		}
		s, err := scenarios.Parse(name, text)
		if err != nil {
			t.Error(err)
			continue
		}
		if c := s.Case(); e.setW > 0 && (e.fileW != e.setW || c.Drive.OnS != e.onS || c.Drive.PowerW > e.setW) {
			t.Errorf("%s: %g W for %g s is not its first setting, %g W set for %g s", name, c.Drive.PowerW, c.Drive.OnS, e.setW, e.onS)
		}
	}
}

// TestBrackets computes all experiments. What it asserts is that the report can be
// trusted, never that a bracket is met.
func TestBrackets(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG") == "" && !*regen {
		t.Skip("computes every experiment: set MURALHEAT_LONG=1, as .ci/run does")
	}
	all, err := Run(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]bool{}
	for _, b := range all {
		if ids[b.ID] || b.ID == "" {
			t.Errorf("%q is not an id of its own", b.ID)
		}
		ids[b.ID] = true
		for name, text := range map[string]string{"measurement": b.Measured, "source": b.Source, "unit": b.Unit, "reason to miss it": b.Why} {
			if text == "" {
				t.Errorf("%s: no %s", b.ID, name)
			}
		}
		if math.IsNaN(b.Ours) || math.IsInf(b.Ours, 0) || b.Ours < 0 {
			t.Errorf("%s: %g %s", b.ID, b.Ours, b.Unit)
		}
		if b.Low > b.High || b.Low < 0 || b.High == 0 {
			t.Errorf("%s: no bracket from %g to %g", b.ID, b.Low, b.High)
		}
		if b.Inside != (b.Ours >= b.Low && b.Ours <= b.High) {
			t.Errorf("%s: %g in %g to %g: %v", b.ID, b.Ours, b.Low, b.High, b.Inside)
		}
		if stated := !math.IsNaN(b.SetJ); stated && !(b.Share > 0 && b.Share <= 1.05) {
			t.Errorf("%s: absorbed share %g", b.ID, b.Share)
		}
		// A tenth is what the tissue gets, as the files and the table say.
		if strings.Contains(b.ID, "-tenth-") && math.Abs(b.Share-0.1) > 1e-3 {
			t.Errorf("%s: absorbed share %g, not a tenth", b.ID, b.Share)
		}
		// The limits of every run (guide, page results).
		if e, q := b.Result.Balance.EnergyResidual, b.Result.Balance.ChargeResidual; !(math.Abs(e) < 1e-6) || !(q < 1e-2) {
			t.Errorf("%s: energy residual %g, charge residual %g", b.ID, e, q)
		}
	}
	table := Markdown(all)
	t.Log("\n" + table)
	documented(t, table)
	if runtime.GOARCH != "amd64" {
		return
	}
	if *regen {
		if err := os.WriteFile("stored.csv", []byte(CSV(all)), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if CSV(all) != stored || len(Stored()) != len(all) {
		t.Error("stored.csv is not what is computed today: go test ./scenarios/brackets -regen")
	}
}

// documented holds the table of the guide to the one computed today.
func documented(t *testing.T, table string) {
	const name, begin, end = "../../cmd/muralheat/guide/experiments.md", "<!-- go test ./scenarios/brackets -regen -->\n", "<!-- end -->\n"
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round differently in the last digit")
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(data), begin)
	written, after, closed := strings.Cut(rest, end)
	if !ok || !closed {
		t.Fatalf("%s has no place for the table: %s", name, begin)
	}
	if *regen {
		if err := os.WriteFile(name, []byte(before+begin+table+end+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if written != table {
		t.Errorf("the table of %s is not what is computed today; look at the new one, then go test ./scenarios/brackets -regen", name)
	}
}
