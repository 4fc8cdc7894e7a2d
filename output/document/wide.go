package document

import (
	"strings"
	"unicode"
)

// Widths in print, in points: page.html has them as A4 less its margins, text of tables, space beside a cell, and the
// least of the first column.
const (
	printWidth = 515
	printText  = 8
	cellSpace  = 6
	firstLeast = 8.5 * printText
)

// Wide reports whether a table does not fit on a printed page: its words, broken wherever they may be, take more than
// there is. A browser would then print the whole document smaller.
func (t Table) Wide() bool {
	least := make([]float64, len(t.Head))
	for r, row := range append([][]string{t.Head}, t.Rows...) {
		for n, cell := range row {
			least[n] = max(least[n], cellSpace+printText*longestPart(cell))
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

// longestPart returns how wide the longest part of a text is that stays on one line, as breaks and browsers break it, over
// the size of the text.
func longestPart(s string) (most float64) {
	for _, w := range strings.Fields(Clean(s)) {
		if len(w) > longWord {
			w = parts.ReplaceAllString(w, "$0 ")
		}
		for _, p := range strings.Fields(strings.ReplaceAll(w, "-", "- ")) {
			width := 0.0
			for _, r := range p {
				width += letterWidth(r)
			}
			most = max(most, width)
		}
	}
	return most
}

// letterWidth returns the width of a letter over its size; assumption: of common sans serifs, bold as heads are.
func letterWidth(r rune) float64 {
	switch {
	case strings.ContainsRune("ijlftrI.,:;'|!()[]/ -", r):
		return 0.36
	case strings.ContainsRune("mwMW%@", r):
		return 0.95
	case r > unicode.MaxLatin1:
		return 1
	case unicode.IsUpper(r):
		return 0.8
	}
	return 0.62
}
