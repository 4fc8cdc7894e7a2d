package study

import (
	"encoding/csv"
	"math"
	"slices"
	"strings"
	"testing"

	"muralheat/output/record"
)

// pairOf is a pair of the made-up sweep with margins of its own: A and B, draw by draw.
func pairOf(t *testing.T, quality string, margins ...[2]float64) *SweepTable {
	t.Helper()
	m := madeUps["pair"]
	m.draws = len(margins)
	s := m.read(t)
	s.Quality = quality
	s.Column[dryColumn] = slices.Repeat([]float64{1}, len(s.Point)) // the error is that of what dried: 0.11 mm at fine, 0.22 mm at standard
	for r, p := range s.Point {
		was := s.Column[record.MarginColumn][r]
		s.Column[record.MarginColumn][r] = margins[s.Draw[r]][p]
		s.Column[record.DepthColumn][r] += was - margins[s.Draw[r]][p]
	}
	return s
}

// some repeats a pair of margins.
func some(n int, a, b float64) (out [][2]float64) {
	for range n {
		out = append(out, [2]float64{a, b})
	}
	return out
}

func joined(parts ...[][2]float64) (out [][2]float64) {
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// Which draws change sides is counted draw by draw, and only they decide.
func TestPairCounts(t *testing.T) {
	p, ok := pairOf(t, "fine", joined(some(9, 1, -1), some(1, -1, 1), some(5, -1, -2), some(15, 2, 1.5))...).Pair()
	if !ok {
		t.Fatal("no pair")
	}
	if got := p.sides(); got != [4]int{5, 1, 9, 15} {
		t.Errorf("both, only A, only B, neither: %v", got)
	}
	if want := 22.0 / 1024; math.Abs(p.Counts.P()-want) > 1e-12 { // one or none, or nine or all, of ten
		t.Errorf("p %g, want %g", p.Counts.P(), want)
	}
	if p.Chances[0].K != 6 || p.Chances[1].K != 14 || p.Chances[0].N != 30 {
		t.Errorf("%+v", p.Chances)
	}
	if d := p.Margin; d.Median != -0.5 || d.Low != -1 || d.High != -0.5 || d.From != -2 || d.N != 30 || math.Abs(d.ErrorMM-0.22) > 1e-12 {
		t.Errorf("%+v", d)
	}
	// Nothing is near enough to the muscle for 0.11 mm to matter.
	if p.MostP != p.Counts.P() || p.MostAlikeP != p.Counts.P() {
		t.Errorf("p at most %g and %g", p.MostAlikeP, p.MostP)
	}
	if said := strings.Join(p.Words(), " "); !strings.HasPrefix(said, "strong (B) reaches the muscle more often than gentle (A), whatever the numerical error.") ||
		!strings.Contains(said, "p = 0.021") || !strings.Contains(said, "6 of 30 draws, 20 % (95 % interval 7.71 to 38.6 %)") {
		t.Error(said)
	}
}

// The numerical error turns the answer: alike in A and B, or not alike, or so that it is open. It is that of the quality.
func TestPairVerdict(t *testing.T) {
	far := some(15, 2, 1.5)
	for _, c := range []struct {
		quality string
		margins [][2]float64
		want    string
	}{
		{"fine", joined(some(9, 1, -1), far), "(B) reaches the muscle more often than gentle (A), whatever the numerical error."},
		{"fine", joined(some(9, -1, 1), far), "gentle (A) reaches the muscle more often than strong (B), whatever"},
		{"fine", joined(some(9, 0.05, -1), some(9, 1, -0.05), far), "provided that the numerical errors of both are alike"},
		{"fine", joined(some(9, 0.05, -0.05), far), "the numerical error leaves it open"},
		{"standard", joined(some(9, 0.1, -1), far), "the numerical error leaves it open"},
		{"fine", joined(some(9, 0.12, -1), far), "whatever the numerical error"},
		{"unknown", joined(some(9, 1, -1), far), "the numerical error leaves it open"},
		{"fine", joined(some(3, 1, -1), far), "is shown: chance alone may well"},
		{"fine", joined(some(3, -1, -1), far), "is seen: no draw changes sides"},
	} {
		p, _ := pairOf(t, c.quality, c.margins...).Pair()
		if got := p.verdict(); !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q; %+v, p at most %g, %g", c.quality, got, c.want, p.Counts, p.MostAlikeP, p.MostP)
		}
	}
}

// Draws without a result may all have changed sides against the answer.
func TestPairBoundsMissingDraws(t *testing.T) {
	m := madeUps["pair"]
	m.draws = 24
	m.status = func(n int) string {
		if n%24 >= 18 {
			return "failed"
		}
		return "ok"
	}
	s := m.read(t)
	s.Quality = "fine"
	for r, p := range s.Point {
		s.Column[record.MarginColumn][r] = 1
		if p == 1 && s.Draw[r] < 8 {
			s.Column[record.MarginColumn][r] = -1
		}
	}
	p, _ := s.Pair()
	if p.Counts.OnlyB != 8 || p.Counts.P() > 0.01 || p.MostP < 0.7 { // six of fourteen: 0.79
		t.Errorf("%+v: p %g, at most %g", p.Counts, p.Counts.P(), p.MostP)
	}
	if said := strings.Join(p.Words(), " "); !strings.Contains(said, "6 of 24 draws have no result under one or both") || !strings.Contains(said, "leaves it open") {
		t.Error(said)
	}
	if p.Chances[0].Missing != 6 || p.Chances[0].High < 0.4 {
		t.Errorf("%+v", p.Chances[0])
	}
}

// Only two points with draws are a pair.
func TestPairIsTwoPoints(t *testing.T) {
	for name := range madeUps {
		p, ok := madeUps[name].read(t).Pair()
		if want := name == "pair"; ok != want {
			t.Errorf("%s: a pair: %v", name, ok)
		} else if ok && (p.A != "gentle" || p.B != "strong") {
			t.Errorf("%q and %q", p.A, p.B)
		}
	}
}

// The table has a row for each point, with draws that are missing and the numerical error.
func TestProbabilityTable(t *testing.T) {
	s := pairOf(t, "standard", joined(some(4, 0.1, -0.1), some(16, 1, -1))...)
	rows, err := csv.NewReader(strings.NewReader(string(s.ProbabilityCSV()))).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatal(rows, err)
	}
	want := []string{
		"point title n k missing P_percent low_percent high_percent method numerical_mm k_least k_most low_numerical_percent high_numerical_percent",
		"0 gentle 20 0 0 0 0 16.8433 Clopper-Pearson 95 % 0.21 0 4 0 43.6614",
		"1 strong 20 20 0 100 83.1567 100 Clopper-Pearson 95 % 0.21 16 20 56.3386 100",
	}
	for n, row := range rows {
		if got := strings.Join(row, " "); got != want[n] {
			t.Errorf("%q, want %q", got, want[n])
		}
	}
	for name, has := range map[string]bool{"draws": true, "draws-only": true, "named": false, "no-muscle": false, "thick-draws": true} {
		table := madeUps[name].read(t)
		if got := table.ProbabilityCSV(); (got != nil) != has {
			t.Errorf("%s: a table: %v", name, got != nil)
		}
	}
	// A point of which no draw has a result may be anything.
	m := madeUp{title: "Failed, invented", inputs: []sweepInput{powerIn, contactIn}, points: every(numbered(20, 40, 60)), draws: 20, status: func(n int) string {
		if n >= 40 {
			return "failed"
		}
		return "ok"
	}}
	all := m.read(t).Probabilities()
	if len(all) != 3 || all[2].N != 0 || all[2].Low != 0 || all[2].High != 1 || !strings.Contains(all[2].Words(), "anything from 0 to 100 %") || all[0].Title != "power 20 W" {
		t.Errorf("%+v", all)
	}
}

// The figure says what the two are, and how many draws reach the muscle where.
func TestPairFigure(t *testing.T) {
	figs := pairOf(t, "fine", joined(some(9, 1, -1), some(1, -1, 1), some(5, -1, -2), some(15, 2, 1.5))...).Shape().pairFigures()
	if len(figs) != 1 {
		t.Fatalf("%d figures", len(figs))
	}
	got := saidBy(t, figs[0])
	for _, want := range []string{"A: gentle", "B: strong", "with B only: 9", "with A only: 1", "with both: 5", "with neither: 15", "margin with B (mm)", "6 of 30 draws", "more often than gentle (A)"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q", want)
		}
	}
}
