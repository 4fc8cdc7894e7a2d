package batch

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"muralheat/scenarios/plan"
)

// Row is a line of results.csv: cells by column.
type Row struct {
	Case  int
	names []string
	cells []string
}

// Cell returns a cell as it is written, "" if there is no such column.
func (r Row) Cell(column string) string {
	if n := slices.Index(r.names, column); n >= 0 {
		return r.cells[n]
	}
	return ""
}

// Rows reads the table of a folder line by line; a Row is good until the next.
func Rows(dir string, visit func(Row) error) error {
	name := filepath.Join(dir, tableName)
	file, err := os.Open(name)
	if err != nil {
		return err
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.ReuseRecord = true
	head, err := r.Read()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	names := slices.Clone(head)
	at := slices.Index(names, "case")
	if at < 0 {
		return fmt.Errorf("%s: no column case: not the table of a sweep", name)
	}
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		i, err := strconv.Atoi(cells[at])
		if err != nil {
			return fmt.Errorf("%s: case %q; a whole number is right", name, cells[at])
		}
		if err := visit(Row{i, names, cells}); err != nil {
			return err
		}
	}
}

// Again computes a case of a sweep once more and returns the columns in which its row in the table differs, to the
// last digit. It fails if ctx ends.
func Again(ctx context.Context, s *plan.Sweep, row Row, tell Tell) (differ []string, err error) {
	o := outcome{i: row.Case}
	q := &queue{sweep: s, tell: tell, firsts: map[identity]int{}, room: newRoom(0)}
	if !q.compute(ctx, &o) {
		return nil, ctx.Err()
	}
	f := &folder{sweep: s, record: newRecord(s, "", Slice{})}
	lead := f.lead()
	cells := make([]string, len(lead))
	f.leading(cells, o.i, o.row, entry{status: o.status})
	want := map[string]string{}
	for k, c := range lead {
		want[guarded(c.Name)] = cells[k]
	}
	for k, c := range o.columns {
		want[guarded(c.Name)] = o.Cells[k]
	}
	for k, name := range row.names {
		if want[name] != row.cells[k] {
			differ = append(differ, name)
		}
		delete(want, name)
	}
	for name := range want { // a column that the table lacks
		differ = append(differ, name)
	}
	slices.Sort(differ)
	return differ, nil
}

// Kept returns a copy of a row that stays good.
func (r Row) Kept() Row { return Row{r.Case, r.names, slices.Clone(r.cells)} }
