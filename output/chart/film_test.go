package chart

import (
	"bytes"
	"context"
	"image"
	"image/color"
	xdraw "image/draw"
	"image/gif"
	"math"
	"testing"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// moving is a film of a bar that grows over a warming ground; its third frame is its second again.
func moving() Film {
	area := vg.Rectangle{Min: vg.Point{X: 20 * MM, Y: 20 * MM}, Max: vg.Point{X: 80 * MM, Y: 60 * MM}}
	f := Film{Name: "moving", Area: area, Still: func(c draw.Canvas) {
		c.FillText(TextStyle(wordSize, Ink, text.XLeft, text.YTop), vg.Point{X: 4 * MM, Y: c.Max.Y - 4*MM}, "stands still")
	}}
	for _, n := range []int{1, 2, 2, 3} {
		f.Frames = append(f.Frames, Frame{
			Hundredths: 10 * n,
			Ground: func() image.Image {
				img := image.NewNRGBA(image.Rect(0, 0, 300, 200))
				xdraw.Draw(img, img.Rect, image.NewUniform(Warmth(float64(n)/4)), image.Point{}, xdraw.Src)
				return img
			},
			Draw: func(c draw.Canvas) {
				x := vg.Length(20+10*n) * MM
				c.FillPolygon(Ink, []vg.Point{{X: 10 * MM, Y: 5 * MM}, {X: x, Y: 5 * MM}, {X: x, Y: 10 * MM}, {X: 10 * MM, Y: 10 * MM}})
			},
		})
	}
	return f
}

// A film shows what was drawn: frame by frame, where the frames before are left as they are.
func TestFilmShowsWhatIsDrawn(t *testing.T) {
	p, err := Gif(context.Background(), moving())
	if err != nil {
		t.Fatal(err)
	}
	again, err := Gif(context.Background(), moving())
	if err != nil || !bytes.Equal(p.Data, again.Data) || p.Name != "moving.gif" {
		t.Errorf("%s: other bytes the second time (%v)", p.Name, err)
	}
	g, err := gif.DecodeAll(bytes.NewReader(p.Data))
	if err != nil {
		t.Fatal(err)
	}
	if g.Config.Width*9 != g.Config.Height*16 || len(g.Image) != 4 {
		t.Fatalf("%d frames of %d x %d", len(g.Image), g.Config.Width, g.Config.Height)
	}
	at := func(img image.Image, x, y vg.Length) color.NRGBA {
		return color.NRGBAModel.Convert(img.At(int((x * MM).Dots(FilmDotsPerInch)), int((FilmHeight - y*MM).Dots(FilmDotsPerInch)))).(color.NRGBA)
	}
	page := image.NewNRGBA(image.Rect(0, 0, g.Config.Width, g.Config.Height))
	for i, n := range []int{1, 2, 2, 3} {
		img := g.Image[i]
		xdraw.Draw(page, img.Rect, img, img.Rect.Min, xdraw.Over)
		if g.Delay[i] != 10*n {
			t.Errorf("frame %d is shown for %d hundredths", i, g.Delay[i])
		}
		if i == 2 && img.Rect.Dx()*img.Rect.Dy() != 1 || i == 3 && img.Rect.Dy() >= g.Config.Height {
			t.Errorf("frame %d holds %v", i, img.Rect)
		}
		for _, see := range []struct {
			x, y vg.Length
			want color.NRGBA
		}{
			{vg.Length(15 + 10*n), 7, Ink}, {vg.Length(25 + 10*n), 7, Paper},
			{30, 50, Warmth(float64(n) / 4)}, {100, 70, Paper},
		} {
			if got := at(page, see.x, see.y); apartBy(got, see.want) > 3 {
				t.Errorf("frame %d at %g, %g mm: %v, want %v", i, see.x, see.y, got, see.want)
			}
		}
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Gif(ended, moving()); err != context.Canceled {
		t.Errorf("after the end: %v", err)
	}
}

// apartBy is the largest difference of two colours in a channel.
func apartBy(a, b color.NRGBA) float64 {
	d := func(a, b uint8) float64 { return math.Abs(float64(a) - float64(b)) }
	return max(d(a.R, b.R), d(a.G, b.G), d(a.B, b.B))
}

// The palette of a film has each colour of heat within what the eye tells apart, and no more than a GIF holds with those
// that a figure adds.
func TestFilmKeepsTheColoursOfHeat(t *testing.T) {
	f := Film{Colours: []color.NRGBA{{0xf1, 0xee, 0xe8, 0xff}}}
	p := f.palette()
	if len(p) > 256-4 {
		t.Errorf("%d colours", len(p))
	}
	near := nearest{of: p}
	for _, c := range append(heat[:], Ink, Paper, Metal, Soft, f.Colours[0]) {
		got := p[near.find(c.R, c.G, c.B)].(color.NRGBA)
		if d := apartBy(c, got); d > 4 {
			t.Errorf("%v becomes %v", c, got)
		}
	}
}

// Notes, the smallest text of figures, are read as 18 points on a slide 13.333 in wide.
func TestNotesOnASlide(t *testing.T) {
	if pt := float64(noteSize) * 40 / 3 / float64(FilmWidth/vg.Inch); pt < 18 {
		t.Errorf("%.2f points", pt)
	}
}

// Sampled is At on a grid, to the bit.
func TestSampled(t *testing.T) {
	p := &Plane{X: []float64{-1, 0, 0.3, 2}, Y: []float64{0, 0.1, 0.5}, V: []float64{1, 2, 3, 4, 5, 6, 7, 9, 11, 13, 17, math.Pi}}
	x, y := []float64{-2, -1, -0.3, 0, 0.29, 1.7, 5}, []float64{-1, 0, 0.07, 0.1, 0.4, 0.5, 2}
	for n, v := range p.Sampled(x, y) {
		if want := p.At(x[n%len(x)], y[n/len(x)]); v != want {
			t.Errorf("%g at %d, want %g", v, n, want)
		}
	}
}
