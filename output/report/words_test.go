package report

import (
	"strings"
	"testing"

	"muralheat/output/record"
	"muralheat/thermal"
)

// What is said of errors and limits is said of the scene that was computed.
func TestWordsOfEachScene(t *testing.T) {
	for name, c := range map[string]struct {
		tip           thermal.Tip
		quality       string
		says, saysNot []string
	}{
		"disc": {thermal.Disc, "standard", []string{"guide accuracy", "gut wall"}, []string{"loop", "pad", "draft"}},
		"loop": {thermal.Loop, "draft", []string{"guide wire-loop", "does not converge", "Whether a pulled loop gets through", "quality draft: its error is larger"}, []string{"guide accuracy", "pads"}},
		"pad":  {thermal.Pad, "standard", []string{"guide neutral-electrode", "not a half-space", "cannot replace"}, []string{"gut wall", "guide accuracy", "injected", "loop"}},
	} {
		var k thermal.Case
		k.Electrode.Tip, k.Numerics.Quality, k.Physics.Boiling = c.tip, c.quality, true
		text := elsewhere(&k) + strings.Join(limits(&k), "\n")
		for _, want := range c.says {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q", name, want)
			}
		}
		for _, bad := range c.saysNot {
			if strings.Contains(text, bad) {
				t.Errorf("%s: has %q", name, bad)
			}
		}
	}
	pad := thermal.Case{Electrode: thermal.Electrode{Tip: thermal.Pad}}
	if got := answerTold(&pad, record.Manifest{Summary: []record.Quoted{{Name: record.DepthColumn, Value: 0.0, Unit: "mm"}, {Name: record.RiseColumn, Value: 9.97, Unit: "K"}}}); got != "Mean rise over 1 cm2 9.97 K." {
		t.Errorf("a pad is judged by its rise: %q", got)
	}
	for v, want := range map[float64]string{1063: "1060", 100: "100", 0.53: "0.53", 4.964: "4.96", 67.2: "67.2"} {
		if got := plain(v); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
}

func TestDigits(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.891676: "0.8917", -0.041676: "-0.04168", 12892.8: "12893", 2.257e6: "2.257e+06", 100: "100", 1e-9: "1e-09", 0.1: "0.1"} {
		if got := digits(v); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
}
