package study

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"muralheat/output/phrase"
	"muralheat/output/record"
)

// stronger are the last parts of the keys of the current with which an injury should deepen.
var stronger = []string{"power_W", "burst_power_W", "peak_voltage_V", "current_A", "on_s"}

const (
	leastFallMM      = 0.01 // of depth, less is not seen
	leastFallPercent = 0.5  // of draws
	leastLimited     = 1    // percent of the time, below which the source counts as not limited
)

// driedFall says in a line where a depth or a probability falls as power, time or voltage rises because the
// contact had dried in those cases, or a limit held the source; "" if none does. Of several falls
// the largest is named.
func (s *SweepShape) driedFall(quantities []quantity, facets []*facet) string {
	most, line := 0.0, ""
	for _, q := range quantities {
		least := leastFallMM
		switch {
		case q.whisker:
			least = leastFallPercent
		case q.column != record.DepthColumn:
			continue
		}
		for _, f := range facets {
			if !f.joined || !s.strengthens(f.x) {
				continue
			}
			for n := range f.curves() {
				before, at := math.NaN(), 0
				for l, rows := range f.split(n) {
					here := q.of(s.values(q.column, rows), s.missing(rows))
					if here.n == 0 {
						continue
					}
					why := s.whyLess(rows)
					if fall := before - here.mid; fall > least && fall/least > most && why != "" {
						most = fall / least
						line = fmt.Sprintf("%s falls as %s rises, most from %s to %s: %s.", phrase.Capital(cmp.Or(q.falls, q.name)), f.x.title, f.x.names[at], f.x.names[l], why)
					}
					before, at = here.mid, l
				}
			}
		}
	}
	return line
}

// strengthens reports whether more of a factor is more power, time or voltage.
func (t *SweepTable) strengthens(f *factor) bool {
	if f.input < 0 || f.words {
		return false
	}
	parts := strings.Split(t.Inputs[f.input].Key, ".")
	return parts[0] == "current" && slices.Contains(stronger, parts[len(parts)-1])
}

// whyLess says what held most of the cases in rows: a contact that dried, or a limit of the source; ""
// if neither did.
func (t *SweepTable) whyLess(rows []int) string {
	count := func(column string, holds func(float64) bool) bool {
		n := 0
		if t.Column[column] != nil {
			for _, v := range t.values(column, rows) {
				if holds(v) {
					n++
				}
			}
		}
		return 2*n > len(rows)
	}
	dried := count(dryColumn, func(v float64) bool { return !math.IsNaN(v) })
	limited := count(limitedColumn, func(v float64) bool { return v > leastLimited })
	switch {
	case dried && limited:
		return "contact dried (dry_out_s) and source limited (limited_percent) there"
	case dried:
		return "the contact had dried in those cases (dry_out_s), which ends its own current"
	case limited:
		return "the source was limited in those cases (limited_percent)"
	}
	return ""
}
