package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
)

// resultsName is the file of what came out.
const resultsName = "results.csv"

// result is one number of a table, with all its digits.
type result struct {
	table, row, tried, column string
	value                     float64
}

var resultsHead = []string{"table", "row", "tried", "column", "value"}

// readResults reads what is kept.
func readResults(name string) ([]result, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, err
	}
	var kept []result
	for i, r := range rows {
		if i == 0 {
			continue
		}
		v, err := strconv.ParseFloat(r[4], 64)
		if err != nil {
			return nil, fmt.Errorf("%s: line %d: %w", name, i+1, err)
		}
		kept = append(kept, result{r[0], r[1], r[2], r[3], v})
	}
	return kept, nil
}

// writeResults writes what is kept in the order of the tables.
func writeResults(name string, kept []result) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	w := csv.NewWriter(f)
	rows := [][]string{resultsHead}
	for _, t := range tables {
		for _, k := range kept {
			if k.table == t.name {
				rows = append(rows, []string{k.table, k.row, k.tried, k.column, strconv.FormatFloat(k.value, 'g', -1, 64)})
			}
		}
	}
	if err := w.WriteAll(rows); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
