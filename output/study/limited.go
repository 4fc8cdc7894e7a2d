package study

import (
	"fmt"
	"math"
	"strings"

	"muralheat/output/phrase"
)

// Columns that tell whether a case got what was set.
const (
	deliveredColumn = "mean_power_W"
	setColumn       = "set_power_W"
	limitedColumn   = "limited_percent"
)

// limitedFrom is the share of the time with current, in percent, from which a case that is not set to a power
// counts as limited; assumption.
const limitedFrom = 5

// cell returns the value of a result in a row, not a number where the table has no such column.
func (t *SweepTable) cell(column string, row int) float64 { return phrase.At(t.Column[column], row) }

// fellShort reports whether a case got less power than was set.
func (t *SweepTable) fellShort(row int) bool {
	return phrase.FellShort(t.cell(deliveredColumn, row), t.cell(setColumn, row))
}

// shortOf names what most of some cases got beside what was set, "" if most got what was set.
func (t *SweepTable) shortOf(rows []int) string {
	if !t.mostFellShort(rows) {
		return ""
	}
	return fmt.Sprintf("%s of %s W", phrase.Short(median(t.values(deliveredColumn, rows)).mid), phrase.Short(median(t.values(setColumn, rows)).mid))
}

// mostFellShort reports whether more than half of some cases did.
func (t *SweepTable) mostFellShort(rows []int) bool {
	n := 0
	for _, r := range rows {
		if t.fellShort(r) {
			n++
		}
	}
	return 2*n > len(rows)
}

// ringed says what a ring around a point means.
const ringed = "Ringed: less power was delivered than was set; the column remark says why."

// mostNamed is how many limited cases are named one by one.
const mostNamed = 6

// Limited says in lines which cases got less than was set: a power, or a voltage or current that a limit of the
// source stood against. The first line counts them; none if all got what was set.
func (t *SweepTable) Limited() []string {
	var lines []string
	count, factors := 0, t.Factors()
	for _, row := range t.rows() {
		told := ""
		switch share := t.cell(limitedColumn, row); {
		case t.fellShort(row):
			told = fmt.Sprintf("%s of %s W", phrase.Short(t.cell(deliveredColumn, row)), phrase.Short(t.cell(setColumn, row)))
		case math.IsNaN(t.cell(setColumn, row)) && share > limitedFrom:
			told = fmt.Sprintf("limited for %s %% of the time with current", phrase.Short(share))
		default:
			continue
		}
		if count++; count <= mostNamed {
			lines = append(lines, t.label(row, factors)+": "+told)
		}
	}
	if count == 0 {
		return nil
	}
	if count > mostNamed {
		lines = append(lines, fmt.Sprintf("and %d more", count-mostNamed))
	}
	head := fmt.Sprintf("Less was delivered than was set in %d of %d cases; the column remark says why:", count, len(t.Point))
	return append([]string{head}, lines...)
}

// label names a case by its number and by what differs between cases.
func (t *SweepTable) label(row int, factors []*factor) string {
	label := fmt.Sprintf("case %d", t.Case[row])
	if differs := differing(row, factors); differs != "" {
		label += " (" + differs + ")"
	}
	return label
}

// differing tells what a row has of what differs between points.
func differing(row int, factors []*factor) string {
	var parts []string
	for _, f := range factors {
		if level := f.of[row]; level >= 0 {
			parts = append(parts, f.names[level])
		}
	}
	return strings.Join(parts, ", ")
}
