package record

import (
	"math"
	"strings"

	"muralheat/output/phrase"
	"muralheat/thermal"
)

func init() {
	scenes[thermal.AroundStalk] = scene{
		judged:  DepthColumn,
		columns: func(c *thermal.Case) []Column { return append(injuryColumns(c), loopColumns(c)...) },
		lines: func(b *strings.Builder, r *thermal.Result) {
			injuryLines(b, r)
			loopLines(b, r)
		},
		touched: func(*thermal.Case) []string { return []string{"stalk"} },
	}
}

// loopColumns tell what a loop did to the stalk.
func loopColumns(c *thermal.Case) []Column {
	stalk := func(name, unit, text string, f func(thermal.StalkSummary) float64) Column {
		return num(name, unit, text, func(r result) float64 { return f(r.Summary.Stalk) })
	}
	cols := []Column{
		stalk("cut_through", "", "1 if the ring closed to the axis of the stalk while current flowed, else 0", func(s thermal.StalkSummary) float64 { return Yes(!math.IsNaN(s.CutThroughS)) }),
		stalk("cut_through_s", "s", "time at which the ring had cut through; empty if it did not", func(s thermal.StalkSummary) float64 { return s.CutThroughS }),
		stalk("ring_radius_mm", "mm", "inner radius of the ring at the end", func(s thermal.StalkSummary) float64 { return inMM(s.RingRadiusM) }),
		stalk("cut_parted_percent", "%", "share of the tissue passed by the wire that heat had removed; the rest was torn or dragged; empty if it passed none", func(s thermal.StalkSummary) float64 { return 100 * s.PartedShare }),
		stalk("stalk_peak_C", "C", "highest temperature reached in stalk and head", func(s thermal.StalkSummary) float64 { return s.PeakC }),
		stalk("stalk_base_peak_C", "C", "highest temperature reached at the base of the stalk", func(s thermal.StalkSummary) float64 { return s.BasePeakC }),
		stalk("injured_below_ring_mm", "mm", "greatest injured length of the stalk below the wire", func(s thermal.StalkSummary) float64 { return inMM(s.BelowRingM) }),
	}
	if phrase.Touches(c) {
		cols = append(cols,
			stalk("leak_percent", "%", "share of the charge that flowed through the head into the opposite wall", func(s thermal.StalkSummary) float64 { return 100 * s.LeakShare }),
			stalk("opposite_peak_C", "C", "highest temperature reached in the opposite wall", func(s thermal.StalkSummary) float64 { return s.OppositePeakC }))
	}
	return cols
}

// loopLines answers what a loop is asked.
func loopLines(b *strings.Builder, r *thermal.Result) {
	s, row := r.Summary.Stalk, rowsOf(b)
	if !math.IsNaN(s.PartedShare) {
		row("what the wire met", "%.0f %% had boiled dry before it came, the rest was torn", math.Floor(100*s.PartedShare))
	}
	row("stalk", "hottest %.0f °C, %.1f °C at its base; injured %.1f mm below the wire", s.PeakC, s.BasePeakC, 1e3*s.BelowRingM)
	if phrase.Touches(r.Case) {
		row("opposite wall", "%.1f %% of the charge left there, hottest %.1f °C", 100*s.LeakShare, s.OppositePeakC)
	}
}
