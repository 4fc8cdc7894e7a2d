package study

import (
	"math"
	"slices"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/record"
)

// namesOf lists the outcomes whose sensitivity is told.
func namesOf(t *SweepTable) string {
	var names []string
	for _, o := range t.Sensitive() {
		names = append(names, o.Name)
	}
	return strings.Join(names, ", ")
}

// Where the wall is not the same in all cases the sensitivity is of the margin, and of draws of the probability too: here the
// thickness before the muscle decides both, and the depth does not depend on it at all.
func TestSensitivityIsOfTheMargin(t *testing.T) {
	mucosa := sweepInput{Key: "wall.layers.mucosa.thickness_mm", Title: "mucosa", Unit: "mm", Uncertain: true}
	m := madeUp{title: "An uncertain wall, invented", design: "none", inputs: []sweepInput{muscleIn, contactIn}, points: [][]string{nil}, draws: 60}
	s := m.shape(t)
	if got := namesOf(s.SweepTable); got != "injury depth" {
		t.Errorf("of one wall: %s", got)
	}
	s.Inputs[0] = mucosa // drawn from 0.5 to 1.5 mm: the muscle begins below it
	for r := range s.Point {
		s.Column[record.MarginColumn][r] = s.InputCells[0].Number[r] - 0.3 - s.Column[record.DepthColumn][r]*0.2
	}
	quarter := slices.Sorted(slices.Values(s.Column[record.MarginColumn]))[15]
	for r := range s.Point {
		s.Column[record.MarginColumn][r] -= quarter
	}
	if got := namesOf(s.SweepTable); got != "margin to the muscle, probability that the muscle is reached" {
		t.Fatalf("of an uncertain wall: %s", got)
	}
	for n, out := range s.Sensitive() {
		all, says := s.Correlations(out)
		if len(all) != 2 || !strings.Contains(says, out.Name) {
			t.Fatalf("%v, %q", all, says)
		}
		thickness, contact := all[0].Effects[0].Size, all[1].Effects[0].Size
		if sign := []float64{1, -1}[n]; sign*thickness < 0.6 || math.Abs(contact) > math.Abs(thickness)/2 {
			t.Errorf("%s: thickness %g, contact %g", out.Name, thickness, contact)
		}
	}
	depth, _ := s.Correlations(s.Outcome())
	if math.Abs(depth[0].Effects[0].Size) > 0.3 {
		t.Errorf("the depth depends on the thickness: %g", depth[0].Effects[0].Size)
	}
	var names []string
	for _, f := range s.sensitivities() {
		names = append(names, f.Name)
		if f.Name == "sensitivity-risk" && !strings.Contains(saidBy(t, f), "more probability that the muscle is reached") {
			t.Error("the figure does not say of what")
		}
	}
	if got := strings.Join(names, " "); got != "sensitivity sensitivity-risk" {
		t.Errorf("figures %s", got)
	}
}

// Ranks of reached and not are Pearson's correlation of ranks with ties, here by hand: of eight draws in the order of their
// thickness the thinnest two reach it. Ranks of the draws less their mean are -3.5 to 3.5, those of two against six 3 and -1:
// (3(-3.5-2.5) - (-1.5-0.5+0.5+1.5+2.5+3.5)) / sqrt(42 x 24) = -24/31.75.
func TestCorrelationOfReaching(t *testing.T) {
	m := madeUp{title: "Eight walls, invented", design: "none", inputs: []sweepInput{contactIn}, points: [][]string{nil}, draws: 8}
	s := m.shape(t)
	for r := range s.Point {
		s.InputCells[0].Number[r] = float64(r)
		s.Column[record.MarginColumn][r] = float64(r) - 1.5
	}
	all, _ := s.Correlations(outcome{Name: "probability", Column: record.MarginColumn, reached: true})
	if got, want := all[0].Effects[0].Size, -24/math.Sqrt(42*24); math.Abs(got-want) > 1e-12 {
		t.Errorf("%g, want %g", got, want)
	}
}

// One at a time, the change of the margin at another site counts where its muscle begins; on one wall that of the depth is
// told, and a site that changes nothing says so.
func TestChangeOfTheMargin(t *testing.T) {
	m := madeUps["one-at-a-time"]
	s := m.shape(t)
	all, base, ok := s.Changes(s.Sensitive()[0])
	if !ok || math.Abs(base-(1.8-0.75*math.Pow(20.0/15, 0.6)*math.Pow(2, -0.3))) > 1e-9 {
		t.Fatalf("base %g", base)
	}
	if e := all[3].Effects; len(e) != 1 || e[0].Name != "right-colon" || math.Abs(e[0].Size+0.85) > 1e-9 { // 0.95 less 1.8 mm
		t.Errorf("site: %+v", e)
	}
	m.top = nil
	flat := m.shape(t)
	i := slices.IndexFunc(flat.sensitivities(), func(f chart.Figure) bool { return f.Name == "change" })
	if got := saidBy(t, flat.sensitivities()[i]); namesOf(flat.SweepTable) != "injury depth" || !strings.Contains(got, "no change") || !strings.Contains(got, "40 W: +0.37 mm") {
		t.Errorf("of one wall: %s", namesOf(flat.SweepTable))
	}
	// With draws the change of the probability is that of the share.
	m = madeUps["one-at-a-time"]
	m.draws, m.inputs = 40, append(slices.Clone(m.inputs), contactIn)
	drawn := m.shape(t)
	out := drawn.Sensitive()[1]
	share := func(point int) (k float64) {
		for r, p := range drawn.Point {
			if p == point && drawn.Column[record.MarginColumn][r] <= 0 {
				k += 100.0 / 40
			}
		}
		return k
	}
	changes, base, ok := drawn.Changes(out)
	if want := share(8) - share(0); !ok || math.Abs(base-share(0)) > 1e-9 || want == 0 || len(changes[3].Effects) != 1 || math.Abs(changes[3].Effects[0].Size-want) > 1e-9 {
		t.Errorf("base %g, site %+v, want %g", base, changes[3].Effects, want)
	}
}
