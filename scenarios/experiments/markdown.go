package experiments

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Markdown renders results for the guide: the scores, a table of the values of each part, the sources, and
// what each scenario cannot do.
func Markdown(all []Result) string {
	var b strings.Builder
	for _, s := range Scores(all) {
		fmt.Fprintf(&b, "- %s%s.\n", strings.ToUpper(s.String()[:1]), s.String()[1:])
	}
	var sources []string
	number := func(r Result) int {
		text := r.Source + " (" + r.Read + ")"
		n := slices.Index(sources, text)
		if n < 0 {
			n = len(sources)
			sources = append(sources, text)
		}
		return n + 1
	}
	for _, part := range []Part{Fit, Apart} {
		fmt.Fprintf(&b, "\nPart %q:\n\n| experiment | measured | published | ours | unit | residual | source |\n| --- | --- | --- | --- | --- | --- | --- |\n", part)
		for _, r := range all {
			if r.Part != part {
				continue
			}
			for _, x := range r.Rows {
				coarse := ""
				if x.NumericalSD > x.SD/3 {
					coarse = " *"
				}
				fmt.Fprintf(&b, "| `%s` | %s | %s +- %s | %s +- %s | %s | %.1f%s | %d |\n", r.ID, x.Measured, short(x.Mean, 3), short(x.SD, 2),
					short(x.Ours, 3), short(math.Hypot(x.InputSD, x.NumericalSD), 2), x.Unit, x.Residual, coarse, number(r))
			}
		}
	}
	b.WriteString("\n\\*: numerical error above a third of the measured spread.\n\nSources:\n\n")
	for i, s := range sources {
		fmt.Fprintf(&b, "%d. %s.\n", i+1, s)
	}
	b.WriteString("\nWhat a scenario cannot do, and why it may miss:\n\n")
	for _, r := range all {
		mark := ""
		if !r.Inside() {
			mark = ", missed"
		}
		fmt.Fprintf(&b, "- `%s`%s: %s.\n", r.ID, mark, r.Remark)
	}
	return b.String()
}

// short writes a number with so many significant digits and no exponent.
func short(v float64, digits int) string {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64) // a number that was just written
	return strconv.FormatFloat(v, 'f', -1, 64)
}
