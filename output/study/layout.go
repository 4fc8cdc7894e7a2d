package study

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
)

// layout places the panels of a figure of curves: one large panel or a table of small
// ones, for each quantity.
type layout struct {
	page       chart.Page
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
	blank      map[[2]int]bool // quantity and facet of panels in whose place there are words
}

const (
	panelGap = 6 * chart.MM
)

// newLayout places panels; strip is what the first quantity asks for inside the only one, room the height that there
// is on a page of given height, else 0.
func newLayout(page chart.Page, facets []*facet, quantities int, strip, room vg.Length) *layout {
	l := &layout{page: page, facets: facets, quantities: quantities, columns: 1, axes: chart.AxisHeight, title: 3 * chart.MM, blank: map[[2]int]bool{}}
	f := facets[0]
	edge := 8 * chart.MM
	if page.Narrow() {
		edge, strip = 4*chart.MM, min(strip, 22*chart.MM)
	}
	if l.one() {
		l.w = page.W - page.Left() - edge
		if l.named() {
			l.w = page.W - page.Left() - chart.NamesRight
		}
		l.h = 84 * chart.MM
		if quantities > 1 || page.Narrow() {
			l.h = 46 * chart.MM
		}
		l.strip = strip
	} else {
		l.columns = 3
		if n := len(facets); n == 2 || n == 4 || page.Narrow() {
			l.columns = 2
		}
		l.w = (page.W - page.Left() - 6*chart.MM - panelGap*vg.Length(l.columns-1)) / vg.Length(l.columns)
		l.h = 46 * chart.MM
	}
	word := chart.TextStyle(page.Word, chart.Ink, text.XCenter, text.YTop)
	titles := 0
	for _, f := range facets {
		if f.title != "" {
			titles = max(titles, len(chart.Wrapped(word, l.w, f.title)))
		}
	}
	if titles > 0 {
		l.title = 2.3*chart.MM + page.WordLine()*vg.Length(titles)
	}
	if f.series != nil && !l.named() {
		l.key = l.legend(draw.Canvas{}, 0)
	}
	for _, f := range facets {
		label := page.WordLine() * vg.Length(len(f.x.label(word, l.w+2*chart.MM))-1)
		if !f.x.words {
			l.axes = max(l.axes, chart.AxisHeight+label)
			continue
		}
		slot, longest, lines := (l.w-l.strip)/vg.Length(len(f.x.names)), vg.Length(0), 1
		turned := false
		for _, n := range f.x.names {
			broken := chart.Wrapped(word, slot-1*chart.MM, n)
			lines = max(lines, len(broken))
			turned = turned || len(broken) > 3 || slices.ContainsFunc(strings.Fields(n), func(w string) bool { return word.Width(w) > slot-1*chart.MM })
			for _, part := range chart.Wrapped(word, longestTurned, n) {
				longest = max(longest, word.Width(part))
			}
		}
		l.turned = l.turned || turned
		below := page.WordLine() * vg.Length(lines)
		if l.turned {
			below = longest + 1*chart.MM
		}
		l.axes = max(l.axes, below+3*chart.MM+5*chart.MM+label)
	}
	rows := vg.Length((len(facets) + l.columns - 1) / l.columns * quantities)
	if room > 0 {
		l.h = max((room-l.key)/rows-l.title-l.axes, 15*chart.MM)
	}
	l.height = l.key + rows*(l.title+l.h+l.axes)
	return l
}

// longestTurned is the length of a line of words that stand upright below an axis.
const longestTurned = 40 * chart.MM

// named reports whether the curves of the only panel have their names beside it, where they end.
func (l *layout) named() bool {
	return l.one() && l.facets[0].joined && l.facets[0].series != nil && !l.page.Narrow()
}

func (l *layout) one() bool { return len(l.facets) == 1 }

// at returns the lower left corner of the panel of quantity i and facet n.
func (l *layout) at(top vg.Length, i, n int) (x, y vg.Length) {
	row := n/l.columns*l.quantities + i
	return l.page.Left() + vg.Length(n%l.columns)*(l.w+panelGap), top - l.key - vg.Length(row)*(l.title+l.h+l.axes) - l.title - l.h
}

// heading writes the title of a facet above its panel, which begins at x and ends at top.
func (l *layout) heading(c draw.Canvas, x, top vg.Length, title string) {
	s := chart.TextStyle(l.page.Word, chart.Ink, text.XLeft, text.YBottom)
	c.FillText(s, vg.Point{X: x, Y: top + 1*chart.MM}, chart.WrappedTo(s, l.w, title))
}

// panel returns the panel of quantity i and facet n.
func (l *layout) panel(c draw.Canvas, top vg.Length, i, n int, bottom, topValue float64) *chart.Panel {
	f := l.facets[n]
	x, y := l.at(top, i, n)
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
	return chart.NewPanel(l.page, c, x, y, l.w, l.h, lo, hi, bottom, topValue)
}

// acrossAxis draws the axis of a factor: numbers or words.
func acrossAxis(p *chart.Panel, l *layout, x *factor) {
	s := chart.TextStyle(l.page.Word, chart.Ink, text.XCenter, text.YTop)
	label := strings.Join(x.label(s, l.w+2*chart.MM), "\n")
	if !x.words {
		at, number := x.ticks(l.columns)
		p.AxisX(label, chart.Roomy(p, at, number), number)
		return
	}
	slot := (p.Max.X - p.Min.X - l.strip) / vg.Length(len(x.names))
	y := p.Min.Y - chart.Tick - 0.6*chart.MM
	for n, name := range x.names {
		at := p.Px(x.at[n])
		p.StrokeLine2(chart.Stroke(chart.Ink, 0.8), at, p.Min.Y, at, p.Min.Y-chart.Tick)
		if l.turned {
			if slot < 3.6*chart.MM && n%int(math.Ceil(float64(3.6*chart.MM/slot))) != 0 {
				continue
			}
			u := chart.TextStyle(l.page.Word, chart.Ink, text.XRight, text.YCenter)
			if slot < vg.Length(len(chart.Wrapped(u, longestTurned, name)))*l.page.WordLine() {
				u.Font.Size = l.page.Note
			}
			name = chart.WrappedTo(u, longestTurned, name)
			u.Rotation = math.Pi / 2
			p.FillText(u, vg.Point{X: at, Y: y}, name)
			continue
		}
		for i, line := range chart.Wrapped(s, slot-1*chart.MM, name) {
			p.FillText(s, vg.Point{X: at, Y: y - l.page.WordLine()*vg.Length(i)}, line)
		}
	}
	if label != "" {
		p.FillText(s, vg.Point{X: p.Center().X + l.strip/2, Y: p.Min.Y - l.axes + 1*chart.MM + l.page.WordLine()*vg.Length(1+strings.Count(label, "\n"))}, label)
	}
}

// ticks returns where an axis of numbers has its ticks and how they read: at the levels
// if these are few.
func (f *factor) ticks(columns int) (at []float64, number func(float64) string) {
	number = func(v float64) string { return phrase.Short(v) }
	if f.log {
		number = func(v float64) string { return phrase.Short(math.Pow(10, v)) }
	}
	switch {
	case len(f.at) <= 8:
		return f.at, number
	case !f.log:
		return chart.Ticks(f.at[0], f.at[len(f.at)-1], 8/columns+1), number
	}
	for d := math.Floor(f.at[0]); d <= f.at[len(f.at)-1]; d++ {
		for _, m := range []float64{1, 2, 5} {
			at = append(at, d+math.Log10(m))
		}
	}
	if at = chart.Within(at, f.at[0]-1e-9, f.at[len(f.at)-1]+1e-9); len(at) < 2 { // between 3 and 4, say
		at = []float64{f.at[0], f.at[len(f.at)-1]}
	}
	return at, number
}

// legend draws the key of the curves above all panels, and returns what it takes of the page; without a canvas it only
// measures.
func (l *layout) legend(c draw.Canvas, top vg.Length) vg.Length {
	f := l.facets[0]
	if f.series == nil || l.named() {
		return 0
	}
	s := chart.TextStyle(l.page.Word, chart.Ink, text.XLeft, text.YTop)
	width := l.page.W - l.page.Left() - 4*chart.MM
	var title []string
	if f.series.title != "" {
		title = chart.Wrapped(s, width, f.series.title)
	}
	var curves []chart.Curve
	for n, lev := range f.shown {
		k := chart.Curve{Name: f.series.names[lev], Mark: n + 1}
		if f.joined {
			k.Style = chart.LineStyles[n]
		}
		curves = append(curves, k)
	}
	above := 1*chart.MM + vg.Length(len(title))*l.page.WordLine()
	var on *draw.Canvas
	if c.Canvas != nil {
		on = &c
		c.FillText(s, vg.Point{X: l.page.Left(), Y: top - 1*chart.MM}, strings.Join(title, "\n"))
	}
	return above + l.page.CurveKey(on, l.page.Left(), top-above, width, curves) + 1*chart.MM
}
