package brackets

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Markdown renders brackets as a table of two digits, the sources it counts, and why the
// missed ones may be missed.
func Markdown(brackets []Bracket) string {
	var sources, whys []string
	missed := map[string][]string{} // by why
	inside := 0
	var s strings.Builder
	s.WriteString("| measured | published | ours | unit | set, J | absorbed | inside | source |\n")
	s.WriteString("| --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for _, b := range brackets {
		n := slices.Index(sources, b.Source)
		if n < 0 {
			n = len(sources)
			sources = append(sources, b.Source)
		}
		verdict := "yes"
		if b.Inside {
			inside++
		} else {
			verdict = "missed"
			if !slices.Contains(whys, b.Why) {
				whys = append(whys, b.Why)
			}
			missed[b.Why] = append(missed[b.Why], "`"+b.ID+"`")
		}
		share := "-"
		if !math.IsNaN(b.Share) {
			share = two(100*b.Share) + " %"
		}
		fmt.Fprintf(&s, "| %s | %s to %s | %s | %s | %s | %s | %s | %d |\n",
			b.Measured, two(b.Low), two(b.High), two(b.Ours), b.Unit, two(b.SetJ), share, verdict, n+1)
	}
	fmt.Fprintf(&s, "\n%d of %d inside. Sources:\n\n", inside, len(brackets))
	for i, source := range sources {
		fmt.Fprintf(&s, "%d. %s.\n", i+1, source)
	}
	if len(whys) > 0 {
		s.WriteString("\nMissed, and why it may be:\n\n")
	}
	for _, why := range whys {
		fmt.Fprintf(&s, "- %s: %s.\n", strings.Join(missed[why], ", "), why)
	}
	return s.String()
}

// two returns a number to two digits; "-" if there is none.
func two(v float64) string {
	if math.IsNaN(v) {
		return "-"
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 1, 64), 64) // 9.98 is 10
	if rounded == 0 {
		return "0"
	}
	return strconv.FormatFloat(rounded, 'f', max(0, 1-int(math.Floor(math.Log10(math.Abs(rounded))))), 64)
}
