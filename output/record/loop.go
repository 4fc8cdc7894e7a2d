package record

import (
	"math"
	"strings"

	"muralheat/output/phrase"
	"muralheat/thermal"
)

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
