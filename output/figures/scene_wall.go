package figures

import (
	"muralheat/output/chart"
	"muralheat/thermal"
)

func init() {
	scenes[thermal.OnWall] = scene{
		tallest: onlyCut, above: 11 * chart.MM, colours: peakColours, headMM: tipHeadMM,
		electrode: (*Cut).electrode, sketch: func(k *Cut, p *chart.Panel) { k.tip(p) }, depths: depthOnly,
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
