package compare

import (
	"bytes"
	"image/png"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
)

// A slide is 33.87 cm by 19.05 cm with no text below 18 pt, whatever it shows, and says why; the text of a paper has 7 to 9 pt.
func TestPages(t *testing.T) {
	made := func(names ...string) (members []Member) {
		for _, n := range names {
			members = append(members, Member{"Made up: " + n, fixture.Synthetics[n].Result(), nil})
		}
		return members
	}
	for name, members := range map[string][]Member{
		"two": pair(), "three": made("needle", "hot", "pressed"), "four": made("mild", "hot", "thick", "none"),
		"long titles": {{strings.Repeat("a long title ", 9), pair()[0].Result, nil}, {"b", pair()[1].Result, nil}},
	} {
		f := Figure(chart.ForSlide, "On a slide", members)
		least, _ := fixture.TextSizes(t, f)
		b, err := chart.Svg(f)
		if err != nil {
			t.Fatal(err)
		}
		svg := string(b)
		if least < 18 {
			t.Errorf("%s: text of %g pt on a slide", name, least)
		}
		if !strings.Contains(svg, `<svg width="960.09pt" height="540pt"`) { // 33.87 cm by 19.05 cm
			t.Errorf("%s: another size: %.120s", name, svg)
		}
		frames := fixture.Frames(f, 12*chart.MM)
		for _, p := range frames {
			if share := float64((p.Max.Y - p.Min.Y) / f.H); share < 0.2 {
				t.Errorf("%s: a cross-section has %.1f %% of a slide's height", name, 100*share)
			}
		}
		if len(frames) != len(members) {
			t.Errorf("%s: %d cross-sections of %d", name, len(frames), len(members))
		}
		for _, page := range []chart.Page{chart.ForSlide, chart.ForPaper, chart.ForColumn, chart.ForDocument} {
			fixture.Apart(t, name, Figure(page, "A comparison", members))
		}
		for _, want := range []string{"delivered, ", "licensed practice decide"} {
			if strings.Count(svg, want) < 1 {
				t.Errorf("%s: no %q", name, want)
			}
		}
		fixture.OnPages(t, name, func(page chart.Page) []chart.Figure {
			return []chart.Figure{Figure(page, "A comparison", members)}
		})
	}
	two := Figure(chart.ForSlide, "Slow and fast", pair())
	fixture.Says(t, "slide", two, []string{"The contact dried after 700 ms", "2.5 of 10 W delivered", "37 pale to 100 dark", "Thin dashed: injury of the first"}, nil)
	if two.Name != "sections-slide" || Figure(chart.ForDocument, "", pair()).Name != "sections" {
		t.Errorf("the file is called %s", two.Name)
	}
	b, err := chart.Png(two)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.DecodeConfig(bytes.NewReader(b))
	if err != nil || img.Width != 2000 || img.Height != 1125 {
		t.Errorf("%d by %d dots (%v)", img.Width, img.Height, err)
	}
}

// What does not fit is given up in this order: further reasons, the difference, and the first reason last.
func TestLinesGivenUp(t *testing.T) {
	s := sayings{delivered: "d", against: "a", reasons: []string{"1", "2", "3"}}
	for n, want := range map[int]string{5: "d a 1 2 3", 4: "d a 1 2", 3: "d a 1", 2: "d 1", 1: "d", 0: ""} {
		if got := strings.Join(s.rest(n), " "); got != want {
			t.Errorf("%d lines: %s, want %s", n, got, want)
		}
	}
	if got := strings.Join(sayings{delivered: "d"}.rest(5), " "); got != "d" {
		t.Errorf("nothing to say: %s", got)
	}
}
