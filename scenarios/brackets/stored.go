package brackets

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
)

// stored.csv is the report as it was computed last; a test holds it to that of today.
//
//go:embed stored.csv
var stored string

var storedHead = []string{"id", "measured", "source", "unit", "low", "high", "ours", "inside", "why"}

// CSV writes brackets as a table.
func CSV(all []Bracket) string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write(storedHead) // into a builder: cannot fail
	for _, x := range all {
		w.Write([]string{x.ID, x.Measured, x.Source, x.Unit, number(x.Low), number(x.High), number(x.Ours), strconv.FormatBool(x.Inside), x.Why})
	}
	w.Flush()
	return b.String()
}

// Stored returns the report without computing it.
func Stored() []Bracket {
	rows, err := csv.NewReader(strings.NewReader(stored)).ReadAll()
	if err != nil {
		panic("brackets: stored.csv: " + err.Error()) // part of the program
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			panic("brackets: stored.csv: " + err.Error())
		}
		return v
	}
	var all []Bracket
	for _, r := range rows[1:] {
		all = append(all, Bracket{ID: r[0], Measured: r[1], Source: r[2], Unit: r[3], Low: number(r[4]), High: number(r[5]), Ours: number(r[6]), Inside: r[7] == "true", Why: r[8]})
	}
	return all
}
