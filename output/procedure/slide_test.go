package procedure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
)

// lists is a record of procedures with steps of made-up results, the titles in turn.
func lists(titles []string, lengths ...int) *Record {
	r := &Record{Title: "A: A list (made up). B: The other list (made up)"}
	walls := []string{"mild", "thick", "hot", "none"}
	for n, length := range lengths {
		l := List{Title: string(rune('A' + n))}
		for i := range length {
			s := Step{Number: i + 1, Title: titles[i%len(titles)], Times: 3, PauseS: 2, Result: fixture.Synthetics[walls[(i+n)%len(walls)]].Result()}
			s.Result.Summary.MarginToMuscleM = float64(i+2-n) * 1e-4
			l.Steps = append(l.Steps, s)
		}
		r.Procedures = append(r.Procedures, l)
	}
	return r
}

// A lecture hall sees the cross-sections of two procedures: each has a fifth of the slide's height, whose size and least
// size of text stay, and no text lies on another.
func TestCrossSectionsOnASlide(t *testing.T) {
	short := []string{"marking", "incision", "dissection", "bleeding point", "second bleeding point", "closing cut"}
	long := []string{"bleeding point at the proximal edge of the wound", "incision"}
	for _, x := range []struct {
		name    string
		titles  []string
		lengths []int
		shown   int // cross-sections
	}{
		{"one each", short, []int{1, 1}, 2}, {"three each", short, []int{3, 3}, 6}, {"five each", short, []int{5, 5}, 10}, {"eight and three", short, []int{8, 3}, 8},
		{"long titles", long, []int{5, 5}, 0}, {"a long title", short, []int{5, 5}, 0}, {"one list", short, []int{5}, 5},
	} {
		r := lists(x.titles, x.lengths...)
		if x.name == "a long title" {
			r.Title += strings.Repeat(", and a long title", 3)
		}
		f := r.Figure(chart.ForSlide)
		frames := fixture.Frames(f, 12*chart.MM)
		seen := map[string]bool{}
		for _, p := range frames {
			seen[fmt.Sprintf("%.1f %.1f", p.Min.X, p.Min.Y)] = true // the marked one has a heavy frame besides
			if share := float64((p.Max.Y - p.Min.Y) / f.H); share < 0.2 || p.Min.Y < 0 || p.Max.Y > f.H {
				t.Errorf("%s: a cross-section has %.1f %% of the height", x.name, 100*share)
			}
		}
		if len(seen) < 2 || x.shown > 0 && len(seen) != x.shown {
			t.Errorf("%s: %d cross-sections, want %d", x.name, len(seen), x.shown)
		}
		if math.Abs(float64(f.H-chart.ForSlide.H)) > 1e-9 {
			t.Errorf("%s: %.1f mm high", x.name, f.H/chart.MM)
		}
		fixture.OnPages(t, x.name, func(page chart.Page) []chart.Figure { return []chart.Figure{r.Figure(page)} })
		for _, page := range []chart.Page{chart.ForSlide, chart.ForPaper, chart.ForColumn, chart.ForDocument} {
			fixture.Apart(t, x.name, r.Figure(page))
		}
	}
}
