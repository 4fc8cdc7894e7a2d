package study

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"

	"muralheat/output/record"
	"muralheat/thermal/refine"
)

// Files of a sweep that was refined.
const (
	RefinedName   = "refined.json" // which cases, and why
	RefinedFolder = "refined"      // a sweep of its own: them on other meshes and with other damage kinetics
)

// refinedModel is what the refined cases of a sweep show of its errors: an error for each of them, and for
// the others of a regime the largest of those.
type refinedModel struct {
	Refined
	errors   map[string]map[int]measuredError // by column and case
	kinetics map[int]float64                  // by case: how far other damage kinetics move the depth at most, mm
	regimeOf map[int]regime                   // of the refined cases

	bounds     map[string]map[regime]bound // the largest of those errors, by column
	kineticsBy map[regime]float64          // the most that other damage kinetics move a depth, mm
}

// measuredError is one quantity of a case on its meshes.
type measuredError struct {
	refine.Study
	refine.Estimate
}

// refinedColumns are the quantities whose errors are measured.
func refinedColumns() []string {
	return []string{record.DepthColumn, atOnceColumn, record.RiseColumn, cutColumn}
}

// errorColumn is the column whose error is that of another: what is subtracted from a depth does not move with the mesh.
func errorColumn(column string) string {
	if column == record.MarginColumn {
		return record.DepthColumn
	}
	return column
}

// own returns the error measured on a case itself.
func (m *refinedModel) own(column string, i int) (float64, bool) {
	e, there := m.errors[errorColumn(column)][i]
	return e.Uncertainty, there
}

// bound returns the largest error of the refined cases of a regime; false if there are none.
func (m *refinedModel) bound(column string, g regime) (bound, bool) {
	b, there := m.bounds[errorColumn(column)][g]
	return b, there
}

// gather finds the largest of each regime.
func (m *refinedModel) gather() {
	m.bounds, m.kineticsBy = map[string]map[regime]bound{}, map[regime]float64{}
	for column, errors := range m.errors {
		m.bounds[column] = map[regime]bound{}
		for i, e := range errors {
			b := m.bounds[column][m.regimeOf[i]]
			m.bounds[column][m.regimeOf[i]] = bound{max(b.Error, e.Uncertainty), b.Cases + 1}
		}
	}
	for i, v := range m.kinetics {
		m.kineticsBy[m.regimeOf[i]] = max(m.kineticsBy[m.regimeOf[i]], v)
	}
}

// count returns how many cases have an error of their own.
func (m *refinedModel) count(column string) int { return len(m.errors[errorColumn(column)]) }

// kineticsOf returns how far other damage kinetics move the depth of a case, in mm: computed of the case itself, else the
// most that they do in its regime; false if no case of it was computed.
func (m *refinedModel) kineticsOf(i int, g regime) (mm float64, there bool) {
	if v, own := m.kinetics[i]; own {
		return v, true
	}
	mm, there = m.kineticsBy[g]
	return mm, there
}

// readRefined reads what sweep --refine leaves in dir; nothing if that was not asked for. What does not belong to
// the table is not used, and the note says so.
func (t *SweepTable) readRefined(dir string) error {
	b, err := os.ReadFile(filepath.Join(dir, RefinedName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	m := &refinedModel{errors: map[string]map[int]measuredError{}, kinetics: map[int]float64{}, regimeOf: map[int]regime{}}
	if err := json.Unmarshal(b, &m.Refined); err != nil {
		return fmt.Errorf("%s: %w", filepath.Join(dir, RefinedName), err)
	}
	if m.Of != t.SHA256 {
		t.refinedNote = RefinedName + " is of another table and is not used: compute it again with muralheat sweep --refine."
		return nil
	}
	values, err := readNamed(filepath.Join(dir, RefinedFolder, ResultName))
	if err != nil {
		return err
	}
	for _, c := range m.Cases {
		row := slices.Index(t.Case, c.Case)
		if row < 0 {
			return fmt.Errorf("%s: case %d has no result in %s", filepath.Join(dir, RefinedName), c.Case, ResultName)
		}
		m.regimeOf[c.Case] = t.regime(row)
		for _, column := range refinedColumns() {
			s := refine.Study{Can: func(v float64) bool { return v >= 0 }}
			if column == atOnceColumn { // a margin has either sign
				s.Can = nil
			}
			for k := range c.Meshes {
				s.SizeM[k] = c.SizeUM[k] / 1e6
				if s.Value[k] = t.cell(column, row); k != c.Own {
					s.Value[k] = values.cell(c.Meshes[k], column)
				}
			}
			if e := s.At(c.Own); e.Verdict != refine.None {
				if m.errors[column] == nil {
					m.errors[column] = map[int]measuredError{}
				}
				m.errors[column][c.Case] = measuredError{s, e}
			}
		}
		for kinetics, name := range c.Kinetics {
			depth := t.cell(alsoColumn(kinetics), row)
			if name != "" {
				depth = values.cell(name, record.DepthColumn)
			}
			if v := math.Abs(depth - t.cell(record.DepthColumn, row)); !math.IsNaN(v) {
				m.kinetics[c.Case] = max(m.kinetics[c.Case], v)
			}
		}
	}
	m.gather()
	t.refined = m
	return nil
}

// namedCells are the cells of a table of named cases, of the rows with status ok.
type namedCells struct {
	column map[string]int
	rows   map[string][]string
}

func (n namedCells) cell(name, column string) float64 {
	i, there := n.column[column]
	row := n.rows[name]
	if !there || row == nil {
		return math.NaN()
	}
	return record.Parsed(row[i])
}

func readNamed(path string) (n namedCells, err error) {
	f, err := os.Open(path)
	if err != nil {
		return n, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) == 0 {
		return n, fmt.Errorf("%s: no table: %v", path, err)
	}
	n = namedCells{map[string]int{}, map[string][]string{}}
	for i, name := range rows[0] {
		n.column[record.Unguarded(name)] = i
	}
	name, hasName := n.column["name"]
	status, hasStatus := n.column["status"]
	if !hasName || !hasStatus {
		return n, fmt.Errorf("%s: no column name or status: not the table of named cases", path)
	}
	for _, row := range rows[1:] {
		if row[status] == "ok" {
			n.rows[row[name]] = row
		}
	}
	return n, nil
}

// NumericalName is the table of what the refined cases of a sweep show.
const NumericalName = "numerical.csv"

// NumericalCSV returns that table; nil if nothing was refined. What each refined case shows comes first, then the
// error that all others of its regime are given.
func (t *SweepTable) NumericalCSV() []byte {
	if t.refined == nil {
		return nil
	}
	rows := [][]string{{"case", "regime", "why", "quantity", "unit", "finest_um", "middle_um", "coarsest_um", "finest", "middle", "coarsest", "reported", "observed_order", "uncertainty", "verdict"}}
	out := t.Outcome()
	for _, c := range t.refined.Cases {
		row := slices.Index(t.Case, c.Case)
		for _, column := range refinedColumns() {
			e, there := t.refined.errors[column][c.Case]
			if !there {
				continue
			}
			unit := ""
			for _, k := range t.Columns {
				if k.Name == column {
					unit = k.Unit
				}
			}
			rows = append(rows, []string{fmt.Sprint(c.Case), string(t.refined.regimeOf[c.Case]), c.Why, column, unit, record.Number(c.SizeUM[0]), record.Number(c.SizeUM[1]), record.Number(c.SizeUM[2]),
				record.Number(e.Value[0]), record.Number(e.Value[1]), record.Number(e.Value[2]), record.Number(t.cell(column, row)), record.Number(e.Order), record.Number(e.Uncertainty), string(e.Verdict)})
		}
		if v, there := t.refined.kinetics[c.Case]; there {
			rows = append(rows, []string{fmt.Sprint(c.Case), string(t.refined.regimeOf[c.Case]), c.Why, "other damage kinetics move " + record.DepthColumn + " by at most", "mm", "", "", "", "", "", "",
				record.Number(t.cell(record.DepthColumn, row)), "", record.Number(v), ""})
		}
	}
	for _, g := range regimes {
		if b, there := t.refined.bound(out.Column, g); there {
			rows = append(rows, []string{"others", string(g), "", out.Column, out.Unit, "", "", "", "", "", "", "", "", record.Number(b.Error), fmt.Sprintf("largest of %d", b.Cases)})
		}
	}
	return record.Table(rows)
}
