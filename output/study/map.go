package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

// mapFigures draws the injury depth over two numeric settings and the line along which the
// injury just reaches the muscle; where the muscle does not begin at one depth, the margin
// to it in place of the depth.
func (s *SweepShape) mapFigures() []chart.Figure {
	if s.Design != grid || len(s.Factors) != 2 {
		return nil
	}
	x, y := s.Factors[1], s.Factors[0]
	if len(x.at) < len(y.at) {
		x, y = y, x
	}
	if x.words || y.words || len(y.at) < 3 {
		return nil
	}
	m := &sweepMap{x: x, y: y, what: "injury depth"}
	column, value := record.DepthColumn, func(s stats) float64 { return s.mid }
	if least, most := s.muscleTops(s.rows()); most-least > sameTopMM {
		m.what, column = "margin to the muscle", record.MarginColumn
		m.darkLow = true
	}
	m.shown = s.over(x, y, column, value)
	says := "Median " + m.what + " by " + x.title + " and " + y.title
	if s.Draws <= 1 {
		says = fmt.Sprintf("%s by %s and %s", phrase.Capital(m.what), x.title, y.title)
	}
	var notes []string
	m.short = s.shortOver(x, y)
	if slices.Contains(m.short, true) {
		notes = append(notes, ringed)
	}
	if s.Has(record.MarginColumn) {
		m.margin = s.over(x, y, record.MarginColumn, value)
		m.errorMM = s.errorsOver(x, y, record.MarginColumn)
		who := "The injury"
		if s.Draws > 1 {
			who = fmt.Sprintf("In the median of %d draws the injury", s.Draws)
		}
		notes = append(notes, m.reach(who)...)
		notes = append(notes, s.Numerical()...)
		name := "injury reaches the muscle"
		if s.Draws > 1 {
			name += fmt.Sprintf(": median of %d draws", s.Draws)
			if s.missing(s.rows()) == 0 {
				early := s.over(x, y, record.MarginColumn, func(s stats) float64 { return s.low })
				m.lines = append(m.lines, mapLine{early, "in one draw of 20", []vg.Length{5, 3}})
			} else { // those that fail are not any draws
				notes = append(notes, "Draws are missing: where one draw in 20 reaches the muscle is not known.")
			}
		}
		m.lines = append(m.lines, mapLine{m.margin, name, nil})
		m.lines = slices.DeleteFunc(m.lines, func(l mapLine) bool { return len(l.margin.Isoline(0)) == 0 })
	}
	m.page = s.page
	height, key := 92*chart.MM, 1*chart.MM+5*chart.MM*vg.Length(m.keyRows())
	if s.page.Narrow() {
		height = 60 * chart.MM
	}
	style := chart.TextStyle(s.page.Word, chart.Ink, text.XLeft, text.YCenter)
	width := s.page.W - s.page.Left() - 28*chart.MM
	axis := chart.AxisHeight + s.page.WordLine()*vg.Length(len(m.x.label(style, width))-1)
	return s.sheets("map", []string{says + "."}, notes, body{
		func(room vg.Length) vg.Length {
			if room > 0 {
				height = room - axis - key
			}
			return height + axis + key
		},
		func(c draw.Canvas, top vg.Length) {
			m.key(c, top-2.5*chart.MM)
			m.draw(c, s.page.Left(), top-key-height, width, height)
		}})
}

// over returns a column on the grid of two factors, NaN where no case is.
func (t *SweepTable) over(x, y *factor, column string, value func(stats) float64) *chart.Plane {
	at := make([][]float64, len(x.at)*len(y.at))
	for _, r := range t.rows() {
		if i, j := x.of[r], y.of[r]; i >= 0 && j >= 0 {
			at[j*len(x.at)+i] = append(at[j*len(x.at)+i], t.Column[column][r])
		}
	}
	p := &chart.Plane{X: x.at, Y: y.at, V: make([]float64, len(at))}
	for n := range at {
		p.V[n] = value(median(at[n]))
	}
	return p
}

// errorsOver returns the largest numerical error of a column at each place of that grid; NaN where none is known.
func (t *SweepTable) errorsOver(x, y *factor, column string) []float64 {
	out := make([]float64, len(x.at)*len(y.at))
	for j, row := range y.split(t.rows()) {
		for i, rows := range x.split(row) {
			out[j*len(x.at)+i] = t.largestError(column, rows)
		}
	}
	return out
}

// shortOver tells of each place on that grid whether most of its cases got less power than was set.
func (t *SweepTable) shortOver(x, y *factor) []bool {
	short := make([]bool, len(x.at)*len(y.at))
	for j, row := range y.split(t.rows()) {
		for i, rows := range x.split(row) {
			short[j*len(x.at)+i] = len(rows) > 0 && t.mostFellShort(rows)
		}
	}
	return short
}

type sweepMap struct {
	page    chart.Page
	x, y    *factor
	what    string
	darkLow bool
	short   []bool // place by place: less power was delivered than was set
	shown   *chart.Plane
	margin  *chart.Plane // nil without a muscle
	errorMM []float64    // numerical, of the margin, place by place; NaN: not known
	lines   []mapLine
}

// reach says at how many points who reaches the muscle, and where the numerical error could decide.
func (m *sweepMap) reach(who string) (notes []string) {
	count, reached, open := 0, 0, 0
	narrow, wide := math.Inf(1), 0.0 // errors of what is open
	least, most := -1, -1
	for n, v := range m.margin.V {
		if math.IsNaN(v) {
			continue
		}
		count++
		if v <= 0 {
			reached++
		}
		if m.open(n) {
			open++
			narrow, wide = min(narrow, m.errorMM[n]), max(wide, m.errorMM[n])
		}
		if least < 0 || v < m.margin.V[least] {
			least = n
		}
		if most < 0 || v > m.margin.V[most] {
			most = n
		}
	}
	at := func(n int) string {
		i, j := n%len(m.x.at), n/len(m.x.at)
		margin, end := signed(m.margin.V[n], 2)+" mm", "."
		margin = strings.TrimPrefix(margin, "+")
		if e := m.errorMM[n]; !math.IsNaN(e) {
			margin = strings.TrimSuffix(margin, " mm") + fmt.Sprintf(" ± %s mm", record.Two(e))
		}
		if m.open(n) {
			end = ": open."
		}
		return fmt.Sprintf("%s, at %s %s, %s %s%s", margin, m.x.title, m.x.names[i], m.y.title, m.y.names[j], end)
	}
	switch reached {
	case 0:
		notes = append(notes, fmt.Sprintf("%s reaches the muscle at none of %d points; least margin %s", who, count, at(least)))
	case count:
		notes = append(notes, fmt.Sprintf("%s is in the muscle at all of %d points; largest margin %s", who, count, at(most)))
	default:
		notes = append(notes, "Darker than the line, it is in the muscle.")
	}
	if open > 0 {
		within := record.Two(wide)
		if record.Two(narrow) != within {
			within = record.Two(narrow) + " to " + within
		}
		notes = append(notes, fmt.Sprintf("Hatched: open. The margin is within ±%s mm of nothing, so that the numerical error could decide.", within))
	}
	return notes
}

// open reports whether the numerical error could decide on which side of nothing the margin at a place is.
func (m *sweepMap) open(n int) bool { return math.Abs(m.margin.V[n]) <= m.errorMM[n] }

// hatch marks what is open.
func (m *sweepMap) hatch(p *chart.Panel, ex, ey []float64) {
	const step = 1.8 * chart.MM
	for n := range m.margin.V {
		if !m.open(n) {
			continue
		}
		i, j := n%len(m.x.at), n/len(m.x.at)
		lo, hi := vg.Point{X: p.Px(ex[i]), Y: p.Py(ey[j])}, vg.Point{X: p.Px(ex[i+1]), Y: p.Py(ey[j+1])}
		// Lines x - y = k of the page, so that those of neighbours meet.
		for k := step * vg.Length(math.Ceil(float64((lo.X-hi.Y)/step))); k < hi.X-lo.Y; k += step {
			a, b := max(lo.X, lo.Y+k), min(hi.X, hi.Y+k)
			if a < b {
				p.StrokeLine2(chart.Stroke(chart.Paper, 1.4), a, a-k, b, b-k)
				p.StrokeLine2(chart.Stroke(chart.Ink, 0.6), a, a-k, b, b-k)
			}
		}
	}
}

// mapLine is drawn where a margin is nothing.
type mapLine struct {
	margin *chart.Plane
	name   string
	dashes []vg.Length
}

func (l mapLine) strokes() []draw.LineStyle {
	return []draw.LineStyle{chart.Stroke(chart.Paper, 4.6), chart.Stroke(chart.Ink, 2.2, l.dashes...)}
}

// keyRows is how many rows the names of the lines take.
func (m *sweepMap) keyRows() int {
	if m.page.Narrow() {
		return len(m.lines)
	}
	return min(len(m.lines), 1)
}

// key names the lines, the last one first.
func (m *sweepMap) key(c draw.Canvas, y vg.Length) {
	s, x := chart.TextStyle(m.page.Word, chart.Ink, text.XLeft, text.YCenter), m.page.Left()
	for _, l := range slices.Backward(m.lines) {
		c.StrokeLine2(l.strokes()[1], x, y, x+10*chart.MM, y)
		c.FillText(s, vg.Point{X: x + 12*chart.MM, Y: y}, l.name)
		if m.page.Narrow() {
			y -= 5 * chart.MM
		} else {
			x += 18*chart.MM + s.Width(l.name)
		}
	}
}

func (m *sweepMap) draw(c draw.Canvas, x, y, w, h vg.Length) {
	ex, ey := edges(m.x.at), edges(m.y.at)
	p := chart.NewPanel(m.page, c, x, y, w, h, ex[0], ex[len(ex)-1], ey[0], ey[len(ey)-1])
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range m.shown.V {
		if !math.IsNaN(v) {
			low, high = min(low, v), max(high, v)
		}
	}
	if !m.darkLow {
		low = 0 // a depth begins at the surface
	}
	if !(high > low) {
		high = low + 1
	}
	place := func(v float64) float64 {
		if m.darkLow {
			v = low + high - v
		}
		return min(max((v-low)/(high-low), 0), 1)
	}
	cellW, cellH := w/vg.Length(len(m.x.at)), h/vg.Length(len(m.y.at))
	for j := range m.y.at {
		for i := range m.x.at {
			v := m.shown.Value(i, j)
			corners := []chart.Point{{X: ex[i], Y: ey[j]}, {X: ex[i+1], Y: ey[j]}, {X: ex[i+1], Y: ey[j+1]}, {X: ex[i], Y: ey[j+1]}}
			middle := vg.Point{X: (p.Px(ex[i]) + p.Px(ex[i+1])) / 2, Y: (p.Py(ey[j]) + p.Py(ey[j+1])) / 2}
			if math.IsNaN(v) {
				r := min(cellW, cellH) / 5
				p.StrokeLine2(chart.Stroke(chart.Soft, 0.8), middle.X-r, middle.Y-r, middle.X+r, middle.Y+r)
				p.StrokeLine2(chart.Stroke(chart.Soft, 0.8), middle.X-r, middle.Y+r, middle.X+r, middle.Y-r)
				continue
			}
			u := place(v)
			p.Area(chart.Depths[int(math.Round(u*float64(len(chart.Depths)-1)))], corners...)
		}
	}
	if m.margin != nil {
		m.hatch(p, ex, ey)
	}
	for _, l := range m.lines {
		for _, line := range padded(l.margin, ex, ey).Isoline(0) {
			for _, k := range l.strokes() {
				p.Line(k, line...)
			}
		}
	}
	if cellW > 9*chart.MM && cellH > 5*chart.MM {
		for n, v := range m.shown.V {
			if i, j := n%len(m.x.at), n/len(m.x.at); !math.IsNaN(v) {
				writeNumber(p, vg.Point{X: (p.Px(ex[i]) + p.Px(ex[i+1])) / 2, Y: (p.Py(ey[j]) + p.Py(ey[j+1])) / 2}, v, place(v))
			}
		}
	}
	m.rings(p, ex, ey)
	p.Frame()
	s := chart.TextStyle(p.Page.Word, chart.Ink, text.XLeft, text.YCenter)
	at, number := m.x.ticks(1)
	p.AxisX(strings.Join(m.x.label(s, w), "\n"), chart.Roomy(p, at, number), number)
	at, number = m.y.ticks(1)
	p.AxisUp(strings.Join(m.y.label(s, h), "\n"), at, number)

	bar := chart.NewPanel(m.page, c, x+w+6*chart.MM, y, 4*chart.MM, h, 0, 1, low, high)
	if !m.darkLow {
		bar.Bottom, bar.Top = high, low // depth grows downwards
	}
	const steps = 128
	for n := range steps {
		a, b := low+(high-low)*float64(n)/steps, low+(high-low)*float64(n+1)/steps
		bar.Area(chart.Depths[int(place((a+b)/2)*float64(len(chart.Depths)-1))], chart.Point{X: 0, Y: a}, chart.Point{X: 1, Y: a}, chart.Point{X: 1, Y: b + (high-low)/steps/2}, chart.Point{X: 0, Y: b + (high-low)/steps/2})
	}
	bar.Frame()
	for _, v := range chart.Within(chart.Ticks(low, high, 6), low, high) {
		yy := bar.Py(v)
		bar.StrokeLine2(chart.Stroke(chart.Ink, 0.8), bar.Max.X, yy, bar.Max.X+chart.Tick, yy)
		bar.FillText(s, vg.Point{X: bar.Max.X + chart.Tick + 0.6*chart.MM, Y: yy}, phrase.TickText(v))
	}
	s.XAlign, s.YAlign, s.Rotation = text.XCenter, text.YBottom, math.Pi/2
	bar.FillText(s, vg.Point{X: bar.Max.X + 14*chart.MM, Y: bar.Center().Y}, m.what+" (mm)")
}

// rings marks in a corner the cells whose cases got less power than was set; ex and ey are the edges of cells.
func (m *sweepMap) rings(p *chart.Panel, ex, ey []float64) {
	for n, short := range m.short {
		if short {
			x, y := p.Px(ex[n%len(m.x.at)+1]), p.Py(ey[n/len(m.x.at)+1])
			aside := min((p.Max.X-p.Min.X)/vg.Length(4*len(m.x.at)), (p.Max.Y-p.Min.Y)/vg.Length(4*len(m.y.at)), 2.6*chart.MM)
			chart.Ring(p.Canvas, vg.Point{X: x - aside, Y: y - aside})
		}
	}
}

// writeNumber writes the value of a cell on a patch of its colour, clear of lines.
func writeNumber(p *chart.Panel, at vg.Point, v, u float64) {
	k := chart.Ink
	if u > 0.5 {
		k = chart.Paper
	}
	s := chart.TextStyle(p.Page.Word, k, text.XCenter, text.YCenter)
	txt := strings.Replace(fmt.Sprintf("%.2f", v), "-", "–", 1)
	if txt == "–0.00" {
		txt = "0.00"
	}
	w, h := s.Width(txt)/2+1, s.Height(txt)/2+1
	p.FillPolygon(chart.Depths[int(math.Round(u*float64(len(chart.Depths)-1)))], []vg.Point{
		{X: at.X - w, Y: at.Y - h}, {X: at.X + w, Y: at.Y - h}, {X: at.X + w, Y: at.Y + h}, {X: at.X - w, Y: at.Y + h}})
	p.FillText(s, at, txt)
}

// padded continues a plane unchanged to the outer edges of its cells, as its colours do.
func padded(p *chart.Plane, ex, ey []float64) *chart.Plane {
	nx, ny := len(p.X), len(p.Y)
	out := &chart.Plane{
		X: slices.Concat(ex[:1], p.X, ex[nx:]),
		Y: slices.Concat(ey[:1], p.Y, ey[ny:]),
	}
	for j := range out.Y {
		for i := range out.X {
			out.V = append(out.V, p.Value(min(max(i-1, 0), nx-1), min(max(j-1, 0), ny-1)))
		}
	}
	return out
}

// edges returns the borders of cells around values on an axis.
func edges(at []float64) []float64 {
	n := len(at)
	out := make([]float64, n+1)
	for i := 1; i < n; i++ {
		out[i] = (at[i-1] + at[i]) / 2
	}
	out[0], out[n] = 2*at[0]-out[1], 2*at[n-1]-out[n-1]
	return out
}
