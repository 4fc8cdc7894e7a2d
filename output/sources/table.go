package sources

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/scenarios/source"
	"muralheat/thermal/drive"
)

var heads = []string{"sheet", "source", "during", "load_ohm", "power_W", "power_low_W", "power_high_W", "terminal_power_W", "current_rms_A", "peak_voltage_V", "crest_factor",
	"limited_by", "outside_load_line", "origin"}

// CSV returns a row for each source and load, of a pulse and of what flows between.
func CSV(sheets []*source.Sheet) []byte {
	rows := [][]string{heads}
	for _, s := range shown(sheets) {
		for _, o := range s.sources {
			for _, m := range o.modes() {
				for _, ohm := range loads() {
					g := m.mode.Into(ohm)
					low, high, _ := drive.Band(g.PowerW, o.ratedW)
					rows = append(rows, []string{record.Guarded(filepath.Base(s.name)), record.Guarded(o.name), m.during, record.Number(g.LoadOhm), six(g.PowerW), six(low), six(high),
						six(g.TerminalW), six(g.CurrentA), six(g.PeakV), six(m.mode.CrestFactor()), string(g.Held), record.Number(record.Yes(g.Outside)), record.Guarded(o.origin)})
				}
			}
		}
	}
	return record.Table(rows)
}

// six writes a number of the table with six digits; empty for none.
func six(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return record.Six(v)
}

// during is a mode of a source and when it holds.
type during struct {
	during string
	mode   drive.Mode
}

// modes returns what a source gives all the time, or in pulses and between.
func (o output) modes() []during {
	p := o.drive.Pulses
	switch {
	case p == nil:
		return []during{{"all the time", o.drive.Mode}}
	case phrase.Runs(p.Between):
		return []during{{"pulse", o.drive.Mode}, {"between", p.Between}}
	}
	return []during{{"pulse", o.drive.Mode}}
}

// Text says on a terminal what each source gives.
func Text(sheets []*source.Sheet) string {
	var b strings.Builder
	for _, s := range shown(sheets) {
		record.Paragraph(&b, "", s.title)
		fmt.Fprintf(&b, "  %s\n\n", s.name)
		for _, o := range s.sources {
			record.Paragraph(&b, "", o.name+": "+o.title)
			record.Paragraph(&b, "  ", o.setting()+"; "+o.origin+".")
			for _, m := range o.modes() {
				if m.during != "all the time" {
					fmt.Fprintf(&b, "  %s, ", m.during)
				} else {
					b.WriteString("  ")
				}
				fmt.Fprintf(&b, "crest factor %.2f\n", m.mode.CrestFactor())
				fmt.Fprintf(&b, "  %8s %9s %9s %9s  %s\n", "load ohm", "power W", "RMS A", "peak V", "limited by")
				for _, ohm := range shownOhm {
					g := m.mode.Into(ohm)
					by := string(g.Held)
					if g.Outside {
						by = strings.TrimPrefix(by+", outside the load line", ", ")
					}
					fmt.Fprintln(&b, strings.TrimRight(fmt.Sprintf("  %8g %9.3g %9.3g %9.4g  %s", ohm, g.PowerW, g.CurrentA, g.PeakV, by), " "))
				}
			}
			b.WriteString("\n")
		}
	}
	record.Paragraph(&b, "", "Loads are at the electrode. "+bandNote())
	b.WriteString("\n")
	record.Paragraph(&b, "", phrase.Caution)
	return b.String()
}

// setting says in words what a source holds, its rhythm and its path.
func (o output) setting() string {
	d := o.drive
	d.OnS = 1
	return strings.NewReplacer(", for 1 s", "", " for 1 s", "").Replace(phrase.Given(d))
}

// bandNote says what the band around a power is.
func bandNote() string {
	return fmt.Sprintf("The output may differ from what is disclosed by %g %%, above %g %% of the rated output power: %s. The highest power shown is taken for rated.",
		100*drive.OutputTolerance, 100*drive.OutputFrom, drive.OutputClause)
}
