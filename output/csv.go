package output

import (
	"bytes"
	"encoding/csv"

	"muralheat/thermal"
)

// The tables are CSV after RFC 4180 in UTF-8: one header, one case, moment or layer
// per row, units in the header, no comments, empty where there is no value.

func summaryCSV(r *thermal.Result) []byte {
	var header, row []string
	for _, c := range SummaryColumns(r.Case) {
		header, row = append(header, guarded(c.Name)), append(row, c.Cell(r))
	}
	return table([][]string{header, row})
}

func historyCSV(r *thermal.Result) []byte {
	cols := historyColumns(r.Case)
	rows := [][]string{nil}
	for _, c := range cols {
		rows[0] = append(rows[0], guarded(c.name))
	}
	for _, s := range r.History {
		row := make([]string, len(cols))
		for i, c := range cols {
			row[i] = number(c.value(s))
		}
		rows = append(rows, row)
	}
	return table(rows)
}

func layersCSV(r *thermal.Result) []byte {
	rows := [][]string{{"layer"}}
	for _, c := range layerColumns {
		rows[0] = append(rows[0], c.name)
	}
	for _, l := range r.Summary.Layers {
		row := []string{guarded(l.Name)}
		for _, c := range layerColumns {
			row = append(row, number(c.value(l)))
		}
		rows = append(rows, row)
	}
	return table(rows)
}

func table(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true // RFC 4180
	if err := w.WriteAll(rows); err != nil {
		panic(err) // a buffer does not fail
	}
	return b.Bytes()
}

// guarded keeps a spreadsheet from taking a word for a formula.
func guarded(word string) string {
	if word != "" {
		switch word[0] {
		case '=', '+', '-', '@', '\t', '\r':
			return "'" + word
		}
	}
	return word
}
