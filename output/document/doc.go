// Package report renders a document of sections, tables and figures as one HTML file
// that needs nothing else, and as Markdown. It knows nothing of burns: the words come
// from above. All words are plain text, whoever wrote them, and come out as such; what
// looks like markup in them is shown, not obeyed.
package document

import (
	"strconv"
	"strings"
	"unicode"
)

// Document is what is rendered.
type Document struct {
	Title    string
	Lead     string // below the title
	Caution  string // above and below everything
	Sections []Section
	Differs  bool // it is of something that is not what was computed; the document says so itself
}

// Section is a part of a document with a heading and a place in its contents.
type Section struct {
	ID     string // letters and hyphens
	Title  string
	Blocks []Block
}

// A Block is one piece of a section.
type Block interface {
	template() string // that renders it as HTML
	markdown(b *strings.Builder)
}

// Text is a paragraph.
type Text string

// Lead is the sentence that matters most.
type Lead string

// Note is a paragraph that stands out; Label says in a word or two why.
type Note struct{ Label, Text string }

// List is a list of short texts.
type List []string

// Table is a table; every row is as long as the head.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]string
	Folded  bool // shown when it is asked for, and in print
	Stacked bool // on a narrow page each row becomes a list of its cells; else the table scrolls
}

// Figure is a drawing.
type Figure struct {
	SVG     []byte
	Caption string
	Alt     string // what it shows, for who cannot see it
	Link    string // to the same figure as a file, for Markdown
}

// Code is text to be copied as it stands.
type Code struct {
	Label  string
	Text   string
	Folded bool
}

func (Text) template() string   { return "text" }
func (Lead) template() string   { return "lead" }
func (Note) template() string   { return "note" }
func (List) template() string   { return "list" }
func (Table) template() string  { return "table" }
func (Figure) template() string { return "figure" }
func (Code) template() string   { return "code" }

// Clean leaves out what no reader sees and what turns the order of letters around: it
// could make a text read as what it is not.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case unicode.Is(unicode.Cc, r), unicode.Is(unicode.Bidi_Control, r), r == '\u2028', r == '\u2029', r == '\ufeff':
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}

// isNumber reports whether a cell holds a number, which stands to the right.
func isNumber(cell string) bool {
	_, err := strconv.ParseFloat(strings.TrimLeft(strings.Replace(cell, "–", "-", 1), "<>± "), 64)
	return err == nil
}
