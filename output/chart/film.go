package chart

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	xdraw "image/draw"
	"image/gif"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// Film is a drawing that moves, in the shape of a slide: what stands still and what is drawn over it in each frame.
type Film struct {
	Name    string // of the file, without extension
	Still   func(draw.Canvas)
	Area    vg.Rectangle // of the ground of each frame
	Frames  []Frame
	Colours []color.NRGBA // that it has besides those of heat, metal and text
}

// Frame is one frame of a film.
type Frame struct {
	Ground     func() image.Image // at FilmDotsPerInch
	Draw       func(draw.Canvas)  // over it
	Hundredths int                // of a second that it is shown
}

// A slide is 13.333 in wide and 7.5 in high, 16:9. A film is drawn at 1/2.406 of that, so that notes of 7.5 points are
// read on it as 18.
const (
	FilmDotsPerInch            = 231
	filmDotsWide, filmDotsHigh = 1280, 720 // in dots

	FilmWidth  = vg.Inch * filmDotsWide / FilmDotsPerInch
	FilmHeight = vg.Inch * filmDotsHigh / FilmDotsPerInch
)

// Gif renders a film. A frame holds what differs from the one before. The error is that of ctx, if it ends before.
func Gif(ctx context.Context, f Film) (Picture, error) {
	colours := f.palette()
	out := gif.GIF{Config: image.Config{ColorModel: colours, Width: filmDotsWide, Height: filmDotsHigh}}
	near := nearest{of: colours, known: make([]uint8, 1<<24)}
	// One canvas for all: making one takes as long as drawing half a frame.
	canvas := vgimg.NewWith(vgimg.UseWH(FilmWidth, FilmHeight), vgimg.UseDPI(FilmDotsPerInch))
	img, ok := canvas.Image().(*image.RGBA)
	if !ok || img.Rect.Dx() != out.Config.Width || img.Rect.Dy() != out.Config.Height {
		return Picture{}, fmt.Errorf("output: film %s: drawn on %v", f.Name, canvas.Image().Bounds())
	}
	page := draw.New(canvas)
	f.Still(page)
	still := bytes.Clone(img.Pix)
	corner := image.Pt(int(f.Area.Min.X.Dots(FilmDotsPerInch)+0.5), int((FilmHeight-f.Area.Max.Y).Dots(FilmDotsPerInch)+0.5))
	before := image.NewPaletted(img.Rect, colours) // the page as shown so far
	for n, frame := range f.Frames {
		if err := ctx.Err(); err != nil {
			return Picture{}, err
		}
		copy(img.Pix, still)
		ground := frame.Ground()
		xdraw.Draw(img, ground.Bounds().Add(corner), ground, image.Point{}, xdraw.Src)
		frame.Draw(page)
		now := image.NewPaletted(img.Rect, colours)
		near.paint(now, img)
		shown := now
		if n > 0 {
			shown = changed(before, now)
		}
		out.Image, out.Delay, out.Disposal = append(out.Image, shown), append(out.Delay, frame.Hundredths), append(out.Disposal, gif.DisposalNone)
		before = now
	}
	var b bytes.Buffer
	if err := gif.EncodeAll(&b, &out); err != nil {
		return Picture{}, fmt.Errorf("output: film %s: %w", f.Name, err)
	}
	return Picture{f.Name + ".gif", b.Bytes()}, nil
}

// unchanged is the colour that leaves a pixel as it is.
const unchanged = 0

// changed returns what differs between two frames, the rest of it unchanged.
func changed(before, now *image.Paletted) *image.Paletted {
	var box image.Rectangle
	w := now.Rect.Dx()
	for y := range now.Rect.Dy() {
		a, b := before.Pix[y*w:(y+1)*w], now.Pix[y*w:(y+1)*w]
		if bytes.Equal(a, b) {
			continue
		}
		from, to := 0, w
		for a[from] == b[from] {
			from++
		}
		for a[to-1] == b[to-1] {
			to--
		}
		box = box.Union(image.Rect(from, y, to, y+1))
	}
	if box.Empty() {
		box = image.Rect(0, 0, 1, 1) // a frame has a pixel at least
	}
	out := image.NewPaletted(box, now.Palette)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			if i := y*w + x; now.Pix[i] != before.Pix[i] {
				out.Pix[out.PixOffset(x, y)] = now.Pix[i]
			}
		}
	}
	return out
}

// nearest finds the colour of a palette next to another.
type nearest struct {
	of    color.Palette
	known []uint8 // by red, green, blue; 0: not yet
}

// paint sets the pixels of out to those of img.
func (n nearest) paint(out *image.Paletted, img *image.RGBA) {
	for i := range out.Pix {
		p := img.Pix[4*i : 4*i+4 : 4*i+4]
		at := int(p[0])<<16 | int(p[1])<<8 | int(p[2])
		if n.known[at] == 0 {
			n.known[at] = n.find(p[0], p[1], p[2])
		}
		out.Pix[i] = n.known[at]
	}
}

func (n nearest) find(r, g, b uint8) uint8 {
	best, least := 0, 1<<30
	for i, c := range n.of {
		if i == unchanged {
			continue
		}
		k := c.(color.NRGBA)
		dr, dg, db := int(k.R)-int(r), int(k.G)-int(g), int(k.B)-int(b)
		if d := dr*dr + dg*dg + db*db; d < least {
			best, least = i, d
		}
	}
	return uint8(best)
}

// palette is the palette of figures in as few colours as a film needs: heat in steps of half a kelvin on the scale
// from 37 to 100 C, greys, metal, and what lies between them where a line or word has its edge.
func (f Film) palette() color.Palette {
	const warm, grey = 128, 16
	p := color.Palette{unchanged: color.NRGBA{}}
	for n := range warm {
		p = append(p, Warmth(float64(n)/(warm-1)))
	}
	for n := range grey {
		p = append(p, between(Ink, Paper, float64(n)/(grey-1)))
	}
	p = append(p, Soft, Metal, between(Metal, Ink, 0.33), between(Metal, Ink, 0.67), between(Metal, Paper, 0.5))
	const edges = 24
	for n := range edges {
		c := Warmth(float64(n) / (edges - 1))
		p = append(p, between(c, Paper, 0.33), between(c, Paper, 0.67), between(c, Ink, 0.33), between(c, Ink, 0.67))
	}
	for _, c := range f.Colours {
		p = append(p, c)
	}
	return p
}

// between returns the colour at a share of the way from a to b.
func between(a, b color.NRGBA, share float64) color.NRGBA {
	mix := func(a, b uint8) uint8 { return uint8(float64(a) + share*(float64(b)-float64(a)) + 0.5) }
	return color.NRGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 0xff}
}
