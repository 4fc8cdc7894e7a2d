package chart

import (
	"bytes"
	"fmt"
	"regexp"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"muralheat/output/chart/letters"
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

// onPaper fills the page with white and draws f on it.
func onPaper(c vg.Canvas, f Figure) {
	d := draw.NewCanvas(c, f.W, f.H)
	d.FillPolygon(Paper, []vg.Point{d.Min, {X: d.Max.X, Y: d.Min.Y}, d.Max, {X: d.Min.X, Y: d.Max.Y}})
	f.Draw(d)
}

// Unwritten is text that a format cannot show, though SVG leaves it to the reader's fonts.
type Unwritten struct{ Letters string }

func (e Unwritten) Error() string {
	return fmt.Sprintf("there are no letters here for %q; SVG shows them in the fonts of whoever opens it", e.Letters)
}

// written is what a canvas was asked to write and could not.
type written struct{ missing string }

// check notes the letters of a text that are missing.
func (w *written) check(txt string) { w.missing = letters.Missing(w.missing, txt) }

// err is Unwritten if letters were missing.
func (w *written) err() error {
	if w.missing == "" {
		return nil
	}
	return Unwritten{w.missing}
}
