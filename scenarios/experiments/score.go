package experiments

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Score sums up a part.
type Score struct {
	Part        Part
	Experiments int
	Inside      int     // within twice the combined spread
	Resolved    int     // numerical error below a third of the measured spread
	RMS         float64 // of the residuals; an experiment counts once
	Sources     int
}

// Scores returns the score of each part, fit first.
func Scores(all []Result) []Score {
	var scores []Score
	for _, part := range []Part{Fit, Apart} {
		s, sum := Score{Part: part}, 0.0
		var sources []string
		for _, r := range all {
			if r.Part != part {
				continue
			}
			s.Experiments++
			if r.Inside() {
				s.Inside++
			}
			if r.Resolved() {
				s.Resolved++
			}
			sum += r.RMS() * r.RMS()
			if !slices.Contains(sources, r.Source) {
				sources = append(sources, r.Source)
			}
		}
		if s.Experiments == 0 {
			continue
		}
		s.RMS, s.Sources = math.Sqrt(sum/float64(s.Experiments)), len(sources)
		scores = append(scores, s)
	}
	return scores
}

// String says a score in a sentence.
func (s Score) String() string {
	return fmt.Sprintf("part %q: %d of %d experiments (%d sources) within twice the combined spread, root mean square of the residuals %.2f; numerical error below a third of the measured spread in %d",
		s.Part, s.Inside, s.Experiments, s.Sources, s.RMS, s.Resolved)
}

// Text renders results as a table of fixed columns with the scores below it.
func Text(all []Result) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-6s %-44s %16s %22s %-4s %8s\n", "part", "experiment, row", "measured", "ours", "unit", "residual")
	for _, r := range all {
		for _, x := range r.Rows {
			mark := ""
			if x.NumericalSD > x.SD/3 {
				mark = " *"
			}
			fmt.Fprintf(&b, "%-6s %-44s %16s %22s %-4s %8.1f%s\n", r.Part, r.ID+", "+x.ID,
				short(x.Mean, 3)+" +- "+short(x.SD, 2), short(x.Ours, 3)+" +- "+short(x.InputSD, 2)+" +- "+short(x.NumericalSD, 2), x.Unit, x.Residual, mark)
		}
	}
	b.WriteString("\nOurs: mean, spread by the inputs that the source leaves open, numerical error. Residual: difference over\nthe root of the summed squares of the three spreads. *: numerical error above a third of the measured spread.\n\n")
	for _, s := range Scores(all) {
		b.WriteString(s.String() + ".\n")
	}
	b.WriteString("\nOurs less measured by kind, each experiment counted once:\n")
	for _, kind := range Kinds {
		own, _ := Place{Kind: kind}.Regime(all)
		for _, x := range Biases(own) {
			fmt.Fprintf(&b, "%-8s %s\n", kind, x)
		}
	}
	return b.String()
}
