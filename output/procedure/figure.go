package procedure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"muralheat/output/chart"
	"muralheat/output/compare"
	"muralheat/output/phrase"
)

// Figure draws the steps of each procedure from left to right as cross-sections at one scale, the margin to the muscle
// beneath each, the riskiest marked. More steps than fit into a row go on in the next; on a page of given height those
// with the least margins are shown.
func (r *Record) Figure(page chart.Page) chart.Figure {
	list, risky := r.Riskiest()
	var rows [][]compare.Step
	var lines [][]string
	hidden := 0
	for n, l := range r.Procedures {
		var steps []int
		for i, s := range l.Steps {
			if s.Result != nil {
				steps = append(steps, i)
			}
		}
		if page.H > 0 && len(steps) > compare.MostSteps {
			hidden += len(steps) - compare.MostSteps
			steps = l.riskiest(steps, compare.MostSteps)
		}
		lines = append(lines, r.says(n))
		if changes := r.changes(n); len(changes) > 0 && page.H == 0 {
			lines = append(lines, changes)
		}
		for some := range slices.Chunk(steps, perRow(len(steps))) {
			var row []compare.Step
			for _, i := range some {
				row = append(row, r.drawn(n, i, n == list && i == risky))
			}
			rows = append(rows, row)
		}
	}
	if list >= 0 && page.H == 0 {
		s := r.Procedures[list].Steps[risky]
		lines = append(lines, []string{fmt.Sprintf("Triangle and heavy frame: least margin of all steps, %s.", label(list, len(r.Procedures), s))})
	}
	if hidden > 0 {
		lines = append(lines, []string{fmt.Sprintf("%d steps with more margin are in the table only.", hidden)})
	}
	return compare.Steps(page, "procedure", r.Title, lines, rows)
}

// perRow is how many of n cross-sections stand in a row, so that rows are about as long.
func perRow(n int) int {
	rows := max(1, (n+compare.MostSteps-1)/compare.MostSteps)
	return max(1, (n+rows-1)/rows)
}

// riskiest returns the steps with the least margins, in the order of the list.
func (l *List) riskiest(steps []int, most int) []int {
	margin := func(i int) float64 {
		if m := l.Steps[i].Result.Summary.MarginToMuscleM; !math.IsNaN(m) {
			return m
		}
		return math.Inf(1)
	}
	sorted := slices.Clone(steps)
	slices.SortStableFunc(sorted, func(a, b int) int { return cmp.Compare(margin(a), margin(b)) })
	sorted = sorted[:most]
	slices.Sort(sorted)
	return sorted
}

// label is what a figure calls a step.
func label(list, of int, s Step) string {
	if of == 1 {
		return fmt.Sprintf("%d %s", s.Number, s.Title)
	}
	return fmt.Sprintf("%c%d %s", 'A'+list, s.Number, s.Title)
}

// says says in clauses what procedure n comes to.
func (r *Record) says(n int) []string {
	l, t := r.Procedures[n], r.Procedures[n].totals()
	lead := ""
	if len(r.Procedures) > 1 {
		lead = fmt.Sprintf("%c: %s. ", 'A'+n, strings.TrimSuffix(l.Title, "."))
	}
	said := []string{lead + fmt.Sprintf("%d activations, %s s with current, %s J", t.activations, phrase.Short(t.withCurrentS), phrase.Short(t.energyJ))}
	if l.PadResult != nil {
		said = append(said, fmt.Sprintf("neutral electrode +%s K over 1 cm2 at most", phrase.Short(t.padMeanRiseK)))
	}
	return said
}

// changes says in clauses of procedure n what changes the wall.
func (r *Record) changes(n int) (said []string) {
	for _, s := range r.Procedures[n].Steps {
		if s.Wall != "" {
			said = append(said, fmt.Sprintf("from %s on: %s", label(n, len(r.Procedures), s), s.Wall))
		}
	}
	if len(said) > 0 {
		said[0] = "wall " + said[0]
	}
	return said
}

// drawn is step i of procedure n with its words.
func (r *Record) drawn(n, i int, riskiest bool) compare.Step {
	s := r.Procedures[n].Steps[i]
	x := compare.Step{Member: compare.Member{Title: label(n, len(r.Procedures), s), Result: s.Result, Settings: s.Settings}, Marked: riskiest}
	x.Headline = cmp.Or(phrase.MarginWord(s.Result.Summary), phrase.Answer(s.Result))
	if riskiest {
		x.Notes = append(x.Notes, "Least margin")
	}
	if n > 0 {
		if differs := r.Procedures[0].against(s); differs != "" {
			x.Notes = append(x.Notes, differs)
		}
	}
	if s.Reach.Draws > 0 {
		x.Notes = append(x.Notes, fmt.Sprintf("Muscle in %.0f %% of draws (%.0f to %.0f %%)", s.Reach.Percent, s.Reach.Low, s.Reach.High))
	}
	x.Notes = append(x.Notes, phrase.Answer(s.Result))
	given := fmt.Sprintf("%s, %s J", phrase.Delivered(s.Result), phrase.Short(s.Result.Balance.ElectricJ))
	if s.Times > 1 {
		given = fmt.Sprintf("%d times %s", s.Times, given)
	}
	x.Notes = append(x.Notes, given)
	if s.Result.Case.Cuts() {
		x.Notes = append(x.Notes, fmt.Sprintf("%.2f mm beside the kerf", 1e3*phrase.BesideCutM(s.Result.Summary)))
	}
	return x
}

// against says how much deeper a step of another procedure came out than that of the same title here.
func (l *List) against(other Step) string {
	for _, s := range l.Steps {
		if s.Title != other.Title || s.Result == nil {
			continue
		}
		switch d := 1e3 * (other.Result.Summary.InjuryDepthM - s.Result.Summary.InjuryDepthM); {
		case math.IsNaN(d):
			return ""
		case math.Abs(d) < 0.005:
			return "As deep as in A"
		case d > 0:
			return fmt.Sprintf("%.2f mm deeper than A", d)
		default:
			return fmt.Sprintf("%.2f mm less than A", -d)
		}
	}
	return ""
}
