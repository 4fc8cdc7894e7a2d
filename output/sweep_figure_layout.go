package output

import (
	"math"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// layout places the panels of a figure of curves: one large panel or a table of small
// ones, for each quantity.
type layout struct {
	facets     []*facet
	quantities int
	columns    int
	w, h       vg.Length // of a panel
	strip      vg.Length // inside a large panel, free of data, for names of layers
	axes       vg.Length // below a panel
	title      vg.Length // above it
	key        vg.Length // height of the legend
	turned     bool      // words below the axis stand upright
	height     vg.Length
}

const (
	panelGap   = 6 * mm
	namesRight = 44 * mm // names of curves beside the only panel
)

// newLayout places panels; strip is what the first quantity asks for inside the only one.
func newLayout(facets []*facet, quantities int, strip vg.Length) *layout {
	l := &layout{facets: facets, quantities: quantities, columns: 1, axes: axisHeight, title: 3 * mm}
	f := facets[0]
	if l.one() {
		l.w = wallWidth - marginLeft - 8*mm
		if f.series != nil && f.joined {
			l.w = wallWidth - marginLeft - namesRight
		}
		l.h = 84 * mm
		if quantities > 1 {
			l.h = 46 * mm
		}
		l.strip = strip
	} else {
		l.columns = 3
		if n := len(facets); n == 2 || n == 4 {
			l.columns = 2
		}
		l.w = (wallWidth - marginLeft - 6*mm - panelGap*vg.Length(l.columns-1)) / vg.Length(l.columns)
		l.h = 46 * mm
		if f.title != "" {
			l.title = 6.5 * mm
		}
	}
	if f.series != nil && !(l.one() && f.joined) {
		l.key = 7 * mm * vg.Length(len(l.keyRows()))
	}
	s := words(wordSize, ink, text.XCenter, text.YTop)
	for _, f := range facets {
		if !f.x.words {
			continue
		}
		slot, longest, lines := (l.w-l.strip)/vg.Length(len(f.x.names)), vg.Length(0), 1
		for _, n := range f.x.names {
			longest = max(longest, s.Width(n))
			broken := wrapped(s, slot-1*mm, n)
			lines = max(lines, len(broken))
			for _, b := range broken {
				l.turned = l.turned || s.Width(b) > slot-1*mm || len(broken) > 3
			}
		}
		below := 4.2 * mm * vg.Length(lines)
		if l.turned {
			below = min(longest, 40*mm) + 1*mm
		}
		l.axes = max(l.axes, below+3*mm+5*mm)
	}
	rows := (len(facets) + l.columns - 1) / l.columns
	l.height = l.key + vg.Length(rows*quantities)*(l.title+l.h+l.axes)
	return l
}

func (l *layout) one() bool { return len(l.facets) == 1 }

// panel returns the panel of quantity i and facet n.
func (l *layout) panel(c draw.Canvas, top vg.Length, i, n int, bottom, topValue float64) *panel {
	f := l.facets[n]
	row := n/l.columns*l.quantities + i
	x := marginLeft + vg.Length(n%l.columns)*(l.w+panelGap)
	y := top - l.key - vg.Length(row)*(l.title+l.h+l.axes) - l.title - l.h
	lo, hi := 0.0, 0.0
	if len(f.x.at) > 0 {
		lo, hi = f.x.at[0], f.x.at[len(f.x.at)-1]
	}
	pad := 0.05 * (hi - lo)
	if f.x.words || pad == 0 {
		pad = 0.5
	}
	lo, hi = lo-pad, hi+pad
	lo -= (hi - lo) * float64(l.strip/(l.w-l.strip))
	return newPanel(c, x, y, l.w, l.h, lo, hi, bottom, topValue)
}

// axisAcross draws the axis of a factor: numbers or words.
func (p *panel) axisAcross(l *layout, x *factor) {
	s := words(wordSize, ink, text.XCenter, text.YTop)
	label := x.label(s, l.w+2*mm)
	if !x.words {
		at, number := x.ticks(l.columns)
		p.axisX(label, roomy(p, at, number), number)
		return
	}
	slot := (p.Max.X - p.Min.X - l.strip) / vg.Length(len(x.names))
	y := p.Min.Y - tick - 0.6*mm
	for n, name := range x.names {
		at := p.px(x.at[n])
		p.StrokeLine2(stroke(ink, 0.8), at, p.Min.Y, at, p.Min.Y-tick)
		if l.turned {
			if slot < 3.6*mm && n%int(math.Ceil(float64(3.6*mm/slot))) != 0 {
				continue
			}
			u := words(wordSize, ink, text.XRight, text.YCenter)
			name = fit(u, 40*mm, name)
			u.Rotation = math.Pi / 2
			p.FillText(u, vg.Point{X: at, Y: y}, name)
			continue
		}
		for i, line := range wrapped(s, slot-1*mm, name) {
			p.FillText(s, vg.Point{X: at, Y: y - 4.2*mm*vg.Length(i)}, line)
		}
	}
	if label != "" {
		p.FillText(s, vg.Point{X: p.Center().X + l.strip/2, Y: p.Min.Y - l.axes + 5*mm}, label)
	}
}

// wrapped breaks words and compounds into lines no wider than w where that is possible.
func wrapped(s text.Style, w vg.Length, txt string) []string {
	var lines []string
	line := ""
	for _, part := range strings.SplitAfter(strings.ReplaceAll(txt, " ", " \x00"), "\x00") {
		for _, part := range strings.SplitAfter(strings.TrimSuffix(part, "\x00"), "-") {
			if line != "" && s.Width(strings.TrimSpace(line+part)) > w {
				lines, line = append(lines, strings.TrimSpace(line)), ""
			}
			line += part
		}
	}
	return append(lines, strings.TrimSpace(line))
}

// ticks returns where an axis of numbers has its ticks and how they read: at the levels
// if these are few.
func (f *factor) ticks(columns int) (at []float64, number func(float64) string) {
	number = func(v float64) string { return short(v) }
	if f.log {
		number = func(v float64) string { return short(math.Pow(10, v)) }
	}
	switch {
	case len(f.at) <= 8:
		return f.at, number
	case !f.log:
		return ticks(f.at[0], f.at[len(f.at)-1], 8/columns+1), number
	}
	for d := math.Floor(f.at[0]); d <= f.at[len(f.at)-1]; d++ {
		for _, m := range []float64{1, 2, 5} {
			at = append(at, d+math.Log10(m))
		}
	}
	return within(at, f.at[0]-1e-9, f.at[len(f.at)-1]+1e-9), number
}

// roomy leaves out ticks whose numbers would touch those before.
func roomy(p *panel, at []float64, number func(float64) string) []float64 {
	s := words(wordSize, ink, text.XCenter, text.YTop)
	var out []float64
	end := vg.Length(math.Inf(-1))
	for _, v := range at {
		if half := s.Width(number(v)) / 2; p.px(v)-half > end+1.2*mm {
			out, end = append(out, v), p.px(v)+half
		}
	}
	return out
}

// glyphs are the points of curves: three that are full, then the same open.
var glyphs = []draw.GlyphDrawer{draw.CircleGlyph{}, draw.BoxGlyph{}, draw.PyramidGlyph{}, draw.RingGlyph{}, draw.SquareGlyph{}, draw.TriangleGlyph{}}

// mark draws a point of the n-th curve, counted from 1.
func mark(c draw.Canvas, n int, at vg.Point) { dot(c, n, at, 2.6) }

func dot(c draw.Canvas, n int, at vg.Point, radius vg.Length) {
	n--
	if n >= 3 { // white inside
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: paper, Radius: radius, Shape: glyphs[n-3]}, at)
	}
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: lineStyles[n].Color, Radius: radius, Shape: glyphs[n]}, at)
}

// keyEntry is a curve in the legend.
type keyEntry struct {
	n    int
	name string
	w    vg.Length
}

const keyTitle = 60 * mm

// keyRows breaks the legend into rows.
func (l *layout) keyRows() [][]keyEntry {
	f := l.facets[0]
	s := words(wordSize, ink, text.XLeft, text.YCenter)
	rows := [][]keyEntry{nil}
	used := s.Width(fit(s, keyTitle, f.series.title)) + 4*mm
	for n, lev := range f.shown {
		name := fit(s, keyTitle, f.series.names[lev])
		w := 13*mm + s.Width(name)
		if used+w > wallWidth-marginLeft-4*mm && len(rows[len(rows)-1]) > 0 {
			rows, used = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], keyEntry{n, name, w})
		used += w
	}
	return rows
}

// legend draws the key of the curves above all panels.
func (l *layout) legend(c draw.Canvas, top vg.Length) {
	if l.key == 0 {
		return
	}
	s := words(wordSize, ink, text.XLeft, text.YCenter)
	for i, row := range l.keyRows() {
		x, y := marginLeft, top-3*mm-6*mm*vg.Length(i)
		if i == 0 && l.facets[0].series.title != "" {
			title := fit(s, keyTitle, l.facets[0].series.title)
			c.FillText(s, vg.Point{X: x, Y: y}, title)
			x += s.Width(title) + 4*mm
		}
		for _, k := range row {
			if l.facets[0].joined {
				c.StrokeLine2(lineStyles[k.n], x, y, x+8*mm, y)
			}
			mark(c, k.n+1, vg.Point{X: x + 4*mm, Y: y})
			c.FillText(s, vg.Point{X: x + 9.5*mm, Y: y}, k.name)
			x += k.w
		}
	}
}
