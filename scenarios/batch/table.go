package batch

import (
	"bufio"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// lead is the columns before the inputs.
func (f *folder) lead() []Column {
	cols := []Column{{Name: "case", Text: "number of the case in the plan, from 0"}}
	if f.record.Named {
		cols = append(cols, Column{Name: "name", Text: "name of the case", Word: true})
	}
	cols = append(cols, Column{Name: "point", Text: "number of the point of the design, from 0"})
	if f.record.Draws > 1 {
		cols = append(cols, Column{Name: "draw", Text: "number of the draw of the uncertain keys, from 0"})
	}
	for _, in := range f.record.Inputs {
		text := "key of the scenario that varies"
		if in.Uncertain {
			text = "uncertain key of the scenario, drawn"
		}
		if in.Title != in.Key {
			text = in.Title + ": " + text
		}
		cols = append(cols, Column{Name: in.Key, Unit: in.Unit, Text: text, Word: in.Word})
	}
	return append(cols,
		Column{Name: "status", Text: "ok; doubtful: a self-check failed, do not use; failed: no result", Word: true},
		Column{Name: "reason", Text: "why a case failed or is doubtful", Word: true})
}

// finish writes the table of all cases and what its columns are.
func (f *folder) finish() error {
	sum := sha256.New()
	if err := put(filepath.Join(f.dir, tableName), func(file *os.File) error { return f.table(io.MultiWriter(file, sum)) }); err != nil {
		return fmt.Errorf("%s is not written: %w", tableName, err)
	}
	f.record.SHA256 = hex.EncodeToString(sum.Sum(nil))
	meaning, err := encode(describe(f.record, append(f.lead(), f.record.Columns...)))
	if err != nil {
		return err
	}
	if err := replace(filepath.Join(f.dir, meaningName), meaning); err != nil {
		return err
	}
	if err := f.writeRecord(); err != nil {
		return err
	}
	return syncFolder(f.dir)
}

// table writes the table of all cases, from the journal alone, and notes its columns.
func (f *folder) table(to io.Writer) error {
	j := f.journal
	results, where := j.union(f.cases)
	f.record.Columns = append([]Column{}, results...)
	all := append(f.lead(), results...)
	buffer := bufio.NewWriterSize(to, 1<<20)
	w := csv.NewWriter(buffer)
	w.UseCRLF = true // RFC 4180
	cells := make([]string, len(all))
	for k, c := range all {
		cells[k] = guarded(c.Name)
	}
	w.Write(cells) // an error shows at the end
	for i := range f.cases {
		r, e, err := j.row(i)
		if err != nil {
			return err
		}
		clear(cells)
		n := f.leading(cells, i, r, e)
		if e.status != failed {
			for k, cell := range r.Cells {
				cells[n+where[e.number][k]] = cell
			}
		}
		w.Write(cells)
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return err
	}
	return buffer.Flush()
}

// cases yields the cases of the folder in order.
func (f *folder) cases(yield func(int) bool) {
	for i := range f.sweep.Len() {
		if f.journal.mine(i) && !yield(i) {
			return
		}
	}
}

// leading fills in what stands before the results and returns how many cells it is.
func (f *folder) leading(cells []string, i int, r row, e entry) int {
	n := 0
	next := func(cell string) { cells[n] = cell; n++ }
	next(strconv.Itoa(i))
	if f.record.Named {
		next(guarded(f.sweep.CaseName(i)))
	}
	next(strconv.Itoa(i / f.record.Draws))
	if f.record.Draws > 1 {
		next(strconv.Itoa(i % f.record.Draws))
	}
	for k, in := range f.record.Inputs {
		if in.Word {
			next(guarded(r.Inputs[k]))
		} else {
			next(r.Inputs[k])
		}
	}
	next(words[e.status])
	next(guarded(r.Reason))
	return n
}

// union returns the columns of all results in the order in which cases first have them, and
// for each schema the place of its columns among them.
func (j *journal) union(cases func(func(int) bool)) (all []Column, where [][]int) {
	where = make([][]int, len(j.schemas))
	place := map[string]int{}
	for i := range cases {
		e := *j.entry(i)
		if e.status == same {
			e = *j.entry(int(e.number))
		}
		if e.status == failed || where[e.number] != nil {
			continue
		}
		at := make([]int, len(j.schemas[e.number]))
		for k, c := range j.schemas[e.number] {
			if _, there := place[c.Name]; !there {
				place[c.Name] = len(all)
				all = append(all, c)
			}
			at[k] = place[c.Name]
		}
		where[e.number] = at
	}
	return all, where
}

// guarded keeps a spreadsheet from taking a word for a formula.
func guarded(word string) string {
	if word != "" && strings.ContainsRune("=+-@\t\r", rune(word[0])) {
		return "'" + word
	}
	return word
}

// describe tells programs what the columns are: Metadata Vocabulary for Tabular Data, W3C
// Recommendation of 2015-12-17. It has no word for units, schema.org has.
func describe(r Record, columns []Column) any {
	type column struct {
		Titles   string `json:"titles"`
		Text     string `json:"dc:description"`
		Unit     string `json:"schema:unitText,omitempty"`
		Datatype any    `json:"datatype"`
	}
	schema := struct {
		Columns []column `json:"columns"`
	}{}
	for k, c := range columns {
		var datatype any = "string"
		switch {
		case k == 0, c.Name == "point" && !c.Word, c.Name == "draw":
			datatype = "integer"
		case !c.Word:
			datatype = "number"
		}
		schema.Columns = append(schema.Columns, column{c.Name, c.Text, c.Unit, datatype})
	}
	return struct {
		Context string `json:"@context"`
		URL     string `json:"url"`
		Title   string `json:"dc:title"`
		Text    string `json:"dc:description"`
		Schema  any    `json:"tableSchema"`
	}{"http://www.w3.org/ns/csvw", tableName, r.Title, r.Caution, schema}
}
