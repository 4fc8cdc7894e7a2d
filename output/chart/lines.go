package chart

import (
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// LimitLine is that of a rise of 6 K in every figure.
var LimitLine = Stroke(Ink, 1.2, 5, 2)

// Lines are told apart by dash and by lightness, so also in grey.
var LineStyles = []draw.LineStyle{
	Stroke(color.NRGBA{0x16, 0x0b, 0x26, 0xff}, 1.8),
	Stroke(color.NRGBA{0x96, 0x28, 0x4f, 0xff}, 1.8, 6, 2),
	Stroke(color.NRGBA{0xd0, 0x54, 0x3f, 0xff}, 1.8, 2, 2),
	Stroke(color.NRGBA{0x3b, 0x5b, 0x8c, 0xff}, 1.8, 8, 2, 2, 2),
	Stroke(color.NRGBA{0x1c, 0x1c, 0x1c, 0xff}, 1.0),
	Stroke(color.NRGBA{0x60, 0x60, 0x60, 0xff}, 1.4, 4, 3),
}

// Curve is one named line of a time course.
type Curve struct {
	Name  string
	Style draw.LineStyle
	Pts   []Point
	Mark  int // of its points, from 1; 0: none
}

// bandShades are the layers of the wall in turn, beyondShade what lies beyond.
var (
	BandShades  = []color.NRGBA{{0xf6, 0xe7, 0xd6, 0xff}, {0xfc, 0xf6, 0xee, 0xff}}
	BeyondShade = color.NRGBA{0xe4, 0xe4, 0xe4, 0xff}
)

// Remark writes a small line above the panel.
func (p *Panel) Remark(txt string) {
	p.FillText(TextStyle(p.Page.Note, Soft, text.XLeft, text.YBottom), vg.Point{X: p.Min.X, Y: p.Max.Y + 0.8*MM}, txt)
}

// Curves draws the lines, the axes, and each name at the end of its line.
func (p *Panel) Curves(label string, n int, cs []Curve) {
	for _, c := range cs {
		var run []Point // a gap where there is no value
		for _, q := range c.Pts {
			if math.IsNaN(q.Y) || math.IsInf(q.Y, 0) {
				p.Line(c.Style, run...)
				run = nil
				continue
			}
			run = append(run, q)
		}
		p.Line(c.Style, run...)
	}
	p.Frame()
	p.AxisY(label, Within(Ticks(p.Bottom, p.Top, n), math.Min(p.Bottom, p.Top), math.Max(p.Bottom, p.Top)))
	if len(cs) > 1 && !p.Page.Narrow() { // else a key names them
		p.Names(cs)
	}
}

// Names writes the name of each curve where it ends, moved apart where they meet.
func (p *Panel) Names(cs []Curve) {
	type name struct {
		Curve
		end, placed vg.Length
	}
	var names []name
	for _, c := range cs {
		for n := len(c.Pts) - 1; n >= 0; n-- {
			if y := c.Pts[n].Y; !math.IsNaN(y) && !math.IsInf(y, 0) {
				names = append(names, name{c, p.Py(y), p.Py(y)})
				break
			}
		}
	}
	// From the top downwards; equal ends keep the order surface first.
	for a := 1; a < len(names); a++ {
		for b := a; b > 0 && names[b].end >= names[b-1].end; b-- {
			names[b], names[b-1] = names[b-1], names[b]
		}
	}
	const nameWidth = 36 * MM
	at, styles, lines := make([]vg.Length, len(names)), make([]text.Style, len(names)), 1
	for n, m := range names {
		at[n], styles[n] = m.end, TextStyle(p.Page.Word, Ink, text.XLeft, text.YCenter)
		if styles[n].Width(m.Name) > nameWidth {
			styles[n].Font.Size = p.Page.Note
		}
		lines = max(lines, len(Wrapped(styles[n], nameWidth, m.Name)))
	}
	apart(at, vg.Length(lines)*p.Page.WordLine(), p.Min.Y+1*MM, p.Max.Y-1.5*MM)
	for n, m := range names {
		x := p.Max.X
		p.StrokeLines(Stroke(Soft, 0.5), []vg.Point{{X: x, Y: m.end}, {X: x + 2.5*MM, Y: at[n]}})
		p.StrokeLine2(m.Style, x+3*MM, at[n], x+10*MM, at[n])
		if m.Mark > 0 {
			Mark(p.Canvas, m.Mark, vg.Point{X: x + 6.5*MM, Y: at[n]})
		}
		p.FillText(styles[n], vg.Point{X: x + 11*MM, Y: at[n]}, WrappedTo(styles[n], nameWidth, m.Name))
	}
}

const NamesRight = 44 * MM // names of curves beside the only panel

// glyphs are the points of curves: three that are full, then the same open.
var glyphs = []draw.GlyphDrawer{draw.CircleGlyph{}, draw.BoxGlyph{}, draw.PyramidGlyph{}, draw.RingGlyph{}, draw.SquareGlyph{}, draw.TriangleGlyph{}}

// Mark draws a point of the n-th curve, counted from 1.
func Mark(c draw.Canvas, n int, at vg.Point) { Dot(c, n, at, 2.6) }

// Dot draws the n-th mark, counted from 1, with a radius.
func Dot(c draw.Canvas, n int, at vg.Point, radius vg.Length) {
	n--
	if n >= 3 { // white inside
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: Paper, Radius: radius, Shape: glyphs[n-3]}, at)
	}
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: LineStyles[n].Color, Radius: radius, Shape: glyphs[n]}, at)
}

// Ring draws a ring around a point, legible on any colour.
func Ring(c draw.Canvas, at vg.Point) {
	for _, s := range []draw.LineStyle{Stroke(Paper, 2.4), Stroke(Ink, 1)} {
		var path vg.Path
		const radius = 1.9 * MM
		path.Move(vg.Point{X: at.X + radius, Y: at.Y})
		path.Arc(at, radius, 0, 2*math.Pi)
		path.Close()
		c.SetLineStyle(s)
		c.Stroke(path)
	}
}

// MuscleShade is the muscle behind curves, and what counts as in it.
var MuscleShade = color.NRGBA{0xe3, 0xc4, 0xb4, 0xff}

// LayerShade is that of the i-th layer of a wall behind curves.
func LayerShade(i int, muscle, beyond bool) color.NRGBA {
	switch {
	case muscle:
		return MuscleShade
	case beyond:
		return BeyondShade
	}
	return BandShades[i%2]
}

// BarShade fills bars.
var BarShade = color.NRGBA{0x7d, 0x93, 0xad, 0xff}

// Stripe fills a range of the upright axis.
func Stripe(p *Panel, shade color.Color, top, bottom float64) {
	p.Area(shade, Point{p.Left, top}, Point{p.Right, top}, Point{p.Right, bottom}, Point{p.Left, bottom})
}

// CurveKey names curves in rows from x, y down, no wider than w, and returns what the rows take of the page; without a
// canvas it only measures.
func (p Page) CurveKey(c *draw.Canvas, x, y, w vg.Length, cs []Curve) (height vg.Length) {
	s := TextStyle(p.Note, Ink, text.XLeft, text.YTop)
	left := x
	row := p.WordLine()
	line, height := row, row
	for _, k := range cs {
		name := Wrapped(s, w-11*MM, k.Name)
		wide := vg.Length(0)
		for _, l := range name {
			wide = max(wide, s.Width(l))
		}
		if x > left && x+9*MM+wide > left+w {
			x, y, line = left, y-line, row
			height += row
		}
		if extra := vg.Length(len(name))*p.NoteLine() - line; extra > 0 {
			line, height = line+extra, height+extra
		}
		if c != nil {
			middle := y - p.Note/2
			c.StrokeLine2(k.Style, x, middle, x+7*MM, middle)
			if k.Mark > 0 {
				Mark(*c, k.Mark, vg.Point{X: x + 3.5*MM, Y: middle})
			}
			c.FillText(s, vg.Point{X: x + 8*MM, Y: y}, strings.Join(name, "\n"))
		}
		x += 12*MM + wide
	}
	return height
}
