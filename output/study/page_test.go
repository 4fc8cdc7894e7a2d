package study

import (
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
)

// Every figure of a sweep fits every page.
func TestPages(t *testing.T) {
	for name, m := range madeUps {
		table := m.read(t)
		if len(SweepFigures(chart.ForDocument, table)) > 0 {
			fixture.OnPages(t, name, func(page chart.Page) []chart.Figure { return SweepFigures(page, table) })
		}
	}
}
