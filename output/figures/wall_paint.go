package figures

import (
	"image"
	"image/color"
	"math"
	"sync"

	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
)

// Ground is the image of the colours of cuts, the same in every format, so painted once.
type Ground struct {
	cuts []*Cut
	once sync.Once
	img  image.Image
}

// NewGround returns the image of cuts.
func NewGround(cuts []*Cut) *Ground { return &Ground{cuts: cuts} }

// Image paints it, for an area that holds the panels.
func (g *Ground) Image(area vg.Rectangle, panels []*chart.Panel) image.Image {
	g.once.Do(func() { g.img = Paint(area, g.cuts, panels) })
	return g.img
}

// Paint fills the tissue of all cuts with the colour of the hottest temperature it
// reached; removed tissue is white. It is one image for all, because vgpdf puts
// several into a page in random order and equal figures would be unequal files.
func Paint(area vg.Rectangle, cuts []*Cut, panels []*chart.Panel) image.Image {
	return painted(area, cuts, panels, 200)
}

// warmth is the palette of the colours of tissue: none first, then from cool to hot.
var warmth = func() (p color.Palette) {
	p = append(p, chart.Paper)
	for n := range shades {
		p = append(p, chart.Warmth(float64(n)/(shades-1)))
	}
	return p
}()

const shades = 255

func painted(area vg.Rectangle, cuts []*Cut, panels []*chart.Panel, perInch float64) *image.Paletted {
	w, h := area.Max.X-area.Min.X, area.Max.Y-area.Min.Y
	nx, ny := int(w.Dots(perInch))+1, int(h.Dots(perInch))+1
	img := image.NewPaletted(image.Rect(0, 0, nx, ny), warmth)
	for n, p := range panels {
		var a, b []int // dots of the panel, and what they show
		var x, z []float64
		for i := range nx {
			if at := area.Min.X + w*vg.Length(i)/vg.Length(nx) + w/vg.Length(2*nx); p.Min.X <= at && at <= p.Max.X {
				a, x = append(a, i), append(x, p.Across(at))
			}
		}
		for i := range ny {
			if at := area.Max.Y - h*vg.Length(i)/vg.Length(ny) - h/vg.Length(2*ny); p.Min.Y <= at && at <= p.Max.Y {
				b, z = append(b, i), append(z, p.Back(at))
			}
		}
		for m, shade := range cuts[n].shades(x, z) {
			img.Pix[b[m/len(a)]*img.Stride+a[m%len(a)]] = shade
		}
	}
	return img
}

// shades returns the places in the palette of the tissue at the points of a grid, x fastest, that of none where there
// is none.
func (k *Cut) shades(x, z []float64) []uint8 {
	m, out := k.res.Mesh, make([]uint8, len(x)*len(z))
	shown, gone := k.Shown.Sampled(x, z), []float64(nil)
	if reached(k.gone) {
		gone = k.gone.Sampled(x, z)
	}
	stalk, perShade := k.res.Case.Layers[0].Above, (shades-1)/(k.Scale.High-k.Scale.Low)
	left, right, top, bottom := k.x[0], k.x[len(k.x)-1], 1e3*m.Z.Faces[0], 1e3*m.Z.Faces[m.NZ]
	for n, v := range shown {
		x, z := x[n%len(x)], z[n/len(x)]
		if z < top || z > bottom || x < left || x > right || gone != nil && gone[n] > half || stalk && k.void(x, z) || math.IsNaN(v) {
			continue
		}
		out[n] = 1 + uint8(min(max((v-k.Scale.Low)*perShade, 0), shades-1)+0.5)
	}
	return out
}
