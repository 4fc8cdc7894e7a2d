package report

import (
	"fmt"
	"math"

	"muralheat/output/document"
	"muralheat/output/phrase"
	"muralheat/output/study"
)

// mostPoints is how many rows of points stand open in a report.
const mostPoints = 40

// pointBlocks says in words what the cases of a sweep came to, and in a table what each point did.
func pointBlocks(t *study.SweepTable) (blocks []document.Block) {
	if says := t.Answer(); says != "" {
		blocks = append(blocks, document.Lead(says))
	}
	points, out := t.Points(), t.Outcome()
	if len(points) == 0 {
		return blocks
	}
	draws, muscle, short := t.Draws > 1, false, false
	for _, p := range points {
		muscle, short = muscle || !math.IsNaN(p.Margin.Mid), short || p.Short > 0
	}
	middle := func(m study.Middle) string {
		switch {
		case math.IsNaN(m.Mid):
			return "none"
		case draws:
			return fmt.Sprintf("%s (%s to %s)", phrase.Short(m.Mid), phrase.Short(m.Low), phrase.Short(m.High))
		}
		return phrase.Short(m.Mid)
	}
	table := document.Table{Caption: "What each point came to" + whenElse(draws, ": median of the draws, in brackets the 5 to 95 % interval", ""), Head: []string{"point"}, Stacked: true, Folded: len(points) > mostPoints}
	if draws {
		table.Head = append(table.Head, "draws with a result")
	}
	if muscle {
		table.Head = append(table.Head, "margin to the muscle, mm", "numerical error of it, mm")
	}
	table.Head = append(table.Head, out.Name+", "+out.Unit)
	if short {
		table.Head = append(table.Head, "got less than was set")
	}
	for _, p := range points {
		row := []string{whenElse(p.Title != "", p.Title, whenElse(draws, "all draws", "the case"))}
		if draws {
			row = append(row, fmt.Sprint(p.N))
		}
		if muscle {
			row = append(row, middle(p.Margin), whenElse(math.IsNaN(p.ErrorMM), "not known", phrase.Short(p.ErrorMM)))
		}
		row = append(row, middle(p.Outcome))
		if short {
			row = append(row, whenElse(draws, fmt.Sprintf("%d of %d", p.Short, p.N), whenElse(p.Short > 0, "yes", "no")))
		}
		table.Rows = append(table.Rows, row)
	}
	return append(blocks, table)
}
