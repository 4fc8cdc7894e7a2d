package chart

import (
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/phrase"
)

// MM is a millimetre on the page.
const MM = vg.Millimeter

// Stroke returns a line of a width and dashes.
func Stroke(c color.Color, width vg.Length, dashes ...vg.Length) draw.LineStyle {
	return draw.LineStyle{Color: c, Width: width, Dashes: dashes}
}

// Panel is a rectangle of the drawing with data coordinates: left..right across,
// bottom..top upwards (bottom > top for a depth).
type Panel struct {
	draw.Canvas
	Page                     Page // whose sizes of text it has
	Left, Right, Bottom, Top float64
}

// NewPanel returns a panel at x, y of a page, w wide and h high, with the data values at its four sides.
func NewPanel(page Page, c draw.Canvas, x, y, w, h vg.Length, left, right, bottom, top float64) *Panel {
	c.Rectangle = vg.Rectangle{Min: vg.Point{X: x, Y: y}, Max: vg.Point{X: x + w, Y: y + h}}
	return &Panel{c, page, left, right, bottom, top}
}

// Px returns where the data value x is across the page.
func (p *Panel) Px(x float64) vg.Length {
	return p.Min.X + vg.Length((x-p.Left)/(p.Right-p.Left))*(p.Max.X-p.Min.X)
}

// Py returns where the data value y is up the page.
func (p *Panel) Py(y float64) vg.Length {
	return p.Min.Y + vg.Length((y-p.Bottom)/(p.Top-p.Bottom))*(p.Max.Y-p.Min.Y)
}

// Across returns the data value at x of the page.
func (p *Panel) Across(x vg.Length) float64 {
	return p.Left + float64((x-p.Min.X)/(p.Max.X-p.Min.X))*(p.Right-p.Left)
}

// Back returns the data value at height y of the page.
func (p *Panel) Back(y vg.Length) float64 {
	return p.Bottom + float64((y-p.Min.Y)/(p.Max.Y-p.Min.Y))*(p.Top-p.Bottom)
}

// Pt returns where a point of the data is on the page.
func (p *Panel) Pt(q Point) vg.Point { return vg.Point{X: p.Px(q.X), Y: p.Py(q.Y)} }

func (p *Panel) pts(line []Point) []vg.Point {
	out := make([]vg.Point, 0, len(line))
	for _, q := range line {
		if !math.IsNaN(q.X + q.Y) {
			out = append(out, p.Pt(q))
		}
	}
	return out
}

// Line draws a line, cut off at the panel's edge.
func (p *Panel) Line(s draw.LineStyle, pts ...Point) {
	if q := p.pts(pts); len(q) > 1 {
		p.StrokeLines(s, p.ClipLinesXY(q)...)
	}
}

// Area fills a polygon, cut off at the panel's edge.
func (p *Panel) Area(c color.Color, pts ...Point) {
	if q := p.ClipPolygonXY(p.pts(pts)); len(q) > 2 {
		p.FillPolygon(c, q)
	}
}

// Frame outlines the panel.
func (p *Panel) Frame() {
	p.StrokeLines(Stroke(Ink, 0.8), []vg.Point{p.Min, {X: p.Max.X, Y: p.Min.Y}, p.Max, {X: p.Min.X, Y: p.Max.Y}, p.Min})
}

// Say writes s at q, shifted by dx and centred upright on it, with a veil behind it
// so that it reads on any colour.
func (p *Panel) Say(s text.Style, q Point, dx vg.Length, txt string) {
	at := p.Pt(q)
	at.X += dx
	w, h := s.Width(txt), s.Height(txt)
	x := at.X + vg.Length(s.XAlign)*w
	const pad = 1.5
	p.FillPolygon(veil, []vg.Point{
		{X: x - pad, Y: at.Y - h/2 - pad}, {X: x + w + pad, Y: at.Y - h/2 - pad},
		{X: x + w + pad, Y: at.Y + h/2 + pad}, {X: x - pad, Y: at.Y + h/2 + pad}})
	p.FillText(s, at, txt)
}

// Arrow draws a double arrow between a and b, level or upright.
func (p *Panel) Arrow(a, b Point) {
	from, to := p.Pt(a), p.Pt(b)
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
	for _, s := range []draw.LineStyle{Stroke(Paper, 3.2), Stroke(Ink, 1.1)} {
		p.StrokeLine2(s, from.X, from.Y, to.X, to.Y)
	}
	for _, e := range []struct{ at, into vg.Point }{{from, along}, {to, vg.Point{}.Sub(along)}} {
		foot := e.at.Add(e.into)
		p.FillPolygon(Ink, []vg.Point{e.at, foot.Add(aside), foot.Sub(aside)})
	}
}

// Tick is the length of a tick on an axis.
const Tick = 1.2 * MM

// AxisX draws ticks and a label below the panel; without a label it draws ticks only.
func (p *Panel) AxisX(label string, at []float64, number func(float64) string) {
	s := TextStyle(p.Page.Word, Ink, text.XCenter, text.YTop)
	for _, v := range at {
		x := p.Px(v)
		p.StrokeLine2(Stroke(Ink, 0.8), x, p.Min.Y, x, p.Min.Y-Tick)
		if label != "" {
			p.FillText(s, vg.Point{X: x, Y: p.Min.Y - Tick - 0.6*MM}, number(v))
		}
	}
	if label != "" {
		p.FillText(s, vg.Point{X: p.Center().X, Y: p.Min.Y - 5.6*MM}, label)
	}
}

// AxisY draws ticks and a label (turned) left of the panel.
func (p *Panel) AxisY(label string, at []float64) { p.AxisUp(label, at, phrase.TickText) }

// AxisUp is as AxisY, with numbers written by number.
func (p *Panel) AxisUp(label string, at []float64, number func(float64) string) {
	s := TextStyle(p.Page.Word, Ink, text.XRight, text.YCenter)
	for _, v := range at {
		y := p.Py(v)
		p.StrokeLine2(Stroke(Ink, 0.8), p.Min.X, y, p.Min.X-Tick, y)
		p.FillText(s, vg.Point{X: p.Min.X - Tick - 0.6*MM, Y: y}, number(v))
	}
	s = TextStyle(p.Page.Word, Ink, text.XCenter, text.YBottom)
	s.Rotation = math.Pi / 2
	if room := p.Max.Y - p.Min.Y + 8*MM; s.Width(label) > room { // smaller, in lines
		s.Font.Size = p.Page.Note
		label = WrappedTo(s, room, label)
	}
	p.FillText(s, vg.Point{X: p.Min.X - 9.5*MM, Y: p.Center().Y}, label)
}

// Ticks returns round values between lo and hi, about n of them and two at least: one says nothing of a scale.
func Ticks(lo, hi float64, n int) []float64 {
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
	if len(t) < 2 {
		return Ticks(lo, hi, 2*max(n, 1))
	}
	return t
}

// Broken joins clauses to a line; if that is wider than w, each begins a line of its own
// with a capital and is broken at its commas, and between words where that is not enough.
func Broken(s text.Style, w vg.Length, clauses ...string) []string {
	if one := strings.Join(clauses, ", "); s.Width(one) <= w {
		return []string{one}
	}
	var lines []string
	for _, c := range clauses {
		line := ""
		for _, part := range strings.SplitAfter(phrase.Capital(c), ", ") {
			if line != "" && s.Width(strings.TrimSpace(line+part)) > w {
				lines, line = append(lines, Wrapped(s, w, line)...), ""
			}
			line += part
		}
		lines = append(lines, Wrapped(s, w, line)...)
	}
	return lines
}

// Label names a range of depths.
type Label struct {
	Text        string
	Colour      color.Color
	Top, Bottom float64
}

// Near writes labels beside the panel, or within it on a page without room there.
func (p *Panel) Near(labels []Label, width vg.Length) { p.name(labels, width, p.Page.Narrow()) }

// Beside writes labels at the right of the panel, at most width wide, each joined to
// the middle of its range and moved apart where they meet. Where there is no room
// for all, the narrowest ranges go without.
func (p *Panel) Beside(labels []Label, width vg.Length) { p.name(labels, width, false) }

// name does so, or within the panel at its right edge.
func (p *Panel) name(labels []Label, width vg.Length, within bool) {
	gap := p.Page.WordLine()
	style := func(l Label) text.Style {
		s := TextStyle(p.Page.Word, l.Colour, text.XLeft, text.YCenter)
		if within || s.Width(l.Text) > width-3.5*MM {
			s.Font.Size = p.Page.Note
		}
		if within {
			s.XAlign = text.XRight
		}
		return s
	}
	labels = slices.Clone(labels)
	for len(labels) > 1 && vg.Length(len(labels))*gap > p.Max.Y-p.Min.Y {
		narrowest := 0
		for n, l := range labels {
			if l.Bottom-l.Top < labels[narrowest].Bottom-labels[narrowest].Top-1e-9 {
				narrowest = n
			}
		}
		labels = slices.Delete(labels, narrowest, narrowest+1)
	}
	at := make([]vg.Length, len(labels))
	for n, l := range labels {
		at[n] = p.Py((l.Top + l.Bottom) / 2)
		if !within {
			gap = max(gap, p.Page.NoteLine()*vg.Length(len(Wrapped(style(l), width-3.5*MM, l.Text))))
		}
	}
	middle := slices.Clone(at)
	apart(at, gap, p.Min.Y+1.5*MM, p.Max.Y-1*MM)
	for n, l := range labels {
		s := style(l)
		if within {
			p.StrokeLines(Stroke(Soft, 0.6), []vg.Point{{X: p.Max.X, Y: middle[n]}, {X: p.Max.X - 1.6*MM, Y: at[n]}})
			p.Say(s, Point{p.Right, p.Back(at[n])}, -2*MM, l.Text)
			continue
		}
		p.StrokeLines(Stroke(Soft, 0.6), []vg.Point{{X: p.Max.X, Y: middle[n]}, {X: p.Max.X + 2.2*MM, Y: at[n]}})
		p.FillText(s, vg.Point{X: p.Max.X + 2.8*MM, Y: at[n]}, WrappedTo(s, width-3.5*MM, l.Text))
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
