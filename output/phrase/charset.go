package phrase

import (
	"strings"
	"unicode/utf8"
)

// Windows1252 re-encodes s; what the code page lacks becomes a question mark.
func Windows1252(s string) string {
	out := make([]byte, 0, len(s))
	for _, r := range s {
		switch {
		case r < 0x80 || 0xa0 <= r && r <= 0xff:
			out = append(out, byte(r))
		case r != '\uFFFD' && strings.ContainsRune(windows1252High, r):
			out = append(out, byte(0x80+utf8.RuneCountInString(windows1252High[:strings.IndexRune(windows1252High, r)])))
		default:
			out = append(out, '?')
		}
	}
	return string(out)
}

// windows1252High are the characters 0x80 to 0x9f of the code page; five are not
// in use.
const windows1252High = "€\uFFFD‚ƒ„…†‡ˆ‰Š‹Œ\uFFFDŽ\uFFFD\uFFFD‘’“”•–—˜™š›œ\uFFFDžŸ"
