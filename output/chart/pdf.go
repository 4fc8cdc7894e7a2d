package chart

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"os"
	"regexp"
	"strings"
	"sync"
	"unicode/utf8"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgpdf"

	"muralheat/output/chart/letters"
)

// pdf draws f as PDF, without a date so that equal figures are equal files.
func pdf(f Figure) ([]byte, error) {
	// vgpdf makes its fonts in a temporary folder, and panics without one.
	dir, err := os.MkdirTemp("", "muralheat-")
	if err != nil {
		return nil, fmt.Errorf("PDF needs a folder for temporary files (TMPDIR): %w", err)
	}
	if err := os.Remove(dir); err != nil {
		return nil, err
	}
	c := &pdfCanvas{Canvas: vgpdf.New(f.W*vg.Length(f.shown()), f.H*vg.Length(f.shown()))}
	c.Scale(f.shown(), f.shown())
	onPaper(c, f)
	if err := c.err(); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return nil, err
	}
	return pdfDate.ReplaceAll(b.Bytes(), []byte("(D:20000101000000)")), nil
}

var pdfDate = regexp.MustCompile(`\(D:\d{14}\)`)

// pdfCanvas mends three faults of vgpdf: images come out upside down, text is
// taken for Windows-1252 although it is UTF-8, and translucent colours are darkened
// (it takes premultiplied values for straight ones).
type pdfCanvas struct {
	*vgpdf.Canvas
	written
}

// DrawImage draws an image upright: vgpdf would draw it upside down.
func (c *pdfCanvas) DrawImage(r vg.Rectangle, img image.Image) {
	if p, ok := img.(*image.Paletted); ok {
		flipped := image.NewPaletted(p.Rect, p.Palette)
		for y := range p.Rect.Dy() {
			copy(flipped.Pix[y*p.Stride:(y+1)*p.Stride], p.Pix[(p.Rect.Dy()-1-y)*p.Stride:])
		}
		c.Canvas.DrawImage(r, flipped)
		return
	}
	b := img.Bounds()
	flipped := image.NewNRGBA(b)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			flipped.Set(x, b.Max.Y-1-(y-b.Min.Y), img.At(x, y))
		}
	}
	c.Canvas.DrawImage(r, flipped)
}

// SetColor sets the colour of what follows.
func (c *pdfCanvas) SetColor(k color.Color) {
	c.Canvas.SetColor(straight(color.NRGBAModel.Convert(k).(color.NRGBA)))
}

// straight is a colour that hands out its values without premultiplying them.
type straight color.NRGBA

func (s straight) RGBA() (r, g, b, a uint32) {
	return uint32(s.R) * 0x101, uint32(s.G) * 0x101, uint32(s.B) * 0x101, uint32(s.A) * 0x101
}

// FillString writes text in the code page of PDF fonts, and as outlines what that lacks.
func (c *pdfCanvas) FillString(f font.Face, at vg.Point, txt string) {
	if s, ok := windows1252(txt); ok {
		pdfFont()
		c.Push()
		c.Translate(at)
		c.Scale(float64(f.Font.Size)/pdfSize, float64(f.Font.Size)/pdfSize)
		c.Canvas.FillString(pdfFace(), vg.Point{}, s)
		c.Pop()
		return
	}
	c.check(txt)
	for _, path := range letters.Outlines(f.Font.Size, at, txt) {
		c.Fill(path)
	}
}

// pdfSize is that of all text before it is scaled: vgpdf makes and packs a font anew for each size.
const pdfSize = 10

func pdfFace() font.Face { return font.Face{Font: liberation(pdfSize), Face: letters.Plain()} }

// pdfFont lets vgpdf make its font, which it keeps for all figures.
var pdfFont = sync.OnceFunc(func() { vgpdf.New(1, 1).FillString(pdfFace(), vg.Point{}, " ") })

// windows1252 re-encodes s; ok is false if the code page lacks a letter of it.
func windows1252(s string) (out string, ok bool) {
	b := make([]byte, 0, len(s))
	for _, r := range s {
		switch {
		case r < 0x80 || 0xa0 <= r && r <= 0xff:
			b = append(b, byte(r))
		case r != '\uFFFD' && strings.ContainsRune(windows1252High, r):
			b = append(b, byte(0x80+utf8.RuneCountInString(windows1252High[:strings.IndexRune(windows1252High, r)])))
		default:
			return "", false
		}
	}
	return string(b), true
}

// windows1252High are the characters 0x80 to 0x9f of the code page; five are not
// in use.
const windows1252High = "€\uFFFD‚ƒ„…†‡ˆ‰Š‹Œ\uFFFDŽ\uFFFD\uFFFD‘’“”•–—˜™š›œ\uFFFDžŸ"
