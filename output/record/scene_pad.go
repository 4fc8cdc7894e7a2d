package record

import (
	"math"
	"strings"

	"muralheat/output/phrase"
	"muralheat/thermal"
)

func init() {
	scenes[thermal.OnSkin] = scene{
		judged: RiseColumn, columns: func(*thermal.Case) []Column { return padColumns() }, lines: padLines, touched: fromSurface,
		history: []historyColumn{{RiseColumn, func(s thermal.Sample) float64 { return s.MeanRiseK }}},
	}
}

// padColumns tell what a neutral electrode did to the skin.
func padColumns() []Column {
	pad := func(name, unit, text string, f func(thermal.PadSummary) float64) Column {
		return num(name, unit, text, func(r result) float64 { return f(r.Summary.Pad) })
	}
	return []Column{
		pad("mean_rise_1cm2_K", "K", "highest mean temperature rise over any round square centimetre of skin, by which IEC 60601-2-2:2017, 201.15.101.5, judges a neutral electrode", func(p thermal.PadSummary) float64 { return p.MeanRiseK }),
		pad("mean_rise_at_mm", "mm", "distance of that square centimetre from the centre of the pad", func(p thermal.PadSummary) float64 { return inMM(p.MeanRiseAtM) }),
		pad("highest_rise_K", "K", "highest temperature rise anywhere in the body", func(p thermal.PadSummary) float64 { return p.HighestRiseK }),
		pad("rise_rim_K", "K", "highest temperature rise of the skin at the rim of the contact", func(p thermal.PadSummary) float64 { return p.RimRiseK }),
		pad("rise_centre_K", "K", "highest temperature rise of the skin at the centre of the pad", func(p thermal.PadSummary) float64 { return p.CentreRiseK }),
		pad("skin_peak_C", "C", "highest temperature of the skin", func(p thermal.PadSummary) float64 { return p.SkinPeakC }),
		num("contact_area_cm2", "cm2", "area that touches the skin", func(r result) float64 { return phrase.ContactCM2(r.Case) }),
		num("injury_depth_mm", "mm", "deepest point with an Arrhenius integral of at least 1", func(r result) float64 { return inMM(r.Summary.InjuryDepthM) }),
		Column{Name: "deepest_layer", Text: "deepest layer with injury; empty if there is none", Word: func(r result) string { return r.Summary.DeepestLayer }},
	}
}

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
