package study

import (
	"fmt"
	"math"

	"muralheat/output/phrase"
)

// couldChange widens a share of draws that reach the muscle by those that the numerical error could bring to the other side, and
// counts them: from the share without any of them to that with all. The interval goes from the lower end of the one to the upper
// end of the other.
func (t *SweepTable) couldChange(s stats, column string, rows []int) (stats, int) {
	sure, could := 0, 0
	for _, r := range rows {
		e := orNone(t.errorOf(column, r))
		switch m := t.cell(column, r); {
		case m < -e, m <= 0 && e == 0:
			sure, could = sure+1, could+1
		case m <= e:
			could++
		}
	}
	if could == sure {
		return s, 0
	}
	n := s.n + s.missing
	none, all := wilson(sure, n), wilson(could+s.missing, n)
	s.none, s.all, s.low, s.high = 100*none.mid, 100*all.mid, 100*none.low, 100*all.high
	return s, could - sure
}

// orNone is an error, or nothing where it is not known.
func orNone(e float64) float64 {
	if math.IsNaN(e) {
		return 0
	}
	return e
}

// anyOpen reports whether the numerical error could bring any case to the other side.
func (t *SweepTable) anyOpen(column string) bool {
	for _, r := range t.rows() {
		if math.Abs(t.cell(column, r)) <= orNone(t.errorOf(column, r)) {
			return true
		}
	}
	return false
}

// openNotes says how many draws the numerical error could bring to the other side, and how large it is.
func (t *SweepTable) openNotes(places []place) []string {
	most := place{}
	for _, p := range places {
		if p.open > most.open {
			most = p
		}
	}
	if most.open == 0 {
		return t.Numerical()
	}
	return append([]string{fmt.Sprintf("The numerical error could bring up to %d of %d draws at a place to the other side: the share there is then %s to %s %%.",
		most.open, most.n+most.missing, phrase.Short(most.none), phrase.Short(most.all))}, t.Numerical()...)
}

// errorLines says what the upright lines at places are.
const errorLines = "Upright lines: the numerical error, of the mesh and the steps."
