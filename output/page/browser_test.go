package page

import (
	"encoding/base64"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"muralheat/output/chart"
	"muralheat/output/internal/browser"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/output/study"
)

// opened shows a page and waits until it is drawn.
func opened(t *testing.T, b *browser.Browser, path string) {
	t.Helper()
	b.Show(path)
	for range 100 {
		drawn := false
		if b.Ask(`document.querySelectorAll("#panes svg").length > 0`, &drawn); drawn {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	said := ""
	b.Ask(`document.getElementById("step").textContent`, &said)
	t.Fatalf("nothing is drawn: %q, %q", said, b.Complaints(path))
}

// view is what a reader has before him.
type view struct {
	Panes, Canvases, Overs, Injuries int
	Verdicts, Against, Big           []string
	Step, Status, Text               string
	Levels                           []string
	Guessing, Table, KeepDisabled    bool
}

const whatIsSeen = `(() => {
	const all = (s, f = e => e.textContent) => [...document.querySelectorAll(s)].map(f), first = s => document.querySelector(s);
	return {
		panes: all(".pane").length, canvases: all("#panes canvas").length, overs: all("#panes .section g .over").length, injuries: all("#panes g .injury:not(.under)").length,
		verdicts: all(".verdict"), against: all(".against"), big: all("#panes .section .big"),
		step: first("#step").textContent, status: first("#status").textContent, text: document.body.innerText,
		levels: all(".choice output, .radios", e => e.matches(".radios") ? e.querySelector(":checked").parentElement.textContent : e.textContent),
		guessing: !first("#guessing").hidden, table: !first("#all").hidden, keepDisabled: first("#keep").disabled,
	};
})()`

func seenIn(b *browser.Browser) (s view) {
	b.T.Helper()
	b.Ask(whatIsSeen, &s)
	return s
}

// do runs statements on the page.
func do(b *browser.Browser, statements string) {
	b.T.Helper()
	var done bool
	b.Ask("(() => {"+statements+"; return true; })()", &done)
}

// slide moves a slider as a hand does.
func slide(b *browser.Browser, id string, to int) {
	do(b, fmt.Sprintf(`const e = document.getElementById(%q); e.value = %d; e.dispatchEvent(new Event("input", {bubbles: true}))`, id, to))
}

func click(b *browser.Browser, selector string) {
	do(b, fmt.Sprintf(`document.querySelector(%q).click()`, selector))
}

// written makes the page of a folder.
func written(t *testing.T, dir string) string {
	t.Helper()
	path := filepath.Join(dir, Name)
	if err := Write(path, []string{dir}); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestPageInABrowser uses the page of a sweep as a class does, in a real browser.
func TestPageInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	b := browser.Open(t)
	dir := sweepOf(t)
	path := written(t, dir)
	table, err := study.ReadSweep(dir)
	if err != nil {
		t.Fatal(err)
	}
	depth := func(row int) string { return fmt.Sprintf("%.2f mm", table.Column["injury_depth_mm"][row]) }
	margin := func(row int) float64 { return table.Column["margin_to_muscle_mm"][row] }
	b.Size(1280, 800, "screen")
	opened(t, b, path)

	// Every setting: the number in the drawing and in words is that of the table.
	for row := range 5 {
		click(b, fmt.Sprintf(`input[name=choice1][value="%d"]`, row%2))
		slide(b, "choice0", row/2)
		s := seenIn(b)
		if len(s.Big) != 1 || s.Big[0] != depth(row) || !strings.Contains(s.Verdicts[0], depth(row)) || s.Levels[1] != []string{"rectum", "right-colon"}[row%2] {
			t.Errorf("row %d: %q, %q at %q; want %s", row, s.Big, s.Verdicts, s.Levels, depth(row))
		}
		if kept := row < 4; kept != (s.Canvases == 1) || kept == strings.Contains(s.Text, "No cross-section was kept") || !strings.Contains(s.Step, "one of 5 computed cases") {
			t.Errorf("row %d: %d canvases; %q", row, s.Canvases, s.Step)
		}
		if !strings.Contains(s.Text, table.Remark[row]) {
			t.Errorf("row %d: does not say why: %q", row, table.Remark[row])
		}
	}
	// The one that failed: the nearest takes its place, and the page says so.
	click(b, `input[name=choice1][value="1"]`)
	if s := seenIn(b); s.Levels[0] != "4 W" || !strings.Contains(s.Step, "not computed: power moved") || s.Big[0] != depth(3) {
		t.Errorf("a failed case: at %q, %q, %q", s.Levels, s.Step, s.Big)
	}
	if s := seenIn(b); !strings.Contains(s.Status, s.Verdicts[0]) || !strings.Contains(s.Status, "power moved") {
		t.Errorf("a reader of screens hears %q", s.Status)
	}
	// By keyboard.
	do(b, `document.getElementById("choice0").focus()`)
	for _, kind := range []string{"keyDown", "keyUp"} {
		b.Call("Input.dispatchKeyEvent", map[string]any{"type": kind, "key": "ArrowLeft", "code": "ArrowLeft", "windowsVirtualKeyCode": 37}, nil)
	}
	if s := seenIn(b); s.Levels[0] != "2 W" || s.Big[0] != depth(1) {
		t.Errorf("an arrow key: at %q, %q", s.Levels, s.Big)
	}

	painted(t, b, table.KeptPath(dir, 1))

	// Kept: two panes, the line of the first over the second, and what differs.
	click(b, "#keep")
	slide(b, "choice0", 1)
	s := seenIn(b)
	difference := fmt.Sprintf("depth %+.2f mm, margin %+.2f mm", table.Column["injury_depth_mm"][3]-table.Column["injury_depth_mm"][1], margin(3)-margin(1))
	if s.Panes != 2 || s.Overs != 1 || s.Injuries != 2 || s.Big[0] != depth(1) || s.Big[1] != depth(3) || len(s.Against) != 1 || !strings.Contains(s.Against[0], strings.ReplaceAll(difference, "-", "–")) {
		t.Errorf("kept: %d panes, %d lines over, %q, %q; want %q", s.Panes, s.Overs, s.Big, s.Against, difference)
	}
	look(b, "kept", 1280)

	// Asked first: nothing of what came out is to be found on the page, but of the kept one.
	click(b, "#ask")
	s = seenIn(b)
	if s.Canvases != 1 || len(s.Verdicts) != 1 || s.Overs != 0 || s.Injuries != 1 || !s.Guessing || s.Table || strings.Contains(s.Text, depth(3)) || strings.Contains(s.Status, depth(3)) {
		t.Errorf("hidden: %+v", s)
	}
	var labels []string
	b.Ask(`[...document.querySelectorAll("[aria-label]")].filter(e => e.checkVisibility()).map(e => e.getAttribute("aria-label"))`, &labels)
	if strings.Contains(strings.Join(labels, "\n"), depth(3)) {
		t.Errorf("said to readers of screens: %q", labels)
	}
	do(b, `const e = document.getElementById("guess"); e.value = 1; e.dispatchEvent(new Event("input"))`)
	if s = seenIn(b); !strings.Contains(strings.Join(s.Big, "|"), "guess 1.00 mm") {
		t.Errorf("guess: %q", s.Big)
	}
	look(b, "asked", 1280)
	click(b, "#reveal")
	s = seenIn(b)
	off := table.Column["injury_depth_mm"][3] - 1
	if want := fmt.Sprintf("Guess 1.00 mm: %.2f mm %s was computed.", max(off, -off), map[bool]string{true: "deeper", false: "less deep"}[off > 0]); s.Against[0] != want || s.Canvases != 2 || s.Guessing {
		t.Errorf("revealed: %q, want %q", s.Against, want)
	}
	slide(b, "choice0", 0) // the kept one: the next question hides again
	slide(b, "choice0", 1)
	if s = seenIn(b); !s.Guessing || strings.Contains(s.Text, depth(3)) {
		t.Error("the next question shows its answer")
	}
	click(b, "#ask")
	click(b, "#keep")
	if s = seenIn(b); s.Panes != 1 || !s.Table {
		t.Errorf("let go: %d panes, table %t", s.Panes, s.Table)
	}

	// From a telephone to a projector.
	click(b, "#keep")
	slide(b, "choice0", 0)
	for _, width := range []int{360, 1280, 1920} {
		b.Size(width, 900, "screen")
		time.Sleep(300 * time.Millisecond)
		fits(t, b, width)
		look(b, "sweep", width)
	}
	printed(t, b)
	for _, c := range b.Complaints(path) {
		t.Error(c)
	}
}

// painted holds the colours of the section that is shown to the temperatures of a result, at some places.
func painted(t *testing.T, b *browser.Browser, kept string) {
	t.Helper()
	r, err := record.Load(kept)
	if err != nil {
		t.Fatal(err)
	}
	k := cutOf(r)
	var places []struct{ X, Z, R, G, B float64 } // mm, and the colour there
	b.Ask(`(() => {
		const canvas = document.querySelector("#panes canvas"), group = document.querySelector("#panes .section g g"), all = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height), out = [];
		const scale = group.transform.baseVal.getItem(1).matrix.a, shift = group.transform.baseVal.getItem(0).matrix, dots = canvas.height / (document.querySelector("#panes .frame").height.baseVal.value);
		for (const x of [-1.2, -0.5, 0, 0.9]) for (const z of [0.1, 0.5, 1.5]) {
			const [R, G, B] = all.data.slice(4 * (Math.floor((shift.f + z * scale) * dots) * all.width + Math.floor((shift.e + x * scale) * dots)));
			out.push({X: x, Z: z, R, G, B});
		}
		return out;
	})()`, &places)
	for _, p := range places {
		v := k.Shown.At(p.X, p.Z)
		nearest, at := math.Inf(1), 0.0
		for n := range 256 {
			c := chart.Warmth(float64(n) / 255)
			if d := math.Abs(p.R-float64(c.R)) + math.Abs(p.G-float64(c.G)) + math.Abs(p.B-float64(c.B)); d < nearest {
				nearest, at = d, k.Scale.Low+float64(n)/255*(k.Scale.High-k.Scale.Low)
			}
		}
		if math.Abs(at-v) > 1 || nearest > 0 { // a pixel is some 0.01 mm wide
			t.Errorf("%g mm from the axis, %g mm deep: painted as %.1f C (%g off the palette), %.1f C in the result", p.X, p.Z, at, nearest, v)
		}
	}
	if len(places) != 12 {
		t.Errorf("%d places", len(places))
	}
}

// look keeps a picture in MURALHEAT_LOOK.
func look(b *browser.Browser, name string, width int) {
	if dir := os.Getenv("MURALHEAT_LOOK"); dir != "" {
		b.Shot(filepath.Join(dir, "page-"+name+"-"+strconv.Itoa(width)+".png"))
	}
}

// fits holds that nothing stands out of the window, words are large enough to be read, and what must be in view is.
func fits(t *testing.T, b *browser.Browser, width int) {
	t.Helper()
	var l struct {
		Over  int
		Small float64
		Out   []string
		Text  string
	}
	b.Ask(`({
		over: document.documentElement.scrollWidth - document.documentElement.clientWidth,
		small: Math.min(...[...document.querySelectorAll("p, label, li, svg text")].filter(e => e.checkVisibility()).map(e => parseFloat(getComputedStyle(e).fontSize))),
		out: [...document.querySelectorAll("p, h1, h2, label, button, svg text")].filter(e => e.checkVisibility() && (e.getBoundingClientRect().right > innerWidth + 1 || e.getBoundingClientRect().left < -1)).map(e => e.textContent.slice(0, 60)),
		text: document.body.innerText,
	})`, &l)
	if l.Over > 0 || len(l.Out) > 0 {
		t.Errorf("%d px: %d px wider than the window; outside: %q", width, l.Over, l.Out)
	}
	if least := map[bool]float64{true: 10, false: 16}[width < 1900]; l.Small < least {
		t.Errorf("%d px: words of %g px", width, l.Small)
	}
	if !strings.Contains(l.Text, "Invented data. "+phrase.Caution) {
		t.Errorf("%d px: no caution", width)
	}
}

// printed prints what is shown: on one sheet, without the controls.
func printed(t *testing.T, b *browser.Browser) {
	t.Helper()
	b.Size(688, 1000, "print")
	time.Sleep(300 * time.Millisecond)
	fits(t, b, 688)
	var controls int
	b.Ask(`[...document.querySelectorAll("input, button")].filter(e => e.checkVisibility()).length`, &controls)
	if controls > 0 {
		t.Errorf("%d controls are printed", controls)
	}
	var pdf struct{ Data string }
	b.Call("Page.printToPDF", map[string]any{"preferCSSPageSize": true, "printBackground": true}, &pdf)
	data, err := base64.StdEncoding.DecodeString(pdf.Data)
	if err != nil {
		t.Fatal(err)
	}
	if pages := len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(data, -1)); pages != 1 {
		t.Errorf("%d sheets", pages)
	}
	if dir := os.Getenv("MURALHEAT_LOOK"); dir != "" {
		os.WriteFile(filepath.Join(dir, "page.pdf"), data, 0o644)
	}
}
