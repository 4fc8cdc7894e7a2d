package letters

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
)

// Letters that no face has, or that are joined or run from right to left, are named, each once.
func TestMissing(t *testing.T) {
	for txt, want := range map[string]string{
		"plain, Ωж ½ ≤ °C²": "", "漢字 かな カナ 한국어 简体": "", "Ա გ": "", "two\nlines": "",
		"שלום": "שלום", "مرم": "مر", "हिन्दी": "हिन्दी", "ไทย": "ไทย", "a\U0001FAE0": "\U0001FAE0",
	} {
		if got := Missing(txt); got != want {
			t.Errorf("%q lacks %q, want %q", txt, got, want)
		}
	}
}

// Widths are those of the faces: Liberation Sans has the widths of its advance table over 2048, and draws V nearer to A.
func TestWidth(t *testing.T) {
	for txt, want := range map[string]float64{"": 0, "m": 1706. / 2048, "mm": 2 * 1706. / 2048, "漢": 1, "AV": (1366 + 1366 - 152) / 2048.} {
		if got := float64(Width(10, txt)) / 10; math.Abs(got-want) > 1e-3 {
			t.Errorf("%q is %g wide, want %g", txt, got, want)
		}
	}
}

// An outline lies where the letter is: of a dot low and near its start, of nothing nowhere.
func TestOutlines(t *testing.T) {
	if got := Outlines(10, vg.Point{}, " "); len(got) != 0 {
		t.Errorf("a space has %d outlines", len(got))
	}
	paths := Outlines(10, vg.Point{X: 100, Y: 50}, "m.漢")
	if len(paths) != 3 {
		t.Fatalf("%d outlines", len(paths))
	}
	from := 100 + Width(10, "m")
	for _, c := range paths[1] {
		if p := c.Pos; c.Type != vg.CloseComp && (p.X < from || p.X > from+Width(10, ".") || p.Y < 50 || p.Y > 52) {
			t.Errorf("the dot is at %v", p)
		}
	}
}
