package output

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/thermal"
)

// layers draws the borders of the layers where there is tissue, and names them.
func (k *cut) layers(p *panel) { p.beside(k.borders(p), namesWidth) }

// borders draws the borders of the layers and returns their names, each with its place.
func (k *cut) borders(p *panel) []label {
	var names []label
	edges, top := k.res.Case.Edges(), 0.0
	for i, l := range k.res.Case.Layers {
		top = 1e3 * edges[i]
		bottom := 1e3 * edges[i+1]
		if top >= k.z1 {
			break
		}
		if bottom <= -k.head {
			continue
		}
		width := vg.Length(0.8)
		if l.Beyond {
			width = 1.8 // the outer surface of the wall
		}
		if top != 0 {
			k.border(p, stroke(ink, width), top)
		}
		name := label{fmt.Sprintf("%s %s mm", l.Name, short(math.Round(100*(bottom-top))/100)), ink, math.Max(top, -k.head), math.Min(bottom, k.z1)}
		if l.Beyond {
			name.text, name.colour = l.Name+" (beyond)", soft
		}
		if s := words(noteSize, ink, text.XLeft, text.YCenter); s.Width(name.text) > namesWidth-3.5*mm {
			name.text = l.Name // a name cut short says less than a thickness left out
		}
		names = append(names, name)
		top = bottom
	}
	if n := len(k.res.Case.Layers); n > 0 && !k.res.Case.Layers[n-1].Beyond && top < k.z1 {
		k.border(p, stroke(ink, 1.8), top)
	}
	return names
}

// border draws a level line, interrupted where there is no tissue on either side.
func (k *cut) border(p *panel, s draw.LineStyle, z float64) {
	const parts = 800
	var run []point
	for n := range parts + 1 {
		q := point{k.x0 + (k.x1-k.x0)*float64(n)/parts, z}
		if q.x < k.x[0] || q.x > k.x[len(k.x)-1] || k.gone.at(q.x, q.y) > half || k.void(q.x, q.y) && k.void(q.x, q.y-1e-3) && z != 0 {
			p.line(s, run...)
			run = nil
			continue
		}
		run = append(run, q)
	}
	p.line(s, run...)
}

const half = 0.5 // a state is drawn where it is more than half reached

// hatch marks dried tissue with lines one way, carbonised tissue both ways, and
// outlines removed tissue.
func (k *cut) hatch(p *panel) {
	for _, l := range k.gone.isoline(half) {
		p.line(stroke(ink, 1), l...)
	}
	step := (k.x1 - k.x0) / float64((p.Max.X-p.Min.X)/(1.7*mm)) // between lines
	for _, h := range []struct {
		f     *plane
		slope float64
	}{{k.dry, 1}, {k.char, -1}} {
		for _, l := range h.f.isoline(half) {
			p.line(stroke(paper, 1), l...)
		}
		for x := k.x0 - k.z1 - k.head; x < k.x1+k.z1+k.head; x += step {
			var run []point
			for z := math.Max(-k.head, k.z[0]); z <= k.z1; z += step / 12 {
				q := point{x + h.slope*z, z}
				if q.x > k.x[0] && q.x < k.x[len(k.x)-1] && h.f.at(q.x, q.y) > half && k.gone.at(q.x, q.y) <= half && !k.void(q.x, q.y) {
					run = append(run, q)
					continue
				}
				p.line(stroke(paper, 0.7), run...)
				run = nil
			}
			p.line(stroke(paper, 0.7), run...)
		}
	}
}

// electrode draws the active electrode to scale where it ends.
func (k *cut) electrode(p *panel) {
	e := k.res.Case.Electrode
	a, r := 1e3*e.ContactRadiusM, 1e3*e.TipRadiusM
	x, moving := 0.0, k.res.Case.Motion.Moving()
	if !k.symmetric && moving {
		x = endMM(k.res)
	}
	var body []point
	switch e.Tip {
	case thermal.Ball:
		r = math.Max(r, a)
		up := math.Sqrt(r*r - a*a) // height of the centre above the surface
		from := math.Asin(math.Min(a/r, 1))
		for n := 0; n <= 120; n++ {
			t := from + (2*math.Pi-2*from)*float64(n)/120 // from the lowest point
			body = append(body, point{x + r*math.Sin(t), -up + r*math.Cos(t)})
		}
	case thermal.Needle:
		z := 1e3 * e.InsertionM
		body = []point{{x - a, -2 * k.head}, {x - a, z}, {x + a, z}, {x + a, -2 * k.head}}
	default:
		body = []point{{x - a, -2 * k.head}, {x - a, 0}, {x + a, 0}, {x + a, -2 * k.head}}
	}
	name, outline := "active electrode", stroke(ink, 1.2)
	if sunk := 1e3 * e.Press.IndentationM; sunk > 0 {
		name += fmt.Sprintf(",\npressed in %.2f mm", sunk)
	}
	if k.symmetric && moving && !k.there {
		// It has left this place: only its outline, so that what it left is seen.
		name, outline.Dashes = "active electrode,\nas it passed", []vg.Length{3, 2}
	} else {
		p.area(metal, body...)
	}
	p.line(outline, append(body, body[0])...)
	s := words(noteSize, ink, text.XLeft, text.YTop)
	edge := x + math.Max(a, r)
	if !k.symmetric && moving {
		k.travel(p, x, edge)
		return
	}
	at := vg.Point{X: p.px(edge) + 1.5*mm, Y: p.Max.Y - 1.5*mm}
	if at.X+s.Width(name) > p.Max.X { // beside it is no room, on it there is
		at.X, s.XAlign = p.px(x), text.XCenter
	}
	p.FillText(s, at, name)
}

// endMM returns where the electrode is at the end, along its track.
func endMM(res *thermal.Result) float64 {
	if n := len(res.History); n > 0 {
		return 1e3 * res.History[n-1].PositionM
	}
	return 1e3 * res.Case.Motion.LengthM
}

// travel draws the path of the electrode.
func (k *cut) travel(p *panel, x, edge float64) {
	y := p.py(0) + 2.2*mm
	a, b := p.px(0), p.px(x-(edge-x))-1.2*mm
	if b-a < 6*mm {
		return
	}
	p.StrokeLine2(stroke(ink, 1), a, y, b-1.8*mm, y)
	p.StrokeLine2(stroke(ink, 1), a, y-0.9*mm, a, y+0.9*mm)
	p.FillPolygon(ink, []vg.Point{{X: b, Y: y}, {X: b - 2*mm, Y: y + 0.9*mm}, {X: b - 2*mm, Y: y - 0.9*mm}})
	s := words(noteSize, ink, text.XRight, text.YBottom)
	if w := "path of the electrode"; s.Width(w) < b-a {
		p.FillText(s, vg.Point{X: b, Y: y + 1.1*mm}, w)
	}
}

// dimensions writes how deep the injury is, left of it, and how far from the
// muscle, right of it. Along the track it marks where the other cut lies.
func (k *cut) dimensions(p *panel) {
	sum := k.res.Summary
	depth := 1e3 * finite(sum.InjuryDepthM)
	if depth == 0 {
		return
	}
	if !k.symmetric {
		s := words(noteSize, ink, text.XCenter, text.YCenter)
		p.line(stroke(paper, 2.2), point{k.deepX, 0}, point{k.deepX, k.z1})
		p.line(stroke(ink, 0.9, 6, 2, 1, 2), point{k.deepX, 0}, point{k.deepX, k.z1})
		p.say(s, point{k.deepX, p.back(p.Min.Y + 2.6*mm)}, 0, "section shown below")
		return
	}
	clear := float64(4*mm/(p.Max.X-p.Min.X)) * (k.x1 - k.x0)
	x := k.half + clear
	p.line(stroke(ink, 0.6, 2, 2), point{-x, depth}, point{x, depth})
	p.arrow(point{-x, 0}, point{-x, depth})
	p.say(words(figureSize, ink, text.XRight, text.YCenter), point{-x, depth / 2}, -2*mm, fmt.Sprintf("%.2f mm", depth))
	low := k.kerf(p, depth)
	m := 1e3 * sum.MarginToMuscleM
	if math.IsNaN(m) {
		return
	}
	s := words(wordSize, ink, text.XLeft, text.YCenter)
	word := fmt.Sprintf("%.2f mm\nto muscle", m)
	switch {
	case sum.Transmural:
		word = "through\nthe wall"
	case sum.MuscleInjuredShare >= 1:
		word = "through\nthe muscle"
	case reaches(sum):
		word = "reaches\nthe muscle"
	case m <= 0:
		word = fmt.Sprintf("%.2f mm\ninto muscle", -m)
	}
	p.arrow(point{x, depth}, point{x, depth + m})
	low -= s.Height(word) / 2
	p.say(s, point{x, math.Min(math.Max(depth+m/2, p.back(low)), p.back(p.Min.Y+s.Height(word)/2+1*mm))}, 2*mm, word)
}

// kerf writes how far the injury reaches beside and below what a needle removed. It
// returns how low on the page its words reach.
func (k *cut) kerf(p *panel, depth float64) vg.Length {
	wide, deep := 1e3*k.res.Summary.Cut.KerfWidthM/2, 1e3*k.res.Summary.RemovedDepthM
	if wide == 0 || !(depth > deep) {
		return p.Max.Y
	}
	edge, z := wide, deep/2 // where the injury is widest beside the kerf
	for _, l := range k.lnOmega.isoline(0) {
		for _, q := range l {
			if q.x > edge {
				edge, z = q.x, math.Min(math.Max(q.y, deep/3), 2*deep/3)
			}
		}
	}
	p.arrow(point{0, deep}, point{0, depth})
	p.arrow(point{wide, z}, point{edge, z})
	s := words(noteSize, ink, text.XLeft, text.YCenter)
	note := fmt.Sprintf("here %.2f mm beside,\n%.2f mm below the kerf", edge-wide, depth-deep)
	high := s.Height(note)/2 + 1*mm
	y := math.Max(z, p.back(p.py(0)-high)) // below the surface
	p.say(s, point{edge, y}, 3*mm, note)
	return p.py(y) - high
}
