package figures

import (
	"muralheat/output/chart"
	"muralheat/thermal"
)

func init() {
	scenes[thermal.OnWall] = scene{
		tallest: onlyCut, above: 11 * chart.MM, colours: peakColours, headMM: tipHeadMM,
		electrode: (*Cut).electrode, sketch: func(k *Cut, p *chart.Panel) { k.tip(p) }, parts: (*Cut).wallParts, depths: depthOnly,
		surface: "surface", where: "at borders under the electrode", warmC: 60, burns: always,
	}
}

// tipHeadMM returns how much of the metal above the surface is worth seeing, mm.
func tipHeadMM(k *Cut) float64 {
	switch e := k.res.Case.Electrode; {
	case e.InsertionM > 0:
		return 0.25 * k.Z1
	case e.TipRadiusM > e.ContactRadiusM: // a ball, all of it, and a little air
		return 1.25 * 1e3 * e.TipRadiusM
	default:
		return 0.8 * 1e3 * e.ContactRadiusM
	}
}

// wallParts adds the metal.
func (k *Cut) wallParts(p *Parts) { p.Metal, p.Passed = [][]chart.Point{k.body(0)}, k.passed() }

// body returns the active electrode at x, mm, as a polygon.
func (k *Cut) body(x float64) (body []chart.Point) {
	for _, q := range k.res.Case.Electrode.Outline(2*k.Head/1e3, k.along) {
		body = append(body, chart.Point{X: x + 1e3*q.XM, Y: 1e3 * q.ZM})
	}
	return body
}
