package chart

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"os"
	"regexp"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgpdf"
	"gonum.org/v1/plot/vg/vgsvg"

	"muralheat/output/phrase"
)

// Svg draws f as SVG. Its text stays text, in any sans serif of the same widths.
func Svg(f Figure) ([]byte, error) {
	c := vgsvg.New(f.W, f.H)
	onPaper(c, f)
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return nil, err
	}
	// The drawing has its own measure, the viewBox; the size is that at which it is shown.
	size := svgSize.ReplaceAll(b.Bytes(), fmt.Appendf(nil, `<svg width="%.5gpt" height="%.5gpt" viewBox`, float64(f.W)*f.shown(), float64(f.H)*f.shown()))
	// gonum/plot names its embedded PNG a JPEG, which stricter readers leave blank.
	out := bytes.ReplaceAll(size, []byte("data:image/jpg;"), []byte("data:image/png;"))
	return bytes.ReplaceAll(out, []byte("font-family:Liberation Sans;"),
		[]byte("font-family:'Liberation Sans',Arial,Helvetica,sans-serif;")), nil
}

var svgSize = regexp.MustCompile(`<svg width="[0-9.]+pt" height="[0-9.]+pt" viewBox`)

// shown returns how many times larger the figure is shown than drawn.
func (f Figure) shown() float64 { return max(f.Shown, 1) }

// DotsPerInch is the resolution of PNG.
const DotsPerInch = 300

// Png draws f at 300 dots per inch and says so in the file; of what is shown larger, with fewer.
func Png(f Figure) ([]byte, error) {
	c := vgimg.NewWith(vgimg.UseWH(f.W, f.H), vgimg.UseDPI(DotsPerInch), vgimg.UseBackgroundColor(color.White))
	onPaper(c, f)
	var b bytes.Buffer
	fast := png.Encoder{CompressionLevel: png.BestSpeed} // to compress as far as it goes takes as long as to draw
	if err := fast.Encode(&b, c.Image()); err != nil {
		return nil, err
	}
	// Physical size (PNG specification, chunk pHYs), after the 8-byte signature
	// and the 25-byte header chunk, so that documents place the figure right.
	perMetre := uint32(DotsPerInch * 5000 / 127 / f.shown())
	chunk := binary.BigEndian.AppendUint32(nil, 9)
	chunk = append(chunk, "pHYs"...)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	const header = 8 + 25
	out := append([]byte(nil), b.Bytes()[:header]...)
	return append(append(out, chunk...), b.Bytes()[header:]...), nil
}

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
	c := pdfCanvas{vgpdf.New(f.W*vg.Length(f.shown()), f.H*vg.Length(f.shown()))}
	c.Scale(f.shown(), f.shown())
	onPaper(c, f)
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
type pdfCanvas struct{ *vgpdf.Canvas }

// DrawImage draws an image upright: vgpdf would draw it upside down.
func (c pdfCanvas) DrawImage(r vg.Rectangle, img image.Image) {
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
func (c pdfCanvas) SetColor(k color.Color) {
	c.Canvas.SetColor(straight(color.NRGBAModel.Convert(k).(color.NRGBA)))
}

// straight is a colour that hands out its values without premultiplying them.
type straight color.NRGBA

func (s straight) RGBA() (r, g, b, a uint32) {
	return uint32(s.R) * 0x101, uint32(s.G) * 0x101, uint32(s.B) * 0x101, uint32(s.A) * 0x101
}

// FillString writes text in the code page of PDF fonts.
func (c pdfCanvas) FillString(f font.Face, at vg.Point, s string) {
	c.Canvas.FillString(f, at, phrase.Windows1252(s))
}

// onPaper fills the page with white and draws f on it.
func onPaper(c vg.Canvas, f Figure) {
	d := draw.NewCanvas(c, f.W, f.H)
	d.FillPolygon(Paper, []vg.Point{d.Min, {X: d.Max.X, Y: d.Min.Y}, d.Max, {X: d.Min.X, Y: d.Max.Y}})
	f.Draw(d)
}
