package sources

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/scenarios"
	"muralheat/scenarios/source"
)

func parsed(t *testing.T, name, text string) *source.Sheet {
	t.Helper()
	s, err := source.Parse(name, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// behind is a held voltage of 200 V RMS behind 80 ohm, and a power with pulses.
const behind = `title: Behind its impedance
sources:
  - {name: thevenin, origin: invented, peak_voltage_V: 282.842712474619, series_ohm: 80}
  - {name: pulses, origin: "=invented", power_W: 60, limits: {peak_voltage_V: 500, load_line: [{resistance_ohm: 20, power_W: 60}, {resistance_ohm: 800, power_W: 60}]}, pulses: {length_ms: 50, period_ms: 300, between: {power_W: 3}}}
`

// The table has what circuits by hand have: Thevenin's theorem, Ohm's law; the band is 20 % to both sides above a tenth of the
// rated output power.
func TestCSV(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(string(CSV([]*source.Sheet{parsed(t, "u.yaml", behind)})))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if want := 1 + 31 + 2*31; len(rows) != want {
		t.Fatalf("%d rows, want %d", len(rows), want)
	}
	at := map[string]map[string]string{}
	for _, r := range rows[1:] {
		one := map[string]string{}
		for i, h := range rows[0] {
			one[h] = r[i]
		}
		at[one["source"]+" "+one["during"]+" "+one["load_ohm"]] = one
	}
	for _, c := range []struct {
		row, column string
		want        float64
	}{
		{"thevenin all the time 79.4", "power_W", 40000 * 79.4 / (159.4 * 159.4)},
		{"thevenin all the time 100", "current_rms_A", 200. / 180},
		{"thevenin all the time 100", "terminal_power_W", 40000. / 180},
		{"thevenin all the time 100", "peak_voltage_V", 282.842712474619 * 100 / 180},
		{"thevenin all the time 10", "crest_factor", math.Sqrt2},
		{"pulses pulse 100", "power_low_W", 48}, {"pulses pulse 100", "power_high_W", 72}, {"pulses pulse 100", "peak_voltage_V", math.Sqrt(2 * 60 * 100)},
		{"pulses pulse 100", "outside_load_line", 0}, {"pulses pulse 1000", "outside_load_line", 1}, {"pulses pulse 10", "outside_load_line", 1},
		{"pulses between 100", "power_W", 3},
	} {
		got, err := strconv.ParseFloat(at[c.row][c.column], 64)
		if err != nil || math.Abs(got-c.want) > 1e-5*math.Max(c.want, 1e-3) {
			t.Errorf("%s, %s: %q, want %g", c.row, c.column, at[c.row][c.column], c.want)
		}
	}
	if r := at["pulses between 100"]; r["power_low_W"] != "" || r["origin"] != "'=invented" {
		t.Errorf("%v", r)
	}
	if r := at["pulses pulse 10"]; r["limited_by"] != "load line" {
		t.Errorf("%v", r)
	}
}

func TestText(t *testing.T) {
	text := Text([]*source.Sheet{parsed(t, "u.yaml", behind)})
	for _, want := range []string{"thevenin: thevenin\n  283 V peak, 80 ohm in series; invented.\n  crest factor 1.41\n", "  between, crest factor 1.41\n", "       100       123      1.11     157.1\n", "201.12.1.101"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// One to three sheets are drawn, with more sources than there are lines, and sources that give nothing.
func TestFigures(t *testing.T) {
	many := "title: Many\nsources:\n"
	for n := range 9 {
		many += fmt.Sprintf("  - {name: s%d, origin: a, power_W: %d, limits: {peak_voltage_V: 0}}\n", n, 5*n)
	}
	sheets := []*source.Sheet{parsed(t, "u.yaml", behind), parsed(t, "many.yaml", many)}
	for _, e := range scenarios.SheetExamples() {
		sheets = append(sheets, parsed(t, e.Name, string(e.Text)))
	}
	for name, list := range map[string][]*source.Sheet{"one": sheets[:1], "many": sheets[1:2], "both": sheets[2:4], "three": sheets[:3]} {
		pictures, err := chart.Rendered(Figures(list))
		if err != nil || len(pictures) != 3 {
			t.Errorf("%s: %d pictures, %v", name, len(pictures), err)
		}
		if dir := os.Getenv("MURALHEAT_LOOK"); dir != "" {
			for _, p := range pictures {
				if err := os.WriteFile(filepath.Join(dir, name+"-"+p.Name), p.Data, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
		if svg := string(pictures[0].Data); name == "many" && !strings.Contains(svg, "Not drawn of many.yaml: its last 3 sources") {
			t.Error("does not say what is not drawn")
		}
	}
}
