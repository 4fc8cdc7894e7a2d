package scenarios

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/thermal"
)

const (
	padText   = "title: Case\nscene: neutral-electrode\nwall: {site: thigh}\npad: {area_cm2: 100}\ncurrent: {current_A: 0.7, on_s: 60}\n"
	stalkText = "title: Case\nscene: stalk-loop\nwall: {site: left-colon}\nstalk: {diameter_mm: 6}\nloop: {speed_mm_s: 1}\ncurrent: {power_W: 20}\n"
	wallText  = "title: Case\nwall: {site: rectum}\nelectrode: {tip: disc, radius_mm: 1}\ncurrent: {power_W: 10, on_s: 2}\n"
)

// What is wrong with the keys of a scene is said in one line each.
func TestSceneProblems(t *testing.T) {
	for _, c := range []struct{ name, text, old, new, want string }{
		{"no such scene", padText, "neutral-electrode", "pad", `s.yaml:2:8: scene: "pad" is not known; choose wall, neutral-electrode or stalk-loop`},
		{"no pad", padText, "pad: {area_cm2: 100}\n", "", `s.yaml:1:1: pad: missing; this key is needed: how large the pad is`},
		{"no electrode", wallText, "electrode: {tip: disc, radius_mm: 1}\n", "", `s.yaml:1:1: electrode: missing; this key is needed`},
		{"electrode with a pad", padText, "pad:", "electrode: {tip: disc, radius_mm: 1}\npad:", `s.yaml:4:1: electrode: belongs to scene: wall; leave it out, or write scene: wall`},
		{"pad on a gut wall", wallText, "current:", "pad: {area_cm2: 100}\ncurrent:", `s.yaml:4:1: pad: belongs to scene: neutral-electrode; leave it out, or write scene: neutral-electrode`},
		{"gut under a pad", padText, "thigh", "rectum", `s.yaml:3:14: wall.site: "rectum" is a gut wall; choose a body wall, as thigh, or give layers`},
		{"thigh in the gut", wallText, "rectum", "thigh", `s.yaml:2:14: wall.site: "thigh" is a body wall; it goes with scene: neutral-electrode`},
		{"two sizes", padText, "area_cm2: 100", "area_cm2: 100, radius_mm: 50", `s.yaml:4:33: pad.radius_mm: stands beside area_cm2; give one of area_cm2, radius_mm or length_mm`},
		{"no size", padText, "area_cm2: 100", "skin: wet", `s.yaml:4:1: pad: none of area_cm2, radius_mm or length_mm; give one of them`},
		{"half a rectangle", padText, "area_cm2: 100", "length_mm: 100", `s.yaml:4:1: pad.width_mm: missing; give the width of the pad in mm`},
		{"skin", padText, "area_cm2: 100", "area_cm2: 100, skin: hairy", `s.yaml:4:28: pad.skin: "hairy" is not known; choose gel, wet or dry`},
		{"current twice", padText, "current_A: 0.7", "current_A: 0.7, power_W: 10", `s.yaml:5:22: current.current_A: stands beside power_W; give one of power_W, burst_power_W, peak_voltage_V, current_A or as_run`},
		{"a run that is none", padText, "current_A: 0.7", "as_run: nowhere", `s.yaml:5:19: current.as_run: "nowhere": no summary.csv in it; name the folder of a run`},
		{"run of a wall", wallText, "power_W: 10", "as_run: nowhere", `s.yaml:4:19: current.as_run: belongs to scene: neutral-electrode; leave it out, or write scene: neutral-electrode`},
		{"rest without a run", padText, "current_A: 0.7", "current_A: 0.7, rest_s: 5", `s.yaml:5:35: current.rest_s: belongs to as_run; leave it out, or give pulses`},
		{"3-D", padText, "current:", "numerics: {geometry: 3-D}\ncurrent:", `s.yaml:5:22: numerics.geometry: this scene is axisymmetric; write auto or axisymmetric`},
		{"ring off the stalk", stalkText, "loop: {", "loop: {height_mm: 9, ", `s.yaml:5:19: loop.height_mm: 9 mm is not on the stalk; from 0.4 to 5.6 mm: a wire's thickness off its ends`},
		{"open ring", stalkText, "loop: {", "loop: {closed_to_mm: 7, ", `s.yaml:5:22: loop.closed_to_mm: 7 mm does not touch the stalk; at most stalk.diameter_mm, 6`},
		{"speed and force", stalkText, "loop: {", "loop: {force_N: 3, ", `s.yaml:5:17: loop.force_N: stands beside speed_mm_s; give one of speed_mm_s or force_N`},
		{"strength without force", stalkText, "loop: {", "loop: {strength_MPa: 3, ", `s.yaml:5:22: loop.strength_MPa: belongs to force_N; leave it out, or give force_N in place of a speed`},
		{"thin head", stalkText, "diameter_mm: 6", "diameter_mm: 6, head_diameter_mm: 4", `s.yaml:4:43: stalk.head_diameter_mm: 4 mm is thinner than the stalk; at least diameter_mm, 6`},
		{"wide touch", stalkText, "diameter_mm: 6", "diameter_mm: 6, opposite: {contact_diameter_mm: 20}", `s.yaml:4:57: stalk.opposite.contact_diameter_mm: 20 mm is wider than the head; at most head_diameter_mm, 12`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(c.text, c.old) {
				t.Fatalf("nothing to replace: %q", c.old)
			}
			_, err := Parse("s.yaml", []byte(strings.Replace(c.text, c.old, c.new, 1)))
			if err == nil {
				t.Fatal("no problem")
			}
			if got := strings.TrimSpace(err.Error()); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

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
	near("ring inside", lost("centre").InnerRadiusM, 0.8*a)
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
