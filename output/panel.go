package output

import (
	"image/color"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

const mm = vg.Millimeter

// Sizes are chosen for a figure 170 mm wide in a paper; the same figure filling a
// slide is read from the back row.
const (
	titleSize  = 12.5 * vg.Length(1)
	figureSize = 11 * vg.Length(1) // the number the figure is about
	wordSize   = 9 * vg.Length(1)
	noteSize   = 7.5 * vg.Length(1)
)

var typefaces = text.Plain{Fonts: font.NewCache(liberation.Collection())}

// words returns a text style; x and y say which point of the text is placed. One
// face serves all: vgpdf embeds every face of a page as the same font file, so bold
// comes out wrong in PDF. Size makes the emphasis.
func words(size vg.Length, c color.Color, x text.XAlignment, y text.YAlignment) text.Style {
	return text.Style{
		Color: c, Font: font.Font{Typeface: "Liberation", Variant: "Sans", Size: size},
		XAlign: x, YAlign: y, Handler: typefaces,
	}
}

func stroke(c color.Color, width vg.Length, dashes ...vg.Length) draw.LineStyle {
	return draw.LineStyle{Color: c, Width: width, Dashes: dashes}
}

// panel is a rectangle of the drawing with data coordinates: left..right across,
// bottom..top upwards (bottom > top for a depth).
type panel struct {
	draw.Canvas
	left, right, bottom, top float64
}

func newPanel(c draw.Canvas, x, y, w, h vg.Length, left, right, bottom, top float64) *panel {
	c.Rectangle = vg.Rectangle{Min: vg.Point{X: x, Y: y}, Max: vg.Point{X: x + w, Y: y + h}}
	return &panel{c, left, right, bottom, top}
}

func (p *panel) px(x float64) vg.Length {
	return p.Min.X + vg.Length((x-p.left)/(p.right-p.left))*(p.Max.X-p.Min.X)
}

func (p *panel) py(y float64) vg.Length {
	return p.Min.Y + vg.Length((y-p.bottom)/(p.top-p.bottom))*(p.Max.Y-p.Min.Y)
}

// across returns the data value at x of the page.
func (p *panel) across(x vg.Length) float64 {
	return p.left + float64((x-p.Min.X)/(p.Max.X-p.Min.X))*(p.right-p.left)
}

// back returns the data value at height y of the page.
func (p *panel) back(y vg.Length) float64 {
	return p.bottom + float64((y-p.Min.Y)/(p.Max.Y-p.Min.Y))*(p.top-p.bottom)
}

func (p *panel) pt(q point) vg.Point { return vg.Point{X: p.px(q.x), Y: p.py(q.y)} }

func (p *panel) pts(line []point) []vg.Point {
	out := make([]vg.Point, 0, len(line))
	for _, q := range line {
		if !math.IsNaN(q.x + q.y) {
			out = append(out, p.pt(q))
		}
	}
	return out
}

// line draws a line, cut off at the panel's edge.
func (p *panel) line(s draw.LineStyle, pts ...point) {
	if q := p.pts(pts); len(q) > 1 {
		p.StrokeLines(s, p.ClipLinesXY(q)...)
	}
}

// area fills a polygon, cut off at the panel's edge.
func (p *panel) area(c color.Color, pts ...point) {
	if q := p.ClipPolygonXY(p.pts(pts)); len(q) > 2 {
		p.FillPolygon(c, q)
	}
}

// frame outlines the panel.
func (p *panel) frame() {
	p.StrokeLines(stroke(ink, 0.8), []vg.Point{p.Min, {X: p.Max.X, Y: p.Min.Y}, p.Max, {X: p.Min.X, Y: p.Max.Y}, p.Min})
}

// say writes s at q, shifted by dx and centred upright on it, with a veil behind it
// so that it reads on any colour.
func (p *panel) say(s text.Style, q point, dx vg.Length, txt string) {
	at := p.pt(q)
	at.X += dx
	w, h := s.Width(txt), s.Height(txt)
	x := at.X + vg.Length(s.XAlign)*w
	const pad = 1.5
	p.FillPolygon(veil, []vg.Point{
		{X: x - pad, Y: at.Y - h/2 - pad}, {X: x + w + pad, Y: at.Y - h/2 - pad},
		{X: x + w + pad, Y: at.Y + h/2 + pad}, {X: x - pad, Y: at.Y + h/2 + pad}})
	p.FillText(s, at, txt)
}

// arrow draws a double arrow between a and b, level or upright.
func (p *panel) arrow(a, b point) {
	from, to := p.pt(a), p.pt(b)
	if from.Y > to.Y {
		from, to = to, from
	}
	d := to.Sub(from)
	long := vg.Length(math.Hypot(float64(d.X), float64(d.Y)))
	if long == 0 {
		return
	}
	size := min(vg.Length(4.5), long/2)
	along := vg.Point{X: d.X / long * size, Y: d.Y / long * size}
	aside := vg.Point{X: -along.Y / 2.6, Y: along.X / 2.6}
	for _, s := range []draw.LineStyle{stroke(paper, 3.2), stroke(ink, 1.1)} {
		p.StrokeLine2(s, from.X, from.Y, to.X, to.Y)
	}
	for _, e := range []struct{ at, into vg.Point }{{from, along}, {to, vg.Point{}.Sub(along)}} {
		foot := e.at.Add(e.into)
		p.FillPolygon(ink, []vg.Point{e.at, foot.Add(aside), foot.Sub(aside)})
	}
}

const tick = 1.2 * mm

// axisX draws ticks and a label below the panel; without a label it draws ticks only.
func (p *panel) axisX(label string, at []float64, number func(float64) string) {
	s := words(wordSize, ink, text.XCenter, text.YTop)
	for _, v := range at {
		x := p.px(v)
		p.StrokeLine2(stroke(ink, 0.8), x, p.Min.Y, x, p.Min.Y-tick)
		if label != "" {
			p.FillText(s, vg.Point{X: x, Y: p.Min.Y - tick - 0.6*mm}, number(v))
		}
	}
	if label != "" {
		p.FillText(s, vg.Point{X: p.Center().X, Y: p.Min.Y - 5.6*mm}, label)
	}
}

// axisY draws ticks and a label (turned) left of the panel.
func (p *panel) axisY(label string, at []float64) { p.axisUp(label, at, tickText) }

func (p *panel) axisUp(label string, at []float64, number func(float64) string) {
	s := words(wordSize, ink, text.XRight, text.YCenter)
	for _, v := range at {
		y := p.py(v)
		p.StrokeLine2(stroke(ink, 0.8), p.Min.X, y, p.Min.X-tick, y)
		p.FillText(s, vg.Point{X: p.Min.X - tick - 0.6*mm, Y: y}, number(v))
	}
	s = words(wordSize, ink, text.XCenter, text.YBottom)
	s.Rotation = math.Pi / 2
	p.FillText(s, vg.Point{X: p.Min.X - 9.5*mm, Y: p.Center().Y}, label)
}

// ticks returns round values between lo and hi, about n of them.
func ticks(lo, hi float64, n int) []float64 {
	if lo > hi {
		lo, hi = hi, lo
	}
	if !(hi > lo) || math.IsInf(hi-lo, 0) {
		return nil
	}
	raw := (hi - lo) / float64(n)
	unit := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * unit
	for _, m := range []float64{5, 2, 1} {
		if m*unit >= raw*0.999 {
			step = m * unit
		}
	}
	var t []float64
	for i := math.Ceil(lo/step - 1e-9); i*step <= hi+1e-9*step; i++ {
		// Dividing keeps 0.3 from becoming 0.30000000000000004.
		if step < 1 {
			t = append(t, i/math.Round(1/step))
		} else {
			t = append(t, i*step)
		}
	}
	return t
}

func tickText(v float64) string {
	if v == 0 {
		return "0"
	}
	// A hyphen is too short for a minus and PDF fonts lack the minus.
	return strings.Replace(strconv.FormatFloat(v, 'f', -1, 64), "-", "–", 1)
}

// distanceText labels both sides of a symmetric axis with the distance.
func distanceText(v float64) string { return tickText(math.Abs(v)) }

// fit shortens s with an ellipsis until it is no wider than w.
func fit(s text.Style, w vg.Length, txt string) string {
	r := []rune(txt)
	for n := len(r); n > 0; n-- {
		t := txt
		if n < len(r) {
			t = string(r[:n]) + "…"
		}
		if s.Width(t) <= w {
			return t
		}
	}
	return ""
}

// broken joins clauses to a line; if that is wider than w, each begins a line of its own
// with a capital and is broken at its commas.
func broken(s text.Style, w vg.Length, clauses ...string) []string {
	if one := strings.Join(clauses, ", "); s.Width(one) <= w {
		return []string{one}
	}
	var lines []string
	for _, c := range clauses {
		line := ""
		if c != "" {
			c = strings.ToUpper(c[:1]) + c[1:]
		}
		for _, part := range strings.SplitAfter(c, ", ") {
			if line != "" && s.Width(strings.TrimSpace(line+part)) > w {
				lines, line = append(lines, fit(s, w, line)), ""
			}
			line += part
		}
		lines = append(lines, fit(s, w, line))
	}
	return lines
}

// label names a range of depths.
type label struct {
	text        string
	colour      color.Color
	top, bottom float64
}

// beside writes labels at the right of the panel, at most width wide, each joined to
// the middle of its range and moved apart where they meet. Where there is no room
// for all, the narrowest ranges go without.
func (p *panel) beside(labels []label, width vg.Length) {
	const gap = 4.2 * mm
	labels = slices.Clone(labels)
	for len(labels) > 1 && vg.Length(len(labels))*gap > p.Max.Y-p.Min.Y {
		narrowest := 0
		for n, l := range labels {
			if l.bottom-l.top < labels[narrowest].bottom-labels[narrowest].top-1e-9 {
				narrowest = n
			}
		}
		labels = slices.Delete(labels, narrowest, narrowest+1)
	}
	at := make([]vg.Length, len(labels))
	for n, l := range labels {
		at[n] = p.py((l.top + l.bottom) / 2)
	}
	middle := slices.Clone(at)
	apart(at, gap, p.Min.Y+1.5*mm, p.Max.Y-1*mm)
	for n, l := range labels {
		s := words(wordSize, l.colour, text.XLeft, text.YCenter)
		if s.Width(l.text) > width-3.5*mm {
			s.Font.Size = noteSize
		}
		p.StrokeLines(stroke(soft, 0.6), []vg.Point{{X: p.Max.X, Y: middle[n]}, {X: p.Max.X + 2.2*mm, Y: at[n]}})
		p.FillText(s, vg.Point{X: p.Max.X + 2.8*mm, Y: at[n]}, fit(s, width-3.5*mm, l.text))
	}
}

// apart moves descending positions until they are gap apart and, if there is
// room, between lo and hi.
func apart(y []vg.Length, gap, lo, hi vg.Length) {
	for n := range y {
		y[n] = min(y[n], hi)
		if n > 0 {
			y[n] = min(y[n], y[n-1]-gap)
		}
	}
	for n := len(y) - 1; n >= 0; n-- {
		if n == len(y)-1 {
			y[n] = max(y[n], lo)
		} else {
			y[n] = max(y[n], y[n+1]+gap)
		}
	}
}

// finite returns v, or 0 if it is no finite number: a run that failed is drawn too.
func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}
