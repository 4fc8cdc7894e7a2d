package page

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"muralheat/output/internal/browser"
	"muralheat/scenarios"
	"muralheat/thermal"
)

// TestFilmInABrowser scrubs and plays the film of a run: numbers are those of its history.
func TestFilmInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	pulled := strings.NewReplacer("wall:", "motion: {length_mm: 1, speed_mm_s: 2}\nwall:").Replace(scenarioText)
	for name, text := range map[string]string{"held": scenarioText, "pulled": pulled} {
		t.Run(name, func(t *testing.T) { filmPlays(t, name, text) })
	}
}

func filmPlays(t *testing.T, name, text string) {
	s, err := scenarios.Parse("bench.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	c := s.Case()
	r, err := thermal.Simulate(t.Context(), &c, thermal.Options{Moments: 6})
	if err != nil {
		t.Fatal(err)
	}
	p := &builder{page: &Page{Title: "A film"}}
	p.add(r, r, Case{At: []int{}}, "")
	page, err := p.done()
	if err != nil {
		t.Fatal(err)
	}
	html, err := page.HTML()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "film.html")
	if err := os.WriteFile(path, html, 0o644); err != nil {
		t.Fatal(err)
	}
	b := browser.Open(t)
	b.Size(1280, 800, "screen")
	opened(t, b, path)
	whole := seenIn(b).Big[0]
	sum := func() (v float64) { // of all colours
		b.Ask(`(() => { const c = document.querySelector("#panes canvas"), d = c.getContext("2d").getImageData(0, 0, c.width, c.height).data; let s = 0; for (let i = 0; i < d.length; i += 4) s += d[i] + d[i+1] + d[i+2]; return s / d.length; })()`, &v)
		return v
	}
	lightest := 0.0
	for n, m := range r.Moments {
		slide(b, "moment", n)
		depth, when := 1e3*r.History[m.Row].DepthM, fmt.Sprintf("after %.2f s", r.History[m.Row].TimeS)
		if name == "pulled" {
			when += ", mid-track"
		}
		if name == "pulled" { // in the plane that is shown
			depth = deepest(p.films[0].cuts[n])
		}
		want := fmt.Sprintf("%.2f mm", depth)
		if depth == 0 {
			want = "no injury"
		}
		if v := seenIn(b); v.Big[0] != want || v.Big[1] != when || v.Injuries > 0 != (depth > 0) {
			t.Errorf("moment %d: %q with %d lines; want %s %s", n, v.Big, v.Injuries, want, when)
		}
		if n == 0 {
			lightest = sum()
		}
		var beside struct{ Dies, Metal int }
		b.Ask(`({dies: document.querySelectorAll(".track .dies").length, metal: document.querySelectorAll(".track .metal").length})`, &beside)
		want3D, deep := name == "pulled", r.History[m.Row].DepthM // less than a cell deep it is a point there
		if beside.Metal > 0 != want3D || beside.Dies > 0 && !(want3D && deep > 0) || want3D && deep > r.Mesh.Z.Width(0) && beside.Dies == 0 {
			t.Errorf("moment %d along the track: %+v, %g mm deep", n, beside, 1e3*deep)
		}
	}
	look(b, "film-"+name, 1280)
	slide(b, "moment", len(r.Moments))
	if v := seenIn(b); v.Big[0] != whole || sum() >= lightest {
		t.Errorf("after the film: %q, want %s; colours %g, at the start %g", v.Big, whole, sum(), lightest)
	}
	click(b, "#play")
	if v := seenIn(b); v.Big[0] != "no injury" {
		t.Errorf("played from the end: %q", v.Big)
	}
	for range 100 {
		if time.Sleep(50 * time.Millisecond); seenIn(b).Big[0] == whole && len(seenIn(b).Big) == 1 {
			break
		}
	}
	if v := seenIn(b); v.Big[0] != whole || len(v.Big) != 1 {
		t.Errorf("played: %q", v.Big)
	}
	click(b, "#ask")
	var shown bool
	if b.Ask(`!document.getElementById("film").hidden`, &shown); shown {
		t.Error("the film shows what is asked for")
	}
	for _, c := range b.Complaints(path) {
		t.Error(c)
	}
}
