package study

import (
	"math"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/record"
)

// A map does not say "nowhere" where the numerical error could decide.
func TestMapSaysWhatIsOpen(t *testing.T) {
	for name, tt := range map[string]struct {
		shift   float64 // added to margins, whose least is 0.009 mm
		quality string
		want    []string
		not     []string
	}{
		"open":       {0, "standard", []string{"The injury reaches the muscle at none of 28 points; least margin 0.01 ± 0.06 mm, at speed 0.5 mm/s, power 40 W: open.", "Hatched: open. The margin is within ±0.06 mm of nothing, so that the numerical error could decide."}, []string{"nowhere"}},
		"clear":      {0.5, "standard", []string{"at none of 28 points; least margin 0.51 ± 0.06 mm, at speed 0.5 mm/s, power 40 W."}, []string{"open", "Hatched"}},
		"in":         {-5, "standard", []string{"in the muscle at all of 28 points; largest margin –", "± 0.06 mm, at speed 8 mm/s, power 10 W."}, []string{"open", "Hatched"}},
		"both":       {-0.2, "draft", []string{"Darker than the line, it is in the muscle.", "within ±0.09 mm of nothing"}, []string{"at none", "at all"}},
		"not known":  {0, "", []string{"at none of 28 points; least margin 0.01 mm, at speed 0.5 mm/s, power 40 W."}, []string{"open", "Hatched", "±"}},
		"on a track": {0, "moving", []string{"least margin 0.01 ± 0.2 mm"}, nil},
	} {
		m := madeUps["speed-power"]
		m.status = nil
		s := m.shape(t)
		if s.Quality = tt.quality; tt.quality == "moving" {
			s.Quality, s.Moving = "standard", true
		}
		margin := s.Column[record.MarginColumn]
		least := math.Inf(1)
		for _, v := range margin {
			least = min(least, v)
		}
		for r := range margin { // the depth follows, so that the muscle begins where it did
			margin[r] += 0.009 - least + tt.shift
			s.Column[record.DepthColumn][r] -= 0.009 - least + tt.shift
		}
		figs := s.mapFigures()
		if len(figs) != 1 {
			t.Fatal("no map")
		}
		b, err := chart.Svg(figs[0])
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range tt.want {
			if !strings.Contains(string(b), want) {
				t.Errorf("%s: no %q", name, want)
			}
		}
		for _, not := range tt.not {
			if strings.Contains(string(b), not) {
				t.Errorf("%s: says %q", name, not)
			}
		}
	}
}
