package document

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// Widths in print, in points: page.html has them as A4 less its margins, text of tables, space beside a cell, and the
// least of the first column.
const (
	printWidth = 515
	printText  = 8
	cellSpace  = 6
	firstLeast = 8.5 * printText
)

// letterWidth is the width of a letter over the size of the text; assumption: of a sans serif, long words of it rather less.
const letterWidth = 0.6

// Wide reports whether a table does not fit on a printed page: its words, broken wherever they may be, take more than
// there is. A browser would then print the whole document smaller.
func (t Table) Wide() bool {
	least := make([]float64, len(t.Head))
	for r, row := range append([][]string{t.Head}, t.Rows...) {
		for n, cell := range row {
			least[n] = max(least[n], cellSpace+letterWidth*printText*float64(longestPart(cell)))
			if n == 0 && r > 0 {
				least[n] = max(least[n], firstLeast)
			}
		}
	}
	sum := 0.0
	for _, w := range least {
		sum += w
	}
	return sum > printWidth
}

// longestPart returns how many letters the longest part of a text has that stays on one line, as breaks and browsers
// break it.
func longestPart(s string) (most int) {
	for _, w := range strings.Fields(Clean(s)) {
		pieces := []string{w}
		if len(w) > longWord {
			pieces = strings.Split(parts.ReplaceAllString(w, "$0 "), " ")
		}
		for _, p := range pieces {
			most = max(most, slices.Max(lengths(strings.Split(p, "-"))))
		}
	}
	return most
}

func lengths(words []string) (n []int) {
	for _, w := range words {
		n = append(n, utf8.RuneCountInString(w)+1) // its hyphen
	}
	return n
}
