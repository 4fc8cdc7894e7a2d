package document

import (
	"bytes"
	"encoding/xml"
	"io"
	"regexp"
	"strings"
	"testing"
)

// hostile is what a title, a note or the name of a layer could be.
var hostile = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `</title></style><script>x`, `=1+1`, `{{.Title}}`, `${x}`,
	"`code` **bold** _em_ ~~gone~~", `[a](javascript:alert(1))`, `![p](http://example.invalid/p.png)`, `http://example.invalid www.example.invalid a@example.invalid`,
	"| a | b |", "# no heading", "1. no list", "- no list", "```", "a\n\n# b", "\u202egnp.exe\u202c\x00\x1b[31m", "<!-- -->", "&lt;b&gt;", `\`, "  ", "---", "===",
}

func hostileDocument() *Document {
	d := &Document{Caution: "Take care."}
	for _, h := range hostile {
		d.Title, d.Lead = d.Title+" "+h, d.Lead+" "+h
		d.Sections = append(d.Sections, Section{ID: "part", Title: h, Blocks: []Block{
			Text(h), Lead(h), Note{h, h}, List{h, h}, Code{Label: h, Text: h}, Code{Label: h, Text: h, Folded: true},
			Table{Caption: h, Head: []string{h, h}, Rows: [][]string{{h, h}, {"1", "2"}}, Stacked: true},
			Table{Caption: h, Head: []string{h, h}, Rows: [][]string{{h, h}}, Folded: true},
			Figure{SVG: []byte(`<?xml version="1.0"?><svg width="2pt" height="1pt" viewBox="0 0 2 1"><path d="M0,0L1,1"/></svg>`), Caption: h, Alt: h, Link: h + ".svg"},
		}})
	}
	return d
}

// The page is well-formed, holds no element or attribute but those of the template, and
// shows every hostile text as text.
func TestHostileHTML(t *testing.T) {
	page, err := hostileDocument().HTML()
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for name := range strings.FieldsSeq("html head meta title style body main header footer nav ol ul li a h1 h2 p strong section div table caption thead tbody tr th td wbr figure figcaption svg path pre details summary") {
		known[name] = true
	}
	r := xml.NewDecoder(bytes.NewReader(page))
	r.Strict, r.AutoClose, r.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	r.AutoClose = append(r.AutoClose, "wbr")
	var words strings.Builder
	for {
		token, err := r.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			if !known[x.Name.Local] {
				t.Errorf("<%s> came through", x.Name.Local)
			}
			for _, a := range x.Attr {
				if strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" && a.Value != "#part" {
					t.Errorf("%s=%q came through", a.Name.Local, a.Value)
				}
			}
		case xml.CharData:
			words.Write(x)
		case xml.Comment:
			t.Errorf("comment %q came through", x)
		}
	}
	for _, h := range hostile {
		for _, part := range strings.Split(Clean(h), "\n") {
			if !strings.Contains(words.String(), part) {
				t.Errorf("%q is not shown", part)
			}
		}
	}
	for _, bad := range []string{"\u202e", "\x00", "\x1b"} {
		if bytes.Contains(page, []byte(bad)) {
			t.Errorf("%q came through", bad)
		}
	}
}

// Nothing in Markdown is markup but what this package writes. The shape of the document
// stays: as many headings, rows and fences as were meant.
func TestHostileMarkdown(t *testing.T) {
	md := string(hostileDocument().Markdown())
	outside := regexp.MustCompile("(?ms)^(`{3,})\n.*?^(`{3,})$").ReplaceAllString(md, "") // code is verbatim
	outside = regexp.MustCompile(`<a id="part"></a>|]\(#part\)|]\(<[^<>\n]*>\)`).ReplaceAllString(outside, "")
	escaped := regexp.MustCompile("\\\\[\\\\`~*\\]\\[]")
	for _, bad := range []string{`<`, `](`, ` **bold**`, `~~`, "`", "http://", "www.example", "@", "\x00", "\u202e"} {
		if strings.Contains(escaped.ReplaceAllString(outside, ""), bad) {
			t.Errorf("%q came through", bad)
		}
	}
	headings, rows := 0, 0
	for l := range strings.Lines(outside) {
		switch {
		case strings.HasPrefix(l, "#"):
			headings++
		case strings.HasPrefix(l, "|"):
			rows++
			if n := strings.Count(strings.ReplaceAll(l, `\|`, ""), "|"); n != 3 {
				t.Errorf("%d bars in a row of two cells: %s", n, l)
			}
		}
	}
	if want := 1 + len(hostile); headings != want {
		t.Errorf("%d headings, want %d", headings, want)
	}
	if want := (4 + 3) * len(hostile); rows != want {
		t.Errorf("%d rows, want %d", rows, want)
	}
}

func TestSameBytes(t *testing.T) {
	a, _ := hostileDocument().HTML()
	b, _ := hostileDocument().HTML()
	if !bytes.Equal(a, b) || !bytes.Equal(hostileDocument().Markdown(), hostileDocument().Markdown()) {
		t.Error("two documents of the same content differ")
	}
}

func TestNoFigure(t *testing.T) {
	d := &Document{Sections: []Section{{Blocks: []Block{Figure{SVG: []byte("<p>no drawing</p>"), Caption: "a"}}}}}
	if _, err := d.HTML(); err == nil || !strings.Contains(err.Error(), "no SVG") {
		t.Errorf("error %v", err)
	}
}

func TestCells(t *testing.T) {
	for cell, want := range map[string]bool{"1.5": true, "-0.04": true, "1.8e+11": true, "<1": true, "+0.23": true, "": false, "mm": false, "0.3 [1]": false, "none": false} {
		if isNumber(cell) != want {
			t.Errorf("%q is a number: %v", cell, !want)
		}
	}
	if got := breaks("wall.layers.mucosa.material.sigma_S_m <b>"); got != "wall.<wbr>layers.<wbr>mucosa.<wbr>material.<wbr>sigma_<wbr>S_<wbr>m &lt;b&gt;" {
		t.Errorf("breaks: %s", got)
	}
}
