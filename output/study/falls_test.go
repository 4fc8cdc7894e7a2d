package study

import (
	"math"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/record"
)

func saidBy(t *testing.T, f chart.Figure) string {
	t.Helper()
	b, err := chart.Svg(f)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// A curve that falls with more power says so, if the contact had dried or a limit held the source.
func TestFallsThatDryingExplains(t *testing.T) {
	const said = "Injury depth falls as power rises, most from 20 W to 30 W: "
	none, at := math.NaN(), 0.8
	for name, tt := range map[string]struct {
		depth, dry, limited [4]float64 // at 10, 20, 30 and 40 W
		want                string
	}{
		"dried":       {[4]float64{0.5, 0.9, 0.7, 0.69}, [4]float64{none, none, at, at}, [4]float64{}, said + "the contact had dried in those cases (dry_out_s), which ends its own current."},
		"limited":     {[4]float64{0.5, 0.9, 0.7, 0.69}, [4]float64{none, none, none, none}, [4]float64{0, 0, 40, 60}, said + "the source was limited in those cases (limited_percent)."},
		"both":        {[4]float64{0.5, 0.9, 0.7, 0.69}, [4]float64{none, none, at, at}, [4]float64{0, 0, 40, 60}, said + "contact dried (dry_out_s) and source limited (limited_percent) there."},
		"neither":     {[4]float64{0.5, 0.9, 0.7, 0.69}, [4]float64{none, none, none, none}, [4]float64{}, ""},
		"dried below": {[4]float64{0.5, 0.9, 0.7, 0.8}, [4]float64{at, at, none, at}, [4]float64{}, ""},
		"no fall":     {[4]float64{0.5, 0.6, 0.7, 0.8}, [4]float64{at, at, at, at}, [4]float64{}, ""},
		"too small":   {[4]float64{0.5, 0.7, 0.695, 0.8}, [4]float64{at, at, at, at}, [4]float64{}, ""},
	} {
		s := madeUps["power"].shape(t)
		s.Column[record.DepthColumn], s.Column[dryColumn], s.Column[limitedColumn] = tt.depth[:], tt.dry[:], tt.limited[:]
		got := saidBy(t, s.curvesFigures("depth", depthOf(s.SweepTable))[0])
		if strings.Contains(got, " falls as ") != (tt.want != "") || !strings.Contains(got, tt.want) {
			t.Errorf("%s: not %q", name, tt.want)
		}
	}
	// So does a probability.
	draws := madeUps["thick-draws"].shape(t)
	dried := make([]float64, len(draws.Point))
	draws.Column[dryColumn] = dried
	for r, p := range draws.Point {
		if p >= 8 {
			draws.Column[record.MarginColumn][r] = 1
		}
	}
	if want := "The share that dies within a day falls as power rises, most from 40 W to 45 W: the contact had dried"; !strings.Contains(saidBy(t, draws.riskFigures()[0]), want) {
		t.Errorf("not %q", want)
	}
	// More speed may well burn less: nothing to explain.
	s := madeUps["speed-power"].shape(t)
	dry := make([]float64, len(s.Point))
	s.Column[dryColumn] = dry
	if strings.Contains(saidBy(t, s.curvesFigures("depth", depthOf(s.SweepTable))[0]), " falls as ") {
		t.Error("a fall with speed is explained")
	}
}

// The probability of either line beside the other; what never happens is a sentence.
func TestRiskOfBothLines(t *testing.T) {
	s := madeUps["thick-draws"].shape(t)
	margin := s.Column[record.MarginColumn]
	if got := saidBy(t, s.riskFigures()[0]); !strings.Contains(got, "tissue that dies within a day, the later of the two") || strings.Contains(got, "coagulated at once (% of draws)") {
		t.Error("without the column: the default is not told, or the other line is drawn")
	}
	atOnce := make([]float64, len(margin))
	for r, m := range margin {
		atOnce[r] = m + 0.2
	}
	s.Column[atOnceColumn] = atOnce
	got := saidBy(t, s.riskFigures()[0])
	for _, want := range []string{"dies within a day (% of draws)", "coagulated at once (% of draws)", "Probability that the injury reaches the muscle and that tissue coagulated at once does against power."} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q", want)
		}
	}
	facets, _ := s.facets(false)
	later, first := facets[0].places(s.SweepTable, 0, riskOf()), facets[0].places(s.SweepTable, 0, atOnceOf())
	lower := 0
	for n, p := range first {
		k := 0
		for _, rows := range [][]int{facets[0].split(0)[n]} {
			for _, r := range rows {
				if atOnce[r] <= 0 {
					k++
				}
			}
		}
		if p.mid != 100*float64(k)/64 || p.mid > later[n].mid {
			t.Errorf("%g W: %g %%, want %d of 64", p.x, p.mid, k)
		}
		if p.mid < later[n].mid {
			lower++
		}
	}
	if lower == 0 {
		t.Error("both lines are the same")
	}
	for r := range atOnce {
		atOnce[r] = 1
	}
	got = saidBy(t, s.riskFigures()[0])
	if strings.Contains(got, "coagulated at once (% of draws)") || !strings.Contains(got, "Tissue coagulated at once reaches it in none of the draws: at each place at most 5.6 % (upper end of the 95 % interval, exact).") {
		t.Error("what never happens is not a sentence")
	}
}
