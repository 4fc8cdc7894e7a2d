package study

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"muralheat/output/record"
)

// numericalFolder holds sweeps of quality draft that were refined as usual, each with all its cases on cells and steps a quarter as
// large and at quality standard; its recompute.sh computes them.
const numericalFolder = "../../testdata/reference/numerical"

// depthsOf reads the depths of a table by case.
func depthsOf(t *testing.T, path string) map[string]float64 {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	out := map[string]float64{}
	for _, r := range rows[1:] {
		if r[column["status"]] == "ok" {
			out[r[column["case"]]] = record.Parsed(r[column[record.DepthColumn]])
		}
	}
	return out
}

// storedSweeps returns the stored sweeps by name.
func storedSweeps(t *testing.T) map[string]*SweepTable {
	t.Helper()
	out := map[string]*SweepTable{}
	paths, err := filepath.Glob(filepath.Join(numericalFolder, "*", SweepName))
	if err != nil || len(paths) == 0 {
		t.Fatal("no stored sweeps", err)
	}
	for _, path := range paths {
		s, err := ReadSweep(filepath.Dir(path))
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(filepath.Dir(path))] = s
	}
	return out
}

// The numerical error of a refined sweep must hold the depth on a mesh four times as fine for 95 of 100 cases: of those that were
// refined and of those that were not, and neither may be far more than what it holds.
func TestBoundHolds(t *testing.T) {
	held, all, own := 0, 0, 0
	for name, s := range storedSweeps(t) {
		reference := depthsOf(t, filepath.Join(numericalFolder, name, "reference.csv"))
		if s.refined == nil {
			t.Fatalf("%s is not refined: %s", name, s.refinedNote)
		}
		worst, bounds := map[regime]float64{}, map[regime]float64{}
		for row, i := range s.Case {
			want, there := reference[fmt.Sprint(i)]
			if !there || want == 0 && s.cell(record.DepthColumn, row) == 0 { // no injury in the wall on either mesh says nothing
				continue
			}
			off, e := math.Abs(s.cell(record.DepthColumn, row)-want), s.errorOf(record.DepthColumn, row)
			all++
			if _, refined := s.refined.own(record.DepthColumn, i); refined {
				own++
			}
			if off <= e {
				held++
			} else {
				t.Logf("%s, case %d, %s: %.3f mm off, error %.3f mm", name, i, s.regime(row), off, e)
			}
			worst[s.regime(row)] = max(worst[s.regime(row)], off)
		}
		for _, g := range regimes {
			if b, there := s.refined.bound(record.DepthColumn, g); there {
				bounds[g] = b.Error
				t.Logf("%s, %s: bound %.3f mm of %d cases, worst of all cases %.3f mm", name, g, b.Error, b.Cases, worst[g])
			}
		}
	}
	t.Logf("held %d of %d, %d of them refined", held, all, own)
	if all < 100 || float64(held) < 0.95*float64(all) || all-own < 60 {
		t.Errorf("held %d of %d, %d of them refined", held, all, own)
	}
}

// The errors that are taken where nothing is measured are those of the stored sweeps. The reference has cells half as large as
// standard: what is left of an error that goes with the cells is a third of that of draft, all of that of standard, and that of fine
// is the difference itself.
func TestDepthErrors(t *testing.T) {
	type key struct {
		quality string
		regime  regime
	}
	worst, count := map[key]float64{}, map[key]int{}
	for name, s := range storedSweeps(t) {
		if name == "stalk" { // its cells are others
			continue
		}
		reference, standard := depthsOf(t, filepath.Join(numericalFolder, name, "reference.csv")), depthsOf(t, filepath.Join(numericalFolder, name, "standard.csv"))
		for row, i := range s.Case {
			c, g := fmt.Sprint(i), s.regime(row)
			a, b := math.Abs(s.cell(record.DepthColumn, row)-reference[c]), math.Abs(standard[c]-reference[c])
			for quality, e := range map[string]float64{"draft": a * 4 / 3, "standard": 2 * b, "fine": b} {
				if !math.IsNaN(e) {
					worst[key{quality, g}], count[key{quality, g}] = max(worst[key{quality, g}], e), count[key{quality, g}]+1
				}
			}
		}
	}
	for _, quality := range []string{"draft", "standard", "fine"} {
		for _, g := range regimes {
			k, got := key{quality, g}, depthErrors[quality][g]
			if want := math.Ceil(100*worst[k]) / 100; got.Cases != count[k] || math.Abs(got.Error-want) > 1e-9 {
				t.Errorf("numerical.csv has %v; want %s,%s,%d,%g", got, quality, g, count[k], want)
			}
		}
	}
}
