package output

import (
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/thermal"
)

// colourBar draws the scale, with an arrow when something was hotter.
func colourBar(p *panel, scale scale) {
	const strips = 256 // strips, not an image, which readers would blur each its own way
	step := (p.top - p.bottom) / strips
	for n := range strips {
		t := p.bottom + float64(n)*step
		p.area(warmth((t+step/2-p.bottom)/(p.top-p.bottom)), point{0, t - step/2}, point{1, t - step/2}, point{1, t + step}, point{0, t + step})
	}
	p.frame()
	at := []float64{p.bottom}
	for _, t := range ticks(p.bottom, p.top, 7) {
		if t-p.bottom > 0.055*(p.top-p.bottom) {
			at = append(at, t)
		}
	}
	s := words(wordSize, ink, text.XLeft, text.YCenter)
	for _, t := range at {
		y := p.py(t)
		p.StrokeLine2(stroke(ink, 0.8), p.Max.X, y, p.Max.X+tick, y)
		p.FillText(s, vg.Point{X: p.Max.X + tick + 0.7*mm, Y: y}, tickText(t))
	}
	if scale.most > p.top {
		tip := vg.Point{X: p.Center().X, Y: p.Max.Y + 3.2*mm}
		tri := []vg.Point{{X: p.Min.X, Y: p.Max.Y}, {X: p.Max.X, Y: p.Max.Y}, tip}
		p.FillPolygon(warmth(1), tri)
		p.StrokeLines(stroke(ink, 0.8), append(tri, tri[0]))
		p.FillText(words(noteSize, ink, text.XLeft, text.YBottom), vg.Point{X: p.Max.X + 0.6*mm, Y: p.Max.Y + 1.8*mm}, "hotter")
	}
	s = words(wordSize, ink, text.XCenter, text.YTop)
	s.Rotation = math.Pi / 2
	p.FillText(s, vg.Point{X: p.Max.X + 9*mm, Y: p.Center().Y}, scale.name)
}

// legend explains the marks that occur.
func legend(c draw.Canvas, x, y vg.Length, res *thermal.Result, cuts []*cut) {
	s := words(noteSize, ink, text.XLeft, text.YCenter)
	entry := func(label string, sample func(p *panel)) {
		sample(newPanel(c, x, y-1.3*mm, 7*mm, 2.6*mm, 0, 1, 0, 1))
		x += 8.2 * mm
		c.FillText(s, vg.Point{X: x, Y: y}, label)
		x += s.Width(label) + 5*mm
	}
	any := func(f func(k *cut) *plane) bool {
		for _, k := range cuts {
			for _, v := range f(k).v {
				if v > half {
					return true
				}
			}
		}
		return false
	}
	if res.Summary.InjuryDepthM > 0 || stalkInjured(res) {
		entry("injury line (Arrhenius integral = 1, "+res.Case.Damage.Kinetics.Name+")", func(p *panel) {
			p.line(stroke(ink, 2.2), point{0, 0.5}, point{1, 0.5})
		})
	}
	if res.Case.Electrode.Tip == thermal.Pad && res.Summary.Pad.HighestRiseK > riseLimitK {
		entry("rise of 6 K", func(p *panel) { p.line(limitLine, point{0, 0.5}, point{1, 0.5}) })
	}
	hatched := func(slopes ...float64) func(p *panel) {
		return func(p *panel) {
			p.FillPolygon(heatColour(hottestShownC, 37), []vg.Point{p.Min, {X: p.Max.X, Y: p.Min.Y}, p.Max, {X: p.Min.X, Y: p.Max.Y}})
			for _, m := range slopes {
				for x := -0.5; x < 1.5; x += 0.243 {
					p.line(stroke(paper, 0.7), point{x - m*0.186, 1}, point{x + m*0.186, 0})
				}
			}
		}
	}
	if any(func(k *cut) *plane { return k.dry }) {
		entry("dried", hatched(1))
	}
	if any(func(k *cut) *plane { return k.char }) {
		entry("carbonised", hatched(1, -1))
	}
	if any(func(k *cut) *plane { return k.gone }) {
		entry("removed", func(p *panel) { p.frame() })
	}
}
