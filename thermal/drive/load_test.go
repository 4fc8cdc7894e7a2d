package drive

import (
	"math"
	"testing"
)

// The load line of a source of 400 V RMS behind 500 ohm,
//
//	P = U0^2 R/(R + Ri)^2
//
// at the test loads of makers' curves (IEC 60601-2-2; the loads from memory).
var behind500 = []Load{{100, 400. / 9}, {200, 65.306122448979592}, {300, 75}, {500, 80}, {1000, 640. / 9}, {2000, 51.2}}

// Given points are met, and between them the line keeps to the logarithms: with a
// curvature of at most 1/2 there it is off by less than ln(R2/R1)^2/16.
func TestLoadLineOfASource(t *testing.T) {
	for _, l := range behind500 {
		if got := mostW(behind500, l.ResistanceOhm); math.Abs(got-l.PowerW) > 1e-12*l.PowerW {
			t.Errorf("%g ohm: %g W, want %g W", l.ResistanceOhm, got, l.PowerW)
		}
	}
	for i, b := range behind500[1:] {
		a := behind500[i]
		h := math.Log(b.ResistanceOhm / a.ResistanceOhm)
		for x := 0.05; x < 1; x += 0.05 {
			ohm := a.ResistanceOhm * math.Exp(x*h)
			want := 400. * 400 * ohm / ((ohm + 500) * (ohm + 500))
			if got := mostW(behind500, ohm); math.Abs(got/want-1) > h*h/16 {
				t.Errorf("%g ohm: %g W, want %g W", ohm, got, want)
			}
		}
	}
}

// A source of constant current, power or voltage needs only two points; beyond the
// ends the current and the voltage stay.
func TestLoadLineEnds(t *testing.T) {
	for _, c := range []struct {
		name string
		line []Load
		ohm  float64
		want float64
	}{
		{"constant current", []Load{{100, 25}, {1000, 250}}, 300, 75}, // 0.5 A
		{"constant power", []Load{{100, 40}, {1000, 40}}, 300, 40},
		{"constant voltage", []Load{{100, 400}, {1000, 40}}, 250, 160}, // 200 V
		{"below the first point", behind500, 10, 40. / 9},              // 0.667 A
		{"above the last point", behind500, 20000, 5.12},               // 320 V
		{"one point, below", []Load{{500, 80}}, 50, 8},
		{"one point", []Load{{500, 80}}, 500, 80},
		{"one point, above", []Load{{500, 80}}, 5000, 8},
	} {
		if got := mostW(c.line, c.ohm); math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("%s: %g W, want %g W", c.name, got, c.want)
		}
	}
}
