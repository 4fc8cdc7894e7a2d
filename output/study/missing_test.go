package study

import (
	"math"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/record"
)

// Draws without a result must not leave the probability: the ten thinnest walls of 60 failed, ten
// of the others were reached.
func TestRiskBoundsMissingDraws(t *testing.T) {
	m := madeUp{title: "Walls that failed, invented", inputs: []sweepInput{powerIn, contactIn}, points: every(numbered(20, 40)), draws: 60,
		status: func(n int) string {
			if n < 10 {
				return "failed"
			}
			return "ok"
		}}
	s := m.shape(t)
	for r := range s.Point {
		s.Column[record.MarginColumn][r] = 1
		if r < 10 {
			s.Column[record.MarginColumn][r] = -0.1
		}
	}
	facets, _ := s.facets(false)
	p := facets[0].places(s.SweepTable, 0, riskOf())
	if len(p) != 2 {
		t.Fatalf("%d places", len(p))
	}
	low, high := shareOfDraws(10, 60), shareOfDraws(20, 60)
	if p[0].missing != 10 || math.Abs(p[0].mid-20) > 1e-12 || p[0].low != 100*low.low || p[0].high != 100*high.high ||
		math.Abs(p[0].none-100*10.0/60) > 1e-12 || math.Abs(p[0].all-100*20.0/60) > 1e-12 {
		t.Errorf("%+v; want 10 of 50, bounds 16.7 and 33.3 %%, interval %.1f to %.1f %%", p[0].stats, 100*low.low, 100*high.high)
	}
	if p[1].missing != 0 || p[1].none != p[1].mid || p[1].all != p[1].mid {
		t.Errorf("none is missing at the second place: %+v", p[1].stats)
	}
	if got := s.MissingDraws(); len(got) != 1 || !strings.Contains(got[0], "16.7 % if none of them reach the muscle, 33.3 % if all do") {
		t.Errorf("%q", got)
	}
	if got := madeUps["thick-draws"].read(t).MissingDraws(); got != nil {
		t.Errorf("%q where none is missing", got)
	}
	b, err := chart.Svg(s.curvesFigures("risk", riskOf())[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Share of the draws that have a result", "up to 10 of 60 draws at a place have none", "the share there is 16.7 % if none of them reach the muscle, 33.3 % if all do.", "Thick lines: from the one share to the other", "10 of 120 cases failed"} {
		if !strings.Contains(string(b), want) {
			t.Errorf("the figure does not say %q", want)
		}
	}
}

// A place of which no draw has a result may be anything.
func TestRiskOfAPointThatFailed(t *testing.T) {
	m := madeUp{title: "A point that failed, invented", inputs: []sweepInput{powerIn, contactIn}, points: every(numbered(20, 40)), draws: 20,
		status: func(n int) string {
			if n < 20 {
				return "failed"
			}
			return "ok"
		}}
	b, err := chart.Svg(m.shape(t).curvesFigures("risk", riskOf())[0])
	if err != nil {
		t.Fatal(err)
	}
	if want := "At 1 of 2 points no draw has a result: the probability there may be anything from 0 to 100 %."; !strings.Contains(string(b), want) {
		t.Errorf("the figure does not say %q", want)
	}
}
