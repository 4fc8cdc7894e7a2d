package study

import (
	"testing"

	"muralheat/output/record"
)

// Every quantity of a sweep's figures reads the column that its name promises. The names of the
// columns, which are those of the table, are written here once more, by hand.
func TestQuantitiesReadTheirColumns(t *testing.T) {
	table := &SweepTable{Column: map[string][]float64{}}
	for i, name := range shownColumns() {
		table.Column[name] = []float64{float64(i)}
	}
	for _, tt := range []struct {
		q      quantity
		column string
	}{
		{depthOf(table), "injury_depth_mm"},
		{marginOf(), "margin_to_muscle_mm"},
		{shareOf(), "muscle_injured_percent"},
		{riskOf(), "margin_to_muscle_mm"},
		{riseOf(), "mean_rise_1cm2_K"},
		{cutTimeOf(), "cut_through_s"},
	} {
		if tt.q.column != tt.column {
			t.Errorf("%s is read from %s, want %s", tt.q.name, tt.q.column, tt.column)
		}
		if _, ok := table.Column[tt.column]; !ok {
			t.Errorf("%s is not among the columns read", tt.column)
		}
	}
	for got, want := range map[string]string{
		speedColumn: "mean_speed_mm_s", besideColumn: "injured_beside_mm2", sustainedColumn: "cut_sustained",
		record.DepthColumn: "injury_depth_mm", record.MarginColumn: "margin_to_muscle_mm", record.RiseColumn: "mean_rise_1cm2_K",
	} {
		if got != want {
			t.Errorf("column %s, want %s", got, want)
		}
	}
}
