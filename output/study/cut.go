package study

import (
	"fmt"
	"math"

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

// cutFigure draws cut against coagulation: the speed of the needle against the injured
// tissue left beside its path, a curve along one setting for each value of another.
func (s *SweepShape) cutFigure() chart.Figure {
	f := &facet{rows: s.rows()}
	var notes []string
	if s.Design == grid {
		facets, more := s.facets(false)
		f, notes = facets[0], more
		if f.title != "" {
			notes = append(notes, "Shown are the cases with "+f.title+".")
		}
	} else { // one cloud of all points
		f.x = &factor{of: make([]int, len(s.Point)), words: true}
		level := map[int]int{}
		for r, p := range s.Point {
			if _, ok := level[p]; !ok {
				level[p] = len(f.x.names)
				f.x.names = append(f.x.names, "")
			}
			f.x.of[r] = level[p]
		}
	}
	curves := make([][]spot, f.curves())
	right, top := 0.0, 0.0
	anyDrags := false
	for n := range curves {
		for l, rows := range f.split(n) {
			at := spot{Point: chart.Point{X: median(s.values(speedColumn, rows)).mid, Y: median(s.values(besideColumn, rows)).mid}, name: f.x.names[l]}
			if s.Has(sustainedColumn) {
				at.drags = median(s.values(sustainedColumn, rows)).mid < 0.5
			}
			if math.IsNaN(at.X + at.Y) {
				continue
			}
			curves[n] = append(curves[n], at)
			right, top, anyDrags = max(right, at.X), max(top, at.Y), anyDrags || at.drags
		}
	}
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
	if anyDrags {
		notes = append(notes, "Crossed out: the needle drags, tissue does not part as fast as it comes.")
	}
	const height = 84 * chart.MM
	width := chart.WallWidth - chart.MarginLeft - chart.NamesRight
	if f.series == nil {
		width = chart.WallWidth - chart.MarginLeft - 12*chart.MM
	}
	return s.sheet("cut", says, notes, height+chart.AxisHeight+4*chart.MM, func(c draw.Canvas, y vg.Length) {
		p := chart.NewPanel(c, chart.MarginLeft, y-4*chart.MM-height, width, height, 0, max(1.12*right, 0.01), 0, max(1.12*top, 0.01))
		hint := chart.TextStyle(chart.NoteSize, chart.Soft, text.XRight, text.YBottom)
		p.FillText(hint, vg.Point{X: p.Max.X - 1.5*chart.MM, Y: p.Min.Y + 1.5*chart.MM}, "cuts fast, coagulates little")
		hint.XAlign, hint.YAlign = text.XLeft, text.YTop
		p.FillText(hint, vg.Point{X: p.Min.X + 1.5*chart.MM, Y: p.Max.Y - 1.5*chart.MM}, "cuts slowly, coagulates much")
		var named []chart.Curve
		told, last := 0, vg.Point{X: -1 * chart.MM * 100} // the curve whose levels are named: the longest
		reach := func(n int) vg.Length {
			if k := curves[n]; len(k) > 0 {
				a, b := p.Pt(k[0].Point), p.Pt(k[len(k)-1].Point)
				return vg.Length(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)))
			}
			return 0
		}
		for n := range curves {
			if reach(n) > reach(told) {
				told = n
			}
		}
		for n, spots := range curves {
			var line []chart.Point
			for _, at := range spots {
				line = append(line, at.Point)
			}
			if f.joined {
				p.Line(chart.LineStyles[n], line...)
			}
			for _, at := range spots {
				chart.Mark(p.Canvas, n+1, p.Pt(at.Point))
				if at.drags {
					q, r := p.Pt(at.Point), 1.4*chart.MM
					p.StrokeLine2(chart.Stroke(chart.Ink, 1), q.X-r, q.Y-r, q.X+r, q.Y+r)
					p.StrokeLine2(chart.Stroke(chart.Ink, 1), q.X-r, q.Y+r, q.X+r, q.Y-r)
				}
				if q := p.Pt(at.Point); n == told && math.Hypot(float64(q.X-last.X), float64(q.Y-last.Y)) > float64(6*chart.MM) {
					beside, shift := chart.TextStyle(chart.NoteSize, chart.Ink, text.XLeft, text.YBottom), 1.2*chart.MM
					if q.X+shift+beside.Width(at.name) > p.Max.X { // no room at its right
						beside.XAlign, shift = text.XRight, -shift
					}
					p.FillText(beside, vg.Point{X: q.X + shift, Y: q.Y + 0.8*chart.MM}, at.name)
					last = q
				}
			}
			if f.series != nil {
				named = append(named, chart.Curve{Name: f.series.names[f.shown[n]], Style: chart.LineStyles[n], Pts: line, Mark: n + 1})
			}
		}
		p.Frame()
		p.AxisX("speed of the needle (mm/s)", chart.Ticks(0, p.Right, 8), phrase.TickText)
		p.AxisY("injury left beside the cut (mm²)", chart.Ticks(0, p.Top, 6))
		if named != nil {
			keyRight(p, named, f.series.title)
		}
	})
}

// keyRight lists curves right of the panel, for curves that end anywhere.
func keyRight(p *chart.Panel, cs []chart.Curve, title string) {
	s := chart.TextStyle(chart.WordSize, chart.Ink, text.XLeft, text.YCenter)
	y := p.Max.Y - 2*chart.MM
	p.FillText(s, vg.Point{X: p.Max.X + 3*chart.MM, Y: y}, chart.Fit(s, chart.NamesRight-4*chart.MM, title))
	for _, k := range cs {
		y -= 5 * chart.MM
		p.StrokeLine2(k.Style, p.Max.X+3*chart.MM, y, p.Max.X+11*chart.MM, y)
		chart.Mark(p.Canvas, k.Mark, vg.Point{X: p.Max.X + 7*chart.MM, Y: y})
		p.FillText(s, vg.Point{X: p.Max.X + 12.5*chart.MM, Y: y}, chart.Fit(s, chart.NamesRight-14*chart.MM, k.Name))
	}
}
