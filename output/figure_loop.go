package output

import (
	"math"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/thermal"
)

// polyp chooses what is seen of a stalk: all of it and the lower part of the head, or up to
// the mucosa that the head touches.
func (k *cut) polyp() {
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
			k.head = -1e3 * edges[i]
		}
	}
	for n := range k.cell {
		if z := k.z[n/len(k.x)]; touches(c) && k.lnOmega.v[n] >= 0 {
			k.head = math.Max(k.head, -1.02*z) // all that is injured of the opposite wall
		}
	}
	if !touches(c) {
		k.head = math.Min(k.head, -1e3*edges[1]+0.6*(1e3*c.Layers[0].ThicknessM))
	}
	k.x1 = math.Max(k.x1, 1.1*widest)
	k.x0 = -k.x1
	k.z1 = 1e3 * math.Max(1.25*c.WallM(), 1.15*finite(k.res.Summary.InjuryDepthM))
}

// stalkInjured reports whether anything above the wall is.
func stalkInjured(r *thermal.Result) bool {
	for i, l := range r.Case.Layers {
		if l.Above && r.Summary.Layers[i].InjuredM3 > 0 {
			return true
		}
	}
	return false
}

// outline draws the polyp as it was before the current.
func (k *cut) outline(p *panel) {
	c, s := k.res.Case, stroke(ink, 1.2)
	e := c.Electrode
	ring, wire, z, stalk := 1e3*e.TipRadiusM, 1e3*e.ContactRadiusM, -1e3*e.HeightM, 1e3*stalkRadiusM(c)
	flank := stalk - ring
	line := []point{{stalk, 0}, {stalk, z + wire + flank}, {ring, z + wire}, {ring, z - wire}, {stalk, z - wire - flank}}
	edges := c.Edges()
	for i := len(c.Layers) - 1; i >= 0; i-- {
		if l := c.Layers[i]; l.Above && l.RadiusM > 0 {
			line = append(line, point{1e3 * l.RadiusM, 1e3 * edges[i+1]}, point{1e3 * l.RadiusM, 1e3 * edges[i]})
		}
	}
	last := point{0, line[len(line)-1].y} // across the top of a head that hangs free
	if touches(c) {
		last.x = 1e3 * c.Domain.RadiusM // along the opposite mucosa
	}
	line = append(line, last)
	for _, side := range []float64{-1, 1} {
		var half []point
		for _, q := range line {
			if q.y < -k.head { // out of sight
				half = append(half, point{half[len(half)-1].x, -k.head})
				break
			}
			half = append(half, point{side * math.Min(q.x, k.x1), q.y})
		}
		p.line(s, half...)
	}
}

// loop draws the outline of the polyp and the wire, where it was at the start and where it
// is at the end.
func (k *cut) loop(p *panel) {
	k.outline(p)
	e := k.res.Case.Electrode
	ring, wire, z := 1e3*e.TipRadiusM, 1e3*e.ContactRadiusM, -1e3*e.HeightM
	end := 1e3 * k.res.Summary.Stalk.RingRadiusM
	moved := ring-end > wire // else the two drawings of it would run into one
	for _, side := range []float64{-1, 1} {
		circle := func(r float64) []point {
			var pts []point
			for n := range 49 {
				a := 2 * math.Pi * float64(n) / 48
				pts = append(pts, point{side*(r+wire) + wire*math.Cos(a), z + wire*math.Sin(a)})
			}
			return pts
		}
		if moved {
			p.line(stroke(ink, 1, 2, 1.5), circle(ring)...)
		}
		p.area(metal, circle(end)...)
		p.line(stroke(ink, 1), circle(end)...)
	}
	s, note := words(noteSize, ink, text.XLeft, text.YCenter), "wire of the loop"
	if moved {
		note += "\n(dashed: at the start)"
	}
	at := vg.Point{X: p.px(math.Max(1e3*stalkRadiusM(k.res.Case), ring+2*wire)) + 2*mm, Y: p.py(z)}
	if at.X+s.Width(note) > p.Max.X-1*mm { // beside a thick stalk
		note = strings.NewReplacer("wire of ", "wire of\n", "(dashed: ", "(dashed:\n").Replace(note)
	}
	p.FillText(s, at, note)
}
