package main

import (
	"math"
	"os"
	"runtime"
	"strings"
	"testing"
)

// TestPagesAreWhatWasComputed: each block and each marked number of a page is what results.csv renders to, and
// that file holds just the cells of the tables. A figure changed by hand, in either, is found.
func TestPagesAreWhatWasComputed(t *testing.T) {
	kept, err := readResults(resultsName)
	if err != nil {
		t.Fatal(err)
	}
	cells := 0
	for _, tab := range tables {
		cells += tab.cells()
	}
	if len(kept) != cells {
		t.Errorf("%s has %d numbers, the tables have %d cells", resultsName, len(kept), cells)
	}
	all, err := pages("..", kept)
	if err != nil || len(all) == 0 {
		t.Fatal("no pages", err)
	}
	for name, want := range all {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if string(text) != want {
			t.Errorf("%s says\n%s\nit should say\n%s", name, text, want)
		}
	}
}

func TestMarkedNumbers(t *testing.T) {
	kept := []result{{"boil", "wall", "", "J_mm3", 2.04}}
	for text, want := range map[string]string{
		"takes (-9<!-- = boil/wall --> J": "takes (2.0<!-- = boil/wall --> J",
		"takes <!-- = boil/wall --> J":    "takes 2.0<!-- = boil/wall --> J",
	} {
		if got, err := render("results", text, nil, kept); got != want || err != nil {
			t.Errorf("%q, %v; want %q", got, err, want)
		}
	}
	for _, wrong := range []string{"1<!-- = boil/floor -->", "1<!-- = loops/none -->", "<!-- numbers: nothing -->\n<!-- end -->"} {
		if got, err := render("results", wrong, nil, kept); err == nil {
			t.Errorf("%q became %q", wrong, got)
		}
	}
}

// TestTables: each row of each table is a case of this program with the columns that are shown.
func TestTables(t *testing.T) {
	labels := map[[2]string]bool{}
	for _, tab := range tables {
		for _, r := range tab.rows {
			if at := [2]string{tab.name, r.label}; labels[at] {
				t.Errorf("%s: two rows %s", tab.name, r.label)
			} else {
				labels[at] = true
			}
			for _, v := range r.tries() {
				if r.value != nil {
					continue
				}
				if _, _, err := tab.problem(r, v); err != nil {
					t.Errorf("%s, %s %s: %v", tab.name, r.label, v, err)
				}
			}
		}
	}
}

// TestNumbers computes the first and the last row of every table again, and the listings.
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
		ends := tab.rows[:1:1]
		if len(tab.rows) > 1 {
			ends = append(ends, tab.rows[len(tab.rows)-1])
		}
		for _, r := range ends {
			now, err := tab.compute(r)
			if err != nil {
				t.Errorf("%s, %s: %v", tab.name, r.label, err)
			}
			for _, n := range now {
				for _, k := range kept {
					if k.table == n.table && k.row == n.row && k.tried == n.tried && k.column == n.column && math.Float64bits(k.value) != math.Float64bits(n.value) {
						t.Errorf("%s, %s, %s: %v is kept, %v comes out: run go generate ./cmd/muralheat", k.table, k.row, k.column, k.value, n.value)
					}
				}
			}
		}
	}
	for _, l := range listings {
		now, err := l.compute("..")
		if err != nil {
			t.Fatal(err)
		}
		if kept, err := os.ReadFile(l.file("..")); err != nil || string(kept) != now {
			t.Errorf("%s is kept as\n%s\n%v, it comes out as\n%s", l.name, kept, err, now)
		}
	}
}

// TestRanked: what moves the first column most stands first, what moves no digit of it is named below, the default is
// bold.
func TestRanked(t *testing.T) {
	bold := tried("physics.boil_C", "90", "100")
	bold.usual = "100"
	tab := table{block: block{"", "made"}, first: "key", ranked: true, columns: []column{{"depth, mm", "d", 2}},
		rows: []row{tried("a", "1", "2"), tried("b", "1", "2"), bold}}
	kept := []result{{"made", "`a`", "1", "d", 1}, {"made", "`a`", "2", "d", 1.001}, {"made", "`b`", "1", "d", 1}, {"made", "`b`", "2", "d", 1.1},
		{"made", "`physics.boil_C`", "90", "d", 0.8}, {"made", "`physics.boil_C`", "100", "d", 1}}
	got, err := tab.render(kept)
	const want = "| key | values tried | depth, mm |\n| --- | --- | --- |\n| `physics.boil_C` | 90, **100** C | 0.80, 1.00 |\n| `b` | 1, 2 | 1.00, 1.10 |\n" +
		"\nNo change to these digits: `a` (1, 2).\n"
	if err != nil || got != want {
		t.Errorf("%v\n%s\nwant\n%s", err, got, want)
	}
}

// TestWorth: a table of what ranges are worth has the ends of each, the choices, and not what the case states itself.
func TestWorth(t *testing.T) {
	tab := worth("made", "ball-touch", nil, "physics.spark_onset_V", "210")
	values := map[string]string{}
	for _, r := range tab.rows {
		values[r.key] = r.tried()
	}
	for key, want := range map[string]string{
		"physics.conductivity_exponent": "1, **1.5**, 2", "electrode.contact_radius_mm": "0.6, **0.7**, 0.85 mm",
		"physics.perfusion_stops": "never, at-injury, **with-damage**", "physics.spark_onset_V": "",
	} {
		if values[key] != want {
			t.Errorf("%s: %q, want %q", key, values[key], want)
		}
	}
	if !strings.HasPrefix(values["damage.kinetics"], "**skin-1947-joule**, skin-1947") {
		t.Errorf("kinetics %q", values["damage.kinetics"])
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
