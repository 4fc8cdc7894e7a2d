package figures

import (
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/thermal"
)

// Every figure of a run fits every page, with a title as long as a file may have it too.
func TestPages(t *testing.T) {
	results := map[string]*thermal.Result{"pad-peeled": fixture.Computed(t, "pad-peeled"), "stalk-opposite": fixture.Computed(t, "stalk-opposite"), "stalk-loop": fixture.Computed(t, "stalk-loop")}
	for name, s := range fixture.Synthetics {
		results[name] = s.Result()
	}
	for name, r := range results {
		fixture.OnPages(t, name, func(page chart.Page) []chart.Figure { return Of(page, r) })
		if name != "slot" && name != "stalk-loop" {
			continue
		}
		long := *r
		c := *r.Case
		c.Title = strings.Repeat("long word ", 12)
		long.Case = &c
		fixture.OnPages(t, name+", long title", func(page chart.Page) []chart.Figure { return Of(page, &long) })
	}
}
