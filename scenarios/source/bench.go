package source

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"muralheat/scenarios/keys"
)

// Row is a load of a bench table: the power that a source gave into it and the peak voltage over it.
type Row struct{ LoadOhm, PowerW, PeakV float64 }

// CrestFactor is peak over RMS voltage.
func (r Row) CrestFactor() float64 { return r.PeakV / math.Sqrt(r.PowerW*r.LoadOhm) }

// columns are those of a bench table, with the range of each, which is that of the key it becomes.
var columns = []struct {
	name        string
	least, most float64
	into        func(*Row) *float64
}{
	{"load_ohm", 1, 100000, func(r *Row) *float64 { return &r.LoadOhm }},
	{"power_W", 0, 500, func(r *Row) *float64 { return &r.PowerW }},
	{"peak_V", 1, 20000, func(r *Row) *float64 { return &r.PeakV }},
}

const (
	leastRows, mostRows = 2, 50
	// leastCrest is what a sine would have, less what a bench may be off (assumption).
	leastCrest = 0.93 * math.Sqrt2
	// mostCrest goes with the lowest duty cycle that a source may have.
	mostCrest = 44.7
	// evenCrest is how much crest factors over the loads may differ from their median for one duty cycle to stand for
	// all (assumption).
	evenCrest = 0.2
)

// ReadBench reads a table with a column each for load (ohm), power (W) and peak voltage (V); name stands for its file in
// problems, which are returned as keys.Problems.
func ReadBench(name string, data []byte) ([]Row, error) {
	b := bench{name: name}
	if len(data) > keys.MaxBytes {
		return nil, keys.Problems{{File: name, Wrong: "larger than 1 MB", Right: "a bench table has a row for each load"}}
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	r.FieldsPerRecord, r.Comment = -1, '#'
	var order []int
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			var p *csv.ParseError
			if !errors.As(err, &p) {
				return nil, err
			}
			b.add(p.Line, p.Column, "", "not a table: "+p.Err.Error(), "write plain numbers separated by commas")
			break
		}
		if order == nil {
			if order = b.heading(r, cells); order == nil {
				break
			}
			continue
		}
		b.row(r, cells, order)
	}
	if len(b.problems) == 0 && len(b.rows) < leastRows {
		b.add(0, 0, "", fmt.Sprintf("%d rows", len(b.rows)), fmt.Sprintf("a heading load_ohm,power_W,peak_V and at least %d loads", leastRows))
	}
	if len(b.rows) > mostRows {
		b.add(0, 0, "", fmt.Sprintf("%d rows", len(b.rows)), fmt.Sprintf("at most %d: leave some loads out", mostRows))
	}
	if len(b.problems) > 0 {
		b.problems.Sort()
		return nil, b.problems
	}
	return b.rows, nil
}

// bench is a table while it is read.
type bench struct {
	name     string
	rows     []Row
	problems keys.Problems
}

func (b *bench) add(line, column int, key, wrong, right string) {
	b.problems = append(b.problems, keys.Problem{File: b.name, Line: line, Column: column, Key: key, Wrong: wrong, Right: right})
}

// heading returns which column of the table each of columns is.
func (b *bench) heading(r *csv.Reader, cells []string) []int {
	const right = "the first line names the columns: load_ohm,power_W,peak_V"
	order := make([]int, len(columns))
	for i, c := range columns {
		order[i] = slices.IndexFunc(cells, func(s string) bool { return strings.TrimSpace(s) == c.name })
		if order[i] < 0 {
			line, column := r.FieldPos(0)
			wrong := "no such column"
			if len(cells) == 1 && strings.ContainsAny(cells[0], ";\t") {
				b.add(line, column, "", "one column", "separate columns by commas, and write decimal points")
				return nil
			}
			b.add(line, column, c.name, wrong, right)
			return nil
		}
	}
	if len(cells) != len(columns) {
		line, column := r.FieldPos(0)
		b.add(line, column, "", fmt.Sprintf("%d columns", len(cells)), right)
		return nil
	}
	return order
}

// row reads a load.
func (b *bench) row(r *csv.Reader, cells []string, order []int) {
	line, first := r.FieldPos(0)
	if len(cells) != len(columns) {
		b.add(line, first, "", fmt.Sprintf("%d values where %d are needed", len(cells), len(columns)), "a comma separates columns: write decimals with a point, and leave no gaps")
		return
	}
	var row Row
	sound := true
	for i, c := range columns {
		at, column := r.FieldPos(order[i])
		text := strings.TrimSpace(cells[order[i]])
		v, err := strconv.ParseFloat(text, 64)
		limits := fmt.Sprintf("give a number from %g to %g", c.least, c.most)
		if c.least == 0 {
			limits = fmt.Sprintf("give a number above 0 and at most %g", c.most)
		}
		wrong, right := "", limits
		switch {
		case text == "":
			wrong, right = "empty", "give a number, or leave the line out"
		case strings.Contains(text, ","):
			wrong, right = keys.Quote(text)+" is not a number", "use a decimal point"
		case err != nil || strings.ContainsAny(text, "xXpP_nN"):
			wrong = keys.Quote(text) + " is not a plain number"
		case v < c.least || v > c.most || v == 0:
			wrong = keys.Short(text) + " is out of range"
		}
		if wrong != "" {
			b.add(at, column, c.name, wrong, right)
			sound = false
		}
		*c.into(&row) = v
	}
	if !sound {
		return
	}
	if n := len(b.rows); n > 0 && row.LoadOhm <= b.rows[n-1].LoadOhm {
		at, column := r.FieldPos(order[0])
		wrong, right := fmt.Sprintf("%g ohm is not above the row before", row.LoadOhm), "give loads in ascending order"
		if row.LoadOhm == b.rows[n-1].LoadOhm {
			wrong, right = fmt.Sprintf("%g ohm a second time", row.LoadOhm), "one power for each load: leave one of the rows out"
		}
		b.add(at, column, "load_ohm", wrong, right)
		return
	}
	sine := math.Sqrt(2 * row.PowerW * row.LoadOhm)
	switch crest := row.CrestFactor(); {
	case crest < leastCrest:
		at, column := r.FieldPos(order[2])
		b.add(at, column, "peak_V", fmt.Sprintf("%g V is less than a sine needs for %g W into %g ohm, %.4g V", row.PeakV, row.PowerW, row.LoadOhm, sine), "check units, and that no columns are swapped")
		return
	case crest > mostCrest:
		at, column := r.FieldPos(order[2])
		b.add(at, column, "peak_V", fmt.Sprintf("%g V for %g W into %g ohm is a crest factor of %.3g", row.PeakV, row.PowerW, row.LoadOhm, crest), fmt.Sprintf("at most %g: check units, and that no columns are swapped", mostCrest))
		return
	}
	b.rows = append(b.rows, row)
}

// FromBench returns the text of a sheet with one source, of a name and title, that gives what a bench table says, and a
// remark on what it cannot hold, "" for none. What is held is the highest power that was measured; the duty cycle is that
// of a gated sine with the median crest factor.
func FromBench(rows []Row, name, table string) (text []byte, remark string, err error) {
	var crests []float64
	mostW, mostV := 0.0, 0.0
	for _, r := range rows {
		crests = append(crests, r.CrestFactor())
		mostW, mostV = math.Max(mostW, r.PowerW), math.Max(mostV, r.PeakV)
	}
	slices.Sort(crests)
	middle := (crests[(len(crests)-1)/2] + crests[len(crests)/2]) / 2
	duty := min(100, threeDigits(200/(middle*middle)))
	for _, r := range rows { // the limit must not take power away that was measured
		mostV = math.Max(mostV, math.Ceil(math.Sqrt(200/duty*r.PowerW*r.LoadOhm)))
	}
	least, most := crests[0], crests[len(crests)-1]
	if most > (1+evenCrest)*middle || least < (1-evenCrest)*middle {
		remark = fmt.Sprintf("the crest factor runs from %.3g to %.3g over the loads; one duty cycle stands for all, so that peak voltages are less exact than powers", least, most)
	}
	var b strings.Builder
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	line("# yaml-language-server: $schema=sheet.schema.json")
	line("# A source sheet made from the table %s. Add what a table of loads does not say: frequency_kHz,", keys.Short(filepath.Base(table)))
	line("# pulses, series_ohm, lost_percent, and in origin when and by whom it was measured.")
	line("# For research and teaching, not for setting treatment; local protocol and licensed practice decide.")
	if remark != "" {
		line("# Note: %s.", remark)
	}
	line("title: %s", quoted("Bench table "+filepath.Base(table)))
	line("sources:")
	line("  - name: %s", quoted(name))
	line("    origin: %s", quoted("measured on the bench, table "+filepath.Base(table)))
	line("    duty_cycle_percent: %s   # of a gated sine with the median crest factor, %.3g (%.3g to %.3g)", keys.Text(duty), middle, least, most)
	line("    power_W: %s   # the highest measured", keys.Text(mostW))
	line("    limits:")
	line("      peak_voltage_V: %s   # the highest measured, or what the powers need at this duty cycle", keys.Text(mostV))
	line("      load_line:")
	for _, r := range rows {
		line("        - {resistance_ohm: %s, power_W: %s}", keys.Text(r.LoadOhm), keys.Text(r.PowerW))
	}
	_, err = Parse(name+".yaml", []byte(b.String()))
	return []byte(b.String()), remark, err
}

// quoted writes a text of any characters as YAML does in double quotes.
func quoted(s string) string { return strconv.QuoteToASCII(s) }

func threeDigits(v float64) float64 {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64) // a number that was just written
	return v
}

// CanBeName reports whether a text can be the name of a source.
func CanBeName(s string) bool {
	k := keys.KeysOf(reflect.TypeFor[keys.Source]())[0]
	return k.Matches(s)
}
