package page

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/output/internal/browser"
)

const hostileWords = `"><script>alert(1)</script><img src=x onerror=alert(1)> </script><!-- =1+1 | {{.}} ${1} \u0000`

// TestHostilePage fills every word of a page with markup: it stands there as words and does nothing.
func TestHostilePage(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	p, err := Of([]string{sweepOf(t)})
	if err != nil {
		t.Fatal(err)
	}
	p.Title, p.Notes = hostileWords, []string{hostileWords}
	for n := range p.Choices {
		p.Choices[n].Title, p.Choices[n].Levels[0] = hostileWords, hostileWords
	}
	for n := range p.Walls {
		for i := range p.Walls[n] {
			p.Walls[n][i].Name = hostileWords
		}
	}
	for n := range p.Cases {
		c := &p.Cases[n]
		c.Name, c.Set, c.Verdict, c.Word, c.Delivered, c.Why, c.Marks = hostileWords, hostileWords, hostileWords, hostileWords, hostileWords, hostileWords, hostileWords
		if c.Section != nil {
			c.Section.Where = hostileWords
		}
	}
	p.Heat.Name, p.Quantity.Name = hostileWords, hostileWords
	html, err := p.HTML()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "hostile.html")
	if err := os.WriteFile(path, html, 0o644); err != nil {
		t.Fatal(err)
	}
	b := browser.Open(t)
	b.Size(360, 800, "screen")
	opened(t, b, path)
	click(b, "#keep")
	slide(b, "choice0", 1)
	click(b, "summary")
	var s struct {
		Scripts, Foreign int
		Title, Text      string
	}
	b.Ask(`({scripts: document.scripts.length, foreign: document.querySelectorAll("img, iframe, link, object, form, [onerror], [onclick], [style*=url]").length, title: document.title, text: document.body.innerText})`, &s)
	if s.Scripts != 2 || s.Foreign != 0 || s.Title != strings.TrimSpace(hostileWords) || strings.Count(s.Text, hostileWords) < 20 {
		t.Errorf("%d scripts, %d foreign elements, title %q, words %d times", s.Scripts, s.Foreign, s.Title, strings.Count(s.Text, hostileWords))
	}
	for _, c := range b.Complaints(path) {
		t.Error(c)
	}
	look(b, "hostile", 360)
	var over int
	b.Ask(`document.documentElement.scrollWidth - document.documentElement.clientWidth`, &over)
	if over > 0 {
		t.Errorf("long words: %d px wider than the window", over)
	}
}
