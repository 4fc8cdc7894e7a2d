package report

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"muralheat/output/document"
	"muralheat/output/internal/browser"
	"muralheat/output/study"
	"muralheat/thermal"
)

// look says how the page lies: how much wider than the window it is, what stands out of its
// place, and how small its smallest words are.
const look = `({
	over: document.documentElement.scrollWidth - document.documentElement.clientWidth,
	out: [...document.querySelectorAll("p, li, pre, h1, h2, figure, .stack td")].filter(e => e.checkVisibility() && e.getBoundingClientRect().right > innerWidth + 1 && !e.closest(".scroll:not(:has(.stack))")).map(e => e.textContent.slice(0, 60)),
	small: Math.min(...[...document.querySelectorAll("p, li, td, th, pre, caption, figcaption")].map(e => parseFloat(getComputedStyle(e).fontSize))),
	narrow: [...document.querySelectorAll("td, tbody th")].filter(e => e.checkVisibility() && e.textContent.trim().length > 5 && e.clientWidth < 20).map(e => e.textContent.slice(0, 60)),
	elements: document.querySelectorAll("script, img, iframe, link, object, form, [onerror], [onclick]").length,
	title: document.title,
	text: document.body.innerText,
	unnamed: [...document.querySelectorAll("svg")].filter(e => e.getAttribute("role") != "img" || !e.getAttribute("aria-label")).length,
	drawings: document.querySelectorAll("figure svg").length,
	dangling: [...document.querySelectorAll("nav a")].filter(a => !document.getElementById(a.hash.slice(1))).length,
})`

type looked struct {
	Over                                  int
	Out, Narrow                           []string
	Small                                 float64
	Elements, Unnamed, Drawings, Dangling int
	Title, Text                           string
}

// TestReportInABrowser shows reports with hostile words in a real browser, from a phone to
// a slide, and prints them. MURALHEAT_LOOK=DIR keeps what was seen.
func TestReportInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	b := browser.Open(t)
	keep := os.Getenv("MURALHEAT_LOOK")
	for name, dir := range map[string]string{"run": hostileRun(t), "sweep": hostileSweep(t)} {
		t.Run(name, func(t *testing.T) {
			b.T = t
			path := filepath.Join(dir, "report.html")
			for width, scheme := range map[int]string{360: "light", 1024: "dark", 1600: "light"} {
				b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 500}, nil)
				b.Call("Emulation.setEmulatedMedia", map[string]any{"media": "screen", "features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}}}, nil)
				b.Show(path)
				var l looked
				b.Ask(look, &l)
				where := fmt.Sprintf("%d px, %s", width, scheme)
				for _, c := range b.Complaints(path) {
					t.Errorf("%s: %s", where, c)
				}
				if l.Over != 0 || len(l.Out) > 0 || len(l.Narrow) > 0 {
					t.Errorf("%s: %d px wider than the window; outside: %q; too narrow: %q", where, l.Over, l.Out, l.Narrow)
				}
				if l.Small < 11 {
					t.Errorf("%s: words of %g px", where, l.Small)
				}
				if l.Elements != 0 || l.Unnamed != 0 || l.Dangling != 0 || l.Drawings == 0 {
					t.Errorf("%s: %d elements that do not belong there, %d of %d drawings without a name, %d links to nowhere", where, l.Elements, l.Unnamed, l.Drawings, l.Dangling)
				}
				for _, words := range []string{hostileWords, "For research and teaching only"} {
					if !strings.Contains(l.Text, words) {
						t.Errorf("%s: %q is not shown", where, words)
					}
				}
				if keep != "" {
					var shot struct{ Data []byte }
					b.Call("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true}, &shot)
					if err := os.WriteFile(filepath.Join(keep, fmt.Sprintf("report-%s-%d-%s.png", name, width, scheme)), shot.Data, 0o644); err != nil {
						t.Fatal(err)
					}
				}
			}
			printed(t, b, path, filepath.Join(keep, "report-"+name+".pdf"), keep != "")
		})
	}
}

// printed prints the page that is shown: on sheets of A4 nothing is cut off, and what is
// folded on the screen is there.
func printed(t *testing.T, b *browser.Browser, path, to string, keep bool) {
	t.Helper()
	const a4 = 688 // CSS pixels between the margins: 210 mm less twice 14 mm
	b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": a4, "height": 1000, "deviceScaleFactor": 1, "mobile": false}, nil)
	b.Call("Emulation.setEmulatedMedia", map[string]any{"media": "print"}, nil)
	b.Show(path)
	var cut []string
	b.Ask(`[...document.querySelectorAll("table, pre, svg")].filter(e => e.getBoundingClientRect().right > innerWidth + 1 || e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0).map(e => e.textContent.slice(0, 60))`, &cut)
	if len(cut) > 0 {
		t.Errorf("cut off in print: %q", cut)
	}
	var folded, hidden int
	b.Ask(`document.querySelectorAll("details").length`, &folded)
	b.Ask(`[...document.querySelectorAll("details > :not(summary)")].filter(e => !e.checkVisibility({contentVisibilityAuto: true}) || e.getBoundingClientRect().height == 0).length`, &hidden)
	if folded == 0 || hidden > 0 {
		t.Errorf("of %d folded parts %d are not printed", folded, hidden)
	}
	data := asPDF(t, b)
	if pages := len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(data, -1)); pages < 2 {
		t.Errorf("%d pages printed", pages)
	}
	if keep {
		if err := os.WriteFile(to, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// asPDF prints the page that is shown.
func asPDF(t *testing.T, b *browser.Browser) []byte {
	t.Helper()
	var pdf struct{ Data string }
	b.Call("Page.printToPDF", map[string]any{"preferCSSPageSize": true, "printBackground": true}, &pdf)
	data, err := base64.StdEncoding.DecodeString(pdf.Data)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// What a stream of a printed page starts with, its scale on paper and that of the page in it, and sizes of its text.
var (
	streams  = regexp.MustCompile(`(?s)stream\r?\n(.*?)\r?\nendstream`)
	scales   = regexp.MustCompile(`(?m)^([0-9.]+) 0 0 -?([0-9.]+) [-0-9. ]+ cm`)
	textSize = regexp.MustCompile(`/F[0-9]+ ([0-9.]+) Tf`)
)

// printedSizes returns the sizes of text on the first printed page, in tenths of a point: how often each is set.
func printedSizes(t *testing.T, pdf []byte) map[int]int {
	t.Helper()
	for _, s := range streams.FindAllSubmatch(pdf, -1) {
		r, err := zlib.NewReader(bytes.NewReader(s[1]))
		if err != nil {
			continue
		}
		text, _ := io.ReadAll(r)
		found, scaled := textSize.FindAllSubmatch(text, -1), scales.FindAllSubmatch(text, 2)
		if len(found) == 0 || len(scaled) < 2 {
			continue
		}
		sizes := map[int]int{}
		for _, f := range found {
			sizes[int(math.Round(10*number(t, f[1])*number(t, scaled[0][1])*number(t, scaled[1][1])))]++
		}
		return sizes
	}
	t.Fatal("no text in the printed page")
	return nil
}

func number(t *testing.T, b []byte) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(string(b), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestPrintedTextKeepsItsSize prints a paragraph alone and before the widest tables of reports: a browser shrinks the whole
// document if one table is wider than the sheet.
func TestPrintedTextKeepsItsSize(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	s, err := study.ReadSweep("../../testdata/reference/numerical/disc")
	if err != nil {
		t.Fatal(err)
	}
	c := &thermal.Case{}
	c.Electrode.Tip = thermal.Disc
	hostile := document.Table{Caption: "Long words", Stacked: true}
	for n := range 14 {
		hostile.Head = append(hostile.Head, fmt.Sprintf("first_beyond_current.pulses.length_ms_%d", n))
	}
	hostile.Rows = [][]string{make([]string, 14)}
	hostile.Rows[0][3] = strings.Repeat("long", 60)
	paragraph := document.Text("A paragraph of a report.")
	b := browser.Open(t)
	path := filepath.Join(t.TempDir(), "report.html")
	printed := func(blocks ...document.Block) map[int]int {
		d := document.Document{Title: "Print", Sections: []document.Section{{ID: "a", Title: "A", Blocks: append([]document.Block{paragraph}, blocks...)}}}
		page, err := d.HTML()
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, page, 0o644); err != nil {
			t.Fatal(err)
		}
		b.Show(path)
		return printedSizes(t, asPDF(t, b))
	}
	alone := printed()
	if alone[100] == 0 { // html { font-size: 10pt }
		t.Fatalf("a paragraph alone is not printed in 10 points: %v", alone)
	}
	for name, blocks := range map[string][]document.Block{"refined sweep": uncertaintyBlocks(s, c, nil), "long words": {hostile}} {
		if with := printed(blocks...); with[100] < alone[100] {
			t.Errorf("%s: text is printed in %v tenths of a point, times each; alone in %v", name, with, alone)
		}
	}
}
