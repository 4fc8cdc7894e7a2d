package study

import (
	"strings"
	"testing"

	"muralheat/output/record"
)

// Lines of the numerical error (0.06 mm at standard, wet) are drawn where those of curves lie apart; else a sentence says how long
// they are.
func TestErrorLinesThatHideOneAnother(t *testing.T) {
	const drawnThere, instead = "Upright lines: the numerical error", "The numerical error of the margin to the muscle is ±0.06 mm; its lines would hide one another"
	for gap, want := range map[float64]string{0.13: drawnThere, 0.11: instead} {
		of := madeUp{title: "Two speeds, invented", inputs: []sweepInput{powerIn, speedIn}, points: every(power4, numbered(1, 2))}.read(t)
		for r := range of.Point {
			of.Column[record.MarginColumn][r] = 0.5 + gap*float64(r%2)
		}
		svg := drawn(t, of, "margin")
		for _, says := range []string{drawnThere, instead} {
			if strings.Contains(svg, says) != (says == want) {
				t.Errorf("curves %g mm apart: %q said: %v", gap, says, says != want)
			}
		}
	}
}

// The axis has room for the lines of the error.
func TestAxisHoldsErrorLines(t *testing.T) {
	p := plotted{quantity: marginOf(), places: [][][]place{{{{x: 1, stats: stats{mid: 1, low: 1, high: 1, n: 1}, error: 0.4}}}}}
	if _, top := p.axis(); top < 1.4 {
		t.Errorf("the axis ends at %g mm, the line at 1.4 mm", top)
	}
	p = plotted{quantity: riskOf(), places: [][][]place{{{{x: 1, stats: stats{mid: 3, low: 1, high: 12, n: 60}, left: [2]float64{2, 40}}}}}}
	if _, top := p.axis(); top < 40 {
		t.Errorf("the axis ends at %g %%, the thick line at 40 %%", top)
	}
}

// Intervals of 3 curves have room beside one another at 4 powers, not at 60.
func TestIntervalsWithoutRoom(t *testing.T) {
	const drawnThere, instead = "lines: 95 % interval for that number of draws", "would hide one another and are not drawn; from end to end they are"
	for n, want := range map[int]string{4: drawnThere, 60: instead} {
		of := madeUp{title: "Powers, invented", inputs: []sweepInput{powerIn, speedIn, contactIn}, points: every(between(20, 90, n, false), numbered(0.5, 1, 2)), draws: 12}.read(t)
		svg := drawn(t, of, "risk")
		for _, says := range []string{drawnThere, instead} {
			if strings.Contains(svg, says) != (says == want) {
				t.Errorf("%d powers: %q said: %v", n, says, says != want)
			}
		}
	}
}
