package chart

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"

	"git.sr.ht/~sbinet/gg"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"

	"muralheat/output/chart/letters"
)

// DotsPerInch is the resolution of PNG.
const DotsPerInch = 300

// Png draws f at 300 dots per inch and says so in the file; of what is shown larger, with fewer.
func Png(f Figure) ([]byte, error) {
	c := newDots(f.W, f.H, DotsPerInch)
	f.Draw(draw.NewCanvas(c, f.W, f.H))
	if err := c.err(); err != nil {
		return nil, err
	}
	return encoded(c.img, uint32(DotsPerInch*5000/127/f.shown()))
}

// dots is a canvas of dots, white at first. It writes letters as their outlines and puts images on it at once: what
// vgimg calls for both transforms dot by dot.
type dots struct {
	*vgimg.Canvas
	written
	img *image.RGBA
}

func newDots(w, h vg.Length, perInch int) *dots {
	at := func(l vg.Length) int { return int(l.Dots(float64(perInch)) + 0.5) }
	img := image.NewRGBA(image.Rect(0, 0, at(w), at(h)))
	c := gg.NewContextForRGBA(img) // vgimg would make one, and copy it
	c.SetLineCapButt()
	c.InvertY()
	return &dots{Canvas: vgimg.NewWith(vgimg.UseImageWithContext(img, c), vgimg.UseDPI(perInch)), img: img}
}

// FillString writes a line of text.
func (c *dots) FillString(f font.Face, at vg.Point, txt string) {
	c.check(txt)
	w, h := c.Size()
	if far := 2 * (w + h); !(max(at.X, -at.X) < far && max(at.Y, -at.Y) < far) {
		return // where the numbers of a changed result put it: all the dots up to there take forever
	}
	for _, path := range letters.Outlines(f.Font.Size, at, txt) { // one by one: of long paths it looks through all edges in a line
		c.Fill(path)
	}
}

// DrawImage puts an image on an upright canvas, each dot between the four of the image about it.
func (c *dots) DrawImage(r vg.Rectangle, img image.Image) {
	from := rgba(img)
	dpi := c.DPI()
	h := float64(c.img.Rect.Dy())
	left, top := r.Min.X.Dots(dpi), h-r.Max.Y.Dots(dpi)
	x, wx := between4(left, r.Max.X.Dots(dpi), c.img.Rect.Dx(), from.Rect.Dx())
	y, wy := between4(top, h-r.Min.Y.Dots(dpi), c.img.Rect.Dy(), from.Rect.Dy())
	for j, row := range y.from {
		a, b := from.Pix[row*from.Stride:], from.Pix[min(row+1, from.Rect.Dy()-1)*from.Stride:]
		out := c.img.Pix[(y.first+j)*c.img.Stride+4*x.first:]
		down := wy[j]
		for i, column := range x.from {
			p, q, right := 4*column, 4*min(column+1, from.Rect.Dx()-1), wx[i]
			for k := range 3 {
				upper := uint32(a[p+k])*(256-right) + uint32(a[q+k])*right
				lower := uint32(b[p+k])*(256-right) + uint32(b[q+k])*right
				out[4*i+k] = uint8((upper*(256-down) + lower*down + 1<<15) >> 16)
			}
		}
	}
}

// axis says of the dots of a line, from the first on, which dot of an image lies before each.
type axis struct {
	first int
	from  []int
}

// between4 spreads n dots of an image between two places of a line of many dots, and returns how far, of 256, each of
// these is from the dot before it to the one after it.
func between4(lo, hi float64, many, n int) (a axis, share []uint32) {
	a.first = max(0, int(lo+0.5))
	for d := a.first; d < min(many, int(hi+0.5)); d++ {
		at := min(max((float64(d)+0.5-lo)/(hi-lo)*float64(n)-0.5, 0), float64(n-1))
		a.from, share = append(a.from, int(at)), append(share, uint32(256*(at-float64(int(at)))))
	}
	return a, share
}

// rgba returns an image with four bytes a dot.
func rgba(img image.Image) *image.RGBA {
	b := img.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	if p, ok := img.(*image.Paletted); ok {
		var shades [256][4]uint8
		for n, c := range p.Palette {
			k := color.RGBAModel.Convert(c).(color.RGBA)
			shades[n] = [4]uint8{k.R, k.G, k.B, k.A}
		}
		for n, i := range p.Pix {
			copy(out.Pix[4*n:], shades[i][:])
		}
		return out
	}
	for y := range b.Dy() {
		for x := range b.Dx() {
			out.Set(x, y, img.At(b.Min.X+x, b.Min.Y+y))
		}
	}
	return out
}

// encoded writes an opaque image as PNG (ISO/IEC 15948), each line less the one above it, which leaves little of a
// figure. The encoder of the standard library tries all five ways a line and takes longer than the drawing.
func encoded(img *image.RGBA, perMetre uint32) ([]byte, error) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	var packed bytes.Buffer
	z, err := zlib.NewWriterLevel(&packed, zlib.BestSpeed)
	if err != nil {
		return nil, err
	}
	const up = 2
	line, above := make([]byte, 1+3*w), make([]byte, 4*w)
	line[0] = up
	for y := range h {
		row := img.Pix[y*img.Stride : y*img.Stride+4*w]
		if bytes.Equal(row, above) {
			clear(line[1:])
		} else {
			for x := range w {
				p, q, to := row[4*x:4*x+3:4*x+3], above[4*x:4*x+3:4*x+3], line[1+3*x:4+3*x:4+3*x]
				to[0], to[1], to[2] = p[0]-q[0], p[1]-q[1], p[2]-q[2]
			}
		}
		if _, err := z.Write(line); err != nil {
			return nil, err
		}
		above = row
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	out := []byte("\x89PNG\r\n\x1a\n")
	chunk := func(name string, data []byte) {
		out = binary.BigEndian.AppendUint32(out, uint32(len(data)))
		from := len(out)
		out = append(append(out, name...), data...)
		out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[from:]))
	}
	const depth, trueColour = 8, 2
	size := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(w)), uint32(h))
	chunk("IHDR", append(size, depth, trueColour, 0, 0, 0))
	// So that documents place the figure in its size.
	chunk("pHYs", append(binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, perMetre), perMetre), 1))
	chunk("IDAT", packed.Bytes())
	chunk("IEND", nil)
	return out, nil
}
