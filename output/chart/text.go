package chart

import (
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/output/chart/letters"
)

// Sizes are chosen for a figure 170 mm wide in a paper; the same figure filling a
// slide is read from the back row.
const (
	titleSize  = 12.5 * vg.Length(1)
	figureSize = 11 * vg.Length(1) // the number the figure is about
	wordSize   = 9 * vg.Length(1)
	noteSize   = 7.5 * vg.Length(1)
)

// handler writes text whose letters may be of several faces.
type handler struct{ text.Plain }

var typefaces = handler{text.Plain{Fonts: font.NewCache(font.Collection{{Font: liberation(0), Face: letters.Plain()}})}}

func liberation(size vg.Length) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}
}

// TextStyle returns a text style; x and y say which point of the text is placed. One
// face serves all: vgpdf embeds every face of a page as the same font file, so bold
// comes out wrong in PDF. Size makes the emphasis.
func TextStyle(size vg.Length, c color.Color, x text.XAlignment, y text.YAlignment) text.Style {
	return text.Style{Color: c, Font: liberation(size), XAlign: x, YAlign: y, Handler: typefaces}
}

// Box returns the size of a line of text.
func (h handler) Box(txt string, f font.Font) (width, height, depth vg.Length) {
	ext := h.Extents(f)
	return letters.Width(f.Size, txt), ext.Ascent, ext.Descent
}

// Draw writes lines of text, placed and turned as their style says.
func (h handler) Draw(c vg.Canvas, txt string, s text.Style, at vg.Point) {
	txt = strings.TrimRight(txt, "\n")
	if txt == "" {
		return
	}
	c.SetColor(s.Color)
	if s.Rotation != 0 {
		c.Push()
		c.Rotate(s.Rotation)
		defer c.Pop()
	}
	sin, cos := math.Sincos(s.Rotation)
	at = vg.Point{X: at.Y*vg.Length(sin) + at.X*vg.Length(cos), Y: at.Y*vg.Length(cos) - at.X*vg.Length(sin)}
	face := h.Fonts.Lookup(s.Font, s.Font.Size)
	at.Y += s.Height(txt)*vg.Length(s.YAlign) - face.Extents().Ascent
	lines := h.Lines(txt)
	for n, line := range lines {
		c.FillString(face, at.Add(vg.Point{X: vg.Length(s.XAlign) * letters.Width(s.Font.Size, line), Y: vg.Length(len(lines)-n) * s.Font.Size}), line)
	}
}

// WrappedTo breaks text in lines no wider than a width.
func WrappedTo(s text.Style, w vg.Length, txt string) string {
	return strings.Join(Wrapped(s, w, txt), "\n")
}
