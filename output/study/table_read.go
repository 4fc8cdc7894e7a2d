package study

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"muralheat/output/record"
)

// tableReader reads results.csv row by row, which may be long, into the columns of a table.
type tableReader struct {
	*SweepTable
	csv    *csv.Reader
	header []string

	status, point, number     int            // columns
	name, draw, remark, marks int            // the same, -1 where there is none
	inputs                    []int          // columns of the inputs
	kept                      map[string]int // those of the results that are kept
	intern                    func(string) string
}

// read fills the columns.
func (t *SweepTable) read(f io.Reader) error {
	r := &tableReader{SweepTable: t, csv: csv.NewReader(f), intern: interned()}
	r.csv.ReuseRecord = true
	if err := r.readHeader(); err != nil {
		return err
	}
	for {
		row, err := r.csv.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err == nil {
			err = r.add(row)
		}
		if err != nil {
			return err
		}
	}
}

// readHeader finds the columns by their names.
func (r *tableReader) readHeader() error {
	header, err := r.csv.Read()
	if err != nil {
		return err
	}
	r.header = slices.Clone(header)
	at := func(name string) int { return slices.Index(r.header, name) }
	r.status, r.point, r.number, r.name, r.draw, r.remark, r.marks = at("status"), at("point"), at("case"), at("name"), at("draw"), at(record.RemarkColumn), at(record.MarksColumn)
	if r.status < 0 || r.point < 0 || r.number < 0 {
		return errors.New("no column case, status or point: not the table of a sweep")
	}
	r.InputCells = make([]inputCells, len(r.Inputs))
	r.inputs = make([]int, len(r.Inputs))
	for n, in := range r.Inputs {
		if r.inputs[n] = at(in.Key); r.inputs[n] < 0 {
			return fmt.Errorf("no column %s, which %s names as an input", in.Key, SweepName)
		}
	}
	r.Column, r.kept = map[string][]float64{}, map[string]int{}
	for _, c := range shownColumns() {
		if i := at(c); i >= 0 {
			r.kept[c], r.Column[c] = i, nil
		}
	}
	return nil
}

// add puts a row with status ok at the end of the columns and counts any other.
func (r *tableReader) add(row []string) error {
	switch row[r.status] {
	case "ok":
	case "failed":
		r.Failed++
		return nil
	case "doubtful":
		r.Doubtful++
		return nil
	default:
		return r.wrong(row, r.status, "ok, failed or doubtful is right")
	}
	for k, to := range []*[]int{&r.Case, &r.Point} {
		column := []int{r.number, r.point}[k]
		n, err := strconv.Atoi(row[column])
		if err != nil {
			return r.wrong(row, column, "a whole number is right")
		}
		*to = append(*to, n)
	}
	d := 0
	if r.draw >= 0 {
		var err error
		if d, err = strconv.Atoi(row[r.draw]); err != nil || d < 0 || d >= max(r.Draws, 1) {
			return r.wrong(row, r.draw, "a number below that of draws is right")
		}
	}
	r.Draw = append(r.Draw, d)
	if r.name >= 0 {
		r.SweepTable.name = append(r.SweepTable.name, r.intern(row[r.name]))
	}
	if r.remark >= 0 {
		r.Remark = append(r.Remark, r.intern(record.Unguarded(row[r.remark])))
	}
	if r.marks >= 0 {
		r.Marks = append(r.Marks, r.intern(record.Unguarded(row[r.marks])))
	}
	for n := range r.Inputs {
		c, cell := &r.InputCells[n], record.Unguarded(row[r.inputs[n]])
		v := record.Parsed(cell)
		c.Number = append(c.Number, v)
		if r.Inputs[n].Uncertain {
			continue
		}
		if !math.IsNaN(v) {
			cell = ""
		}
		c.word = append(c.word, r.intern(cell))
	}
	for c, i := range r.kept {
		r.Column[c] = append(r.Column[c], record.Parsed(row[i]))
	}
	return nil
}

// wrong says what is wrong with a cell, in which line, and what would be right.
func (r *tableReader) wrong(row []string, column int, right string) error {
	line, _ := r.csv.FieldPos(column)
	return fmt.Errorf("line %d: %s %q; %s", line, r.header[column], row[column], right)
}

// interned returns a function that gives equal words, which come again and again, one place in memory.
func interned() func(string) string {
	same := map[string]string{}
	return func(s string) string {
		if w, ok := same[s]; ok {
			return w
		}
		w := strings.Clone(s)
		same[w] = w
		return w
	}
}
