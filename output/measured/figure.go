// Package measured draws the model beside published experiments.
package measured

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
	"muralheat/scenarios/experiments"
)

// regimes have a mark each, in this order.
var regimes = experiments.Kinds

const (
	gap   = 2 * chart.MM // below the head
	notes = 3.6 * chart.MM
)

// layout is how wide panels are, and how far apart.
func layout(panels int) (side, aside vg.Length) {
	if panels > 2 {
		return 38 * chart.MM, 15 * chart.MM
	}
	return 62 * chart.MM, 22 * chart.MM
}

// Figures draws ours against measured, a point an experiment, a panel for each measure; of a kind of experiment, the
// others are faint behind it. Kind "" is all of them.
func Figures(all []experiments.Result, kind string) []chart.Figure {
	points, left := experiments.Points(all)
	of := func(regime string) bool { return kind == "" || regime == kind }
	var panels []experiments.Measure
	for _, m := range experiments.Measures {
		if slices.ContainsFunc(points, func(p experiments.Point) bool { return p.Measure == m && of(p.Regime) }) {
			panels = append(panels, m)
		}
	}
	if len(panels) == 0 {
		return nil
	}
	inside, drawn := 0, map[string]bool{}
	for _, p := range points {
		if p.Inside && !drawn[p.Experiment] && of(p.Regime) {
			inside++
		}
		if of(p.Regime) {
			drawn[p.Experiment] = true
		}
	}
	left = slices.DeleteFunc(left, func(id string) bool {
		return !slices.ContainsFunc(all, func(r experiments.Result) bool { return r.ID == id && of(r.Regime[0]) })
	})
	whole := len(drawn) + len(left)
	title, more := "Model against published experiments", []string(nil)
	if kind != "" {
		title, more = title+": "+kind, []string{"Faint: experiments of other kinds"}
	}
	head := page.Head(title,
		[]string{fmt.Sprintf("A point an experiment, %d of %d", len(drawn), whole),
			fmt.Sprintf("%d of them within twice the combined spread by all their rows", inside)},
		[]string{"Open: not within. Whiskers: standard deviation, ours by open inputs and mesh. Dashed: twice and half"}, more)
	note := chart.TextStyle(page.Note, chart.Soft, text.XLeft, text.YTop)
	below := chart.Wrapped(note, page.W-8*chart.MM, "Several rows of an experiment are one geometric mean; volumes are drawn as the diameter of a ball as large, injury beside a cut as a width, temperatures as rises.")
	if len(left) > 0 {
		below = append(below, chart.Wrapped(note, page.W-8*chart.MM, "Not drawn, a share or nought: "+strings.Join(left, ", ")+".")...)
	}
	foot := page.Foot("")
	side, aside := layout(len(panels))
	h := head.Height() + gap + side + chart.AxisHeight + 6*chart.MM + vg.Length(len(below))*notes + 1*chart.MM + foot.Height()
	return []chart.Figure{{Name: "measured", W: page.W, H: h, Draw: func(c draw.Canvas) {
		head.Draw(c)
		top := c.Max.Y - head.Height() - gap
		for n, m := range panels {
			panel(c, vg.Point{X: c.Min.X + page.Left() + vg.Length(n)*(side+aside), Y: top - side}, side, m, points, of)
		}
		y := top - side - chart.AxisHeight - 2*chart.MM
		key(c, y, points, of)
		for n, line := range below {
			c.FillText(note, vg.Point{X: c.Min.X + 4*chart.MM, Y: y - 4*chart.MM - vg.Length(n)*notes}, line)
		}
		foot.Draw(c)
	}}}
}

// panel draws the points of a measure on logarithmic axes, with the line of equal values; those not of the kind faint.
func panel(c draw.Canvas, at vg.Point, side vg.Length, m experiments.Measure, points []experiments.Point, of func(regime string) bool) {
	var here, faint []experiments.Point
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range points {
		switch {
		case q.Measure != m:
			continue
		case of(q.Regime):
			here = append(here, q)
		default:
			faint = append(faint, q)
		}
		lo, hi = min(lo, q.Measured, q.Ours), max(hi, q.Measured, q.Ours)
	}
	from, to := math.Log10(lo)-0.25, math.Log10(hi)+0.25
	p := chart.NewPanel(page, c, at.X, at.Y, side, side, from, to, from, to)
	p.Line(chart.Stroke(chart.Ink, 1), chart.Point{X: from, Y: from}, chart.Point{X: to, Y: to})
	for _, f := range []float64{math.Log10(2), -math.Log10(2)} {
		p.Line(chart.Stroke(chart.Soft, 0.6, 3, 3), chart.Point{X: from, Y: from + f}, chart.Point{X: to, Y: to + f})
	}
	place := func(q experiments.Point) vg.Point {
		return p.Pt(chart.Point{X: math.Log10(q.Measured), Y: math.Log10(q.Ours)})
	}
	for _, q := range faint {
		p.Canvas.DrawGlyphNoClip(draw.GlyphStyle{Color: chart.Soft, Radius: radius * 0.4, Shape: draw.CircleGlyph{}}, place(q))
	}
	var taken []vg.Rectangle
	for _, q := range here {
		taken = append(taken, box(place(q).X-radius, place(q).Y-radius, 2*radius, 2*radius))
	}
	for _, q := range here {
		if !q.Inside {
			taken = name(p, q.Experiment, place(q), taken)
		}
	}
	for _, q := range here {
		at := chart.Point{X: math.Log10(q.Measured), Y: math.Log10(q.Ours)}
		thin := chart.Stroke(chart.Soft, 0.5)
		p.Line(thin, chart.Point{X: reach(q.Measured, -q.MeasuredSD, from), Y: at.Y}, chart.Point{X: reach(q.Measured, q.MeasuredSD, from), Y: at.Y})
		p.Line(thin, chart.Point{X: at.X, Y: reach(q.Ours, -q.OursSD, from)}, chart.Point{X: at.X, Y: reach(q.Ours, q.OursSD, from)})
	}
	for _, q := range here {
		mark(p.Canvas, q.Regime, q.Inside, place(q))
	}
	p.Frame()
	ticks, number := decades(from, to)
	label := fmt.Sprintf("%s (%s)", m, m.Unit())
	p.AxisX("measured "+label, chart.Roomy(p, ticks, number), number)
	p.AxisUp("ours "+label, ticks, number)
}

// name writes a name beside a mark where nothing is yet, and returns what is taken then; without room it writes none.
func name(p *chart.Panel, txt string, at vg.Point, taken []vg.Rectangle) []vg.Rectangle {
	s := chart.TextStyle(page.Note, chart.Soft, text.XLeft, text.YCenter)
	w, h := s.Width(txt), s.Height(txt)
	const off = 1.5 * chart.MM
	for _, x := range []vg.Length{at.X + off, at.X - off - w} {
		for _, y := range []vg.Length{at.Y, at.Y - h, at.Y + h} {
			b := box(x, y-h/2, w, h)
			if x < p.Min.X || x+w > p.Max.X || y-h/2 < p.Min.Y || y+h/2 > p.Max.Y || slices.ContainsFunc(taken, func(t vg.Rectangle) bool {
				return b.Min.X < t.Max.X && t.Min.X < b.Max.X && b.Min.Y < t.Max.Y && t.Min.Y < b.Max.Y
			}) {
				continue
			}
			p.Say(s, chart.Point{X: p.Across(x), Y: p.Back(y)}, 0, txt)
			return append(taken, b)
		}
	}
	return taken
}

func box(x, y, w, h vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: vg.Point{X: x, Y: y}, Max: vg.Point{X: x + w, Y: y + h}}
}

// reach is the logarithm of v and a spread, at least from.
func reach(v, sd, from float64) float64 { return math.Log10(math.Max(v+sd, math.Pow(10, from))) }

// decades are the ticks 1, 2 and 5 of each decade between logarithms, and how they are written.
func decades(from, to float64) (at []float64, number func(float64) string) {
	for d := math.Floor(from); d <= to; d++ {
		for _, m := range []float64{1, 2, 5} {
			if v := d + math.Log10(m); from <= v && v <= to {
				at = append(at, v)
			}
		}
	}
	return at, func(v float64) string { return phrase.Short(math.Pow(10, v)) }
}

// page is that of the figure: it stands in documents.
var page = chart.ForDocument

const radius = 2.6 // of a mark

// mark draws the mark of a regime, white within unless the experiment is inside.
func mark(c draw.Canvas, regime string, inside bool, at vg.Point) {
	shapes := []draw.GlyphDrawer{draw.CircleGlyph{}, draw.BoxGlyph{}, draw.PyramidGlyph{}, polygon{{-1.3, 0}, {0, 1.3}, {1.3, 0}, {0, -1.3}}, polygon{{-1.1, 0.8}, {1.1, 0.8}, {0, -1.1}}}
	n := max(0, slices.Index(regimes, regime))
	c.DrawGlyphNoClip(draw.GlyphStyle{Color: chart.LineStyles[n].Color, Radius: radius, Shape: shapes[n]}, at)
	if !inside {
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: chart.Paper, Radius: radius * 0.6, Shape: shapes[n]}, at)
	}
}

// polygon is a glyph by its corners, in radii.
type polygon [][2]vg.Length

// DrawGlyph implements draw.GlyphDrawer.
func (p polygon) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	var pts []vg.Point
	for _, q := range p {
		pts = append(pts, vg.Point{X: at.X + q[0]*s.Radius, Y: at.Y + q[1]*s.Radius})
	}
	c.FillPolygon(s.Color, pts)
}

// key names the marks of the regimes that are there.
func key(c draw.Canvas, y vg.Length, points []experiments.Point, of func(regime string) bool) {
	x, s := c.Min.X+5.5*chart.MM, chart.TextStyle(page.Word, chart.Ink, text.XLeft, text.YCenter)
	for _, r := range regimes {
		if !slices.ContainsFunc(points, func(p experiments.Point) bool { return p.Regime == r && of(r) }) {
			continue
		}
		mark(c, r, true, vg.Point{X: x, Y: y})
		c.FillText(s, vg.Point{X: x + 2.5*chart.MM, Y: y}, r)
		x += 6*chart.MM + s.Width(r) + 3*chart.MM
	}
}
