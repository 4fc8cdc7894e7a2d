package record

import (
	"math"
	"strings"

	"muralheat/output/phrase"
	"muralheat/thermal"
)

// padLines answers what a pad is asked.
func padLines(b *strings.Builder, r *thermal.Result) {
	p, row := r.Summary.Pad, rowsOf(b)
	row("mean rise over 1 cm2", "%s K at most, its centre %.1f mm from that of the pad; limit 6 K (%s; a model is no substitute for that test)", phrase.Short(p.MeanRiseK), 1e3*p.MeanRiseAtM, phrase.LimitClause)
	row("highest rise", "%s K anywhere", phrase.Short(p.HighestRiseK))
	row("rise of the skin", "%s K at the rim of the contact, %s K at the centre of the pad", phrase.Short(p.RimRiseK), phrase.Short(p.CentreRiseK))
	row("hottest skin", "%.1f °C", p.SkinPeakC)
	row("contact", "%s cm2 of %s cm2", phrase.Short(phrase.ContactCM2(r.Case)), phrase.Short(math.Pi*1e4*math.Pow(r.Case.Electrode.TipRadiusM, 2)))
	omega := r.Summary.Layers[0].OmegaMax
	if omega < 1e-3 {
		row("injury of the skin", "none: Arrhenius integral below 0.001 (%s)", r.Case.Damage.Kinetics.Name)
	} else {
		row("injury of the skin", "Arrhenius integral up to %s, injury from 1 (%s)", phrase.Short(omega), r.Case.Damage.Kinetics.Name)
	}
}
