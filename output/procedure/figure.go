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
// with the least margins are shown, as many as have the height to be read.
func (r *Record) Figure(page chart.Page) (fig chart.Figure) {
	for most := compare.MostSteps(page); most > 1; most-- {
		var roomy bool
		if fig, roomy = r.figure(page, most); roomy {
			break
		}
	}
	return fig
}

// figure draws up to so many steps in a row, and reports whether they have room.
func (r *Record) figure(page chart.Page, most int) (fig chart.Figure, roomy bool) {
	list, risky := r.Riskiest()
	var rows [][]compare.Step
	hidden := 0
	for n, l := range r.Procedures {
		var steps []int
		for i, s := range l.Steps {
			if s.Result != nil {
				steps = append(steps, i)
			}
		}
		if page.Compact() && len(steps) > most {
			hidden += len(steps) - most
			steps = l.riskiest(steps, most)
		}
		for some := range slices.Chunk(steps, perRow(len(steps), most)) {
			var row []compare.Step
			for _, i := range some {
				row = append(row, r.drawn(n, i, n == list && i == risky))
			}
			rows = append(rows, row)
		}
	}
	lines, notes := r.told(page)
	if list >= 0 && !page.Compact() {
		s := r.Procedures[list].Steps[risky]
		lines = append(lines, []string{fmt.Sprintf("Triangle and heavy frame: least margin of all steps, %s.", label(list, len(r.Procedures), s))})
	}
	if hidden > 0 {
		notes = append(notes, []string{fmt.Sprintf("%d steps with more margin are in the table only.", hidden)})
	}
	return compare.Steps(page, "procedure", r.Title, lines, notes, rows)
}

// told says what procedures come to, which a page of given height can do without, and what the figure shows of them.
func (r *Record) told(page chart.Page) (lines, notes [][]string) {
	if page.Compact() && len(r.Procedures) > 1 {
		var brief []string
		for n, l := range r.Procedures {
			t := l.totals()
			brief = append(brief, fmt.Sprintf("%c: %d activations, %s s with current, %s J", 'A'+n, t.activations, phrase.Short(t.withCurrentS), phrase.Short(t.energyJ)))
		}
		return [][]string{{strings.Join(brief, ". ") + "."}}, [][]string{{"All at one scale. Beneath: mm to muscle (B minus A)."}}
	}
	for n := range r.Procedures {
		lines = append(lines, r.says(n))
	}
	if !page.Compact() {
		lines = append(lines, r.changes()...)
		if len(r.Procedures) > 1 {
			lines = append(lines, []string{"In brackets: mm more (+) or less than the step of the same title in A."})
		}
	}
	return lines, notes
}

// perRow is how many of n cross-sections, at most so many, stand in a row, so that rows are about as long.
func perRow(n, most int) int {
	rows := max(1, (n+most-1)/most)
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
		lead = fmt.Sprintf("%c: ", 'A'+n)
	}
	said := []string{lead + fmt.Sprintf("%d activations, %s s with current, %s J", t.activations, phrase.Short(t.withCurrentS), phrase.Short(t.energyJ))}
	if l.PadResult != nil {
		said = append(said, fmt.Sprintf("skin under the neutral electrode %s warmer over 1 cm2", rise(t.padMeanRiseK)))
	}
	return said
}

// rise writes a rise of temperature.
func rise(k float64) string {
	if k < 0.01 {
		return "less than 0.01 K"
	}
	return "up to " + phrase.Short(k) + " K"
}

// changes says in clauses for each procedure what changes the wall; once if it is the same in all.
func (r *Record) changes() (lines [][]string) {
	var all [][]string
	for _, l := range r.Procedures {
		var said []string
		for _, s := range l.Steps {
			if s.Wall != "" {
				said = append(said, fmt.Sprintf("from %d %s on: %s", s.Number, s.Title, s.Wall))
			}
		}
		all = append(all, said)
	}
	same := !slices.ContainsFunc(all, func(s []string) bool { return !slices.Equal(s, all[0]) })
	for n, said := range all {
		lead := "wall "
		switch {
		case len(said) == 0 || same && n > 0:
			continue
		case len(all) > 1 && !same:
			lead = fmt.Sprintf("wall in %c ", 'A'+n)
		case len(all) > 1:
			lead = "wall in both "
		}
		said[0] = lead + said[0]
		lines = append(lines, said)
	}
	return lines
}

// drawn is step i of procedure n with its words.
func (r *Record) drawn(n, i int, riskiest bool) compare.Step {
	s := r.Procedures[n].Steps[i]
	x := compare.Step{Member: compare.Member{Title: label(n, len(r.Procedures), s), Result: s.Result, Settings: s.Settings}, Marked: riskiest}
	said, lead, against := cmp.Or(phrase.MarginWord(s.Result.Summary), phrase.Answer(s.Result)), "", ""
	if n > 0 {
		against = r.Procedures[0].against(s)
	}
	if riskiest {
		lead = "Least: "
	}
	x.Headlines = []string{lead + said + against, strings.TrimSuffix(said, " to muscle") + against, strings.TrimSuffix(said, " mm to muscle") + against}
	if s.Reach.Draws > 0 {
		x.Notes = append(x.Notes, fmt.Sprintf("Muscle in %.0f %% of draws (%.0f to %.0f %%)", s.Reach.Percent, s.Reach.Low, s.Reach.High))
	}
	x.Notes = append(x.Notes, phrase.Answer(s.Result))
	given := fmt.Sprintf("%s J, %s", phrase.Short(s.Result.Balance.ElectricJ), phrase.Delivered(s.Result))
	if s.Times > 1 {
		given = fmt.Sprintf("%d times %s", s.Times, given)
	}
	x.Notes = append(x.Notes, given)
	if before := s.onPlaceOf(); before != "" {
		x.Notes = append(x.Notes, fmt.Sprintf("On the place of %q", before))
	}
	if s.Result.Case.Cuts() {
		x.Notes = append(x.Notes, fmt.Sprintf("%.2f mm beside the kerf", 1e3*phrase.BesideCutM(s.Result.Summary)))
	}
	return x
}

// against says in brackets how much more margin a step of another procedure leaves than that of the same title here; of
// one without a margin how much deeper it came out.
func (l *List) against(other Step) string {
	for _, s := range l.Steps {
		if s.Title != other.Title || s.Result == nil {
			continue
		}
		d := 1e3 * (other.Result.Summary.MarginToMuscleM - s.Result.Summary.MarginToMuscleM)
		if math.IsNaN(d) {
			d = 1e3 * (other.Result.Summary.InjuryDepthM - s.Result.Summary.InjuryDepthM)
		}
		return fmt.Sprintf(" (%s)", compare.Signed("%+.2f", d))
	}
	return ""
}
