package scenarios

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"muralheat/scenarios/keys"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

const sheetText = `title: Bench
sources:
  - name: edge
    origin: measured on the bench
    frequency_kHz: 400
    power_W: 60
    duty_cycle_percent: 50
    limits: {peak_voltage_V: 500, load_line: [{resistance_ohm: 50, power_W: 40}, {resistance_ohm: 2000, power_W: 30}]}
    pulses: {length_ms: 50, period_ms: 300, between: {power_W: 3, duty_cycle_percent: 10}}
    series_ohm: 4
    lost_percent: 2
    origins: [{key: lost_percent, origin: "assumption: leakage"}, {key: limits.load_line, origin: from the papers}]
  - name: held
    origin: invented
    peak_voltage_V: 300
`

// bySheet is the sound scenario with the current of a sheet, which it returns read from a folder.
func bySheet(t *testing.T, current string, sets ...Set) (*Scenario, error) {
	t.Helper()
	dir := t.TempDir()
	name := filepath.Join(dir, "s.yaml")
	text := strings.Replace(sound, "  sparks: false\n  power_W: 10\n"+end, current, 1)
	for file, text := range map[string]string{name: text, filepath.Join(dir, "unit.yaml"): sheetText} {
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s, err := Load(name)
	if err == nil && len(sets) > 0 {
		s, err = s.With(sets...)
	}
	var ps keys.Problems
	if errors.As(err, &ps) {
		for i := range ps {
			ps[i].File = filepath.Base(ps[i].File)
		}
		return nil, ps
	}
	return s, err
}

func set(t *testing.T, text string) Set {
	t.Helper()
	x, err := ParseSet(text, "--set")
	if err != nil {
		t.Fatal(err)
	}
	return x
}

const edge = "  sheet: unit.yaml\n  source: edge\n"

// A source of a sheet is the drive that its keys would make, and what is set on it or given beside it stands over it.
func TestSourceOfASheet(t *testing.T) {
	path := drive.Path{SeriesOhm: 4, LostShare: 0.02}
	line := []drive.Load{{ResistanceOhm: 50, PowerW: 40}, {ResistanceOhm: 2000, PowerW: 30}}
	whole := drive.Drive{
		Mode:        drive.Mode{DutyCycle: 0.5, PowerW: 60, Limits: drive.Limits{PeakVoltageV: 500, LoadLine: line}, Path: path},
		FrequencyHz: 400e3, OnS: 2,
		Pulses: &drive.Pulses{LengthS: 0.05, PeriodS: 0.3, Between: drive.Mode{DutyCycle: 0.1, PowerW: 3, Limits: drive.Limits{PeakVoltageV: 500, LoadLine: line}, Path: path}},
	}
	for name, c := range map[string]struct {
		current string
		sets    []Set
		change  func(d *drive.Drive)
	}{
		"as it is":  {edge + end, nil, func(*drive.Drive) {}},
		"set on it": {edge + "  set: {power_W: 30}\n" + end, nil, func(d *drive.Drive) { d.PowerW = 30 }},
		"another quantity": {edge + "  set: {peak_voltage_V: 300}\n" + end, nil, func(d *drive.Drive) {
			d.PowerW, d.PeakVoltageV, d.Limits.PeakVoltageV = 0, 300, 0
			d.Pulses.Between.Limits.PeakVoltageV = 300 // as the pulses

		}},
		"beside it": {edge + "  power_W: 20\n  limits: {peak_voltage_V: 400}\n  series_ohm: 0\n" + end, nil, func(d *drive.Drive) {
			d.PowerW, d.Limits.PeakVoltageV, d.Path.SeriesOhm = 20, 400, 0
			d.Pulses.Between.Limits.PeakVoltageV, d.Pulses.Between.Path.SeriesOhm = 400, 0
		}},
		"without sparks": {edge + "  sparks: false\n" + end, nil, func(d *drive.Drive) {
			d.Limits.PeakVoltageV, d.Pulses.Between.Limits.PeakVoltageV = tissue.SparkOnset.Value, tissue.SparkOnset.Value
		}},
		"a key of pulses":           {edge + "  pulses: {length_ms: 20}\n" + end, nil, func(d *drive.Drive) { d.Pulses.LengthS = 0.02 }},
		"between pulses":            {edge + "  pulses: {between: {current_A: 0.1}}\n" + end, nil, func(d *drive.Drive) { b := &d.Pulses.Between; b.PowerW, b.CurrentA = 0, 0.1 }},
		"by --set over what is set": {edge + "  set: {power_W: 30}\n" + end, []Set{set(t, "current.power_W=25"), set(t, "current.pulses.period_ms=500")}, func(d *drive.Drive) { d.PowerW, d.Pulses.PeriodS = 25, 0.5 }},
	} {
		s, err := bySheet(t, c.current, c.sets...)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		want := whole
		pulses := *whole.Pulses
		want.Pulses = &pulses
		c.change(&want)
		if d := cmp.Diff(want, s.Case().Drive); d != "" {
			t.Errorf("%s: (-want +got)\n%s", name, d)
		}
		// The resolved text is the same case without the sheet, and keeps its name.
		again, err := Parse("resolved.yaml", s.ResolvedYAML())
		if err != nil {
			t.Fatalf("%s: %v\n%s", name, err, s.ResolvedYAML())
		}
		if !reflect.DeepEqual(again.Case(), s.Case()) || !strings.Contains(string(s.ResolvedYAML()), "unit.yaml, edge: ") {
			t.Errorf("%s: resolved:\n%s", name, s.ResolvedYAML())
		}
	}
}

// Each value says where it comes from.
func TestOriginsOfASheet(t *testing.T) {
	s, err := bySheet(t, edge+"  set: {power_W: 30}\n"+end)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, x := range s.Settings() {
		got[x.Key] = x.Source
	}
	for key, want := range map[string]string{
		"current.power_W":                                    "source sheet unit.yaml, edge: set to this by current.set",
		"current.series_ohm":                                 "source sheet unit.yaml, edge: measured on the bench",
		"current.lost_percent":                               "source sheet unit.yaml, edge: assumption: leakage",
		"current.limits.load_line[2].power_W":                "source sheet unit.yaml, edge: from the papers",
		"current.pulses.between.duty_cycle_percent":          "source sheet unit.yaml, edge: measured on the bench",
		"current.pulses.between.limits.peak_voltage_V":       "as current.limits.peak_voltage_V",
		"current.pulses.between.limits.load_line[1].power_W": "as current.limits.load_line",
	} {
		if got[key] != want {
			t.Errorf("%s: %q, want %q", key, got[key], want)
		}
	}
}

// What cannot be used of a sheet is said in one line.
func TestProblemsOfASheet(t *testing.T) {
	for name, c := range map[string]struct {
		current, want string
		sets          []Set
	}{
		"no such file":        {"  sheet: other.yaml\n  source: edge\n" + end, `s.yaml:8:10: current.sheet: "other.yaml": no such file or directory; name a source sheet, relative to the folder of s.yaml`, nil},
		"no source":           {"  sheet: unit.yaml\n" + end, `s.yaml:8:10: current.sheet: no source of it is named; give current.source: edge or held`, nil},
		"no such source":      {"  sheet: unit.yaml\n  source: egde\n" + end, `s.yaml:9:11: current.source: "egde" is not a source of unit.yaml; did you mean edge? unit.yaml has edge and held`, nil},
		"itself":              {"  sheet: s.yaml\n  source: edge\n" + end, `s.yaml:1:1: a scenario or plan where a source sheet is needed; name a file with the key sources`, nil},
		"set without a sheet": {"  set: {power_W: 4}\n  power_W: 3\n  sparks: false\n" + end, `s.yaml:8:3: current.set: belongs to sheet; give the value beside it, as in current.power_W, or name a sheet`, nil},
		"two settings":        {edge + "  set: {power_W: 4, current_A: 1}\n" + end, `s.yaml:10:32: current.set.current_A: is given together with power_W; give only one of power_W, burst_power_W, peak_voltage_V and current_A`, nil},
		"set and beside":      {edge + "  set: {power_W: 4}\n  power_W: 5\n" + end, `s.yaml:11:12: current.power_W: is given together with set.power_W; give one of them`, nil},
		"above its limit":     {edge + "  set: {peak_voltage_V: 501}\n" + end, `s.yaml:10:25: current.set.peak_voltage_V: 501 V is above what the source can give; at most 500, its limits.peak_voltage_V`, nil},
		"by --set":            {edge + end, `--set: current.sheet: "none.yaml": no such file or directory; name a source sheet, relative to the folder that you are in`, []Set{set(t, "current.sheet=none.yaml")}},
	} {
		_, err := bySheet(t, c.current, c.sets...)
		if err == nil || err.Error() != c.want {
			t.Errorf("%s:\ngot  %v\nwant %s", name, err, c.want)
		}
	}
}

// Cases that differ in what a sheet says are told apart, whatever the name of its file.
func TestIdentityOfASheet(t *testing.T) {
	a, err := ParseStored("s.yaml", []byte(strings.Replace(sound, "  sparks: false\n  power_W: 10\n", edge, 1)), map[string]string{"unit.yaml": sheetText})
	if err != nil {
		t.Fatal(err)
	}
	b, err := ParseStored("s.yaml", a.Text(), map[string]string{"unit.yaml": strings.Replace(sheetText, "series_ohm: 4", "series_ohm: 5", 1)})
	if err != nil {
		t.Fatal(err)
	}
	if a.Identity() == b.Identity() {
		t.Error("another sheet, the same identity")
	}
	if d := cmp.Diff(map[string]string{"unit.yaml": sheetText}, a.Sheets()); d != "" {
		t.Error(d)
	}
}
