package page

import (
	"encoding/base64"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/thermal"
)

// A page that grows sends what is new; all of it, to whoever has drawings of a narrower view.
func TestGrowing(t *testing.T) {
	dir := sweepOf(t)
	load := func(n int) *thermal.Result { // 2 and 4 W, each on rectum and right-colon
		r, err := record.Load(filepath.Join(dir, study.KeptFolder, study.KeptName(n, 6)))
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	g := Grow("A <b>touch</b>", true, []Choice{{Title: "power", Levels: []string{"2 W", "4 W", "8 W"}}, {Title: "site", Levels: []string{"rectum", "right-colon"}, Words: true}})
	add := func(at []int, n, have, from, cases int) {
		t.Helper()
		grown, err := g.Add(at, load(n), have)
		if err != nil {
			t.Fatal(err)
		}
		f, _ := unpacked(t, []byte(`id="data">`+grown.Data+"<"))
		if grown.From != from || len(f.Cases) != cases || len(grown.Rows) != cases || grown.Rows == nil {
			t.Errorf("%v for one that has %d: %d cases and %d rows from %d on; want %d from %d on", at, have, len(f.Cases), len(grown.Rows), grown.From, cases, from)
		}
		if raw, err := base64.StdEncoding.DecodeString(grown.Data); err != nil || len(raw) > 20000*(cases+1) {
			t.Errorf("%d bytes, %v", len(raw), err)
		}
	}
	add([]int{0, 1}, 1, 0, 0, 1)
	add([]int{0, 1}, 1, 1, 1, 0)  // there already
	add([]int{0, 1}, 1, 99, 0, 1) // a page of another server
	add([]int{0, 1}, 1, -1, 0, 1) // nonsense
	add([]int{0, 0}, 0, 1, 0, 2)  // a thicker wall: a wider view
	add([]int{0, 0}, 0, 1, 0, 2)  // for another page, which has not seen that
	add([]int{0, 0}, 0, 2, 2, 0)  // and once it has
	add([]int{1, 1}, 1, 2, 2, 1)  // the same drawing under another name: within the view
	if !g.Has([]int{1, 1}) || g.Has([]int{1, 0}) {
		t.Error("does not know what it has")
	}
	p, err := g.Kept()
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Choices) != 2 || strings.Join(p.Choices[0].Levels, ", ") != "2 W, 4 W" || p.Cases[2].Name != "4 W, right-colon" || p.Cases[2].At[0] != 1 || p.Cases[2].At[1] != 1 || p.Live || !p.Invented {
		t.Errorf("kept: %+v", p.Choices)
	}
	live, err := g.HTML()
	if err != nil {
		t.Fatal(err)
	}
	kept, err := p.HTML()
	if err != nil {
		t.Fatal(err)
	}
	for text, in := range map[string][2]bool{"connect-src &#39;self&#39;": {true, false}, "default-src &#39;none&#39;": {true, true}, `fetch(`: {true, false}, "A &lt;b&gt;touch&lt;/b&gt;": {true, true}, "<b>": {false, false}} {
		if strings.Contains(string(live), text) != in[0] || strings.Contains(string(kept), text) != in[1] {
			t.Errorf("%q: live %t, kept %t", text, strings.Contains(string(live), text), strings.Contains(string(kept), text))
		}
	}
}
