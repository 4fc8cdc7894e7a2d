package chart

import (
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/phrase"
)

// Page is the sheet that a figure is laid out for. A figure laid out for a page of its own is named after it.
type Page struct {
	Name                      string    // "": a document
	W, H                      vg.Length // H 0: as high as the content asks
	Title, Figure, Word, Note vg.Length // sizes of text
	Shown                     float64   // how many times larger it is shown than laid out
}

// Pages: a document, as wide as the text of a paper; a paper with text of 7 to 9 pt; a slide of 16:9, 33.87 cm by
// 19.05 cm, laid out at half its size, with no text below 18 pt.
var (
	ForDocument = Page{"", WallWidth, 0, titleSize, FigureSize, WordSize, NoteSize, 1}
	ForPaper    = Page{"paper", WallWidth, 0, 9, 9, 8, 7, 1}
	ForSlide    = Page{"slide", 169.35 * MM, 95.25 * MM, titleSize, WordSize, WordSize, WordSize, 2}
)

// PageNames are the pages that can be asked for.
var PageNames = []string{"slide", "paper"}

// PageFor returns the page of a name; "" is a document.
func PageFor(name string) (Page, bool) {
	for _, p := range []Page{ForDocument, ForPaper, ForSlide} {
		if p.Name == name {
			return p, true
		}
	}
	return Page{}, false
}

// File returns what a figure is called on the page.
func (p Page) File(name string) string {
	if p.Name == "" {
		return name
	}
	return name + "-" + p.Name
}

// Caption writes the caution at the bottom of the page.
func (p Page) Caption(c draw.Canvas) {
	c.FillText(TextStyle(p.Note, Soft, text.XLeft, text.YBottom), vg.Point{X: c.Min.X + 4*MM, Y: c.Min.Y + 2*MM}, phrase.Caution)
}
