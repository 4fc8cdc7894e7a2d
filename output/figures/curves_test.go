package figures

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/thermal"
)

// Every quantity of a made-up run goes up and down in a way of its own, so that the shape of a curve
// on the page says which it is. The figure must draw power, resistance and depth, and of a pad the
// mean rise; never voltage or current.
func TestTimeCourseDrawsWhatItNames(t *testing.T) {
	shapes := map[string][]float64{
		"power": {3, 1, 4, 2, 9, 5, 6, 0}, "voltage": {2, 7, 1, 8, 0, 8, 3, 9}, "current": {9, 1, 8, 2, 7, 3, 6, 0},
		"resistance": {0, 5, 7, 7, 2, 1, 9, 4}, "depth": {0, 1, 1, 2, 4, 7, 8, 9}, "mean rise": {0, 2, 3, 5, 6, 9, 7, 4},
	}
	history := func() (h []thermal.Sample) {
		for n := range shapes["power"] {
			v := func(name string) float64 { return shapes[name][n] }
			h = append(h, thermal.Sample{TimeS: 0.2 * float64(n), PowerW: 10 + v("power"), VoltageV: 50 + v("voltage"), CurrentA: 0.1 + 0.01*v("current"),
				ResistanceOhm: 400 + v("resistance"), DepthM: 1e-4 * v("depth"), MeanRiseK: v("mean rise"), BorderC: []float64{40, 39, 38, 37, 37, 37}})
		}
		return h
	}
	for _, tt := range []struct {
		of        string
		r         thermal.Result
		want, not []string
		deep      bool // drawn over the layers of the wall, to their scale
	}{
		{"disc", *fixture.Synthetics["mild"].Result(), []string{"power", "resistance", "depth"}, []string{"voltage", "current", "mean rise"}, true},
		{"pad", pad(), []string{"power", "resistance", "mean rise"}, []string{"voltage", "current"}, false},
	} {
		tt.r.History, tt.r.Summary.SparkShare = history(), 0
		f := timeFigures(chart.ForDocument, &tt.r)[0]
		var rec recorder.Canvas
		f.Draw(draw.NewCanvas(&rec, f.W, f.H))
		drawn := curvesOf(rec.Actions, len(shapes["power"]))
		for _, name := range tt.want {
			if !has(drawn, shapes[name]) {
				t.Errorf("%s: no curve goes as %s", tt.of, name)
			}
		}
		for _, name := range tt.not {
			if has(drawn, shapes[name]) {
				t.Errorf("%s: a curve goes as %s", tt.of, name)
			}
		}
		if high := height(drawn, shapes["depth"]); tt.deep && high < 10*chart.MM {
			t.Errorf("%s: 0.9 mm of a wall of 1.7 mm are %.2g mm of page", tt.of, high/chart.MM)
		}
	}
}

// pad is a made-up result of a neutral electrode.
func pad() thermal.Result {
	r := *fixture.Synthetics["mild"].Result()
	c := *r.Case
	c.Electrode.Tip = thermal.Pad
	r.Case, r.Summary.InjuryDepthM = &c, 0
	return r
}

// curvesOf returns the heights of what was drawn as one line of at least n points.
func curvesOf(actions []recorder.Action, n int) (all [][]float64) {
	for _, a := range actions {
		if s, ok := a.(*recorder.Stroke); ok && len(s.Path) >= n {
			var y []float64
			for _, p := range s.Path {
				if p.Type == vg.MoveComp || p.Type == vg.LineComp {
					y = append(y, float64(p.Pos.Y))
				}
			}
			all = append(all, y)
		}
	}
	return all
}

// has reports whether one of the curves goes up and down as v does.
func has(curves [][]float64, v []float64) bool { return height(curves, v) > 0 }

// height returns how high on the page the curve is that goes up and down as v does, in either
// direction: depth is drawn downwards. 0 if there is none.
func height(curves [][]float64, v []float64) vg.Length {
	want := stretched(v)
	for _, c := range curves {
		if len(c) != len(v) {
			continue
		}
		got, up, down := stretched(c), 0.0, 0.0
		for i := range got {
			up, down = math.Max(up, math.Abs(got[i]-want[i])), math.Max(down, math.Abs(1-got[i]-want[i]))
		}
		if math.Min(up, down) < 1e-6 {
			return vg.Length(slices.Max(c) - slices.Min(c))
		}
	}
	return 0
}

// stretched returns v from 0 to 1.
func stretched(v []float64) []float64 {
	lo, hi := slices.Min(v), slices.Max(v)
	out := make([]float64, len(v))
	for i, x := range v {
		out[i] = (x - lo) / (hi - lo)
	}
	return out
}

// The field of the injury line is ln Omega as far down as that is kept: a cell at exp(-10) must not
// pass for one at exp(-4).
func TestSectionKeepsFaintDamage(t *testing.T) {
	r := fixture.Synthetics["mild"].Result()
	for i := range r.Fields.Omega {
		r.Fields.Omega[i] = math.Exp(-10)
	}
	for _, v := range Across(r, 0).injury().V {
		if math.Abs(v+10) > 1e-9 {
			t.Fatalf("ln Omega %g, want -10", v)
		}
	}
}
