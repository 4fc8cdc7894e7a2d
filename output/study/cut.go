package study

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
)

// spot is a cut: how fast it went and what injury it left beside its way.
type spot struct {
	chart.Point
	name  string // of the level of the setting along the curve
	drags bool
}

// cutShown is what the figure of cuts shows: a curve of spots for each level of a setting.
type cutShown struct {
	*facet
	spots      [][]spot
	right, top float64 // the fastest, mm/s, and the most injury, mm2
	drags      bool    // one of them does
}

// cutFigures draws cut against coagulation: the speed of the needle against the injured
// tissue left beside its path, a curve along one setting for each value of another.
func (s *SweepShape) cutFigures() []chart.Figure {
	f, notes := s.cutFacet()
	k := s.cuts(f)
	says := []string{"Speed of the cut against the injury left beside it"}
	if f.x.title != "" {
		says = append(says, "along "+f.x.title)
	}
	if f.series != nil {
		says = append(says, "by "+f.series.title)
	}
	says[len(says)-1] += "."
	if s.Draws > 1 {
		notes = append(notes, fmt.Sprintf("Points: medians of %d draws.", s.Draws))
	}
	if f.series != nil && f.x.title != "" {
		notes = append(notes, "Written along one curve: "+f.x.title+"; the others have the same in the same order.")
	}
	if k.drags {
		notes = append(notes, "Crossed out: the needle drags, tissue does not part as fast as it comes.")
	}
	height, right, key := 84*chart.MM, chart.NamesRight, vg.Length(0)
	curves := k.named()
	switch {
	case curves == nil && s.page.Narrow():
		right = 4 * chart.MM
	case curves == nil:
		right = 12 * chart.MM
	case s.page.Narrow():
		right = 4 * chart.MM
		title := chart.Wrapped(chart.TextStyle(s.page.Word, chart.Ink, text.XLeft, text.YTop), s.page.W-s.page.Left()-right, f.series.title)
		key = s.page.CurveKey(nil, 0, 0, s.page.W-s.page.Left()-right, curves) + s.page.WordLine()*vg.Length(len(title))
	}
	if s.page.Narrow() {
		height = 60 * chart.MM
	}
	return s.sheets("cut", says, notes, body{
		func(room vg.Length) vg.Length {
			if room > 0 {
				height = room - chart.AxisHeight - 4*chart.MM - key
			}
			return height + chart.AxisHeight + 4*chart.MM + key
		},
		func(c draw.Canvas, y vg.Length) {
			p := chart.NewPanel(s.page, c, s.page.Left(), y-4*chart.MM-key-height, s.page.W-s.page.Left()-right, height, 0, max(1.12*k.right, 0.01), 0, max(1.12*k.top, 0.01))
			if key > 0 {
				style := chart.TextStyle(s.page.Word, chart.Ink, text.XLeft, text.YTop)
				title := chart.WrappedTo(style, p.Max.X-p.Min.X, f.series.title)
				c.FillText(style, vg.Point{X: p.Min.X, Y: y - 2*chart.MM}, title)
				s.page.CurveKey(&c, p.Min.X, y-2*chart.MM-s.page.WordLine()*vg.Length(1+strings.Count(title, "\n")), p.Max.X-p.Min.X, curves)
			}
			k.draw(p)
		}})
}

// named returns the curves as a key has them; nil if there is one only.
func (k cutShown) named() (named []chart.Curve) {
	if k.series == nil {
		return nil
	}
	for n := range k.spots {
		named = append(named, chart.Curve{Name: k.series.names[k.shown[n]], Style: chart.LineStyles[n], Mark: n + 1})
	}
	return named
}

// cutFacet returns the cases that the figure of cuts shows, and in notes which are left out.
func (s *SweepShape) cutFacet() (*facet, []string) {
	if s.Design == grid {
		facets, notes := s.facets(false)
		f := facets[0]
		if f.title != "" {
			notes = append(notes, "Shown are the cases with "+f.title+".")
		}
		return f, notes
	}
	x := &factor{of: make([]int, len(s.Point)), words: true} // one cloud of all points
	level := map[int]int{}
	for r, p := range s.Point {
		if _, ok := level[p]; !ok {
			level[p] = len(x.names)
			x.names = append(x.names, "")
		}
		x.of[r] = level[p]
	}
	return &facet{rows: s.rows(), x: x}, nil
}

// cuts returns the cuts of a facet, each the median of its draws.
func (s *SweepShape) cuts(f *facet) cutShown {
	k := cutShown{facet: f, spots: make([][]spot, f.curves())}
	for n := range k.spots {
		for l, rows := range f.split(n) {
			at := spot{Point: chart.Point{X: median(s.values(speedColumn, rows)).mid, Y: median(s.values(besideColumn, rows)).mid}, name: f.x.names[l]}
			if s.Has(sustainedColumn) {
				at.drags = median(s.values(sustainedColumn, rows)).mid < 0.5
			}
			if math.IsNaN(at.X + at.Y) {
				continue
			}
			k.spots[n] = append(k.spots[n], at)
			k.right, k.top, k.drags = max(k.right, at.X), max(k.top, at.Y), k.drags || at.drags
		}
	}
	return k
}

// draw draws the curves, one of them with the names of its levels, and the axes.
func (k cutShown) draw(p *chart.Panel) {
	hint := chart.TextStyle(p.Page.Note, chart.Soft, text.XRight, text.YBottom)
	p.FillText(hint, vg.Point{X: p.Max.X - 1.5*chart.MM, Y: p.Min.Y + 1.5*chart.MM}, "cuts fast, coagulates little")
	hint.XAlign, hint.YAlign = text.XLeft, text.YTop
	p.FillText(hint, vg.Point{X: p.Min.X + 1.5*chart.MM, Y: p.Max.Y - 1.5*chart.MM}, "cuts slowly, coagulates much")
	told := k.longest(p)
	for n, spots := range k.spots {
		var line []chart.Point
		for _, at := range spots {
			line = append(line, at.Point)
		}
		if k.joined {
			p.Line(chart.LineStyles[n], line...)
		}
		drawSpots(p, spots, n+1, n == told)
	}
	p.Frame()
	p.AxisX("speed of the needle (mm/s)", chart.Ticks(0, p.Right, 8), phrase.TickText)
	p.AxisY("injury left beside the cut (mm²)", chart.Ticks(0, p.Top, 6))
	if named := k.named(); named != nil && !p.Page.Narrow() {
		keyRight(p, named, k.series.title)
	}
}

// longest returns which curve reaches farthest over the panel.
func (k cutShown) longest(p *chart.Panel) int {
	most, reach := 0, 0.0
	for n, spots := range k.spots {
		if len(spots) == 0 {
			continue
		}
		a, b := p.Pt(spots[0].Point), p.Pt(spots[len(spots)-1].Point)
		if r := math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)); r > reach {
			most, reach = n, r
		}
	}
	return most
}

// drawSpots marks the cuts of a curve, crosses out those that drag and names their levels where there is room.
func drawSpots(p *chart.Panel, spots []spot, mark int, named bool) {
	last := vg.Point{X: -100 * chart.MM} // where a name was written
	for _, at := range spots {
		q := p.Pt(at.Point)
		chart.Mark(p.Canvas, mark, q)
		if at.drags {
			r := 1.4 * chart.MM
			p.StrokeLine2(chart.Stroke(chart.Ink, 1), q.X-r, q.Y-r, q.X+r, q.Y+r)
			p.StrokeLine2(chart.Stroke(chart.Ink, 1), q.X-r, q.Y+r, q.X+r, q.Y-r)
		}
		if named && math.Hypot(float64(q.X-last.X), float64(q.Y-last.Y)) > float64(6*chart.MM) {
			beside, shift := chart.TextStyle(p.Page.Note, chart.Ink, text.XLeft, text.YBottom), 1.2*chart.MM
			if q.X+shift+beside.Width(at.name) > p.Max.X { // no room at its right
				beside.XAlign, shift = text.XRight, -shift
			}
			p.FillText(beside, vg.Point{X: q.X + shift, Y: q.Y + 0.8*chart.MM}, at.name)
			last = q
		}
	}
}

// keyRight lists curves right of the panel, for curves that end anywhere.
func keyRight(p *chart.Panel, cs []chart.Curve, title string) {
	s := chart.TextStyle(p.Page.Word, chart.Ink, text.XLeft, text.YCenter)
	y := p.Max.Y - 2*chart.MM
	s.YAlign = text.YTop
	lines := chart.Wrapped(s, chart.NamesRight-4*chart.MM, title)
	p.FillText(s, vg.Point{X: p.Max.X + 3*chart.MM, Y: y + p.Page.Word/2}, strings.Join(lines, "\n"))
	s.YAlign = text.YCenter
	y -= vg.Length(len(lines)-1) * p.Page.WordLine()
	for _, k := range cs {
		name := chart.Wrapped(s, chart.NamesRight-14*chart.MM, k.Name)
		y -= 1*chart.MM + p.Page.WordLine()*vg.Length(len(name)+1)/2
		p.StrokeLine2(k.Style, p.Max.X+3*chart.MM, y, p.Max.X+11*chart.MM, y)
		chart.Mark(p.Canvas, k.Mark, vg.Point{X: p.Max.X + 7*chart.MM, Y: y})
		p.FillText(s, vg.Point{X: p.Max.X + 12.5*chart.MM, Y: y}, strings.Join(name, "\n"))
		y -= p.Page.WordLine() * vg.Length(len(name)-1) / 2
	}
}
