package study

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"muralheat/output/record"
)

// The two files of a sweep's folder that its figures are made of.
const (
	SweepName  = "sweep.json"
	ResultName = "results.csv"
)

// sweepRecord is what sweep.json says of a sweep, as far as figures need it.
type sweepRecord struct {
	Title      string        `json:"title"`
	Inputs     []sweepInput  `json:"inputs"`
	Draws      int           `json:"draws"`
	Cases      int           `json:"cases"`
	Titles     []string      `json:"titles"` // of the points; none: their names
	DesignName string        `json:"design"`
	Columns    []SweepColumn `json:"columns"`
	Layers     []sweepLayer  `json:"layers"`  // of the first case
	Quality    string        `json:"quality"` // of its mesh and steps
	Moving     bool          `json:"moving"`  // its electrode moves
}

type sweepInput struct {
	Key       string `json:"key"`
	Title     string `json:"title"`
	Unit      string `json:"unit"`
	Uncertain bool   `json:"uncertain"`
	Levels    int    `json:"levels"` // how many values the plan gives it
}

// SweepColumn is a column of results.csv as sweep.json describes it.
type SweepColumn struct {
	Name string `json:"name"`
	Unit string `json:"unit"`
	Text string `json:"text"`
}

type sweepLayer struct {
	Name     string  `json:"name"`
	TopMM    float64 `json:"top_mm"`
	BottomMM float64 `json:"bottom_mm"`
	Muscle   bool    `json:"muscle"`
	Beyond   bool    `json:"beyond"` // past the outer surface
}

// SweepTable is results.csv: the rows with status ok, column by column, and how many
// there were of the others.
type SweepTable struct {
	sweepRecord
	Failed, Doubtful int
	oneWall          bool

	Case       []int // number in the plan
	Point      []int
	Draw       []int    // 0 if nothing is drawn
	name       []string // of the case; nil if the cases have no names
	InputCells []inputCells
	Column     map[string][]float64 // results that figures show, NaN where there is none
	Remark     []string             // why they are what they are; nil in tables without it
}

// inputCells is the column of an input.
type inputCells struct {
	Number []float64 // NaN where it is no number
	word   []string  // "" where it is one; nil for an uncertain input, which always is
}

// Text returns a cell as written.
func (c inputCells) Text(row int) string {
	if v := c.Number[row]; !math.IsNaN(v) {
		return record.Number(v)
	}
	return c.word[row]
}

// shownColumns returns the results that figures are made of.
func shownColumns() []string {
	columns := []string{record.DepthColumn, record.MarginColumn, shareColumn, besideColumn, speedColumn, sustainedColumn, deliveredColumn, setColumn, limitedColumn, wallColumn, atOnceColumn, dryColumn,
		TransmuralColumn, RingColumn, EnergyColumn, TerminalColumn, LeadsColumn}
	for _, own := range ownQuantities {
		columns = append(columns, own.of().column)
	}
	return columns
}

const (
	shareColumn     = "muscle_injured_percent"
	besideColumn    = "injured_beside_mm2"
	speedColumn     = "mean_speed_mm_s"
	sustainedColumn = "cut_sustained"
	wallColumn      = "wall_mm"
	atOnceColumn    = "coagulated_margin_to_muscle_mm"
	dryColumn       = "dry_out_s"
)

// outcome is the result by which the cases of a sweep are judged.
type outcome struct{ Name, Column, Unit string }

// Outcome returns the result by which the cases are judged.
func (t *SweepTable) Outcome() outcome {
	for _, own := range ownQuantities {
		if own.judged != nil && t.Has(own.judged.Column) {
			return *own.judged
		}
	}
	return outcome{"injury depth", record.DepthColumn, "mm"}
}

// IsSweep reports whether dir is the folder of a sweep.
func IsSweep(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, SweepName))
	return err == nil
}

// ReadSweep reads the table of the sweep in dir.
func ReadSweep(dir string) (*SweepTable, error) {
	b, err := os.ReadFile(filepath.Join(dir, SweepName))
	if err != nil {
		return nil, err
	}
	t := &SweepTable{}
	if err := json.Unmarshal(b, &t.sweepRecord); err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(dir, SweepName), err)
	}
	switch _, known := designs[t.DesignName]; {
	case t.DesignName == "":
		return nil, fmt.Errorf("%s: no design, as builds before wrote it; compute the sweep again", filepath.Join(dir, SweepName))
	case !known:
		return nil, fmt.Errorf("%s: design %q; one of %s is right", filepath.Join(dir, SweepName), t.DesignName, strings.Join(slices.Sorted(maps.Keys(designs)), ", "))
	}
	f, err := os.Open(filepath.Join(dir, ResultName))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if err := t.read(f); err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(dir, ResultName), err)
	}
	t.oneWall = t.layersHold()
	return t, nil
}

// Has reports whether a column has any value.
func (t *SweepTable) Has(column string) bool {
	return slices.ContainsFunc(t.Column[column], func(v float64) bool { return !math.IsNaN(v) })
}

// LeftOut says in sentences which cases are not shown.
func (t *SweepTable) LeftOut() []string {
	var out []string
	if t.Failed > 0 {
		out = append(out, fmt.Sprintf("%d of %d cases failed and are left out.", t.Failed, t.Cases))
	}
	if t.Doubtful > 0 {
		out = append(out, fmt.Sprintf("%d of %d cases did not pass their self-checks and are left out.", t.Doubtful, t.Cases))
	}
	if rows := len(t.Point) + t.Failed + t.Doubtful; rows < t.Cases {
		out = append(out, fmt.Sprintf("%d of %d cases are not computed yet.", t.Cases-rows, t.Cases))
	}
	return out
}

// missing returns how many draws of the points in rows have no result that counts.
func (t *SweepTable) missing(rows []int) int {
	points := map[int]bool{}
	for _, r := range rows {
		points[t.Point[r]] = true
	}
	return max(len(points)*t.Draws-len(rows), 0)
}

// muscleTop returns where the muscle begins in a row: margin and depth add up to it.
func (t *SweepTable) muscleTop(row int) float64 {
	if t.Column[record.MarginColumn] == nil || t.Column[record.DepthColumn] == nil {
		return math.NaN()
	}
	return t.Column[record.MarginColumn][row] + t.Column[record.DepthColumn][row]
}

// medianTop returns the median of that in rows.
func (t *SweepTable) medianTop(rows []int) stats { return t.medianOf(rows, t.muscleTop) }

// outerSurface returns the depth of the outer surface of the wall in a row.
func (t *SweepTable) outerSurface(row int) float64 { return t.cell(wallColumn, row) }

// medianOf returns the median of a value of rows.
func (t *SweepTable) medianOf(rows []int, value func(row int) float64) stats {
	all := make([]float64, len(rows))
	for n, r := range rows {
		all[n] = value(r)
	}
	return median(all)
}

// muscleTops returns the least and greatest depth at which the muscle begins in rows; NaN
// if there is no muscle.
func (t *SweepTable) muscleTops(rows []int) (least, most float64) {
	least, most = math.NaN(), math.NaN()
	for _, r := range rows {
		if v := t.muscleTop(r); !math.IsNaN(v) {
			least, most = min(v, record.OrElse(least, v)), max(v, record.OrElse(most, v))
		}
	}
	return least, most
}

// sameTopMM is how far tops of the muscle may lie apart and still be drawn as one.
const sameTopMM = 0.01

// layersHold reports whether the layers of the first case are those of all cases as far as
// the table tells: the muscle begins at the same depth everywhere, or there is none and
// nothing of the wall varies.
func (t *SweepTable) layersHold() bool {
	if len(t.Layers) == 0 {
		return false
	}
	least, most := t.muscleTops(t.rows())
	if math.IsNaN(least) {
		return !slices.ContainsFunc(t.Inputs, func(in sweepInput) bool { return strings.HasPrefix(in.Key, "wall.") })
	}
	for _, l := range t.Layers {
		if l.Muscle {
			return most-least < sameTopMM && math.Abs(l.TopMM-least) < sameTopMM
		}
	}
	return false
}

// values returns a column in some rows.
func (t *SweepTable) values(column string, rows []int) []float64 {
	out := make([]float64, len(rows))
	for n, r := range rows {
		out[n] = t.Column[column][r]
	}
	return out
}

// rows lists all rows.
func (t *SweepTable) rows() []int {
	rows := make([]int, len(t.Point))
	for n := range rows {
		rows[n] = n
	}
	return rows
}
