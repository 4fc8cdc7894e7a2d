package study

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

// drawFacet draws one panel: what lies behind, the curves, the axes.
func drawFacet(p *chart.Panel, l *layout, f *facet, q quantity, curves [][]place, never [][]float64, i, n int) {
	var regions []region
	if q.behind != nil {
		regions = q.behind(p, f, l)
	}
	bars := inBars(f, q)
	for k := range curves {
		if !q.whisker && f.joined {
			intervalBand(p, curves[k], k)
		}
	}
	var named []chart.Curve
	for k := len(curves) - 1; k >= 0; k-- { // the first lies on top
		places, shift := curves[k], 0.0
		if !f.joined && len(curves) > 1 {
			shift = (float64(k) - float64(len(curves)-1)/2) * min(0.6/float64(len(curves)), 0.16)
		} else if q.whisker { // so that no interval hides another
			shift = (float64(k) - float64(len(curves)-1)/2) * float64(1.4*chart.MM/(p.Px(1)-p.Px(0)))
		}
		var line []chart.Point
		for _, at := range places {
			line = append(line, chart.Point{X: at.x + shift, Y: at.mid})
		}
		if bars {
			drawBars(p, places)
		}
		if f.joined {
			p.Line(chart.LineStyles[k], line...)
		}
		if q.whisker || !f.joined {
			drawWhiskers(p, places, k, shift)
		}
		if !bars && (!f.joined || len(places) <= 20) {
			for _, at := range line {
				if len(line) > 40 {
					chart.Dot(p.Canvas, k+1, p.Pt(at), 1.7)
				} else {
					chart.Mark(p.Canvas, k+1, p.Pt(at))
				}
			}
		}
		for n, at := range places {
			if at.error > 0 {
				x := p.Px(line[n].X)
				within := func(v float64) vg.Length { return min(max(p.Py(v), p.Min.Y), p.Max.Y) } // no depth is less than nothing
				p.StrokeLine2(chart.Stroke(chart.LineStyles[k].Color, 1), x, within(at.mid-at.error), x, within(at.mid+at.error))
			}
			if at.short != "" && !bars {
				chart.Ring(p.Canvas, p.Pt(line[n]))
			}
		}
		line = append(line, crossings(p, never[k], k)...)
		slices.SortStableFunc(line, func(a, b chart.Point) int { return cmp.Compare(a.X, b.X) })
		if f.series != nil {
			named = append(named, chart.Curve{Name: f.series.names[f.shown[k]], Style: chart.LineStyles[k], Pts: line, Mark: k + 1})
		}
	}
	l.nameRegions(p, regions, coverOf(p, f, curves, bars))
	p.Frame()
	label, number := q.label, phrase.TickText
	if n%l.columns > 0 && !l.blank[[2]int{i, n - 1}] { // the axis is that of the panel before
		label, number = "", func(float64) string { return "" }
	}
	low, high := min(p.Bottom, p.Top), max(p.Bottom, p.Top)
	p.AxisUp(label, chart.Within(chart.Ticks(p.Bottom, p.Top, 6), low, high), number)
	acrossAxis(p, l, f.x)
	if f.title != "" {
		l.heading(p.Canvas, p.Min.X, p.Max.Y, f.title)
	}
	if l.named() && i == 0 {
		p.Names(named)
		s := chart.TextStyle(l.page.Word, chart.Ink, text.XLeft, text.YBottom)
		p.FillText(s, vg.Point{X: p.Max.X + 3*chart.MM, Y: p.Max.Y + 0.6*chart.MM}, chart.WrappedTo(s, chart.NamesRight-4*chart.MM, f.series.title))
	}
}

// inBars reports whether a panel shows its places as bars.
func inBars(f *facet, q quantity) bool {
	return q.column == record.DepthColumn && f.x.words && f.series == nil
}

// crossings marks, at the top, where the k-th curve has no value because what it tells of never
// came, and returns where that is on the page.
func crossings(p *chart.Panel, never []float64, k int) (at []chart.Point) {
	const r = 1.4 * chart.MM
	for _, x := range never {
		q := vg.Point{X: p.Px(x), Y: p.Max.Y - 2.4*chart.MM - 3.4*chart.MM*vg.Length(k)}
		chart.Mark(p.Canvas, k+1, q)
		p.StrokeLine2(chart.Stroke(chart.Ink, 1), q.X-r, q.Y-r, q.X+r, q.Y+r)
		p.StrokeLine2(chart.Stroke(chart.Ink, 1), q.X-r, q.Y+r, q.X+r, q.Y-r)
		at = append(at, chart.Point{X: x, Y: p.Back(q.Y)})
	}
	return at
}

// intervalBand shades the interval of a curve.
func intervalBand(p *chart.Panel, places []place, k int) {
	var around []chart.Point
	for _, at := range places {
		around = append(around, chart.Point{X: at.x, Y: at.high})
	}
	for i := len(places) - 1; i >= 0; i-- {
		around = append(around, chart.Point{X: places[i].x, Y: places[i].low})
	}
	shade := color.NRGBAModel.Convert(chart.LineStyles[k].Color).(color.NRGBA)
	shade.A = 0x38
	p.Area(shade, around...)
}

// drawWhiskers draws the interval at each place.
func drawWhiskers(p *chart.Panel, places []place, k int, shift float64) {
	s := chart.Stroke(chart.LineStyles[k].Color, 1.2)
	for _, at := range places {
		if !(at.high > at.low) {
			continue
		}
		x, lo, hi := p.Px(at.x+shift), p.Py(at.low), p.Py(at.high)
		p.StrokeLine2(s, x, lo, x, hi)
		if at.left[1] > at.left[0] {
			p.StrokeLine2(chart.Stroke(chart.LineStyles[k].Color, 3.6), x, p.Py(at.left[0]), x, p.Py(at.left[1]))
		}
		for _, y := range []vg.Length{lo, hi} {
			p.StrokeLine2(s, x-1*chart.MM, y, x+1*chart.MM, y)
		}
	}
}

// drawBars draws depths as bars that hang from the surface, with their numbers.
func drawBars(p *chart.Panel, places []place) {
	slot := p.Px(1) - p.Px(0)
	half := min(0.3, float64(12*chart.MM/slot))
	for _, at := range places {
		p.Area(chart.BarShade, chart.Point{X: at.x - half, Y: 0}, chart.Point{X: at.x + half, Y: 0}, chart.Point{X: at.x + half, Y: at.mid}, chart.Point{X: at.x - half, Y: at.mid})
		p.Line(chart.Stroke(chart.Ink, 1), chart.Point{X: at.x - half, Y: 0}, chart.Point{X: at.x - half, Y: at.mid}, chart.Point{X: at.x + half, Y: at.mid}, chart.Point{X: at.x + half, Y: 0})
		s, down := chart.TextStyle(p.Page.Word, chart.Ink, text.XCenter, text.YCenter), -2.8*chart.MM
		txt := fmt.Sprintf("%.2f mm", at.mid)
		if at.high > at.low {
			down = p.Py(at.high) - p.Py(at.mid) - 2.8*chart.MM
		}
		if s.Width(txt) > slot {
			txt = fmt.Sprintf("%.2f", at.mid)
		}
		if at.short != "" && s.Width(at.short) <= slot {
			txt, down = txt+"\n"+at.short, down-2*chart.MM
		}
		if s.Width(txt) <= slot {
			p.Say(s, chart.Point{X: at.x, Y: p.Back(p.Py(at.mid) + down)}, 0, txt)
		}
	}
}

// depthExtent returns the range of the axis of depths: all depths, and the whole wall
// unless the injury is shallow beside it.
func (t *SweepTable) depthExtent(_, high float64) (bottom, top float64) {
	bottom = max(1.18*high, 0.2)
	least, most := t.muscleTops(t.rows())
	if !math.IsNaN(most) {
		bottom = max(bottom, 1.25*most, 1.1*least)
	}
	wall := 0.0
	for _, r := range t.rows() {
		wall = max(wall, record.OrElse(t.outerSurface(r), 0))
	}
	if t.oneWall {
		for _, l := range t.Layers {
			if !l.Beyond {
				wall = l.BottomMM
			}
		}
	}
	if high > 0.3*wall {
		bottom = max(bottom, 1.06*wall)
	}
	return bottom, 0
}
