package study

import (
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

func init() {
	ownQuantities = append(ownQuantities, ownQuantity{"rise", riseOf, &outcome{Name: "mean rise over 1 cm2", Column: record.RiseColumn, Unit: "K"}})
}

// riseOf is the rise by which a neutral electrode is judged, with the limit of the standard.
func riseOf() quantity {
	return quantity{
		name: "highest mean rise over 1 cm² of skin", label: "mean rise over 1 cm² (K)", column: record.RiseColumn, of: spread, mid: "median", shade: "5 to 95 %",
		extent: func(_, high float64) (float64, float64) { return 0, max(1.1*high, 1.25*phrase.RiseLimitK) },
		behind: riseLimitBehind,
		note:   "6 K: limit at 0.7 A for 60 s (" + phrase.LimitClause + "); a model is no substitute for that test.",
	}
}

// riseLimitBehind draws the limit of IEC 60601-2-2, which holds for 0.7 A over 60 s.
func riseLimitBehind(p *chart.Panel, _ *facet, _ *layout) []region {
	chart.Stripe(p, chart.MuscleShade, p.Top, phrase.RiseLimitK)
	p.Line(chart.LimitLine, chart.Point{X: p.Left, Y: phrase.RiseLimitK}, chart.Point{X: p.Right, Y: phrase.RiseLimitK})
	s := chart.TextStyle(p.Page.Note, chart.Ink, text.XRight, text.YBottom)
	p.FillText(s, vg.Point{X: p.Max.X - 1.5*chart.MM, Y: p.Py(phrase.RiseLimitK) + 0.8*chart.MM}, "6 K")
	return nil
}
