package study

import (
	"fmt"
	"math"

	"muralheat/output/phrase"
)

// openShare is what the numerical error leaves open of a share of draws that reach the muscle.
type openShare struct {
	count     int     // draws that it could bring to the other side
	low, high float64 // share in percent, if none and if all of them reach the muscle
}

// openOf returns that of the draws in rows, of which some more have no result.
func (t *SweepTable) openOf(column string, rows []int, missing int) openShare {
	sure, could, n := 0, 0, missing
	for _, r := range rows {
		m, e := t.cell(column, r), t.errorOf(column, r)
		if math.IsNaN(m) {
			continue
		}
		n++
		if math.IsNaN(e) {
			e = 0
		}
		if m <= 0 && m <= -e {
			sure++
		}
		if m <= e {
			could++
		}
	}
	if could == sure {
		return openShare{}
	}
	return openShare{could - sure, 100 * float64(sure) / float64(n), 100 * float64(could+missing) / float64(n)}
}

// openNotes says how many draws the numerical error could bring to the other side, and which lines that are, if they are drawn.
func (t *SweepTable) openNotes(places []place, drawn bool) []string {
	most := place{}
	for _, p := range places {
		if p.open.count > most.open.count {
			most = p
		}
	}
	if most.open.count == 0 {
		return nil
	}
	notes := []string{fmt.Sprintf("The numerical error could bring up to %d of %d draws at a place to the other side: the share there is then %s to %s %%.",
		most.open.count, most.n+most.missing, phrase.Short(most.open.low), phrase.Short(most.open.high))}
	if t.refined != nil && drawn {
		notes = append(notes, "Thick lines: what that error leaves open at each place.")
	}
	return notes
}

// errorLines says what the upright lines at places are.
const errorLines = "Upright lines: the numerical error, of the mesh and the steps."
