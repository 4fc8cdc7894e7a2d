package scenarios

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

func parse1(t *testing.T, old, new string) *Scenario {
	t.Helper()
	if !strings.Contains(sound, old) {
		t.Fatalf("%q is not in the sound scenario", old)
	}
	text := strings.Replace(sound, old, new, 1)
	if strings.Contains(new, "peak_voltage_V") { // which says what the source can do
		text = strings.Replace(text, "  sparks: false\n", "", 1)
	}
	s, err := Parse("s.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	resolved(t, s)
	return s
}

// No value without a statement of where it comes from.
func TestEveryDefaultHasASource(t *testing.T) {
	texts := map[string][]byte{
		"gas beyond": []byte(strings.Replace(sound, site, site+"  beyond: {medium: gas}\n", 1)),
		"pressed":    []byte(strings.Replace(sound, site+"electrode:\n  "+disc, site+"  cushion: {fluid: glucose, thickness_mm: 2}\nelectrode:\n  "+ball+"\n  force_N: 0.1", 1)),
		"needle":     []byte(strings.Replace(sound, disc, needle+"\n  force_N: 0.1\nmotion: {length_mm: 4, advance: from-pressure}", 1)),
		"by hand":    []byte(strings.Replace(sound, site, "  layers:\n    - {name: a, thickness_mm: 2, "+hand+"}\n", 1)),
	}
	for _, e := range Examples() {
		s, err := e.Scenario()
		if err != nil {
			t.Fatal(err)
		}
		everySetting(t, s)
	}
	for name, text := range texts {
		s, err := Parse(name, text)
		if err != nil {
			t.Fatal(err)
		}
		everySetting(t, s)
	}
}

// everySetting holds each setting against what all must be: given or sourced, and
// found by its path, items of lists by their name or number.
func everySetting(t *testing.T, s *Scenario) {
	t.Helper()
	for _, set := range s.Settings() {
		if set.Given == (set.Source != "") {
			t.Errorf("%s: %s = %s: given %v, source %q", s.Name, set.Key, set.Value, set.Given, set.Source)
		}
		if strings.Contains(set.Source, "\n") {
			t.Errorf("%s: source of %s is not one line", s.Name, set.Key)
		}
		if strings.HasPrefix(set.Key, "damage.also") {
			continue // a list of words has no slots
		}
		if p, ok := keys.Slot(s.File, set.Key); !ok || p.IsNil() || Printed(p.Elem()) != set.Value {
			t.Errorf("%s: slot finds %v at %s, want %s", s.Name, p, set.Key, set.Value)
		}
	}
}

// The rise of conductivity ends at the boiling point even where nothing boils, so
// the case must hold one.
func TestBoilingPointWithoutBoiling(t *testing.T) {
	if c := parse1(t, end, end+"physics: {boiling: false}\n").Case(); c.Physics.BoilC != tissue.BoilTemperature.Value {
		t.Errorf("boiling point %v C", c.Physics.BoilC)
	}
}

// The case holds what was written, in SI units.
func TestCaseInSI(t *testing.T) {
	s := parse1(t, disc+"\ncurrent:\n  sparks: false\n  power_W: 10\n  on_s: 2\n", `tip: ball
  radius_mm: 1.5
  contact_radius_mm: 0.8
  heat_transfer_W_m2K: 700
  temperature_C: 25
motion: {length_mm: 8, speed_mm_s: 2}
current:
  frequency_kHz: 450
  duty_cycle_percent: 50
  power_W: 12
  limits: {peak_voltage_V: 600, current_A: 1.5, power_W: 40, load_line: [{resistance_ohm: 100, power_W: 30}, {resistance_ohm: 500, power_W: 60}]}
  pulses: {length_ms: 50, period_ms: 600, between: {burst_power_W: 20, duty_cycle_percent: 25, limits: {current_A: 0.5}}}
afterwards_s: 3
body: {temperature_C: 36, blood_heat_capacity_J_kgK: 3600}
physics: {conductivity_per_K: 0.02, boiling: true, boil_C: 101, latent_heat_J_kg: 2.2e6, dry_conductivity_share: 0.02,
  dry_k_W_mK: 0.3, carbonisation: true, carbon_C: 340, carbon_J_kg: 2e6, carbon_ceiling_C: 480,
  spark_onset_V: 250, spark_kV_mm: 1.5, vaporised_share: 0.5, perfusion_stops: at-injury, metabolic_heat: false}
damage: {A_per_s: 1e80, E_over_R_K: 62000, also: [skin-1947]}
domain: {radius_mm: 6, half_width_mm: 5, side: grounded, bottom: insulated}
probes: [{name: p, x_mm: 4, y_mm: 1, z_mm: 0.5}]
numerics: {quality: fine, finest_um: 80, tolerance: 1e-3, resolve_percent: 2, max_step_ms: 4}
`)
	c := s.Case()
	for _, v := range []struct {
		name      string
		got, want float64
	}{
		{"contact", c.Electrode.ContactRadiusM, 0.8e-3}, {"tip", c.Electrode.TipRadiusM, 1.5e-3},
		{"electrode h", c.Electrode.HeatTransferWM2K, 700}, {"electrode T", c.Electrode.TemperatureC, 25},
		{"length", c.Motion.LengthM, 8e-3}, {"speed", c.Motion.SpeedMS, 2e-3},
		{"frequency", c.Drive.FrequencyHz, 450e3}, {"duty", c.Drive.DutyCycle, 0.5}, {"power", c.Drive.PowerW, 12},
		{"on", c.Drive.OnS, 4}, {"after", c.AfterS, 3},
		{"peak", c.Drive.Limits.PeakVoltageV, 600}, {"current", c.Drive.Limits.CurrentA, 1.5},
		{"power limit", c.Drive.Limits.PowerW, 40},
		{"load line, ohm", c.Drive.Limits.LoadLine[1].ResistanceOhm, 500}, {"load line, W", c.Drive.Limits.LoadLine[1].PowerW, 60},
		{"pulse", c.Drive.Pulses.LengthS, 0.05}, {"period", c.Drive.Pulses.PeriodS, 0.6},
		{"power between", c.Drive.Pulses.Between.PowerW, 5}, {"duty between", c.Drive.Pulses.Between.DutyCycle, 0.25},
		{"current between", c.Drive.Pulses.Between.Limits.CurrentA, 0.5},
		{"spark onset", c.Physics.SparkOnsetV, 250}, {"spark strength", c.Physics.SparkVM, 1.5e6}, {"vaporised", c.Physics.VaporisedShare, 0.5},
		{"body", c.Body.TemperatureC, 36}, {"blood", c.Body.BloodHeatCapacityJKgK, 3600},
		{"slope", c.Physics.SigmaPerK, 0.02}, {"boil", c.Physics.BoilC, 101}, {"latent", c.Physics.LatentJKg, 2.2e6},
		{"dry share", c.Physics.DrySigmaShare, 0.02}, {"dry k", c.Physics.DryKWMK, 0.3}, {"carbon", c.Physics.CarbonC, 340},
		{"carbon heat", c.Physics.CarbonJKg, 2e6}, {"ceiling", c.Physics.CarbonCeilingC, 480},
		{"ln A", c.Damage.Kinetics.Segments[0].LnA, 80 * math.Ln10}, {"theta", c.Damage.Kinetics.Segments[0].ThetaK, 62000},
		{"radius", c.Domain.RadiusM, 6e-3}, {"half width", c.Domain.HalfWidthM, 5e-3},
		{"probe x", c.Probes[0].XM, 4e-3}, {"probe y", c.Probes[0].YM, 1e-3}, {"probe z", c.Probes[0].ZM, 0.5e-3},
		{"finest", c.Numerics.FinestM, 80e-6}, {"tolerance", c.Numerics.Tolerance, 1e-3},
		{"resolve", c.Numerics.Resolve, 0.02}, {"step", c.Numerics.MaxStepS, 4e-3},
	} {
		if math.Abs(v.got-v.want) > 1e-14*math.Abs(v.want) {
			t.Errorf("%s: %v, want %v", v.name, v.got, v.want)
		}
	}
	if !c.Domain.ThreeD || c.Domain.Side != thermal.Grounded || c.Domain.Bottom != thermal.Insulated {
		t.Errorf("domain %+v", c.Domain)
	}
	if c.Physics.PerfusionStops != thermal.AtInjury || c.Physics.MetabolicHeat || !c.Physics.Boiling || !c.Physics.Carbonisation {
		t.Errorf("physics %+v", c.Physics)
	}
	if c.Electrode.Tip != thermal.Ball || c.Damage.Also[0].Name != "skin-1947" || c.Numerics.Quality != "fine" {
		t.Errorf("words: %v %v %v", c.Electrode.Tip, c.Damage.Also, c.Numerics.Quality)
	}
}

// A source by what it holds: a power, a power within bursts, a voltage.
func TestHeldQuantity(t *testing.T) {
	none := drive.Limits{PeakVoltageV: tissue.SparkOnset.Value}
	for _, c := range []struct {
		new  string
		want drive.Mode
	}{
		{"power_W: 12", drive.Mode{DutyCycle: 1, PowerW: 12, Limits: none}},
		{"power_W: 12\n  duty_cycle_percent: 25", drive.Mode{DutyCycle: 0.25, PowerW: 12, Limits: none}},
		{"burst_power_W: 12", drive.Mode{DutyCycle: 1, PowerW: 12, Limits: none}},
		{"burst_power_W: 12\n  duty_cycle_percent: 25", drive.Mode{DutyCycle: 0.25, PowerW: 3, Limits: none}},
		{"peak_voltage_V: 800\n  duty_cycle_percent: 25", drive.Mode{DutyCycle: 0.25, PeakVoltageV: 800}},
		{"peak_voltage_V: 800\n  limits: {current_A: 2}", drive.Mode{DutyCycle: 1, PeakVoltageV: 800, Limits: drive.Limits{CurrentA: 2}}},
	} {
		d := parse1(t, "power_W: 10", c.new).Case().Drive
		if diff := cmp.Diff(c.want, d.Mode); diff != "" || d.Pulses != nil {
			t.Errorf("%q: %s", c.new, diff)
		}
	}
}

// Between pulses the duty cycle and each limit are those of the pulses unless given;
// a power of 0 is a source that is off.
func TestBetweenPulses(t *testing.T) {
	line := []drive.Load{{ResistanceOhm: 100, PowerW: 30}, {ResistanceOhm: 500, PowerW: 60}}
	const limits = "  limits: {peak_voltage_V: 600, current_A: 1.5, power_W: 40, load_line: [{resistance_ohm: 100, power_W: 30}, {resistance_ohm: 500, power_W: 60}]}\n"
	like := drive.Limits{PeakVoltageV: 600, CurrentA: 1.5, PowerW: 40, LoadLine: line}
	for _, c := range []struct {
		held, limits, between string
		want                  drive.Mode
	}{
		{"power_W: 10", "", "", drive.Mode{}},
		{"power_W: 10", limits, ", between: {power_W: 0}", drive.Mode{}},
		{"power_W: 10", limits, ", between: {burst_power_W: 0, duty_cycle_percent: 8}", drive.Mode{}},
		{"power_W: 10", limits, ", between: {power_W: 6}", drive.Mode{DutyCycle: 0.5, PowerW: 6, Limits: like}},
		{"power_W: 10", limits, ", between: {burst_power_W: 6}", drive.Mode{DutyCycle: 0.5, PowerW: 3, Limits: like}},
		{"power_W: 10", limits, ", between: {power_W: 6, duty_cycle_percent: 8, limits: {peak_voltage_V: 900, load_line: [{resistance_ohm: 50, power_W: 9}]}}",
			drive.Mode{DutyCycle: 0.08, PowerW: 6, Limits: drive.Limits{PeakVoltageV: 900, CurrentA: 1.5, PowerW: 40, LoadLine: []drive.Load{{ResistanceOhm: 50, PowerW: 9}}}}},
		{"power_W: 10", limits, ", between: {power_W: 6, limits: {peak_voltage_V: 0, current_A: 0, power_W: 0}}", drive.Mode{DutyCycle: 0.5, PowerW: 6, Limits: drive.Limits{LoadLine: line}}},
		{"power_W: 10", limits, ", between: {peak_voltage_V: 90}", drive.Mode{DutyCycle: 0.5, PeakVoltageV: 90, Limits: drive.Limits{CurrentA: 1.5, PowerW: 40, LoadLine: line}}},
		{"peak_voltage_V: 900", "", ", between: {power_W: 6}", drive.Mode{DutyCycle: 0.5, PowerW: 6, Limits: drive.Limits{PeakVoltageV: 900}}},
	} {
		s := parse1(t, "  power_W: 10\n", "  "+c.held+"\n  duty_cycle_percent: 50\n"+c.limits+pulsed+c.between+"}\n")
		if diff := cmp.Diff(c.want, s.Case().Drive.Pulses.Between); diff != "" {
			t.Errorf("%s, %s: %s", c.held, c.between, diff)
		}
		everySetting(t, s)
		if shown := slices.ContainsFunc(s.Settings(), func(set Setting) bool { return strings.HasPrefix(set.Key, betweenKeys+".limits.") }); shown != (c.want.DutyCycle > 0) {
			t.Errorf("%s, %s: limits between are filled in: %v", c.held, c.between, shown)
		}
	}
}

// A site gives the library's layers, with the material at the scenario's
// frequency; the layer names and the borders are those of the case.
func TestSiteBecomesLayers(t *testing.T) {
	s := parse1(t, end, end+"  frequency_kHz: 900\n")
	c := s.Case()
	rectum, _ := tissue.FindSite("rectum")
	muscles := 0
	for i, l := range rectum.Layers {
		m, _ := tissue.FindTissue(l.Tissue)
		got := c.Layers[i]
		if got.Name != l.Name || got.ThicknessM != l.ThicknessMM.Value/1000 || got.Material != m.At(900e3) || got.Beyond {
			t.Errorf("layer %d: %+v, want %+v with %+v", i, got, l, m.At(900e3))
		}
		if got.Muscle {
			muscles++
		}
	}
	fat, _ := tissue.FindTissue(tissue.BeyondTissue)
	if last := c.Layers[len(c.Layers)-1]; !last.Beyond || last.Material != fat.At(900e3) {
		t.Errorf("beyond: %+v", last)
	}
	if muscles != 1 {
		t.Errorf("%d muscle layers", muscles)
	}
	for i, b := range c.Borders() {
		if b.Name != borders(s.File)[i] {
			t.Errorf("border %d is %s here and %s in thermal", i, borders(s.File)[i], b.Name)
		}
	}
}

const pulsed = "  pulses: {length_ms: 50, period_ms: 600"

// Defaults that follow from other values.
func TestDerivedDefaults(t *testing.T) {
	for _, c := range []struct {
		name, old, new string
		key, value     string
	}{
		{"ball contact", disc, ball, "electrode.contact_radius_mm", "0.7"},
		{"fine needle", disc, "tip: needle\n  radius_mm: 0.1\n  insertion_mm: 1", "numerics.finest_um", "50"},
		{"draft", end, end + "numerics: {quality: draft}\n", "numerics.finest_um", "200"},
		{"wide disc", disc, "tip: disc\n  radius_mm: 8", "domain.radius_mm", "80"},
		{"travel", end, "motion: {length_mm: 6, speed_mm_s: 4}\n", "current.on_s", "1.5"},
		{"margin of a track", end, "motion: {length_mm: 6, speed_mm_s: 4}\n", "domain.half_width_mm", "20"},
		{"stationary 3-D", end, end + "numerics: {geometry: 3-D}\n", "domain.radius_mm", "20"},
		{"water in the lumen", site, site + "  lumen: {medium: water}\n", "wall.lumen.heat_transfer_W_m2K", keys.Text(tissue.LumenWaterHeatTransfer.Value)},
		{"gas beyond", site, site + "  beyond: {medium: gas}\n", "domain.bottom", "insulated"},
		{"cold bench", end, end + "body: {temperature_C: 22}\n", "wall.lumen.temperature_C", "22"},
		{"no boiling", end, end + "physics: {boiling: false}\n", "current.limits.peak_voltage_V", "0"},
		{"onset of sparks", end, end + "physics: {spark_onset_V: 260}\n", "current.limits.peak_voltage_V", "260"},
		{"current limit", end, end, "current.limits.current_A", "0"},
		{"power limit", end, end, "current.limits.power_W", "0"},
		{"duty cycle", end, end, "current.duty_cycle_percent", "100"},
		{"sparks", end, end, "physics.spark_onset_V", keys.Text(tissue.SparkOnset.Value)},
		{"spark strength", end, end, "physics.spark_kV_mm", keys.Text(tissue.SparkStrength.Value)},
		{"vaporised", end, end, "physics.vaporised_share", keys.Text(tissue.VaporisedShare.Value)},
		{"off between", end, end + pulsed + "}\n", "current.pulses.between.power_W", "0"},
		{"duty cycle between", end, end + pulsed + ", between: {power_W: 6}}\n  duty_cycle_percent: 40\n", "current.pulses.between.duty_cycle_percent", "40"},
		{"voltage between", end, end + pulsed + ", between: {power_W: 6}}\n  limits: {peak_voltage_V: 700}\n", "current.pulses.between.limits.peak_voltage_V", "700"},
		{"load line between", end, end + pulsed + ", between: {power_W: 6}}\n  limits: {load_line: [{resistance_ohm: 70, power_W: 9}]}\n", "current.pulses.between.limits.load_line[1].resistance_ohm", "70"},
		{"no boiling, between", end, end + pulsed + ", between: {power_W: 6}}\nphysics: {boiling: false}\n", "current.pulses.between.limits.peak_voltage_V", "0"},
		{"kinetics", end, end, "damage.kinetics", tissue.DefaultKinetics},
	} {
		s := parse1(t, c.old, c.new)
		i := slices.IndexFunc(s.Settings(), func(set Setting) bool { return set.Key == c.key })
		if i < 0 {
			t.Errorf("%s: no %s", c.name, c.key)
		} else if set := s.Settings()[i]; set.Value != c.value || set.Given {
			t.Errorf("%s: %+v, want %s", c.name, set, c.value)
		}
	}
}

func TestNotes(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{end, end + "  frequency_kHz: 150\n", "below 200 kHz, where current stimulates nerve and muscle"},
		{end, end + "  frequency_kHz: 6000\n", "above 5 MHz"},
		{site, site + "  beyond: {tissue: liver}\n", "is computed as a resistance"},
		{end, end + "motion: {length_mm: 8, speed_mm_s: 2}\n", "stops after 2 s, 4 mm along"},
		{end, end + "motion: {length_mm: 2, speed_mm_s: 2}\n", "rests at the end of its track for 1 s"},
		{end, end + "domain: {radius_mm: 4}\n", "only 4 contact radii"},
		{end, end + "physics: {boiling: false}\n", "Boiling is off"},
		{end, end + "  limits: {peak_voltage_V: 0}\n", "The peak voltage has no limit (current.limits.peak_voltage_V: 0)"},
		{end, end + "  limits: {peak_voltage_V: 300}\n" + pulsed + ", between: {power_W: 6, limits: {peak_voltage_V: 0}}}\n", "The peak voltage has no limit (current.pulses.between.limits.peak_voltage_V: 0)"},
		{end, end + "  duty_cycle_percent: 0.5\n", "current.duty_cycle_percent: 0.5 %: did you mean 50?"},
		{end, end + pulsed + ", between: {power_W: 6, duty_cycle_percent: 1}}\n", "current.pulses.between.duty_cycle_percent: 1 %: did you mean 100?"},
		{end, end + "  pulses: {length_ms: 50, period_ms: 3000}\n", "stops after 2 s, within the first period of the pulses, 3 s"},
	} {
		if notes := parse1(t, c.old, c.new).Notes(); !strings.Contains(strings.Join(notes, "\n"), c.want) {
			t.Errorf("%q: notes %q lack %q", c.new, notes, c.want)
		}
	}
	for _, c := range []struct{ old, new string }{
		{end, end + "  limits: {peak_voltage_V: 200}\n"},
		{end, end + "  limits: {peak_voltage_V: 600}\n"},
		{end, end + "  duty_cycle_percent: 2\n"},
		{end, end + "  limits: {peak_voltage_V: 200}\n  frequency_kHz: 200\n"},
		{end, end + "  limits: {peak_voltage_V: 0, load_line: [{resistance_ohm: 100, power_W: 30}]}\n"}, // limits the voltage
		{"power_W: 10", "peak_voltage_V: 600"},
		{end, end + "  limits: {peak_voltage_V: 200}\n  pulses: {length_ms: 50, period_ms: 2000}\n"},
	} {
		if notes := parse1(t, c.old, c.new).Notes(); len(notes) > 0 {
			t.Errorf("%q has notes: %q", c.new, notes)
		}
	}
}

// Where there is no value, none is found.
func TestSlotOfNothing(t *testing.T) {
	s := parse1(t, end, end+"  limits: {load_line: [{resistance_ohm: 100, power_W: 30}]}\ndamage: {also: [cell-death]}\n")
	for _, key := range []string{"", ".", "wall", "nothing", "wall.layers.nothing.thickness_mm", "wall.layers", "wall.layers[1].thickness_mm", "electrode.tip.x", "electrode[1]", "damage.also.x", "damage.also[1]",
		"current.limits.load_line", "current.limits.load_line[1]", "current.limits.load_line[0].power_W", "current.limits.load_line[2].power_W", "current.limits.load_line[01].power_W", "current.limits.load_line[1]power_W", "current.limits.load_line[1].name"} {
		if _, ok := keys.Slot(s.File, key); ok {
			t.Errorf("slot finds a value at %q", key)
		}
	}
}

func TestUnits(t *testing.T) {
	seen := map[string]bool{}
	var visit func(of reflect.Type)
	visit = func(of reflect.Type) {
		for of.Kind() != reflect.Struct {
			if of.Kind() != reflect.Pointer && of.Kind() != reflect.Slice {
				return
			}
			of = of.Elem()
		}
		for _, k := range keys.KeysOf(of) {
			if of.FieldByIndex(k.Index).Type == reflect.TypeFor[*float64]() {
				u := keys.UnitOf(k.Name)
				seen[u] = true
				if u == "" && !slices.Contains([]string{"dry_conductivity_share", "conductivity_exponent", "conductivity_threshold", "dry_permittivity", "steam_vent_share", "steam_wet_share", "vaporised_share", "water_fraction", "tolerance", "stretch", "times"}, k.Name) {
					t.Errorf("%s names no unit", k.Name)
				}
			}
			visit(of.FieldByIndex(k.Index).Type)
		}
	}
	visit(reflect.TypeFor[keys.File]())
	for _, u := range keys.Units {
		if !seen[u.Unit] {
			t.Errorf("no key has the unit %s", u.Unit)
		}
	}
	for key, want := range map[string]string{"perfusion_kg_m3s": "kg/(m3 s)", "density_kg_m3": "kg/m3", "speed_mm_s": "mm/s", "metabolic_W_m3": "W/m3", "latent_heat_J_kg": "J/kg", "E_over_R_K": "K"} {
		if got := keys.UnitOf(key); got != want {
			t.Errorf("unitOf(%s) = %s, want %s", key, got, want)
		}
	}
}

func TestNear(t *testing.T) {
	words := []string{"disc", "ball", "needle", "radius_mm", "power_W"}
	for word, want := range map[string]string{"disk": "disc", "dics": "disc", "Ball": "ball", "neddle": "needle", "radius": "radius_mm", "radius_cm": "radius_mm", "POWER_w": "power_W", "hook": "", "": "", strings.Repeat("x", 99): ""} {
		if got := keys.Near(word, words); got != want {
			t.Errorf("Near(%q) = %q, want %q", word, got, want)
		}
	}
}
