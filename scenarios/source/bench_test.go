package source

import (
	"math"
	"strings"
	"testing"
)

const table = "load_ohm,power_W,peak_V\n50,40,90\n200,60,220\n1000,30,346\n"

// A table becomes a sheet that gives what was measured into each load.
func TestFromBench(t *testing.T) {
	rows, err := ReadBench("b.csv", []byte(table))
	if err != nil {
		t.Fatal(err)
	}
	text, remark, err := FromBench(rows, "bench", "b.csv")
	if err != nil || remark != "" {
		t.Fatal(err, remark)
	}
	s, err := Parse("u.yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	m := Drive(s.Find("bench"), 1).Mode
	for _, r := range rows {
		g := m.Into(r.LoadOhm)
		if math.Abs(g.PowerW-r.PowerW) > 1e-9*r.PowerW || math.Abs(g.PeakV-r.PeakV) > 0.03*r.PeakV {
			t.Errorf("%g ohm: %g W and %g V, want %g and %g", r.LoadOhm, g.PowerW, g.PeakV, r.PowerW, r.PeakV)
		}
	}
	uneven := strings.Replace(table, "1000,30,346", "1000,30,900", 1)
	if rows, err = ReadBench("b.csv", []byte(uneven)); err != nil {
		t.Fatal(err)
	}
	if _, remark, _ := FromBench(rows, "bench", "b.csv"); !strings.Contains(remark, "the crest factor runs from") {
		t.Errorf("remark %q", remark)
	}
}

// Columns may stand in any order, under their names, after a byte order mark and lines of remarks.
func TestBenchAsExported(t *testing.T) {
	rows, err := ReadBench("b.csv", []byte("\ufeff# my bench\r\npeak_V,load_ohm,power_W\r\n90,50,40\r\n220,200,60\r\n"))
	if err != nil || len(rows) != 2 || rows[0] != (Row{50, 40, 90}) {
		t.Error(rows, err)
	}
}

// What is wrong with a table is said in a line, at its cell.
func TestBenchProblems(t *testing.T) {
	for _, c := range []struct{ name, old, new, want string }{
		{"semicolons", table, strings.ReplaceAll(table, ",", ";"), `b.csv:1:1: one column; separate columns by commas, and write decimal points`},
		{"no heading", "load_ohm,power_W,peak_V\n", "", `b.csv:1:1: load_ohm: no such column; the first line names the columns: load_ohm,power_W,peak_V`},
		{"another unit", "power_W", "power_kW", `b.csv:1:1: power_W: no such column; the first line names the columns: load_ohm,power_W,peak_V`},
		{"a gap", "200,60,220", "200,,220", `b.csv:3:5: power_W: empty; give a number, or leave the line out`},
		{"a short line", "200,60,220", "200,60", `b.csv:3:1: 2 values where 3 are needed; a comma separates columns: write decimals with a point, and leave no gaps`},
		{"a comma for a point", "200,60,220", "200,60,5,220", `b.csv:3:1: 4 values where 3 are needed; a comma separates columns: write decimals with a point, and leave no gaps`},
		{"a quoted comma", "200,60,220", `200,"60,5",220`, `b.csv:3:5: power_W: "60,5" is not a number; use a decimal point`},
		{"a word", "200,60,220", "200,high,220", `b.csv:3:5: power_W: "high" is not a plain number; give a number above 0 and at most 500`},
		{"negative", "200,60,220", "200,-60,220", `b.csv:3:5: power_W: -60 is out of range; give a number above 0 and at most 500`},
		{"swapped columns", "load_ohm,power_W,peak_V", "load_ohm,peak_V,power_W", `b.csv:2:4: peak_V: 40 V is less than a sine needs for 90 W into 50 ohm, 94.87 V; check units, and that no columns are swapped`},
		{"RMS for peak", "200,60,220", "200,60,110", `b.csv:3:8: peak_V: 110 V is less than a sine needs for 60 W into 200 ohm, 154.9 V; check units, and that no columns are swapped`},
		{"power in mW", "50,40,90", "50,0.04,90", `b.csv:2:9: peak_V: 90 V for 0.04 W into 50 ohm is a crest factor of 63.6; at most 44.7: check units, and that no columns are swapped`},
		{"two powers at a load", "200,60,220", "50,60,220", `b.csv:3:1: load_ohm: 50 ohm a second time; one power for each load: leave one of the rows out`},
		{"loads that fall", "200,60,220", "20,60,220", `b.csv:3:1: load_ohm: 20 ohm is not above the row before; give loads in ascending order`},
		{"one load", "200,60,220\n1000,30,346\n", "", `b.csv: 1 rows; a heading load_ohm,power_W,peak_V and at least 2 loads`},
		{"nothing", table, "", `b.csv: 0 rows; a heading load_ohm,power_W,peak_V and at least 2 loads`},
		{"an open quote", "200,60,220", `200,"60,220`, `b.csv:4:13: not a table: extraneous or missing " in quoted-field; write plain numbers separated by commas`},
	} {
		_, err := ReadBench("b.csv", []byte(strings.Replace(table, c.old, c.new, 1)))
		if err == nil || strings.Split(err.Error(), "\n")[0] != c.want {
			t.Errorf("%s:\ngot  %v\nwant %s", c.name, err, c.want)
		}
	}
}
