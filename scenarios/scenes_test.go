package scenarios

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"muralheat/thermal"
)

// Areas, shares and the string around a stalk turn into the case they mean.
func TestSceneCases(t *testing.T) {
	read := func(text string) thermal.Case {
		t.Helper()
		s, err := Parse("s.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		return s.Case()
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Abs(want) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	lost := func(where string) thermal.Electrode {
		return read(strings.Replace(padText, "100}", "100, contact_share_percent: 36, contact_lost: "+where+"}", 1)).Electrode
	}
	a := 0.1 / math.Sqrt(math.Pi) // radius of 100 cm2
	near("radius of the pad", lost("rim").TipRadiusM, a)
	near("peeled at the rim", lost("rim").ContactRadiusM, 0.6*a)
	near("ring outside", lost("centre").ContactRadiusM, a)
	near("ring inside", lost("centre").InnerRadiusM(), 0.8*a)
	rect := read(strings.Replace(padText, "area_cm2: 100", "length_mm: 125, width_mm: 80", 1)).Electrode
	near("rectangle of the same area", rect.ContactRadiusM, a)
	dry := read(strings.Replace(padText, "100}", "100, contact_resistance_ohm_cm2: 30, contact_reactance_ohm_cm2: 40}", 1)).Electrode.Film
	near("impedance", dry.OhmM2, 50e-4)
	near("share that heats", dry.HeatShare, 0.6)

	pull := strings.Replace(strings.Replace(stalkText, "speed_mm_s: 1", "force_N: 3, wire_diameter_mm: 0.3, closed_to_mm: 5, mobility_mm_s_kPa: 0.001", 1), "power_W: 20", "power_W: 20, on_s: 5", 1)
	c := read(pull)
	near("pressure of a string, F/(2 R w)", c.Electrode.Press.PressurePa, 3/(5e-3*0.3e-3))
	near("its speed", c.Motion.SpeedMS, 0.001*2e6/1e6) // mobility times 2000 kPa, in m/s
	if c.Motion.LengthM != 2.5e-3 || !c.Motion.Waits || c.Layers[0].Name != "head" || !c.Layers[1].Above || c.Layers[1].RadiusM != 3e-3 {
		t.Errorf("%+v %+v", c.Motion, c.Layers[:2])
	}
}

// Names that head columns are those of the case, in every scene.
func TestSceneBorders(t *testing.T) {
	for _, text := range []string{sound, padText, stalkText, strings.Replace(padText, "thigh", "thigh, beyond: {medium: gas}", 1)} {
		s, err := Parse("s.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		c := s.Case()
		for _, b := range c.Borders() {
			names = append(names, b.Name)
		}
		if got := borders(s.File); !slices.Equal(got, names) {
			t.Errorf("borders %q here, %q in thermal", got, names)
		}
	}
}

// A folder whose summary does not tell one current is refused in one line.
func TestNoCurrentOfARun(t *testing.T) {
	const head = "a,current_rms_A,heating_factor_A2s\n"
	for _, c := range []struct{ name, summary, want string }{
		{"empty", "", "its summary.csv is not that of one run"},
		{"of a sweep", head + "1,0.5,2.5\n2,0.5,2.5\n", "its summary.csv is not that of one run"},
		{"ragged", head + "1,0.5\n", "its summary.csv is not that of one run"},
		{"of an older program", "a\n1\n", "its summary.csv has no current_rms_A"},
		{"half of it", "current_rms_A\n0.5\n", "its summary.csv has no heating_factor_A2s"},
		{"no current flowed", head + "1,0,0\n", `its current_rms_A is "0"`},
		{"empty cell", head + "1,,2.5\n", `its current_rms_A is ""`},
		{"not a number", head + "1,NaN,2.5\n", `its current_rms_A is "NaN"`},
		{"negative", head + "1,0.5,-2.5\n", `its heating_factor_A2s is "-2.5"`},
		{"too much", head + "1,21,441\n", "21 A for 1 s: more than 20 A or 600 s"},
		{"too long", head + "1,0.5,151\n", "0.5 A for 604 s: more than 20 A or 600 s"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, "summary.csv"), []byte(c.summary), 0o644); err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(dir, "s.yaml")
			_, err := Parse(file, []byte(strings.Replace(padText, "current_A: 0.7", "as_run: .", 1)))
			want := file + ":5:19: current.as_run: \".\": " + c.want + "; name the folder of a run"
			if err == nil || err.Error() != want {
				t.Errorf("got  %v\nwant %s", err, want)
			}
		})
	}
}

// The current of a run: its RMS for as long as it was on, and again after each rest.
func TestCurrentOfARun(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "run"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "run", "summary.csv"), []byte("a,current_rms_A,heating_factor_A2s\n1,0.5,2.5\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := Parse(filepath.Join(dir, "s.yaml"), []byte(strings.Replace(padText, "current_A: 0.7, on_s: 60", "as_run: run, rest_s: 20, on_s: 120", 1)))
	if err != nil {
		t.Fatal(err)
	}
	d := s.Case().Drive
	if d.CurrentA != 0.5 || d.OnS != 120 || d.Pulses == nil || math.Abs(d.Pulses.LengthS-10) > 1e-12 || math.Abs(d.Pulses.PeriodS-30) > 1e-12 {
		t.Errorf("%+v %+v", d, d.Pulses)
	}
	again, err := Parse("elsewhere.yaml", s.ResolvedYAML())
	if err != nil {
		t.Fatalf("the resolved scenario needs the run: %v", err)
	}
	if again.Case().Drive.CurrentA != 0.5 {
		t.Error("another current")
	}
}
