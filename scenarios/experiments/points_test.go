package experiments

import (
	"math"
	"testing"
)

// Rows of an experiment become one point of geometric means, whose spread is that of a row; lengths, volumes and
// temperatures share two axes.
func TestPoints(t *testing.T) {
	row := func(unit string, measured, sd, ours, inputs, mesh float64) RowResult {
		r := RowResult{Unit: unit, Ours: ours, InputSD: inputs, NumericalSD: mesh, Residual: 1}
		r.Mean, r.SD = measured, sd
		return r
	}
	e := func(id string, rows ...RowResult) Result {
		return Result{Experiment: Experiment{ID: id, Regime: []string{"cut", "wet"}, Part: Apart}, Rows: rows}
	}
	deep := row("mm", 3, 0.3, 6, 0.6, 0)
	deep.Quantity = "injury_depth"
	points, left := Points([]Result{
		e("two rows", row("mm", 1, 0.1, 2, 0.3, 0.4), row("um", 4000, 400, 8000, 1200, 1600)),
		e("volume", row("mm3", math.Pi/6*8, math.Pi/6*2.4, math.Pi/6*27, 0, 0)),
		e("hot", row("C", 47, 2, 57, 3, 4), row("%", 50, 1, 50, 1, 1)),
		e("deep", deep),
		e("share", row("%", 50, 1, 50, 1, 1)),
	})
	if len(left) != 1 || left[0] != "share" {
		t.Errorf("left out %v", left)
	}
	want := []Point{
		{"two rows", "cut", Width, Apart, 2, 4, 0.2, 1, true},
		{"volume", "cut", Width, Apart, 2, 3, 0.2, 0, true},
		{"hot", "cut", Rise, Apart, 10, 20, 2, 5, true},
		{"deep", "cut", Depth, Apart, 3, 6, 0.3, 0.6, true},
	}
	if len(points) != len(want) {
		t.Fatalf("%d points: %v", len(points), points)
	}
	for i, w := range want {
		got := points[i]
		for _, x := range [][2]float64{{got.Measured, w.Measured}, {got.Ours, w.Ours}, {got.MeasuredSD, w.MeasuredSD}, {got.OursSD, w.OursSD}} {
			if math.Abs(x[0]-x[1]) > 2e-3*math.Max(1, x[1]) {
				t.Errorf("%s: %+v, want %+v", w.Experiment, got, w)
				break
			}
		}
		if got.Experiment != w.Experiment || got.Regime != w.Regime || got.Measure != w.Measure || got.Part != w.Part || got.Inside != w.Inside {
			t.Errorf("%+v, want %+v", got, w)
		}
	}
}
