package study

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"muralheat/output/phrase"
	"muralheat/output/record"
)

// regime is how the tissue at the contact fared: numerical errors differ by it.
type regime string

const (
	wet      regime = "wet"      // hardly anything boiled
	dried    regime = "dried"    // tissue boiled and began to dry
	sparking regime = "sparking" // sparks carried some of the current
)

var regimes = []regime{wet, dried, sparking}

// driedFrom is the share of the energy delivered that left as steam from which a case counts as dried; assumption: it hardly
// depends on the mesh, as it does which cell is dry.
const driedFrom = 0.01

// regime returns that of a row, on the mesh of the sweep.
func (t *SweepTable) regime(row int) regime {
	switch {
	case t.cell(sparkColumn, row) > 0:
		return sparking
	case t.cell(steamColumn, row) >= driedFrom*t.cell(EnergyColumn, row) || !math.IsNaN(t.cell(dryColumn, row)):
		return dried
	}
	return wet
}

const (
	sparkColumn = "spark_share"
	steamColumn = "energy_steam_J"
)

// bound is the largest numerical error that some cases of a regime show.
type bound struct {
	Error float64 // half-width, in the unit of the quantity
	Cases int     // of which it is the largest
}

// depthErrors are the errors measured on other cases, by quality and regime; numerical.csv has them, which
// TestDepthErrors compares with the cases in testdata/reference/numerical.
//
//go:embed numerical.csv
var depthErrorsCSV string

var depthErrors = func() map[string]map[regime]bound {
	rows, err := csv.NewReader(strings.NewReader(depthErrorsCSV)).ReadAll()
	if err != nil {
		panic("study: numerical.csv: " + err.Error())
	}
	out := map[string]map[regime]bound{}
	for _, r := range rows[1:] {
		n, err := strconv.Atoi(r[2])
		if err != nil {
			panic("study: numerical.csv: " + err.Error())
		}
		if out[r[0]] == nil {
			out[r[0]] = map[regime]bound{}
		}
		out[r[0]][regime(r[1])] = bound{record.Parsed(r[3]), n}
	}
	return out
}()

// trackErrorsMM are the least errors taken of depths where the electrode moves; assumption: at standard, depths on tracks are within
// about 0.1 mm of those on a mesh twice as fine, and an error that goes with the cells is then twice that.
var trackErrorsMM = map[string]float64{"draft": 0.4, "standard": 0.2, "fine": 0.1}

// tableBound returns the error of depths that other cases of the quality of this sweep show in a regime; NaN if there are none.
func (t *SweepTable) tableBound(g regime) bound {
	b, known := depthErrors[t.Quality][g]
	if !known {
		return bound{math.NaN(), 0}
	}
	if t.Moving {
		return bound{max(trackErrorsMM[t.Quality], b.Error), 0}
	}
	return b
}

// isDepth reports whether a column has the numerical error of a depth.
func isDepth(column string) bool {
	return column == record.DepthColumn || column == record.MarginColumn || column == atOnceColumn
}

// errorOf returns how far a result of a row may lie from that of ever finer meshes: measured on the case
// itself, else the largest of its regime in this sweep, else what other cases show. NaN if it is not known.
func (t *SweepTable) errorOf(column string, row int) float64 {
	if t.refined != nil {
		if e, there := t.refined.own(column, t.Case[row]); there {
			return e
		}
		if b, there := t.refined.bound(column, t.regime(row)); there {
			return b.Error
		}
	}
	if isDepth(column) {
		return t.tableBound(t.regime(row)).Error
	}
	return math.NaN()
}

// largestError returns the largest error of some rows; NaN if none is known.
func (t *SweepTable) largestError(column string, rows []int) float64 {
	most := math.NaN()
	for _, r := range rows {
		if e := t.errorOf(column, r); !math.IsNaN(e) {
			most = max(e, record.OrElse(most, e))
		}
	}
	return most
}

// Numerical says in sentences how large the numerical error is of what the cases are judged by, and where that is from.
func (t *SweepTable) Numerical() []string {
	out := t.Outcome()
	count := map[regime]int{}
	for _, r := range t.rows() {
		count[t.regime(r)]++
	}
	var measured, assumed []string
	for _, g := range regimes {
		if count[g] == 0 {
			continue
		}
		if t.refined != nil {
			if b, there := t.refined.bound(out.Column, g); there {
				measured = append(measured, fmt.Sprintf("%s ±%s %s (%s)", g, record.Two(b.Error), out.Unit, counted(b.Cases, "case")))
				continue
			}
		}
		if b := t.tableBound(g); isDepth(out.Column) && !math.IsNaN(b.Error) {
			of := counted(b.Cases, "other case")
			if b.Cases == 0 {
				of = "assumed of tracks"
			}
			assumed = append(assumed, fmt.Sprintf("%s ±%s %s (%s)", g, record.Two(b.Error), out.Unit, of))
		}
	}
	var says []string
	if measured != nil {
		says = append(says, fmt.Sprintf("Numerical error of the %s: %s.", out.Name, strings.Join(measured, ", ")),
			fmt.Sprintf("Measured by two more meshes each on %d of %d cases; every other case is given the largest of its regime.", t.refined.count(out.Column), len(t.Point)))
	}
	if assumed != nil {
		of := ""
		if measured != nil {
			of = " of the other regimes"
		}
		says = append(says, fmt.Sprintf("Numerical error%s not measured for this sweep: muralheat sweep --refine does it.", of),
			fmt.Sprintf("Until then as of other cases of quality %s: %s.", t.Quality, strings.Join(assumed, ", ")))
	}
	if says == nil {
		says = append(says, "Numerical error not measured for this sweep: muralheat sweep --refine does it.")
	}
	if t.refinedNote != "" {
		says = append(says, t.refinedNote)
	}
	return append(says, t.undecided()...)
}

// undecided counts the cases that the numerical error leaves open, and names the one nearest to the decision.
func (t *SweepTable) undecided() []string {
	open, least := 0, -1
	rows := slices.DeleteFunc(t.rows(), func(r int) bool { return math.IsNaN(t.decision(r)) })
	for _, r := range rows {
		if math.Abs(t.decision(r)) <= t.errorOf(t.decided(), r) {
			open++
		}
		if least < 0 || math.Abs(t.decision(r)) < math.Abs(t.decision(least)) {
			least = r
		}
	}
	if least < 0 || math.IsNaN(t.errorOf(t.decided(), least)) {
		return nil
	}
	unit := t.Outcome().Unit
	return []string{fmt.Sprintf("It could decide %d of %d cases. Nearest to the decision is %s: %s ± %s %s to it.", open, len(rows), t.label(least, t.Factors()),
		phrase.Short(math.Abs(t.decision(least))), record.Two(t.errorOf(t.decided(), least)), unit)}
}

// decided is the column whose error is that of what is decided.
func (t *SweepTable) decided() string {
	if c := t.Outcome().Column; c != record.DepthColumn {
		return c
	}
	return record.MarginColumn
}

// counted is "1 case", "2 cases".
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Measured says in one sentence what numerical error was measured; "" if none was.
func (t *SweepTable) Measured() string {
	if t.refined == nil || t.refined.count(t.Outcome().Column) == 0 {
		return ""
	}
	return t.Numerical()[0]
}
