package source

import (
	"strings"
	"testing"
)

const sound = `title: Bench
sources:
  - name: edge
    origin: measured
    power_W: 60
    duty_cycle_percent: 50
    limits: {peak_voltage_V: 500, load_line: [{resistance_ohm: 50, power_W: 40}, {resistance_ohm: 2000, power_W: 30}]}
    pulses: {length_ms: 50, period_ms: 300, between: {power_W: 3}}
`

// What is wrong with a sheet is said in a line, at its place.
func TestProblems(t *testing.T) {
	if _, err := Parse("u.yaml", []byte(sound)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, want string }{
		{"not a sheet", sound, "title: a\nwall: {site: rectum}\n", `u.yaml:1:1: a scenario or plan where a source sheet is needed; name a file with the key sources`},
		{"a sheet within", "power_W: 60\n", "power_W: 60\n    sheet: u.yaml\n", `u.yaml:6:5: sources.edge.sheet: unknown key; keys here are name, title, origin, frequency_kHz, duty_cycle_percent, power_W, burst_power_W, peak_voltage_V, current_A, limits, series_ohm, lost_percent, pulses and origins`},
		{"no origin", "    origin: measured\n", "", `u.yaml:3:5: sources.edge.origin: missing; this key is needed`},
		{"nothing held", "    power_W: 60\n", "", `u.yaml:3:5: sources.edge: none of power_W, burst_power_W, peak_voltage_V or current_A; give one of them: what the source holds`},
		{"two held", "power_W: 60\n", "power_W: 60\n    current_A: 1\n", `u.yaml:6:16: sources.edge.current_A: is given together with power_W; give only one of power_W, burst_power_W, peak_voltage_V and current_A`},
		{"no limit", "peak_voltage_V: 500, ", "", `u.yaml:7:5: sources.edge.limits.peak_voltage_V: missing; give the highest peak voltage of the source in V (0: no limit)`},
		{"held and limited", "power_W: 60", "peak_voltage_V: 400", `u.yaml:7:30: sources.edge.limits.peak_voltage_V: is given together with peak_voltage_V; give one of them: a voltage is either held or limited`},
		{"two powers at a load", "resistance_ohm: 2000", "resistance_ohm: 50", `u.yaml:7:99: sources.edge.limits.load_line[2].resistance_ohm: 50 ohm a second time; one power for each resistance: leave one of the points out`},
		{"loads that fall", "resistance_ohm: 2000", "resistance_ohm: 20", `u.yaml:7:99: sources.edge.limits.load_line[2].resistance_ohm: 20 ohm is not above the point before; more than 50 ohm: give points in ascending order of resistance`},
		{"negative power", "power_W: 30", "power_W: -30", `u.yaml:7:114: sources.edge.limits.load_line[2].power_W: -30 is out of range; give a number above 0 and at most 500 W`},
		{"pulse without a period", ", period_ms: 300", "", `u.yaml:8:5: sources.edge.pulses.period_ms: missing; give the time from pulse to pulse in ms`},
		{"pulse too long", "length_ms: 50", "length_ms: 300", `u.yaml:8:25: sources.edge.pulses.length_ms: 300 ms fills the whole period; less than period_ms, 300, or leave pulses out`},
		{"lost", "power_W: 60", "power_W: 60\n    lost_percent: 91", `u.yaml:6:19: sources.edge.lost_percent: 91 is out of range; give a number from 0 to 90 percent`},
		{"name twice", "  - name: edge\n", "  - {name: edge, origin: a, power_W: 1, limits: {peak_voltage_V: 0}}\n  - name: edge\n", `u.yaml:4:11: sources[2].name: "edge" is the name of an item above; give each item its own name`},
		{"origin of nothing", "    power_W: 60\n", "    power_W: 60\n    origins: [{key: series_ohm, origin: a}]\n", `u.yaml:6:21: sources.edge.origins[1].key: "series_ohm" is not given in this source; name one of its keys`},
	} {
		_, err := Parse("u.yaml", []byte(strings.Replace(sound, c.old, c.new, 1)))
		if err == nil || err.Error() != c.want {
			t.Errorf("%s:\ngot  %v\nwant %s", c.name, err, c.want)
		}
	}
}

// What flows between pulses has the duty cycle and the limits of the pulses, as in a scenario.
func TestBetween(t *testing.T) {
	s, err := Parse("u.yaml", []byte(sound))
	if err != nil {
		t.Fatal(err)
	}
	d := Drive(s.Find("edge"), 3)
	b := d.Pulses.Between
	if b.PowerW != 3 || b.DutyCycle != 0.5 || b.Limits.PeakVoltageV != 500 || len(b.Limits.LoadLine) != 2 || d.OnS != 3 || d.Pulses.PeriodS != 0.3 {
		t.Errorf("%+v", d)
	}
	if s.Sources[0].Pulses.Between.DutyCyclePercent != nil {
		t.Error("the sheet itself was changed")
	}
}
