package record

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"muralheat/thermal"
)

// The tables are CSV after RFC 4180 in UTF-8: one header, one case, moment or layer
// per row, units in the header, no comments, empty where there is no value.

func summaryCSV(r *thermal.Result) []byte {
	var header, row []string
	for _, c := range SummaryColumns(r.Case) {
		header, row = append(header, Guarded(c.Name)), append(row, c.Cell(r))
	}
	return Table([][]string{header, row})
}

func historyCSV(r *thermal.Result) []byte {
	cols := historyColumns(r.Case)
	rows := [][]string{nil}
	for _, c := range cols {
		rows[0] = append(rows[0], Guarded(c.name))
	}
	for _, s := range r.History {
		row := make([]string, len(cols))
		for i, c := range cols {
			row[i] = Number(c.value(s))
		}
		rows = append(rows, row)
	}
	return Table(rows)
}

func layersCSV(r *thermal.Result) []byte {
	rows := [][]string{{"layer"}}
	for _, c := range LayerColumns {
		rows[0] = append(rows[0], c.Name)
	}
	for _, l := range r.Summary.Layers {
		row := []string{Guarded(l.Name)}
		for _, c := range LayerColumns {
			row = append(row, Number(c.Value(l)))
		}
		rows = append(rows, row)
	}
	return Table(rows)
}

// Table returns rows as CSV after RFC 4180.
func Table(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true // RFC 4180
	if err := w.WriteAll(rows); err != nil {
		panic(err) // a buffer does not fail
	}
	return b.Bytes()
}

// Guarded keeps a spreadsheet from taking a word for a formula.
func Guarded(word string) string {
	if word != "" {
		switch word[0] {
		case '=', '+', '-', '@', '\t', '\r':
			return "'" + word
		}
	}
	return word
}

// Parsed returns the number in a cell, NaN if there is none.
func Parsed(cell string) float64 {
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// Unguarded undoes guarded.
func Unguarded(cell string) string {
	if rest, ok := strings.CutPrefix(cell, "'"); ok && Guarded(rest) == cell {
		return rest
	}
	return cell
}

// OrElse returns v, or other where v is not a number.
func OrElse(v, other float64) float64 {
	if math.IsNaN(v) {
		return other
	}
	return v
}
