package output

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
)

// muscleShade is the muscle behind curves, and what counts as in it.
var muscleShade = color.NRGBA{0xe3, 0xc4, 0xb4, 0xff}

// facet draws one panel: what lies behind, the curves, the axes.
func (p *panel) facet(l *layout, f *facet, q quantity, curves [][]place, never [][]float64, i, n int) {
	if q.behind != nil {
		q.behind(p, f, l)
	}
	bars := q.column == depthColumn && f.x.words && f.series == nil
	for k := range curves {
		if !q.whisker && f.joined {
			p.intervalBand(curves[k], k)
		}
	}
	var named []curve
	for k := len(curves) - 1; k >= 0; k-- { // the first lies on top
		places, shift := curves[k], 0.0
		if !f.joined && len(curves) > 1 {
			shift = (float64(k) - float64(len(curves)-1)/2) * min(0.6/float64(len(curves)), 0.16)
		} else if q.whisker { // so that no interval hides another
			shift = (float64(k) - float64(len(curves)-1)/2) * float64(1.4*mm/(p.px(1)-p.px(0)))
		}
		var line []point
		for _, at := range places {
			line = append(line, point{at.x + shift, at.mid})
		}
		if bars {
			p.bars(places)
		}
		if f.joined {
			p.line(lineStyles[k], line...)
		}
		if (q.whisker || !f.joined) && len(places) <= 40 {
			p.whiskers(places, k, shift)
		}
		if !bars && (!f.joined || len(places) <= 20) {
			for _, at := range line {
				if len(line) > 40 {
					dot(p.Canvas, k+1, p.pt(at), 1.7)
				} else {
					mark(p.Canvas, k+1, p.pt(at))
				}
			}
		}
		line = append(line, p.crossed(never[k], k)...)
		slices.SortStableFunc(line, func(a, b point) int { return cmp.Compare(a.x, b.x) })
		if f.series != nil {
			named = append(named, curve{f.series.names[f.shown[k]], lineStyles[k], line, k + 1})
		}
	}
	p.frame()
	label, number := q.label, tickText
	if n%l.columns > 0 { // the axis is that of the panel before
		label, number = "", func(float64) string { return "" }
	}
	low, high := min(p.bottom, p.top), max(p.bottom, p.top)
	p.axisUp(label, within(ticks(p.bottom, p.top, 6), low, high), number)
	p.axisAcross(l, f.x)
	if f.title != "" {
		s := words(wordSize, ink, text.XLeft, text.YBottom)
		p.FillText(s, vg.Point{X: p.Min.X, Y: p.Max.Y + 1*mm}, fit(s, p.Max.X-p.Min.X, f.title))
	}
	if f.series != nil && l.one() && f.joined && i == 0 {
		p.names(named)
		s := words(wordSize, ink, text.XLeft, text.YBottom)
		p.FillText(s, vg.Point{X: p.Max.X + 3*mm, Y: p.Max.Y + 0.6*mm}, fit(s, namesRight-4*mm, f.series.title))
	}
}

// crossed marks, at the top, where the k-th curve has no value because what it tells of never
// came, and returns where that is on the page.
func (p *panel) crossed(never []float64, k int) (at []point) {
	const r = 1.4 * mm
	for _, x := range never {
		q := vg.Point{X: p.px(x), Y: p.Max.Y - 2.4*mm - 3.4*mm*vg.Length(k)}
		mark(p.Canvas, k+1, q)
		p.StrokeLine2(stroke(ink, 1), q.X-r, q.Y-r, q.X+r, q.Y+r)
		p.StrokeLine2(stroke(ink, 1), q.X-r, q.Y+r, q.X+r, q.Y-r)
		at = append(at, point{x, p.back(q.Y)})
	}
	return at
}

// intervalBand shades the interval of a curve.
func (p *panel) intervalBand(places []place, k int) {
	var around []point
	for _, at := range places {
		around = append(around, point{at.x, at.high})
	}
	for i := len(places) - 1; i >= 0; i-- {
		around = append(around, point{places[i].x, places[i].low})
	}
	shade := color.NRGBAModel.Convert(lineStyles[k].Color).(color.NRGBA)
	shade.A = 0x38
	p.area(shade, around...)
}

// whiskers draws the interval at each place.
func (p *panel) whiskers(places []place, k int, shift float64) {
	s := stroke(lineStyles[k].Color, 1.2)
	for _, at := range places {
		if !(at.high > at.low) {
			continue
		}
		x, lo, hi := p.px(at.x+shift), p.py(at.low), p.py(at.high)
		p.StrokeLine2(s, x, lo, x, hi)
		for _, y := range []vg.Length{lo, hi} {
			p.StrokeLine2(s, x-1*mm, y, x+1*mm, y)
		}
	}
}

// bars draws depths as bars that hang from the surface, with their numbers.
func (p *panel) bars(places []place) {
	slot := p.px(1) - p.px(0)
	half := min(0.3, float64(12*mm/slot))
	for _, at := range places {
		p.area(barShade, point{at.x - half, 0}, point{at.x + half, 0}, point{at.x + half, at.mid}, point{at.x - half, at.mid})
		p.line(stroke(ink, 1), point{at.x - half, 0}, point{at.x - half, at.mid}, point{at.x + half, at.mid}, point{at.x + half, 0})
		s, down := words(wordSize, ink, text.XCenter, text.YCenter), -2.8*mm
		txt := fmt.Sprintf("%.2f mm", at.mid)
		if at.high > at.low {
			down = p.py(at.high) - p.py(at.mid) - 2.8*mm
		}
		if s.Width(txt) > slot {
			txt = fmt.Sprintf("%.2f", at.mid)
		}
		if s.Width(txt) <= slot {
			p.say(s, point{at.x, p.back(p.py(at.mid) + down)}, 0, txt)
		}
	}
}

var barShade = color.NRGBA{0x7d, 0x93, 0xad, 0xff}

// depthExtent returns the range of the axis of depths: all depths, and the whole wall
// unless the injury is shallow beside it.
func (t *sweepTable) depthExtent(_, high float64) (bottom, top float64) {
	bottom = max(1.18*high, 0.2)
	least, most := t.muscleTops(t.rows())
	if !math.IsNaN(most) {
		bottom = max(bottom, 1.25*most, 1.1*least)
	}
	if t.oneWall {
		wall := 0.0
		for _, l := range t.Layers {
			if !l.Beyond {
				wall = l.BottomMM
			}
		}
		if high > 0.3*wall {
			bottom = max(bottom, 1.06*wall)
		}
	}
	return bottom, 0
}

// wallBehind shades the layers, or where these differ the muscle from where it begins.
func (t *sweepTable) wallBehind(p *panel, f *facet, l *layout) {
	if !t.oneWall {
		t.muscleBehind(p, f)
		return
	}
	var names []label
	for n, layer := range t.Layers {
		if layer.TopMM >= p.bottom {
			break
		}
		shade := bandShades[n%2]
		switch {
		case layer.Muscle:
			shade = muscleShade
		case layer.Beyond:
			shade = beyondShade
		}
		p.stripe(shade, layer.TopMM, layer.BottomMM)
		if edge := stroke(soft, 0.6); layer.TopMM > 0 {
			if layer.Muscle {
				edge = stroke(ink, 1.2)
			}
			p.line(edge, point{p.left, layer.TopMM}, point{p.right, layer.TopMM})
		}
		if l.one() || layer.Muscle {
			names = append(names, label{layer.Name, ink, layer.TopMM, min(layer.BottomMM, p.bottom)})
		}
	}
	if last := t.Layers[len(t.Layers)-1].BottomMM; last < p.bottom {
		p.stripe(beyondShade, last, p.bottom)
		p.line(stroke(soft, 0.6), point{p.left, last}, point{p.right, last})
	}
	p.inside(names, l)
}

// stripe fills a range of the upright axis.
func (p *panel) stripe(shade color.Color, top, bottom float64) {
	p.area(shade, point{p.left, top}, point{p.right, top}, point{p.right, bottom}, point{p.left, bottom})
}

// inside writes the names of ranges at the left inside the panel, where they have room.
func (p *panel) inside(names []label, l *layout) {
	s := words(noteSize, ink, text.XLeft, text.YCenter)
	room := l.strip - 2*mm
	if l.strip == 0 {
		room = 30 * mm
	}
	for _, n := range names {
		if p.py(n.top)-p.py(n.bottom) > 3.4*mm {
			p.FillText(s, vg.Point{X: p.Min.X + 1.5*mm, Y: p.py((n.top + n.bottom) / 2)}, fit(s, room, n.text))
		}
	}
}

// muscleBehind shades the muscle from where it begins at each place of x.
func (t *sweepTable) muscleBehind(p *panel, f *facet) {
	p.stripe(bandShades[1], 0, p.bottom)
	least, most := t.muscleTops(f.rows)
	if math.IsNaN(least) {
		return
	}
	var edge []point
	switch {
	case most-least < sameTopMM:
		edge = []point{{p.left, least}, {p.right, least}}
	case len(f.x.at) > len(f.rows)/2 && !f.joined && !f.x.words: // each its own wall
		return
	default:
		for l, rows := range f.x.split(f.rows) {
			x, top := f.x.at[l], t.medianTop(rows)
			switch {
			case top.n == 0:
			case f.x.words:
				edge = append(edge, point{x - 0.5, top.mid}, point{x + 0.5, top.mid})
			default:
				edge = append(edge, point{x, top.mid})
			}
		}
		edge = append([]point{{p.left, edge[0].y}}, append(edge, point{p.right, edge[len(edge)-1].y})...)
	}
	p.area(muscleShade, append(edge, point{p.right, p.bottom}, point{p.left, p.bottom})...)
	p.line(stroke(ink, 1.2), edge...)
	s := words(noteSize, ink, text.XLeft, text.YBottom)
	p.FillText(s, vg.Point{X: p.Min.X + 1.5*mm, Y: p.Min.Y + 0.8*mm}, "muscle and beyond")
}

// riseLimit draws the limit of IEC 60601-2-2, which holds for 0.7 A over 60 s.
func (p *panel) riseLimit(*facet, *layout) {
	p.stripe(muscleShade, p.top, riseLimitK)
	p.line(limitLine, point{p.left, riseLimitK}, point{p.right, riseLimitK})
	s := words(noteSize, ink, text.XRight, text.YBottom)
	p.FillText(s, vg.Point{X: p.Max.X - 1.5*mm, Y: p.py(riseLimitK) + 0.8*mm}, "6 K")
}

// muscleBelowZero shades where a margin is negative.
func (p *panel) muscleBelowZero(*facet, *layout) {
	p.stripe(muscleShade, 0, p.bottom)
	p.line(stroke(ink, 1.2), point{p.left, 0}, point{p.right, 0})
	s := words(noteSize, ink, text.XLeft, text.YBottom)
	p.FillText(s, vg.Point{X: p.Min.X + 1.5*mm, Y: p.Min.Y + 0.8*mm}, "injury in the muscle")
}
