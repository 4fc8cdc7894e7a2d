package chart

import (
	"gonum.org/v1/plot/vg"
)

// Page is the sheet that a figure is laid out for. A figure laid out for a page of its own is named after it.
type Page struct {
	Name                      string    // "": a document
	W, H                      vg.Length // H 0: as high as the content asks
	Title, Figure, Word, Note vg.Length // sizes of text
	Shown                     float64   // how many times larger it is shown than laid out
}

// Pages: a document, as wide as the text of a paper; one or two columns of a paper, with text of 7 to 9 pt; a slide of
// 16:9, 33.87 cm by 19.05 cm, laid out at half its size, with no text below 18 pt. A film is laid out at 1/2.406 of
// that slide.
var (
	ForDocument = Page{"", WallWidth, 0, titleSize, figureSize, wordSize, noteSize, 1}
	ForColumn   = Page{"paper-85", 85 * MM, 0, 9, 9, 8, 7, 1}
	ForPaper    = Page{"paper-170", WallWidth, 0, 9, 9, 8, 7, 1}
	ForSlide    = Page{"slide", 169.35 * MM, 95.25 * MM, titleSize, figureSize, wordSize, wordSize, 2}
	ForFilm     = Page{"", FilmWidth, FilmHeight, figureSize, figureSize, wordSize, noteSize, 1}
)

// PageNames are the pages that can be asked for.
var PageNames = []string{"slide", "paper-85", "paper-170"}

// PageFor returns the page of a name; "" is a document.
func PageFor(name string) (Page, bool) {
	for _, p := range []Page{ForDocument, ForColumn, ForPaper, ForSlide} {
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

// Narrow reports whether there is no room beside a panel: names stand within it, and keys below.
func (p Page) Narrow() bool { return p.W < 120*MM }

// Compact reports whether the page has a height to keep to, so that what does not fit needs a page more.
func (p Page) Compact() bool { return p.H > 0 }

// Left is the room for an upright axis.
func (p Page) Left() vg.Length {
	if p.Narrow() {
		return 14 * MM
	}
	return MarginLeft
}

// lineHeight is the distance of lines of small text over its size.
const lineHeight = 1.36

// NoteLine is the distance of lines of notes.
func (p Page) NoteLine() vg.Length { return lineHeight * p.Note }

// WordLine is that of lines of words.
func (p Page) WordLine() vg.Length { return lineHeight * p.Word }
