package figures

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
	"muralheat/thermal"
)

// layers draws the borders of the layers where there is tissue, and names them.
func (k *Cut) layers(p *chart.Panel) { p.Near(k.Borders(p), namesWidth) }

// Borders draws the borders of the layers and returns their names, each with its place.
func (k *Cut) Borders(p *chart.Panel) []chart.Label {
	var names []chart.Label
	edges, top := k.res.Case.Edges(), 0.0
	for i, l := range k.res.Case.Layers {
		top = 1e3 * edges[i]
		bottom := 1e3 * edges[i+1]
		if top >= k.Z1 {
			break
		}
		if bottom <= -k.Head {
			continue
		}
		width := vg.Length(0.8)
		if l.Beyond {
			width = 1.8 // the outer surface of the wall
		}
		if top != 0 {
			k.Border(p, chart.Stroke(chart.Ink, width), top)
		}
		name := chart.Label{Text: fmt.Sprintf("%s %s mm", l.Name, phrase.Short(math.Round(100*(bottom-top))/100)), Colour: chart.Ink, Top: math.Max(top, -k.Head), Bottom: math.Min(bottom, k.Z1)}
		if l.Beyond {
			name.Text, name.Colour = l.Name+" (beyond)", chart.Soft
		}
		if s := chart.TextStyle(p.Page.Note, chart.Ink, text.XLeft, text.YCenter); p.Page.Narrow() || s.Width(name.Text) > namesWidth-3.5*chart.MM {
			name.Text = l.Name // a name cut short says less than a thickness left out
		}
		names = append(names, name)
		top = bottom
	}
	if n := len(k.res.Case.Layers); n > 0 && !k.res.Case.Layers[n-1].Beyond && top < k.Z1 {
		k.Border(p, chart.Stroke(chart.Ink, 1.8), top)
	}
	return names
}

// Border draws a level line, interrupted where there is no tissue on either side.
func (k *Cut) Border(p *chart.Panel, s draw.LineStyle, z float64) {
	const parts = 800
	var run []chart.Point
	for n := range parts + 1 {
		q := chart.Point{X: k.X0 + (k.X1-k.X0)*float64(n)/parts, Y: z}
		if q.X < k.x[0] || q.X > k.x[len(k.x)-1] || k.gone.At(q.X, q.Y) > half || k.void(q.X, q.Y) && k.void(q.X, q.Y-1e-3) && z != 0 {
			p.Line(s, run...)
			run = nil
			continue
		}
		run = append(run, q)
	}
	p.Line(s, run...)
}

const half = 0.5 // a state is drawn where it is more than half reached

// reached reports whether a state is drawn anywhere.
func reached(p *chart.Plane) bool {
	return slices.ContainsFunc(p.V, func(v float64) bool { return v > half })
}

// Hatch marks dried tissue with lines one way, carbonised tissue both ways, and
// outlines removed tissue.
func (k *Cut) Hatch(p *chart.Panel) {
	for _, l := range k.gone.Isoline(half) {
		p.Line(chart.Stroke(chart.Ink, 1), l...)
	}
	step := (k.X1 - k.X0) / float64((p.Max.X-p.Min.X)/(1.7*chart.MM)) // between lines
	for _, h := range []struct {
		f     *chart.Plane
		slope float64
	}{{k.dry, 1}, {k.char, -1}} {
		if !reached(h.f) {
			continue
		}
		for _, l := range h.f.Isoline(half) {
			p.Line(chart.Stroke(chart.Paper, 1), l...)
		}
		for x := k.X0 - k.Z1 - k.Head; x < k.X1+k.Z1+k.Head; x += step {
			var run []chart.Point
			for z := math.Max(-k.Head, k.z[0]); z <= k.Z1; z += step / 12 {
				q := chart.Point{X: x + h.slope*z, Y: z}
				if q.X > k.x[0] && q.X < k.x[len(k.x)-1] && h.f.At(q.X, q.Y) > half && k.gone.At(q.X, q.Y) <= half && !k.void(q.X, q.Y) {
					run = append(run, q)
					continue
				}
				p.Line(chart.Stroke(chart.Paper, 0.7), run...)
				run = nil
			}
			p.Line(chart.Stroke(chart.Paper, 0.7), run...)
		}
	}
}

// electrode draws the active electrode and names it.
func (k *Cut) electrode(p *chart.Panel) {
	x, edge := k.tip(p)
	name, moving := "active electrode", k.res.Case.Motion.Moving()
	if sunk := 1e3 * k.res.Case.Electrode.Press.IndentationM; sunk > 0 && !k.bare {
		name += fmt.Sprintf(",\npressed in %.2f mm", sunk)
	}
	if k.passed() {
		name = "active electrode,\nas it passed"
	}
	s := chart.TextStyle(p.Page.Note, chart.Ink, text.XLeft, text.YTop)
	if !k.symmetric && moving {
		k.travel(p, x, edge)
		return
	}
	at := vg.Point{X: p.Px(edge) + 1.5*chart.MM, Y: p.Max.Y - 1.5*chart.MM}
	if at.X+s.Width(name) > p.Max.X { // beside it is no room, on it there is
		at.X, s.XAlign = p.Px(x), text.XCenter
	}
	p.FillText(s, at, name)
}

// passed reports whether the electrode has left the place of a cut across its track.
func (k *Cut) passed() bool { return k.symmetric && k.res.Case.Motion.Moving() && !k.there }

// tip draws the active electrode to scale where it ends, and returns where that is and
// how far it reaches.
func (k *Cut) tip(p *chart.Panel) (x, edge float64) {
	if !k.symmetric && k.res.Case.Motion.Moving() {
		x = endMM(k.res)
	}
	body := k.body(x)
	outline := chart.Stroke(chart.Ink, 1.2)
	if k.passed() { // only its outline, so that what it left is seen
		outline.Dashes = []vg.Length{3, 2}
	} else {
		p.Area(chart.Metal, body...)
	}
	p.Line(outline, append(body, body[0])...)
	return x, x + k.metalHalfMM()
}

// metalHalfMM returns how far the metal reaches from its middle.
func (k *Cut) metalHalfMM() float64 {
	e := k.res.Case.Electrode
	half := 1e3 * math.Max(e.ContactRadiusM, e.TipRadiusM)
	if k.res.Case.Scene() == thermal.OnWall {
		for _, q := range e.Outline(0, k.along) {
			half = math.Max(half, 1e3*q.XM)
		}
	}
	return half
}

// endMM returns where the electrode is at the end, along its track.
func endMM(res *thermal.Result) float64 {
	if n := len(res.History); n > 0 {
		return 1e3 * res.History[n-1].PositionM
	}
	return 1e3 * res.Case.Motion.LengthM
}

// travel draws the path of the electrode.
func (k *Cut) travel(p *chart.Panel, x, edge float64) {
	y := p.Py(0) + 2.2*chart.MM
	a, b := p.Px(0), p.Px(x-(edge-x))-1.2*chart.MM
	if b-a < 6*chart.MM {
		return
	}
	p.StrokeLine2(chart.Stroke(chart.Ink, 1), a, y, b-1.8*chart.MM, y)
	p.StrokeLine2(chart.Stroke(chart.Ink, 1), a, y-0.9*chart.MM, a, y+0.9*chart.MM)
	p.FillPolygon(chart.Ink, []vg.Point{{X: b, Y: y}, {X: b - 2*chart.MM, Y: y + 0.9*chart.MM}, {X: b - 2*chart.MM, Y: y - 0.9*chart.MM}})
	s := chart.TextStyle(p.Page.Note, chart.Ink, text.XRight, text.YBottom)
	if w := "path of the electrode"; s.Width(w) < b-a {
		p.FillText(s, vg.Point{X: b, Y: y + 1.1*chart.MM}, w)
	}
}

// dimensions writes how deep the injury is, left of it, and how far from the
// muscle, right of it. Along the track it marks where the other cut lies.
func (k *Cut) dimensions(p *chart.Panel) {
	sum := k.res.Summary
	depth := 1e3 * phrase.Finite(sum.InjuryDepthM)
	if depth == 0 || k.bare {
		return
	}
	if !k.symmetric {
		s := chart.TextStyle(p.Page.Note, chart.Ink, text.XCenter, text.YCenter)
		where := "section shown below"
		if k.alone {
			where = "section on the next page"
		}
		p.Line(chart.Stroke(chart.Paper, 2.2), chart.Point{X: k.deepX, Y: 0}, chart.Point{X: k.deepX, Y: k.Z1})
		p.Line(chart.Stroke(chart.Ink, 0.9, 6, 2, 1, 2), chart.Point{X: k.deepX, Y: 0}, chart.Point{X: k.deepX, Y: k.Z1})
		p.Say(s, chart.Point{X: k.deepX, Y: p.Back(p.Min.Y + 2.6*chart.MM)}, 0, where)
		return
	}
	clear := float64(4*chart.MM/(p.Max.X-p.Min.X)) * (k.X1 - k.X0)
	x := k.half + clear
	p.Line(chart.Stroke(chart.Ink, 0.6, 2, 2), chart.Point{X: -x, Y: depth}, chart.Point{X: x, Y: depth})
	p.Arrow(chart.Point{X: -x, Y: 0}, chart.Point{X: -x, Y: depth})
	p.Say(chart.TextStyle(p.Page.Figure, chart.Ink, text.XRight, text.YCenter), chart.Point{X: -x, Y: depth / 2}, -2*chart.MM, fmt.Sprintf("%.2f mm", depth))
	low := k.kerf(p, depth)
	m := 1e3 * sum.MarginToMuscleM
	if math.IsNaN(m) {
		return
	}
	s, side := chart.TextStyle(p.Page.Word, chart.Ink, text.XLeft, text.YCenter), 1.0
	if p.Page.Narrow() { // the names of the layers stand at the right
		s.XAlign, side = text.XRight, -1
		low = p.Py(depth/2) - 0.8*p.Page.Figure
	}
	word := broken.Replace(phrase.MarginWord(sum))
	p.Arrow(chart.Point{X: side * x, Y: depth}, chart.Point{X: side * x, Y: depth + m})
	low -= s.Height(word) / 2
	p.Say(s, chart.Point{X: side * x, Y: math.Min(math.Max(depth+m/2, p.Back(low)), p.Back(p.Min.Y+s.Height(word)/2+1*chart.MM))}, vg.Length(side)*2*chart.MM, word)
}

// broken breaks the words about the margin into two lines.
var broken = strings.NewReplacer(" to ", "\nto ", " into ", "\ninto ", " the ", "\nthe ")

// kerf writes how far the injury reaches beside and below what a needle removed. It
// returns how low on the page its words reach.
func (k *Cut) kerf(p *chart.Panel, depth float64) vg.Length {
	wide, deep := 1e3*k.res.Summary.Cut.KerfWidthM/2, 1e3*k.res.Summary.RemovedDepthM
	if wide == 0 || !(depth > deep) || p.Page.Narrow() { // there the layers have their names
		return p.Max.Y
	}
	edge, z := wide, deep/2 // where the injury is widest beside the kerf
	for _, l := range k.LnOmega.Isoline(0) {
		for _, q := range l {
			if q.X > edge {
				edge, z = q.X, math.Min(math.Max(q.Y, deep/3), 2*deep/3)
			}
		}
	}
	p.Arrow(chart.Point{X: 0, Y: deep}, chart.Point{X: 0, Y: depth})
	p.Arrow(chart.Point{X: wide, Y: z}, chart.Point{X: edge, Y: z})
	s := chart.TextStyle(p.Page.Note, chart.Ink, text.XLeft, text.YCenter)
	note := fmt.Sprintf("here %.2f mm beside,\n%.2f mm below the kerf", edge-wide, depth-deep)
	if p.Px(edge)+3*chart.MM+s.Width(note) > p.Max.X {
		note = strings.NewReplacer("mm beside", "mm\nbeside", "below the", "below\nthe").Replace(note)
	}
	high := s.Height(note)/2 + 1*chart.MM
	y := math.Max(z, p.Back(p.Py(0)-high)) // below the surface
	p.Say(s, chart.Point{X: edge, Y: y}, 3*chart.MM, note)
	return p.Py(y) - high
}
