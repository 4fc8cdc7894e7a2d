package chart

import (
	"image/color"
	"math"
	"strings"
	"testing"

	"muralheat/output/phrase"
)

// The scale must lose lightness evenly: that is what survives grey print.
func TestHeatColoursDarkenEvenly(t *testing.T) {
	last, first := 0.0, 0.0
	for n := range 64 {
		c := HeatColour(37+63*float64(n)/63, 37)
		l := lightness(c)
		switch {
		case n == 0:
			first = l
		case n == 1:
			fallthrough
		default:
			if step := last - l; step < 0.8 || step > 2.2 {
				t.Errorf("step %d: lightness falls by %.2f", n, step)
			}
		}
		last = l
	}
	if first-last < 80 {
		t.Errorf("lightness spans only %.0f", first-last)
	}
	if HeatColour(math.NaN(), 37) != Paper {
		t.Error("not a number has a colour")
	}
}

// lightness is CIE 1976 L* of an sRGB colour (IEC 61966-2-1, CIE 15).
func lightness(c color.NRGBA) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	y := 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
	if y <= 216.0/24389 {
		return y * 24389 / 27
	}
	return 116*math.Cbrt(y) - 16
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		n      int
		want   string
	}{
		{0, 1, 5, "0 0.2 0.4 0.6 0.8 1"},
		{-0.31, 0.31, 7, "–0.3 –0.2 –0.1 0 0.1 0.2 0.3"},
		{37, 110, 7, "40 60 80 100"},
		{0, 12500, 4, "0 5000 10000"},
		{5, 5, 4, ""},
		{0.6, 1.4, 2, "0.6 0.8 1 1.2 1.4"}, // by halves there would be 1 alone
		{0, 1.9, 1, "0 1"},
	} {
		var got []string
		for _, v := range Ticks(c.lo, c.hi, c.n) {
			got = append(got, phrase.TickText(v))
		}
		if g := strings.Join(got, " "); g != c.want {
			t.Errorf("%g to %g: %s, want %s", c.lo, c.hi, g, c.want)
		}
	}
}

// A title that is too long for the page goes on in another line, and the head is higher by it.
func TestTitlesWrap(t *testing.T) {
	long := strings.TrimSpace(strings.Repeat("a word of 3 mm ", 8))
	one, two := ForDocument.Head("Short"), ForDocument.Head(long)
	if len(one.title) != 1 || len(two.title) != 2 || strings.Join(two.title, " ") != long || two.Height()-one.Height() != one.titleLine() {
		t.Errorf("%q, %q", one.title, two.title)
	}
	for _, l := range two.title {
		if strings.HasSuffix(l, "3") || strings.HasPrefix(l, "mm") {
			t.Errorf("a number without its unit: %q", l)
		}
	}
	if ForDocument.Head("").Height() != one.Height() {
		t.Error("no title, another height")
	}
}
