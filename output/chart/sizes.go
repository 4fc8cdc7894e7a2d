package chart

import (
	"math"
	"regexp"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
)

const WallWidth = 170 * MM

const MarginLeft = 17 * MM

const AxisHeight = 12.5 * MM

// Within returns those of v between lo and hi.
func Within(v []float64, lo, hi float64) []float64 {
	var out []float64
	for _, x := range v {
		if lo <= x && x <= hi {
			out = append(out, x)
		}
	}
	return out
}

// Wrapped breaks words and compounds into lines no wider than w, but not between a number and what follows it where
// that is possible. What is wider than a line by itself is broken between letters: nothing is cut off.
func Wrapped(s text.Style, w vg.Length, txt string) []string {
	var lines []string
	line := ""
	add := func(part string) {
		if line != "" && s.Width(strings.TrimSpace(line+part)) > w {
			lines, line = append(lines, strings.TrimSpace(line)), ""
		}
		line += part
	}
	marked := compound.ReplaceAllString(breakable.ReplaceAllString(txt, "$1 \x00"), "$1\x00$2")
	for part := range strings.SplitSeq(marked, "\x00") {
		if s.Width(strings.TrimSpace(part)) <= w {
			add(part)
			continue
		}
		for _, letter := range part {
			add(string(letter))
		}
	}
	return append(lines, strings.TrimSpace(line))
}

// breakable is where a line may end: a space that no digit stands before.
var breakable = regexp.MustCompile(`(^|[^0-9]) `)

// compound is where a line may end within a word, behind a hyphen.
var compound = regexp.MustCompile(`([\pL0-9]-)([\pL0-9])`)

// Roomy leaves out ticks whose numbers would touch those before.
func Roomy(p *Panel, at []float64, number func(float64) string) []float64 {
	s := TextStyle(p.Page.Word, Ink, text.XCenter, text.YTop)
	var out []float64
	end := vg.Length(math.Inf(-1))
	for _, v := range at {
		if half := s.Width(number(v)) / 2; p.Px(v)-half > end+1.2*MM {
			out, end = append(out, v), p.Px(v)+half
		}
	}
	return out
}
