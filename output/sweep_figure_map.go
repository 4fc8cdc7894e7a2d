package output

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// mapFigure draws the injury depth over two numeric settings and the line along which the
// injury just reaches the muscle; where the muscle does not begin at one depth, the margin
// to it in place of the depth.
func (s *sweepShape) mapFigure() (figure, bool) {
	if s.design != grid || len(s.factors) != 2 {
		return figure{}, false
	}
	x, y := s.factors[1], s.factors[0]
	if len(x.at) < len(y.at) {
		x, y = y, x
	}
	if x.words || y.words || len(y.at) < 3 {
		return figure{}, false
	}
	m := &sweepMap{x: x, y: y, what: "injury depth"}
	column, value := depthColumn, func(s stats) float64 { return s.mid }
	if least, most := s.muscleTops(s.rows()); most-least > sameTopMM {
		m.what, column = "margin to the muscle", marginColumn
		m.darkLow = true
	}
	m.shown = s.over(x, y, column, value)
	says := "Median " + m.what + " by " + x.title + " and " + y.title
	if s.Draws <= 1 {
		says = fmt.Sprintf("%s by %s and %s", capital(m.what), x.title, y.title)
	}
	var notes []string
	if s.has(marginColumn) {
		m.margin = s.over(x, y, marginColumn, value)
		notes = append(notes, "Darker than the line, it is in the muscle.")
		if len(m.margin.isoline(0)) == 0 {
			notes[0] = "The injury reaches the muscle nowhere on this map."
			if slices.Max(slices.DeleteFunc(slices.Clone(m.margin.v), math.IsNaN)) <= 0 {
				notes[0] = "The injury is in the muscle everywhere on this map."
			}
		}
		name := "injury reaches the muscle"
		if s.Draws > 1 {
			name += fmt.Sprintf(": median of %d draws", s.Draws)
			early := s.over(x, y, marginColumn, func(s stats) float64 { return s.low })
			m.lines = append(m.lines, mapLine{early, "in one draw of 20", []vg.Length{5, 3}})
		}
		m.lines = append(m.lines, mapLine{m.margin, name, nil})
		m.lines = slices.DeleteFunc(m.lines, func(l mapLine) bool { return len(l.margin.isoline(0)) == 0 })
	}
	const height = 92 * mm
	key := 1 * mm
	if m.lines != nil {
		key = 6 * mm
	}
	return s.sheet("map", []string{says + "."}, notes, height+axisHeight+key, func(c draw.Canvas, top vg.Length) {
		m.key(c, top-2.5*mm)
		m.draw(c, marginLeft, top-key-height, wallWidth-marginLeft-28*mm, height)
	}), true
}

// over returns a column on the grid of two factors, NaN where no case is.
func (t *sweepTable) over(x, y *factor, column string, value func(stats) float64) *plane {
	at := make([][]float64, len(x.at)*len(y.at))
	for _, r := range t.rows() {
		if i, j := x.of[r], y.of[r]; i >= 0 && j >= 0 {
			at[j*len(x.at)+i] = append(at[j*len(x.at)+i], t.column[column][r])
		}
	}
	p := &plane{x: x.at, y: y.at, v: make([]float64, len(at))}
	for n := range at {
		p.v[n] = value(median(at[n]))
	}
	return p
}

type sweepMap struct {
	x, y    *factor
	what    string
	darkLow bool
	shown   *plane
	margin  *plane // nil without a muscle
	lines   []mapLine
}

// mapLine is drawn where a margin is nothing.
type mapLine struct {
	margin *plane
	name   string
	dashes []vg.Length
}

func (l mapLine) strokes() []draw.LineStyle {
	return []draw.LineStyle{stroke(paper, 4.6), stroke(ink, 2.2, l.dashes...)}
}

// key names the lines, the last one first.
func (m *sweepMap) key(c draw.Canvas, y vg.Length) {
	s, x := words(wordSize, ink, text.XLeft, text.YCenter), marginLeft
	for _, l := range slices.Backward(m.lines) {
		c.StrokeLine2(l.strokes()[1], x, y, x+10*mm, y)
		c.FillText(s, vg.Point{X: x + 12*mm, Y: y}, l.name)
		x += 18*mm + s.Width(l.name)
	}
}

func (m *sweepMap) draw(c draw.Canvas, x, y, w, h vg.Length) {
	ex, ey := edges(m.x.at), edges(m.y.at)
	p := newPanel(c, x, y, w, h, ex[0], ex[len(ex)-1], ey[0], ey[len(ey)-1])
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range m.shown.v {
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
			v := m.shown.value(i, j)
			corners := []point{{ex[i], ey[j]}, {ex[i+1], ey[j]}, {ex[i+1], ey[j+1]}, {ex[i], ey[j+1]}}
			middle := vg.Point{X: (p.px(ex[i]) + p.px(ex[i+1])) / 2, Y: (p.py(ey[j]) + p.py(ey[j+1])) / 2}
			if math.IsNaN(v) {
				r := min(cellW, cellH) / 5
				p.StrokeLine2(stroke(soft, 0.8), middle.X-r, middle.Y-r, middle.X+r, middle.Y+r)
				p.StrokeLine2(stroke(soft, 0.8), middle.X-r, middle.Y+r, middle.X+r, middle.Y-r)
				continue
			}
			u := place(v)
			p.area(depths[int(math.Round(u*float64(len(depths)-1)))], corners...)
		}
	}
	for _, l := range m.lines {
		for _, line := range l.margin.padded(ex, ey).isoline(0) {
			for _, k := range l.strokes() {
				p.line(k, line...)
			}
		}
	}
	if cellW > 9*mm && cellH > 5*mm {
		for n, v := range m.shown.v {
			if i, j := n%len(m.x.at), n/len(m.x.at); !math.IsNaN(v) {
				p.number(vg.Point{X: (p.px(ex[i]) + p.px(ex[i+1])) / 2, Y: (p.py(ey[j]) + p.py(ey[j+1])) / 2}, v, place(v))
			}
		}
	}
	p.frame()
	s := words(wordSize, ink, text.XLeft, text.YCenter)
	at, number := m.x.ticks(1)
	p.axisX(m.x.label(s, w), roomy(p, at, number), number)
	at, number = m.y.ticks(1)
	p.axisUp(m.y.label(s, h), at, number)

	bar := newPanel(c, x+w+6*mm, y, 4*mm, h, 0, 1, low, high)
	if !m.darkLow {
		bar.bottom, bar.top = high, low // depth grows downwards
	}
	const steps = 128
	for n := range steps {
		a, b := low+(high-low)*float64(n)/steps, low+(high-low)*float64(n+1)/steps
		bar.area(depths[int(place((a+b)/2)*float64(len(depths)-1))], point{0, a}, point{1, a}, point{1, b + (high-low)/steps/2}, point{0, b + (high-low)/steps/2})
	}
	bar.frame()
	for _, v := range within(ticks(low, high, 6), low, high) {
		yy := bar.py(v)
		bar.StrokeLine2(stroke(ink, 0.8), bar.Max.X, yy, bar.Max.X+tick, yy)
		bar.FillText(s, vg.Point{X: bar.Max.X + tick + 0.6*mm, Y: yy}, tickText(v))
	}
	s.XAlign, s.YAlign, s.Rotation = text.XCenter, text.YBottom, math.Pi/2
	bar.FillText(s, vg.Point{X: bar.Max.X + 14*mm, Y: bar.Center().Y}, m.what+" (mm)")
}

// number writes the value of a cell on a patch of its colour, clear of lines.
func (p *panel) number(at vg.Point, v, u float64) {
	k := ink
	if u > 0.5 {
		k = paper
	}
	s := words(wordSize, k, text.XCenter, text.YCenter)
	txt := strings.Replace(fmt.Sprintf("%.2f", v), "-", "–", 1)
	if txt == "–0.00" {
		txt = "0.00"
	}
	w, h := s.Width(txt)/2+1, s.Height(txt)/2+1
	p.FillPolygon(depths[int(math.Round(u*float64(len(depths)-1)))], []vg.Point{
		{X: at.X - w, Y: at.Y - h}, {X: at.X + w, Y: at.Y - h}, {X: at.X + w, Y: at.Y + h}, {X: at.X - w, Y: at.Y + h}})
	p.FillText(s, at, txt)
}

// padded continues a plane unchanged to the outer edges of its cells, as its colours do.
func (p *plane) padded(ex, ey []float64) *plane {
	nx, ny := len(p.x), len(p.y)
	out := &plane{
		x: slices.Concat(ex[:1], p.x, ex[nx:]),
		y: slices.Concat(ey[:1], p.y, ey[ny:]),
	}
	for j := range out.y {
		for i := range out.x {
			out.v = append(out.v, p.value(min(max(i-1, 0), nx-1), min(max(j-1, 0), ny-1)))
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

func capital(s string) string { return string(s[0]&^0x20) + s[1:] }
