package study

import (
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
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
	panelGap = 6 * chart.MM
)

// newLayout places panels; strip is what the first quantity asks for inside the only one.
func newLayout(facets []*facet, quantities int, strip vg.Length) *layout {
	l := &layout{facets: facets, quantities: quantities, columns: 1, axes: chart.AxisHeight, title: 3 * chart.MM}
	f := facets[0]
	if l.one() {
		l.w = chart.WallWidth - chart.MarginLeft - 8*chart.MM
		if f.series != nil && f.joined {
			l.w = chart.WallWidth - chart.MarginLeft - chart.NamesRight
		}
		l.h = 84 * chart.MM
		if quantities > 1 {
			l.h = 46 * chart.MM
		}
		l.strip = strip
	} else {
		l.columns = 3
		if n := len(facets); n == 2 || n == 4 {
			l.columns = 2
		}
		l.w = (chart.WallWidth - chart.MarginLeft - 6*chart.MM - panelGap*vg.Length(l.columns-1)) / vg.Length(l.columns)
		l.h = 46 * chart.MM
		if f.title != "" {
			l.title = 6.5 * chart.MM
		}
	}
	if f.series != nil && !(l.one() && f.joined) {
		l.key = 7 * chart.MM * vg.Length(len(l.keyRows()))
	}
	s := chart.TextStyle(chart.WordSize, chart.Ink, text.XCenter, text.YTop)
	for _, f := range facets {
		if !f.x.words {
			continue
		}
		slot, longest, lines := (l.w-l.strip)/vg.Length(len(f.x.names)), vg.Length(0), 1
		for _, n := range f.x.names {
			longest = max(longest, s.Width(n))
			broken := chart.Wrapped(s, slot-1*chart.MM, n)
			lines = max(lines, len(broken))
			for _, b := range broken {
				l.turned = l.turned || s.Width(b) > slot-1*chart.MM || len(broken) > 3
			}
		}
		below := 4.2 * chart.MM * vg.Length(lines)
		if l.turned {
			below = min(longest, 40*chart.MM) + 1*chart.MM
		}
		l.axes = max(l.axes, below+3*chart.MM+5*chart.MM)
	}
	rows := (len(facets) + l.columns - 1) / l.columns
	l.height = l.key + vg.Length(rows*quantities)*(l.title+l.h+l.axes)
	return l
}

func (l *layout) one() bool { return len(l.facets) == 1 }

// panel returns the panel of quantity i and facet n.
func (l *layout) panel(c draw.Canvas, top vg.Length, i, n int, bottom, topValue float64) *chart.Panel {
	f := l.facets[n]
	row := n/l.columns*l.quantities + i
	x := chart.MarginLeft + vg.Length(n%l.columns)*(l.w+panelGap)
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
	return chart.NewPanel(c, x, y, l.w, l.h, lo, hi, bottom, topValue)
}

// acrossAxis draws the axis of a factor: numbers or words.
func acrossAxis(p *chart.Panel, l *layout, x *factor) {
	s := chart.TextStyle(chart.WordSize, chart.Ink, text.XCenter, text.YTop)
	label := x.label(s, l.w+2*chart.MM)
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
			u := chart.TextStyle(chart.WordSize, chart.Ink, text.XRight, text.YCenter)
			name = chart.Fit(u, 40*chart.MM, name)
			u.Rotation = math.Pi / 2
			p.FillText(u, vg.Point{X: at, Y: y}, name)
			continue
		}
		for i, line := range chart.Wrapped(s, slot-1*chart.MM, name) {
			p.FillText(s, vg.Point{X: at, Y: y - 4.2*chart.MM*vg.Length(i)}, line)
		}
	}
	if label != "" {
		p.FillText(s, vg.Point{X: p.Center().X + l.strip/2, Y: p.Min.Y - l.axes + 5*chart.MM}, label)
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
	return chart.Within(at, f.at[0]-1e-9, f.at[len(f.at)-1]+1e-9), number
}

// keyEntry is a curve in the legend.
type keyEntry struct {
	n    int
	name string
	w    vg.Length
}

const keyTitle = 60 * chart.MM

// keyRows breaks the legend into rows.
func (l *layout) keyRows() [][]keyEntry {
	f := l.facets[0]
	s := chart.TextStyle(chart.WordSize, chart.Ink, text.XLeft, text.YCenter)
	rows := [][]keyEntry{nil}
	used := s.Width(chart.Fit(s, keyTitle, f.series.title)) + 4*chart.MM
	for n, lev := range f.shown {
		name := chart.Fit(s, keyTitle, f.series.names[lev])
		w := 13*chart.MM + s.Width(name)
		if used+w > chart.WallWidth-chart.MarginLeft-4*chart.MM && len(rows[len(rows)-1]) > 0 {
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
	s := chart.TextStyle(chart.WordSize, chart.Ink, text.XLeft, text.YCenter)
	for i, row := range l.keyRows() {
		x, y := chart.MarginLeft, top-3*chart.MM-6*chart.MM*vg.Length(i)
		if i == 0 && l.facets[0].series.title != "" {
			title := chart.Fit(s, keyTitle, l.facets[0].series.title)
			c.FillText(s, vg.Point{X: x, Y: y}, title)
			x += s.Width(title) + 4*chart.MM
		}
		for _, k := range row {
			if l.facets[0].joined {
				c.StrokeLine2(chart.LineStyles[k.n], x, y, x+8*chart.MM, y)
			}
			chart.Mark(c, k.n+1, vg.Point{X: x + 4*chart.MM, Y: y})
			c.FillText(s, vg.Point{X: x + 9.5*chart.MM, Y: y}, k.name)
			x += k.w
		}
	}
}
