package study

import (
	"slices"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/record"
)

// drawn returns a figure of a sweep as SVG; "" if there is none of that name.
func drawn(t *testing.T, table *SweepTable, name string) string {
	t.Helper()
	figs := SweepFigures(chart.ForDocument, table)
	i := slices.IndexFunc(figs, func(f chart.Figure) bool { return f.Name == name })
	if i < 0 {
		return ""
	}
	b, err := chart.Svg(figs[i])
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// What is nought everywhere is a sentence, in no panel; where it is so at some sites there are words in place of their panels.
func TestNoughtIsASentence(t *testing.T) {
	const axis, everywhere, there = "muscle injured (%)", "thickness is 0 % in every case.", "thickness is 0 %."
	of := madeUps["sites"].read(t)
	if svg := drawn(t, of, "margin"); strings.Contains(svg, axis) || !strings.Contains(svg, everywhere) {
		t.Error("a share that is nought everywhere is drawn, or not told")
	}
	of.Column[shareColumn][2] = 3
	if svg := drawn(t, of, "margin"); !strings.Contains(svg, axis) || strings.Contains(svg, everywhere) {
		t.Error("a share that is not nought everywhere is not drawn")
	}
	draws := madeUps["draws-only"].read(t)
	draws.Column[shareColumn][7] = 2.5
	if svg := drawn(t, draws, "margin"); strings.Contains(svg, axis) || !strings.Contains(svg, "in 95 of 100 cases; the most of any case is 2.5 %.") {
		t.Error("one case of 200 is not told where the rest is nought")
	}
	mixed := madeUp{title: "Seven sites, invented", inputs: []sweepInput{siteIn, powerIn}, points: every([]string{"a", "b", "c", "d", "e", "f", "g"}, power4),
		top: func(values []string) float64 { return map[bool]float64{true: 0.5, false: 5}[values[0] == "b"] }}.read(t)
	if svg := drawn(t, mixed, "margin"); strings.Count(svg, axis) != 1 || strings.Count(svg, there) != 6 {
		t.Errorf("of 7 panels 1 is not nought: %d axes, words in place of %d panels", strings.Count(svg, axis), strings.Count(svg, there))
	}
}

// A probability that is nought everywhere is a sentence with its bound: 0 of 200 draws leave 1.83 % (exact, one side of 95 %).
func TestNeverReachedIsASentence(t *testing.T) {
	of := madeUps["draws-only"].read(t)
	const says = "reaches the muscle in none of the draws: at each place at most 1.83 %"
	if drawn(t, of, "risk") != "" || !strings.Contains(drawn(t, of, "margin"), says) {
		t.Error("a probability that is nought everywhere is drawn, or not told")
	}
	of.Column[record.MarginColumn][3] = 0.05 // within its numerical error, 0.06 mm
	if drawn(t, of, "risk") == "" || strings.Contains(drawn(t, of, "margin"), says) {
		t.Error("the numerical error may bring a draw to the other side: not drawn")
	}
}
