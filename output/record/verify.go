package record

import (
	"bytes"
	"fmt"
	"math"
	"runtime/debug"
	"strconv"
	"strings"

	"muralheat/output/phrase"
	"muralheat/thermal/checks"
)

// VerifyFormats are the ways a table of checks is written.
var VerifyFormats = []string{"table", "markdown", "csv", "json"}

// Verification writes checks in one of VerifyFormats. Where there is room beside the rows it
// says which program computed them.
func Verification(build *debug.BuildInfo, ran []checks.Ran, format string) ([]byte, error) {
	switch format {
	case "markdown":
		return verifyMarkdown(Describe(build, ""), ran), nil
	case "csv":
		return verifyCSV(ran), nil
	case "json":
		return verifyJSON(Describe(build, ""), ran)
	}
	return verifyTable(ran), nil
}

// Failed lists the checks that differ by more than their tolerance.
func Failed(ran []checks.Ran) (failed []checks.Check, all int) {
	for _, g := range ran {
		for _, c := range g.Checks {
			all++
			if !c.OK() {
				failed = append(failed, c)
			}
		}
	}
	return failed, all
}

// VerdictOf returns whether a check agrees, in a word.
func VerdictOf(c checks.Check) string {
	if c.OK() {
		return "ok"
	}
	return "DIFFERS"
}

// UnitOf names the unit of a check; a pure number has none.
func UnitOf(c checks.Check) string {
	if c.Unit == "1" {
		return ""
	}
	return c.Unit
}

// Six returns a number with six significant digits.
func Six(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// Two returns a number with two significant digits.
func Two(v float64) string { return strconv.FormatFloat(v, 'g', 2, 64) }

// verifyTable is for a terminal: a check in two lines, its source below it.
func verifyTable(ran []checks.Ran) []byte {
	var b strings.Builder
	for _, g := range ran {
		fmt.Fprintf(&b, "%s\n", phrase.Capital(g.Group))
		source := ""
		for _, c := range g.Checks {
			if c.Source != source {
				Paragraph(&b, "  by ", c.Source)
				source = c.Source
			}
			Paragraph(&b, "  "+c.ID+"  ", c.What)
			fmt.Fprintf(&b, "          expected %-12s ours %-12s off by %-9s of %-9s %-7s %s\n",
				Six(c.Expected), Six(c.Ours), Two(math.Abs(c.Ours-c.Expected)), Two(c.Tolerance), UnitOf(c), VerdictOf(c))
		}
		b.WriteString("\n")
	}
	b.WriteString(verifySum(ran) + "\n")
	failed, _ := Failed(ran)
	for _, c := range failed {
		Paragraph(&b, "  ", c.String())
	}
	return []byte(b.String())
}

// verifySum is the outcome in one sentence.
func verifySum(ran []checks.Ran) string {
	failed, all := Failed(ran)
	text := fmt.Sprintf("%d checks against closed forms, standards and tables: ", all)
	if len(failed) > 0 {
		return text + fmt.Sprintf("%d DIFFER.", len(failed))
	}
	return text + "all within their tolerance."
}

// verifyRow is a check as cells: the same in every table.
func verifyRow(group string, c checks.Check, number func(float64) string) []string {
	return []string{group, c.ID, c.What, c.Source, number(c.Expected), number(c.Ours), number(c.Ours - c.Expected), number(c.Tolerance), c.Unit, VerdictOf(c)}
}

var verifyHeads = []string{"group", "id", "what", "source", "expected", "ours", "difference", "tolerance", "unit", "verdict"}

func verifyMarkdown(by Program, ran []checks.Ran) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s Computed by %s %s, %s, %s.\n\n", verifySum(ran), by.Name, by.Version, by.Go, by.Arch)
	b.WriteString("| " + strings.Join(verifyHeads, " | ") + " |\n|" + strings.Repeat(" --- |", len(verifyHeads)) + "\n")
	for _, g := range ran {
		for _, c := range g.Checks {
			cells := verifyRow(g.Group, c, Six)
			cells[6], cells[7] = Two(c.Ours-c.Expected), Two(c.Tolerance)
			for i := range cells {
				cells[i] = strings.ReplaceAll(cells[i], "|", `\|`)
			}
			b.WriteString("| " + strings.Join(cells, " | ") + " |\n")
		}
	}
	return b.Bytes()
}

func verifyCSV(ran []checks.Ran) []byte {
	rows := [][]string{verifyHeads}
	for _, g := range ran {
		for _, c := range g.Checks {
			cells := verifyRow(g.Group, c, Number)
			for i := range 4 {
				cells[i] = Guarded(cells[i])
			}
			rows = append(rows, cells)
		}
	}
	return Table(rows)
}

func verifyJSON(by Program, ran []checks.Ran) ([]byte, error) {
	type told struct {
		Group      string `json:"group"`
		ID         string `json:"id"`
		What       string `json:"what"`
		Source     string `json:"source"`
		Expected   real   `json:"expected"`
		Ours       real   `json:"ours"`
		Difference real   `json:"difference"`
		Tolerance  real   `json:"tolerance"`
		Unit       string `json:"unit"`
		OK         bool   `json:"ok"`
	}
	failed, all := Failed(ran)
	list := struct {
		Program Program `json:"program"`
		Checks  int     `json:"checks"`
		Differ  int     `json:"differ"`
		List    []told  `json:"list"`
	}{Program: by, Checks: all, Differ: len(failed), List: []told{}}
	for _, g := range ran {
		for _, c := range g.Checks {
			list.List = append(list.List, told{g.Group, c.ID, c.What, c.Source, real(c.Expected), real(c.Ours), real(c.Ours - c.Expected), real(c.Tolerance), c.Unit, c.OK()})
		}
	}
	return encodeJSON(list)
}
