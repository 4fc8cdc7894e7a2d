package study

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"muralheat/output/chart"
)

// word is text on a page, where it begins, and whether it is turned.
type word struct {
	text   string
	at     vg.Point
	turned bool
}

// words returns the text that is drawn, in its order.
func words(w, h vg.Length, paint func(draw.Canvas)) (all []word) {
	var page recorder.Canvas
	paint(draw.NewCanvas(&page, w, h))
	turned := false
	for _, a := range page.Actions {
		switch a := a.(type) {
		case *recorder.Rotate:
			turned = math.Abs(a.Angle-math.Pi/2) < 1e-9
		case *recorder.Pop:
			turned = false
		case *recorder.FillString:
			all = append(all, word{a.String, a.Point, turned})
		}
	}
	return all
}

// placed returns the point at which a word was asked for in a style.
func placed(s text.Style, w word) vg.Point {
	return w.at.Sub(words(0, 0, func(c draw.Canvas) { c.FillText(s, vg.Point{}, w.text) })[0].at)
}

// The figure of a cut has the speed of the needle to the right and the injury beside it upwards: each point
// stands where the numbers of the axes say, and each axis is named by what it shows.
func TestCutOnThePage(t *testing.T) {
	s := madeUp{title: "Speed alone, invented", inputs: []sweepInput{speedIn}, points: every(numbered(0.5, 1, 1.5, 2)), cut: true}.shape(t)
	f := s.cutFigures()[0]
	all := words(f.W, f.H, f.Draw)

	lowest := vg.Length(math.Inf(1)) // of the numbers: those of the axis below
	for _, w := range all {
		if _, err := strconv.ParseFloat(w.text, 64); err == nil {
			lowest = min(lowest, w.at.Y)
		}
	}
	type tick struct {
		value float64
		at    vg.Length
	}
	var right, up []tick
	for _, w := range all {
		v, err := strconv.ParseFloat(w.text, 64)
		switch {
		case err != nil:
		case w.at.Y == lowest:
			right = append(right, tick{v, placed(chart.TextStyle(chart.ForDocument.Word, chart.Ink, text.XCenter, text.YTop), w).X})
		default:
			up = append(up, tick{v, placed(chart.TextStyle(chart.ForDocument.Word, chart.Ink, text.XRight, text.YCenter), w).Y})
		}
	}
	if len(right) < 3 || len(up) < 3 {
		t.Fatalf("numbers of the axes: %v, %v", right, up)
	}
	reads := func(axis []tick, at vg.Length) float64 {
		a, b := axis[0], axis[len(axis)-1]
		return a.value + (b.value-a.value)*float64((at-a.at)/(b.at-a.at))
	}
	for most, axis := range map[float64][]tick{2: right, 0.9*math.Pow(0.75*math.Pow(0.5, -0.3), 2) + 0.2: up} { // of the points
		if first, last := axis[0].value, axis[len(axis)-1].value; first != 0 || last < 0.8*most || last > 1.12*most {
			t.Errorf("an axis from %g to %g, the points reach %g", first, last, most)
		}
		for _, k := range axis {
			if got := reads(axis, k.at); math.Abs(got-k.value) > 1e-9 {
				t.Errorf("%g stands at %g", k.value, got)
			}
		}
	}

	for _, speed := range []float64{0.5, 1, 1.5, 2} {
		i := slices.IndexFunc(all, func(w word) bool { return w.text == strconv.FormatFloat(speed, 'g', -1, 64)+" mm/s" })
		if i < 0 {
			t.Fatalf("the point of %g mm/s is not named", speed)
		}
		at := placed(chart.TextStyle(chart.ForDocument.Note, chart.Ink, text.XLeft, text.YBottom), all[i])
		at = at.Sub(vg.Point{X: 1.2 * chart.MM, Y: 0.8 * chart.MM}) // the name stands beside it
		depth := 0.75 * math.Pow(speed, -0.3)                       // as the sweep is made up
		if x, y, beside := reads(right, at.X), reads(up, at.Y), 0.9*depth*depth+0.2; math.Abs(x-speed) > 1e-9 || math.Abs(y-beside) > 1e-9 {
			t.Errorf("%g mm/s with %g mm2 beside stands at %g, %g", speed, beside, x, y)
		}
	}
	for label, turned := range map[string]bool{"speed of the needle (mm/s)": false, "injury left beside the cut (mm²)": true} {
		i := slices.IndexFunc(all, func(w word) bool { return strings.Contains(w.text, label) })
		if i < 0 || all[i].turned != turned {
			t.Errorf("no axis %q, turned %v", label, turned)
		}
	}
}

// The name of a point stands within the page, left of the point where there is no room at its right.
func TestNamesOfCutsStayOnThePage(t *testing.T) {
	s := madeUp{title: "Named, invented", inputs: []sweepInput{speedIn}, names: []string{"slow-and-with-a-long-name", "fast-and-with-a-long-name"}, points: every(numbered(0.5, 2)), cut: true}.shape(t)
	f := s.cutFigures()[0]
	style := chart.TextStyle(chart.ForDocument.Note, chart.Ink, text.XLeft, text.YBottom)
	all := words(f.W, f.H, f.Draw)
	if !slices.ContainsFunc(all, func(w word) bool { return strings.HasPrefix(w.text, "fast-and") }) {
		t.Error("the faster point has no name")
	}
	for _, w := range all {
		if !w.turned && w.at.X+style.Width(w.text) > f.W {
			t.Errorf("%q ends at %.0f of %.0f points", w.text, w.at.X+style.Width(w.text), f.W)
		}
	}
}
