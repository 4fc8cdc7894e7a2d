package figures

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// ColourBar draws the scale, with an arrow when something was hotter.
func ColourBar(p *chart.Panel, scale Scale) {
	const strips = 256 // strips, not an image, which readers would blur each its own way
	step := (p.Top - p.Bottom) / strips
	for n := range strips {
		t := p.Bottom + float64(n)*step
		p.Area(chart.Warmth((t+step/2-p.Bottom)/(p.Top-p.Bottom)), chart.Point{X: 0, Y: t - step/2}, chart.Point{X: 1, Y: t - step/2}, chart.Point{X: 1, Y: t + step}, chart.Point{X: 0, Y: t + step})
	}
	p.Frame()
	at := []float64{p.Bottom}
	for _, t := range chart.Ticks(p.Bottom, p.Top, 7) {
		if t-p.Bottom > 0.055*(p.Top-p.Bottom) {
			at = append(at, t)
		}
	}
	s := chart.TextStyle(p.Page.Word, chart.Ink, text.XLeft, text.YCenter)
	for _, t := range at {
		y := p.Py(t)
		p.StrokeLine2(chart.Stroke(chart.Ink, 0.8), p.Max.X, y, p.Max.X+chart.Tick, y)
		p.FillText(s, vg.Point{X: p.Max.X + chart.Tick + 0.7*chart.MM, Y: y}, phrase.TickText(t))
	}
	if scale.Most > p.Top {
		tip := vg.Point{X: p.Center().X, Y: p.Max.Y + 3.2*chart.MM}
		tri := []vg.Point{{X: p.Min.X, Y: p.Max.Y}, {X: p.Max.X, Y: p.Max.Y}, tip}
		p.FillPolygon(chart.Warmth(1), tri)
		p.StrokeLines(chart.Stroke(chart.Ink, 0.8), append(tri, tri[0]))
		p.FillText(chart.TextStyle(p.Page.Note, chart.Ink, text.XLeft, text.YBottom), vg.Point{X: p.Max.X + 0.6*chart.MM, Y: p.Max.Y + 1.8*chart.MM}, "hotter")
	}
	s = chart.TextStyle(p.Page.Word, chart.Ink, text.XCenter, text.YTop)
	s.Rotation = math.Pi / 2
	p.FillText(s, vg.Point{X: p.Max.X + 9*chart.MM, Y: p.Center().Y}, scale.Name)
}

// colourBarBelow draws the scale lying, for a page without room beside the cuts.
func colourBarBelow(p *chart.Panel, scale Scale) {
	const strips = 256
	step := (p.Right - p.Left) / strips
	for n := range strips {
		t := p.Left + float64(n)*step
		p.Area(chart.Warmth((float64(n)+0.5)/strips), chart.Point{X: t - step/2, Y: 0}, chart.Point{X: t - step/2, Y: 1}, chart.Point{X: t + step, Y: 1}, chart.Point{X: t + step, Y: 0})
	}
	p.Frame()
	if scale.Most > p.Right {
		tri := []vg.Point{{X: p.Max.X, Y: p.Min.Y}, {X: p.Max.X, Y: p.Max.Y}, {X: p.Max.X + 3*chart.MM, Y: p.Center().Y}}
		p.FillPolygon(chart.Warmth(1), tri)
		p.StrokeLines(chart.Stroke(chart.Ink, 0.8), append(tri, tri[0]))
		p.FillText(chart.TextStyle(p.Page.Note, chart.Ink, text.XLeft, text.YCenter), vg.Point{X: p.Max.X + 3.6*chart.MM, Y: p.Center().Y}, "hotter")
	}
	p.AxisX(scale.Name, chart.Roomy(p, append([]float64{p.Left}, chart.Ticks(p.Left, p.Right, 7)...), phrase.TickText), phrase.TickText)
}

// kinetics returns the names of the damage kinetics by which the cuts have their injury line, each once.
func kinetics(cuts []*Cut) (names []string) {
	for _, k := range cuts {
		if name := k.res.Case.Damage.Kinetics.Name; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// LegendHeight is what the legend takes of a page.
func LegendHeight(page chart.Page, res *thermal.Result, cuts []*Cut) vg.Length {
	rows := 1 + Legend(page, draw.NewCanvas(&recorder.Canvas{}, page.W, page.W), page.Left(), 0, res, cuts)
	return 1.5*chart.MM + vg.Length(rows)*page.WordLine()
}

// Legend explains the marks that occur, from y down, in as many further lines below as the page asks for, which it returns.
func Legend(page chart.Page, c draw.Canvas, x, y vg.Length, res *thermal.Result, cuts []*Cut) (more int) {
	k := NewKey(page, c, x, y)
	k.Marks(res, cuts, false)
	return k.more
}

// Key is a legend whose entries stand in lines between its left and the right edge of the canvas.
type Key struct {
	page       chart.Page
	canvas     draw.Canvas
	left, x, y vg.Length
	more       int // lines below the first
}

// NewKey returns a legend without entries, from y down.
func NewKey(page chart.Page, c draw.Canvas, left, y vg.Length) *Key {
	return &Key{page: page, canvas: c, left: left, x: left, y: y - page.WordLine()/2}
}

// Bottom is where the last line ends.
func (k *Key) Bottom() vg.Length { return k.y - k.page.WordLine()/2 }

// Entry draws a sample and what it means, broken into lines where it is too long for one.
func (k *Key) Entry(label string, sample func(p *chart.Panel)) {
	page, right := k.page, k.canvas.Max.X-1*chart.MM
	s := chart.TextStyle(page.Note, chart.Ink, text.XLeft, text.YCenter)
	if k.x > k.left && k.x+8.2*chart.MM+s.Width(label) > right {
		k.x, k.y, k.more = k.left, k.y-page.WordLine(), k.more+1
	}
	sample(chart.NewPanel(page, k.canvas, k.x, k.y-1.3*chart.MM, 7*chart.MM, 2.6*chart.MM, 0, 1, 0, 1))
	k.x += 8.2 * chart.MM
	lines := chart.Wrapped(s, right-k.x, label)
	for n, l := range lines {
		if n > 0 {
			k.y, k.more = k.y-page.WordLine(), k.more+1
		}
		k.canvas.FillText(s, vg.Point{X: k.x, Y: k.y}, l)
	}
	k.x += s.Width(lines[len(lines)-1]) + 5*chart.MM
}

// Colours explains the colours.
func (k *Key) Colours(scale Scale) {
	k.Entry(fmt.Sprintf("%s: %s to %s", scale.Name, phrase.TickText(scale.Low), phrase.TickText(scale.High)), func(p *chart.Panel) {
		const strips = 64
		for n := range strips {
			x := float64(n) / strips
			p.Area(chart.Warmth(x+0.5/strips), chart.Point{X: x, Y: 0}, chart.Point{X: x + 1.5/strips, Y: 0}, chart.Point{X: x + 1.5/strips, Y: 1}, chart.Point{X: x, Y: 1})
		}
		p.Frame()
	})
}

// Marks explains the marks that occur; in brief without the names of damage kinetics.
func (k *Key) Marks(res *thermal.Result, cuts []*Cut, brief bool) {
	entry := k.Entry
	any := func(f func(k *Cut) *chart.Plane) bool {
		for _, k := range cuts {
			if plane := f(k); plane != nil && reached(plane) {
				return true
			}
		}
		return false
	}
	if res.Summary.InjuryDepthM > 0 || StalkInjured(res) {
		label := "dies within a day"
		if !brief {
			label += " (Omega = 1, " + strings.Join(kinetics(cuts), "; ") + ")"
		}
		entry(label, func(p *chart.Panel) {
			p.Line(chart.Stroke(chart.Ink, 2.2), chart.Point{X: 0, Y: 0.5}, chart.Point{X: 1, Y: 0.5})
		})
	}
	if any(func(k *Cut) *chart.Plane { return k.seen }) {
		entry("coagulated at once ("+res.Case.Damage.AtOnce.Name+")", func(p *chart.Panel) {
			p.Line(atOnceLine, chart.Point{X: 0, Y: 0.5}, chart.Point{X: 1, Y: 0.5})
		})
	}
	if own := sceneOf(res).legend; own != nil {
		own(res, entry)
	}
	hatched := func(slopes ...float64) func(p *chart.Panel) {
		return func(p *chart.Panel) {
			p.FillPolygon(chart.HeatColour(chart.HottestShownC, 37), []vg.Point{p.Min, {X: p.Max.X, Y: p.Min.Y}, p.Max, {X: p.Min.X, Y: p.Max.Y}})
			for _, m := range slopes {
				for x := -0.5; x < 1.5; x += 0.243 {
					p.Line(chart.Stroke(chart.Paper, 0.7), chart.Point{X: x - m*0.186, Y: 1}, chart.Point{X: x + m*0.186, Y: 0})
				}
			}
		}
	}
	if any(func(k *Cut) *chart.Plane { return k.dry }) {
		entry("dried", hatched(1))
	}
	if any(func(k *Cut) *chart.Plane { return k.char }) {
		entry("carbonised", hatched(1, -1))
	}
	if any(func(k *Cut) *chart.Plane { return k.gone }) {
		entry("removed", func(p *chart.Panel) { p.Frame() })
	}
}
