package study

import (
	"math"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
)

// region is a part of a panel with a name, such as a layer, between two lines from its left to its right.
type region struct {
	name        string
	top, bottom []chart.Point
}

// level is a line at one height.
func level(y float64) []chart.Point { return []chart.Point{{Y: y}} }

// at returns the height of such a line at x.
func at(line []chart.Point, x float64) float64 {
	for n := 1; n < len(line); n++ {
		if a, b := line[n-1], line[n]; x <= b.X {
			if b.X <= a.X {
				return b.Y
			}
			return a.Y + (b.Y-a.Y)*max(0, (x-a.X)/(b.X-a.X))
		}
	}
	return line[len(line)-1].Y
}

// cover is what of a panel is taken by curves, marks and bars, in boxes on the page.
type cover []box

type box struct{ min, max vg.Point }

func (b box) meets(o box) bool {
	return b.min.X < o.max.X && o.min.X < b.max.X && b.min.Y < o.max.Y && o.min.Y < b.max.Y
}

func (c cover) meets(b box) bool {
	for _, o := range c {
		if o.meets(b) {
			return true
		}
	}
	return false
}

// coverOf returns what the curves of a facet take of its panel: marks with their intervals, lines between them in steps, bars.
func coverOf(p *chart.Panel, f *facet, curves [][]place, bars bool) (c cover) {
	const around, step = 1.6 * chart.MM, 1 * chart.MM
	for _, places := range curves {
		for n, at := range places {
			x, y := p.Px(at.x), p.Py(at.mid)
			low, high := min(p.Py(at.low), p.Py(at.high), y), max(p.Py(at.low), p.Py(at.high), y)
			if bars {
				low, high = low-6*chart.MM, p.Py(0) // and its number
			}
			wide := vg.Length(around)
			if bars {
				wide = 0.4 * (p.Px(1) - p.Px(0))
			}
			c = append(c, box{vg.Point{X: x - wide, Y: low - around}, vg.Point{X: x + wide, Y: high + around}})
			if n == 0 || !f.joined {
				continue
			}
			from := p.Pt(chart.Point{X: places[n-1].x, Y: places[n-1].mid})
			for k, steps := 1, int(math.Hypot(float64(x-from.X), float64(y-from.Y))/float64(step)); k < steps; k++ {
				on := vg.Point{X: from.X + (x-from.X)*vg.Length(k)/vg.Length(steps), Y: from.Y + (y-from.Y)*vg.Length(k)/vg.Length(steps)}
				c = append(c, box{vg.Point{X: on.X - step/2, Y: on.Y - step/2}, vg.Point{X: on.X + step/2, Y: on.Y + step/2}})
			}
		}
	}
	return c
}

// nameRegions writes the names of regions where they have room: in the only panel at its left, which is kept free, in small ones where
// no curve passes, as far as there is such a place.
func (l *layout) nameRegions(p *chart.Panel, regions []region, taken cover) {
	s := chart.TextStyle(p.Page.Note, chart.Ink, text.XLeft, text.YCenter)
	room := min(30*chart.MM, p.Max.X-p.Min.X-3*chart.MM)
	if l.strip > 0 {
		room, taken = l.strip-2*chart.MM, nil
	}
	for _, r := range regions {
		name := chart.WrappedTo(s, room, r.name)
		if q, there := r.place(p, s.Width(name), p.Page.NoteLine()*vg.Length(1+strings.Count(name, "\n")), taken); there {
			p.FillText(s, q, name)
		}
	}
}

// place returns where in a region there is room for a name of width w and height h, beside what is taken if that is possible; false
// if there is none.
func (r region) place(p *chart.Panel, w, h vg.Length, taken cover) (first vg.Point, there bool) {
	const air = 0.5 * chart.MM
	left, right := p.Min.X+1.5*chart.MM, p.Max.X-1.5*chart.MM-w
	for _, x := range []vg.Length{left, right, (left + right) / 2} {
		top, bottom := math.Inf(-1), math.Inf(1)
		for k := range 9 {
			on := p.Across(x + w*vg.Length(k)/8)
			top, bottom = max(top, at(r.top, on)), min(bottom, at(r.bottom, on))
		}
		high, low := min(p.Py(top), p.Max.Y), max(p.Py(bottom), p.Min.Y)
		if high-low < max(3.4*chart.MM, h) {
			continue
		}
		for _, y := range []vg.Length{(high + low) / 2, high - h/2 - air, low + h/2 + air} {
			q := vg.Point{X: x, Y: y}
			if !taken.meets(box{vg.Point{X: x, Y: y - h/2}, vg.Point{X: x + w, Y: y + h/2}}) {
				return q, true
			}
			if !there {
				first, there = q, true
			}
		}
	}
	return first, there
}
