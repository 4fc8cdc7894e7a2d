package report

import (
	"fmt"
	"math"

	"muralheat/output/document"
	"muralheat/output/phrase"
	"muralheat/output/study"
)

// mostProbable is how many probabilities are said in words; a table has all.
const mostProbable = 6

// riskBlocks says what the draws of a sweep tell of reaching the muscle; of two points first how they differ.
func riskBlocks(t *study.SweepTable) (blocks []document.Block) {
	if p, ok := t.Pair(); ok {
		words := p.Words()
		blocks = append(blocks, document.Lead(words[0]), document.List(words[1:]))
	}
	all := t.Probabilities()
	if all == nil {
		return blocks
	}
	if blocks == nil && len(all) <= mostProbable {
		said := document.List{}
		for _, p := range all {
			lead := p.Title + ": "
			if p.Title == "" {
				lead = ""
			}
			said = append(said, lead+p.Words())
		}
		blocks = append(blocks, document.Lead("Probability that the injury reaches the muscle:"), said)
	}
	table := document.Table{Caption: "Probability that the injury reaches the muscle; 95 % intervals, exact (Clopper and Pearson), from none of the missing draws to all of them; in brackets with margins off by their numerical error",
		Head: []string{"point", "draws with a result", "reach it", "missing", "probability, %", "95 % interval, %", "numerical error of margins, mm"}, Stacked: true}
	for _, p := range all {
		reach, interval, off := fmt.Sprint(p.K), fromTo(p.Low, p.High), "not known"
		if !math.IsNaN(p.ErrorMM) && p.N > 0 {
			reach, interval, off = reach+fmt.Sprintf(" (%d to %d)", p.Least, p.Most), interval+" ("+fromTo(p.Wide.Low, p.Wide.High)+")", phrase.Short(p.ErrorMM)
		}
		table.Rows = append(table.Rows, []string{whenElse(p.Title != "", p.Title, "all draws"), fmt.Sprint(p.N), reach, fmt.Sprint(p.Missing), whenElse(p.N > 0, phrase.Short(100*p.Share()), "unknown"), interval, off})
	}
	return append(blocks, table)
}

func fromTo(low, high float64) string {
	return phrase.Short(100*low) + " to " + phrase.Short(100*high)
}
