package report

import (
	"bytes"
	"encoding/csv"
	"math"

	"muralheat/output/document"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/thermal"
)

// headline says with what uncertainty the answer of a sweep stands; of one that was not refined what other cases show.
func headline(t *study.SweepTable) []document.Block {
	if says := t.Combined(); says != nil {
		return []document.Block{document.Lead(says[0])}
	}
	return []document.Block{document.List(t.Numerical())}
}

// uncertaintyBlocks tell what the mesh, the inputs and the damage kinetics leave uncertain of the cases of a sweep.
func uncertaintyBlocks(t *study.SweepTable, c *thermal.Case, figure []document.Block) []document.Block {
	blocks := []document.Block{document.List(t.Numerical())}
	if t.Measured() == "" {
		return append(blocks,
			document.Note{Label: "Not computed", Text: "Each case was computed on one mesh. The command below computes those nearest to the decision, and some over the design, on two finer meshes each and with other damage kinetics:"},
			document.Code{Label: "With the plan of this sweep and its folder", Text: "muralheat sweep --refine -o FOLDER plan.yaml\nmuralheat report FOLDER\n"},
			document.Text(elsewhere(c)+" Differences between cases that are smaller than their numerical error mean nothing."))
	}
	if says := t.Combined(); says != nil {
		blocks = append(blocks, document.Lead(says[0]), document.Text(says[1]))
	}
	blocks = append(blocks, figure...)
	blocks = append(blocks, document.Text("The numerical error of a case is that of three meshes: the grid convergence index with the order taken as at most 1; if no order can be given 3 times the distance to the value that order 1 gives, or 3 times the spread (Celik and others 2008, J Fluids Eng 130:078001; Roache 1994, J Fluids Eng 116:405; both from memory). On stored cases of known error it holds for at least 95 of 100 (testdata/reference/numerical). Differences between cases that are smaller than their numerical error mean nothing."))
	return append(blocks, tableOf("What is uncertain at each point, 95 of 100", t.UncertaintyCSV(), false), tableOf("Refined cases", t.NumericalCSV(), true))
}

// tableOf makes a table of one that is written as CSV, its numbers in a few digits.
func tableOf(caption string, text []byte, folded bool) document.Block {
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil || len(rows) < 2 {
		return document.Text(caption + ": none.")
	}
	table := document.Table{Caption: caption, Head: rows[0], Stacked: true, Folded: folded}
	for _, r := range rows[1:] {
		for i, cell := range r {
			r[i] = record.Unguarded(cell)
			if v := record.Parsed(cell); !math.IsNaN(v) {
				r[i] = digits(v)
			}
		}
		table.Rows = append(table.Rows, r)
	}
	return table
}
