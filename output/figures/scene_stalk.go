package figures

import (
	"math"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

func init() {
	scenes[thermal.AroundStalk] = scene{
		tallest: 112 * chart.MM, above: 11 * chart.MM, colours: peakColours, look: (*Cut).polyp,
		electrode: (*Cut).loop, sketch: (*Cut).outline, parts: (*Cut).stalkParts,
		depths: func(k *Cut, p *chart.Panel) {
			p.AxisY("depth below the base of the stalk (mm)", chart.Within(chart.Ticks(-k.Head, k.Z1, 9), -k.Head, k.Z1))
		},
		surface: "base of the stalk", where: "at borders under the electrode", warmC: 60, burns: always,
	}
}

// polyp chooses what is seen of a stalk: all of it and the lower part of the head, or up to
// the mucosa that the head touches.
func (k *Cut) polyp() {
	c := k.res.Case
	edges, widest := c.Edges(), 0.0
	for i, l := range c.Layers {
		if !l.Above {
			break
		}
		if l.RadiusM > 0 {
			widest = math.Max(widest, 1e3*l.RadiusM)
		}
		if i == 0 || l.RadiusM == 0 { // free head, or the opposite wall down to its last layer
			k.Head = -1e3 * edges[i]
		}
	}
	for n := range k.cell {
		if z := k.z[n/len(k.x)]; phrase.Touches(c) && k.LnOmega.V[n] >= 0 {
			k.Head = math.Max(k.Head, -1.02*z) // all that is injured of the opposite wall
		}
	}
	if !phrase.Touches(c) {
		k.Head = math.Min(k.Head, -1e3*edges[1]+0.6*(1e3*c.Layers[0].ThicknessM))
	}
	k.X1 = math.Max(k.X1, 1.1*widest)
	k.X0 = -k.X1
	k.Z1 = 1e3 * math.Max(1.25*c.WallM(), 1.15*phrase.Finite(k.res.Summary.InjuryDepthM))
}

// StalkInjured reports whether anything above the wall is.
func StalkInjured(r *thermal.Result) bool {
	for i, l := range r.Case.Layers {
		if l.Above && r.Summary.Layers[i].InjuredM3 > 0 {
			return true
		}
	}
	return false
}

// outline draws the polyp as it was before the current.
func (k *Cut) outline(p *chart.Panel) {
	for _, l := range k.polypLines() {
		p.Line(chart.Stroke(chart.Ink, 1.2), l...)
	}
}

// polypLines is the outline of the polyp as it was before the current, a line for each side.
func (k *Cut) polypLines() [][]chart.Point {
	c := k.res.Case
	e := c.Electrode
	ring, wire, z, stalk := 1e3*e.TipRadiusM, 1e3*e.ContactRadiusM, -1e3*e.HeightM(), 1e3*phrase.StalkRadiusM(c)
	flank := stalk - ring
	line := []chart.Point{{X: stalk, Y: 0}, {X: stalk, Y: z + wire + flank}, {X: ring, Y: z + wire}, {X: ring, Y: z - wire}, {X: stalk, Y: z - wire - flank}}
	edges := c.Edges()
	for i := len(c.Layers) - 1; i >= 0; i-- {
		if l := c.Layers[i]; l.Above && l.RadiusM > 0 {
			line = append(line, chart.Point{X: 1e3 * l.RadiusM, Y: 1e3 * edges[i+1]}, chart.Point{X: 1e3 * l.RadiusM, Y: 1e3 * edges[i]})
		}
	}
	last := chart.Point{X: 0, Y: line[len(line)-1].Y} // across the top of a head that hangs free
	if phrase.Touches(c) {
		last.X = 1e3 * c.Domain.RadiusM // along the opposite mucosa
	}
	line = append(line, last)
	var lines [][]chart.Point
	for _, side := range []float64{-1, 1} {
		var half []chart.Point
		for _, q := range line {
			if q.Y < -k.Head { // out of sight
				half = append(half, chart.Point{X: half[len(half)-1].X, Y: -k.Head})
				break
			}
			half = append(half, chart.Point{X: side * math.Min(q.X, k.X1), Y: q.Y})
		}
		lines = append(lines, half)
	}
	return lines
}

// loop draws the outline of the polyp and the wire, where it was at the start and where it
// is at the end.
func (k *Cut) loop(p *chart.Panel) {
	k.outline(p)
	e := k.res.Case.Electrode
	ring, wire, z := 1e3*e.TipRadiusM, 1e3*e.ContactRadiusM, -1e3*e.HeightM()
	end := 1e3 * k.res.Summary.Stalk.RingRadiusM
	moved := k.closed() // else the two drawings of it would run into one
	for _, side := range []float64{-1, 1} {
		if moved {
			p.Line(chart.Stroke(chart.Ink, 1, 2, 1.5), k.wire(side, ring)...)
		}
		p.Area(chart.Metal, k.wire(side, end)...)
		p.Line(chart.Stroke(chart.Ink, 1), k.wire(side, end)...)
	}
	s, note := chart.TextStyle(p.Page.Note, chart.Ink, text.XLeft, text.YCenter), "wire of the loop"
	if moved {
		note += "\n(dashed: at the start)"
	}
	at := vg.Point{X: p.Px(math.Max(1e3*phrase.StalkRadiusM(k.res.Case), ring+2*wire)) + 2*chart.MM, Y: p.Py(z)}
	if at.X+s.Width(note) > p.Max.X-1*chart.MM { // beside a thick stalk
		note = strings.NewReplacer("wire of ", "wire of\n", "(dashed: ", "(dashed:\n").Replace(note)
	}
	p.FillText(s, at, note)
}

// stalkParts adds the polyp, and the wire where it was at the start and where it is at the end.
func (k *Cut) stalkParts(p *Parts) {
	never := k.plane(func(int) float64 { return 0 })
	for n := range never.V {
		if k.empty(n) {
			never.V[n] = 1
		}
	}
	p.Never, p.Polyp = areas(never), k.polypLines()
	start, end := 1e3*k.res.Case.Electrode.TipRadiusM, 1e3*k.res.Summary.Stalk.RingRadiusM
	for _, side := range []float64{-1, 1} {
		p.Metal = append(p.Metal, k.wire(side, end))
		if k.closed() {
			p.Start = append(p.Start, k.wire(side, start))
		}
	}
}

// wire returns the wire of a loop of inner radius r, mm, on a side of the axis.
func (k *Cut) wire(side, r float64) (circle []chart.Point) {
	wire, z := 1e3*k.res.Case.Electrode.ContactRadiusM, -1e3*k.res.Case.Electrode.HeightM()
	for n := range 49 {
		a := 2 * math.Pi * float64(n) / 48
		circle = append(circle, chart.Point{X: side*(r+wire) + wire*math.Cos(a), Y: z + wire*math.Sin(a)})
	}
	return circle
}

// closed reports whether a loop has moved so far that its wire is seen twice, at the start and at the end.
func (k *Cut) closed() bool {
	e := k.res.Case.Electrode
	return e.TipRadiusM-k.res.Summary.Stalk.RingRadiusM > e.ContactRadiusM
}
