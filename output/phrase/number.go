package phrase

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Short prints a setting with three significant digits at most.
func Short(v float64) string {
	p := 0
	if v != 0 && !math.IsNaN(v) && !math.IsInf(v, 0) {
		p = max(0, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	}
	scale := math.Pow(10, float64(p))
	return TickText(math.Round(v*scale) / scale)
}

// ShortTime prints a time below a second in milliseconds.
func ShortTime(s float64) string {
	if s < 1 {
		return Short(1e3*s) + " ms"
	}
	return Short(s) + " s"
}

// At returns the n-th value, not a number where there is none.
func At(v []float64, n int) float64 {
	if n < len(v) {
		return v[n]
	}
	return math.NaN()
}

// TickText returns a number as axes write it, all its digits, with a dash for the minus.
func TickText(v float64) string {
	if v == 0 {
		return "0"
	}
	// A hyphen is too short for a minus and PDF fonts lack the minus.
	return strings.Replace(strconv.FormatFloat(v, 'f', -1, 64), "-", "–", 1)
}

// DistanceText labels both sides of a symmetric axis with the distance.
func DistanceText(v float64) string { return TickText(math.Abs(v)) }

// Capital returns a text with a capital first.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// Finite returns v, or 0 if it is no finite number: a run that failed is drawn too.
func Finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}
