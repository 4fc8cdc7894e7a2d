package chart

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/palette/moreland"
)

// HottestShownC ends the colour scale. Above it tissue is dry: the figures hatch
// what has dried, so the colours are kept for the range in which tissue lives or
// dies, and one temperature has one colour in every figure.
const HottestShownC = 100

// heat runs from paper-pale (body temperature) to near black (hottest). Its
// lightness falls in proportion to temperature (CIE L*), so it survives grey
// print and every kind of colour blindness.
var heat = shades(
	color.NRGBA{0x16, 0x0b, 0x26, 0xff},
	color.NRGBA{0x52, 0x13, 0x4f, 0xff},
	color.NRGBA{0x96, 0x28, 0x4f, 0xff},
	color.NRGBA{0xd0, 0x54, 0x3f, 0xff},
	color.NRGBA{0xee, 0x8d, 0x4a, 0xff},
	color.NRGBA{0xf8, 0xc4, 0x85, 0xff},
	color.NRGBA{0xfd, 0xf4, 0xe6, 0xff},
)

// Depths runs the same way from shallow to deep, in another hue: it is no temperature.
var Depths = shades(
	color.NRGBA{0x0b, 0x1a, 0x33, 0xff},
	color.NRGBA{0x1c, 0x45, 0x73, 0xff},
	color.NRGBA{0x4a, 0x80, 0xac, 0xff},
	color.NRGBA{0x9a, 0xbf, 0xd8, 0xff},
	color.NRGBA{0xf2, 0xf7, 0xfa, 0xff},
)

// shades interpolates colours given darkest first; the lightest comes out first.
func shades(colours ...color.Color) (shades [1024]color.NRGBA) {
	m, err := moreland.NewLuminance(colours)
	if err != nil {
		panic(err) // the colours above are ordered
	}
	m.SetMax(1)
	for n := range shades {
		c, err := m.At(1 - float64(n)/float64(len(shades)-1))
		if err != nil {
			panic(err)
		}
		shades[n] = color.NRGBAModel.Convert(c).(color.NRGBA)
	}
	return shades
}

// HeatColour returns the colour of tC on a scale from coolC to hottestShownC;
// not a number is white.
func HeatColour(tC, coolC float64) color.NRGBA {
	if math.IsNaN(tC) {
		return Paper
	}
	return Warmth((tC - coolC) / (HottestShownC - coolC))
}

// Warmth returns the colour at a share of the scale of heat.
func Warmth(share float64) color.NRGBA {
	return heat[int(math.Round(min(max(share, 0), 1)*float64(len(heat)-1)))]
}

// The other colours: lines and text, quieter text, the page, a veil behind words on colour, metal.
var (
	Ink   = color.NRGBA{0x1c, 0x1c, 0x1c, 0xff}
	Soft  = color.NRGBA{0x60, 0x60, 0x60, 0xff}
	Paper = color.NRGBA{0xff, 0xff, 0xff, 0xff}
	veil  = color.NRGBA{0xff, 0xff, 0xff, 0xe0} // behind words that lie on colour
	Metal = color.NRGBA{0x9a, 0xa3, 0xad, 0xff}
)
