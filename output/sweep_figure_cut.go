package output

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// spot is a cut: how fast it went and what injury it left beside its way.
type spot struct {
	point
	name  string // of the level of the setting along the curve
	drags bool
}

// cutFigure draws cut against coagulation: the speed of the needle against the injured
// tissue left beside its path, a curve along one setting for each value of another.
func (s *sweepShape) cutFigure() figure {
	f := &facet{rows: s.rows()}
	var notes []string
	if s.design == grid {
		facets, more := s.facets(false)
		f, notes = facets[0], more
		if f.title != "" {
			notes = append(notes, "Shown are the cases with "+f.title+".")
		}
	} else { // one cloud of all points
		f.x = &factor{of: make([]int, len(s.point)), words: true}
		level := map[int]int{}
		for r, p := range s.point {
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
			at := spot{point: point{median(s.values(speedColumn, rows)).mid, median(s.values(besideColumn, rows)).mid}, name: f.x.names[l]}
			if s.has(sustainedColumn) {
				at.drags = median(s.values(sustainedColumn, rows)).mid < 0.5
			}
			if math.IsNaN(at.x + at.y) {
				continue
			}
			curves[n] = append(curves[n], at)
			right, top, anyDrags = max(right, at.x), max(top, at.y), anyDrags || at.drags
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
	const height = 84 * mm
	width := wallWidth - marginLeft - namesRight
	if f.series == nil {
		width = wallWidth - marginLeft - 12*mm
	}
	return s.sheet("cut", says, notes, height+axisHeight+4*mm, func(c draw.Canvas, y vg.Length) {
		p := newPanel(c, marginLeft, y-4*mm-height, width, height, 0, max(1.12*right, 0.01), 0, max(1.12*top, 0.01))
		hint := words(noteSize, soft, text.XRight, text.YBottom)
		p.FillText(hint, vg.Point{X: p.Max.X - 1.5*mm, Y: p.Min.Y + 1.5*mm}, "cuts fast, coagulates little")
		hint.XAlign, hint.YAlign = text.XLeft, text.YTop
		p.FillText(hint, vg.Point{X: p.Min.X + 1.5*mm, Y: p.Max.Y - 1.5*mm}, "cuts slowly, coagulates much")
		var named []curve
		told, last := 0, vg.Point{X: -1 * mm * 100} // the curve whose levels are named: the longest
		reach := func(n int) vg.Length {
			if k := curves[n]; len(k) > 0 {
				a, b := p.pt(k[0].point), p.pt(k[len(k)-1].point)
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
			var line []point
			for _, at := range spots {
				line = append(line, at.point)
			}
			if f.joined {
				p.line(lineStyles[n], line...)
			}
			for _, at := range spots {
				mark(p.Canvas, n+1, p.pt(at.point))
				if at.drags {
					q, r := p.pt(at.point), 1.4*mm
					p.StrokeLine2(stroke(ink, 1), q.X-r, q.Y-r, q.X+r, q.Y+r)
					p.StrokeLine2(stroke(ink, 1), q.X-r, q.Y+r, q.X+r, q.Y-r)
				}
				if q := p.pt(at.point); n == told && math.Hypot(float64(q.X-last.X), float64(q.Y-last.Y)) > float64(6*mm) {
					p.FillText(words(noteSize, ink, text.XLeft, text.YBottom), vg.Point{X: q.X + 1.2*mm, Y: q.Y + 0.8*mm}, at.name)
					last = q
				}
			}
			if f.series != nil {
				named = append(named, curve{f.series.names[f.shown[n]], lineStyles[n], line, n + 1})
			}
		}
		p.frame()
		p.axisX("speed of the needle (mm/s)", ticks(0, p.right, 8), tickText)
		p.axisY("injury left beside the cut (mm²)", ticks(0, p.top, 6))
		if named != nil {
			p.keyRight(named, f.series.title)
		}
	})
}

// keyRight lists curves right of the panel, for curves that end anywhere.
func (p *panel) keyRight(cs []curve, title string) {
	s := words(wordSize, ink, text.XLeft, text.YCenter)
	y := p.Max.Y - 2*mm
	p.FillText(s, vg.Point{X: p.Max.X + 3*mm, Y: y}, fit(s, namesRight-4*mm, title))
	for _, k := range cs {
		y -= 5 * mm
		p.StrokeLine2(k.style, p.Max.X+3*mm, y, p.Max.X+11*mm, y)
		mark(p.Canvas, k.mark, vg.Point{X: p.Max.X + 7*mm, Y: y})
		p.FillText(s, vg.Point{X: p.Max.X + 12.5*mm, Y: y}, fit(s, namesRight-14*mm, k.name))
	}
}
