package study

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
)

// wallBehind shades the layers, or where these differ the muscle from where it begins.
func (t *SweepTable) wallBehind(p *chart.Panel, f *facet, l *layout) (names []region) {
	if !t.oneWall {
		return t.muscleBehind(p, f)
	}
	for n, layer := range t.Layers {
		if layer.TopMM >= p.Bottom {
			break
		}
		chart.Stripe(p, chart.LayerShade(n, layer.Muscle, layer.Beyond), layer.TopMM, layer.BottomMM)
		if edge := chart.Stroke(chart.Soft, 0.6); layer.TopMM > 0 {
			if layer.Muscle {
				edge = chart.Stroke(chart.Ink, 1.2)
			}
			p.Line(edge, chart.Point{X: p.Left, Y: layer.TopMM}, chart.Point{X: p.Right, Y: layer.TopMM})
		}
		names = append(names, region{layer.Name, level(layer.TopMM), level(min(layer.BottomMM, p.Bottom))})
	}
	if last := t.Layers[len(t.Layers)-1].BottomMM; last < p.Bottom {
		chart.Stripe(p, chart.BeyondShade, last, p.Bottom)
		p.Line(chart.Stroke(chart.Soft, 0.6), chart.Point{X: p.Left, Y: last}, chart.Point{X: p.Right, Y: last})
	}
	return names
}

// muscleBehind shades the muscle at each place of x from where it begins to the outer surface of the wall, and what
// lies beyond that.
func (t *SweepTable) muscleBehind(p *chart.Panel, f *facet) []region {
	chart.Stripe(p, chart.BandShades[1], 0, p.Bottom)
	top := t.edgeBehind(p, f, t.muscleTop)
	if top == nil {
		return nil
	}
	t.below(p, top, chart.MuscleShade, chart.Stroke(chart.Ink, 1.2))
	inner, end := region{"inner layers", level(0), top}, level(p.Bottom)
	if outer := t.edgeBehind(p, f, t.outerSurface); outer != nil {
		t.below(p, outer, chart.BeyondShade, chart.Stroke(chart.Ink, 1.8))
		return []region{inner, {"muscle", top, outer}, {"beyond the wall", outer, end}}
	}
	return []region{inner, {"muscle and beyond", top, end}}
}

// below shades all that lies deeper than an edge, and draws it.
func (t *SweepTable) below(p *chart.Panel, edge []chart.Point, shade color.Color, line draw.LineStyle) {
	p.Area(shade, append(slices.Clone(edge), chart.Point{X: p.Right, Y: p.Bottom}, chart.Point{X: p.Left, Y: p.Bottom})...)
	p.Line(line, edge...)
}

// edgeBehind returns the line of a depth of the wall at each place of x, its median there; nil where there is none,
// or each case has a wall of its own.
func (t *SweepTable) edgeBehind(p *chart.Panel, f *facet, depth func(row int) float64) []chart.Point {
	least, most := math.Inf(1), math.Inf(-1)
	for _, r := range f.rows {
		if v := depth(r); !math.IsNaN(v) {
			least, most = min(least, v), max(most, v)
		}
	}
	switch {
	case least > most:
		return nil
	case most-least < sameTopMM:
		return []chart.Point{{X: p.Left, Y: least}, {X: p.Right, Y: least}}
	case len(f.x.at) > len(f.rows)/2 && !f.joined && !f.x.words:
		return nil
	}
	var edge []chart.Point
	for l, rows := range f.x.split(f.rows) {
		x, at := f.x.at[l], t.medianOf(rows, depth)
		switch {
		case at.n == 0:
		case f.x.words:
			edge = append(edge, chart.Point{X: x - 0.5, Y: at.mid}, chart.Point{X: x + 0.5, Y: at.mid})
		default:
			edge = append(edge, chart.Point{X: x, Y: at.mid})
		}
	}
	return append([]chart.Point{{X: p.Left, Y: edge[0].Y}}, append(edge, chart.Point{X: p.Right, Y: edge[len(edge)-1].Y})...)
}

// muscleBelowZero shades where a margin is negative.
func muscleBelowZero(p *chart.Panel, _ *facet, _ *layout) []region {
	chart.Stripe(p, chart.MuscleShade, 0, p.Bottom)
	p.Line(chart.Stroke(chart.Ink, 1.2), chart.Point{X: p.Left, Y: 0}, chart.Point{X: p.Right, Y: 0})
	s := chart.TextStyle(p.Page.Note, chart.Ink, text.XLeft, text.YBottom)
	p.FillText(s, vg.Point{X: p.Min.X + 1.5*chart.MM, Y: p.Min.Y + 0.8*chart.MM}, "injury in the muscle")
	return nil
}
