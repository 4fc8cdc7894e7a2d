package scenarios

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/press"
	"muralheat/thermal/tissue"
)

// What is done to the wall, and how the electrode is held.
var handProblems = []spoilt{
	{"stretch out of range", site, site + "  stretch: 5\n",
		`s.yaml:4:12: wall.stretch: 5 is out of range; give a number from 0.5 to 4`},
	{"cushion without thickness", site, site + "  cushion: {fluid: saline}\n",
		`s.yaml:4:3: wall.cushion.thickness_mm: missing; give a number from 0.1 to 20 mm`},
	{"cushion without fluid", site, site + "  cushion: {thickness_mm: 3}\n",
		`s.yaml:4:3: wall.cushion: neither fluid nor material; give one of them`},
	{"cushion of two", site, site + "  cushion: {thickness_mm: 3, fluid: saline, " + hand + "}\n",
		`s.yaml:4:45: wall.cushion.material: is given together with fluid; give only one of fluid and material`},
	{"fluid not known", site, site + "  cushion: {thickness_mm: 3, fluid: salin}\n",
		`s.yaml:4:37: wall.cushion.fluid: "salin" is not known; did you mean saline? choose saline or glucose`},
	{"fluid without water", site, site + "  cushion: {thickness_mm: 3, material: {sigma_S_m: 1, k_W_mK: 0.6, density_kg_m3: 1000, heat_capacity_J_kgK: 4180}}\n",
		`s.yaml:4:30: wall.cushion.material.water_fraction: missing; give the mass share of water, from 0 to below 1, or set physics.boiling: false`},
	{"no submucosa to lift", site, layer + "  cushion: {thickness_mm: 3, fluid: saline}\n",
		`s.yaml:5:3: wall.cushion: no layer is named submucosa; give that name to the layer into which the fluid goes`},
	{"a cushion by hand as well", site, "  layers:\n    - {name: submucosa, thickness_mm: 1, tissue: muscle}\n    - {name: cushion, thickness_mm: 1, tissue: saline}\n  cushion: {thickness_mm: 3, fluid: saline}\n",
		`s.yaml:6:3: wall.cushion: a layer is already named cushion; give the layer another name, or leave the cushion out`},
	{"a deep submucosa by hand", site, "  layers:\n    - {name: submucosa, thickness_mm: 1, tissue: muscle}\n    - {name: submucosa-deep, thickness_mm: 1, tissue: fat}\n  cushion: {thickness_mm: 3, fluid: saline}\n",
		`s.yaml:6:3: wall.cushion: a layer is already named submucosa-deep; give the layer another name, or leave the cushion out`},
	{"cushion in the muscle", site, "  layers:\n    - {name: submucosa, thickness_mm: 1, tissue: muscle, muscle: true}\n  cushion: {thickness_mm: 3, fluid: saline}\n",
		`s.yaml:5:3: wall.cushion: would split the layer whose injury is judged; mark another layer as the muscle`},
	{"beyond named as the cushion", site, site + "  cushion: {thickness_mm: 3, fluid: saline}\n  beyond: {name: cushion, tissue: fat}\n",
		`s.yaml:5:18: wall.beyond.name: "cushion" is also the name of a layer; give wall.beyond.name another`},
	{"probe named as a border of the cushion", site, site + "  cushion: {thickness_mm: 3, fluid: saline}\nprobes: [{name: cushion-submucosa-deep, z_mm: 1}]\n",
		`s.yaml:5:17: probes.cushion-submucosa-deep.name: "cushion-submucosa-deep" is the name of a border between layers; give the probe another name`},
	{"written thickness with a cushion", site, "  thickness_mm: 5\n  stretch: 2\n  cushion: {thickness_mm: 3, fluid: saline}\n  layers:\n    - {name: submucosa, thickness_mm: 2, tissue: muscle}\n",
		`s.yaml:3:17: wall.thickness_mm: 5 mm, but the layers add up to 2 mm; make them agree, or leave this out`},
	{"needle through a stretched wall", "  site: rectum\nelectrode:\n  tip: disc\n  radius_mm: 1\n", layer + "  stretch: 2\n  beyond: {medium: gas}\nelectrode:\n  tip: needle\n  radius_mm: 0.2\n  insertion_mm: 1.5\n",
		`s.yaml:10:17: electrode.insertion_mm: 1.5 mm goes through everything that is computed; less than 1 mm, or a thicker wall.beyond`},
	{"probe below a pressed wall", "  site: rectum\nelectrode:\n  tip: disc\n  radius_mm: 1\n", layer + "  beyond: {medium: gas}\nelectrode:\n  tip: disc\n  radius_mm: 1\n  force_N: 10\nprobes: [{name: p, z_mm: 1}]\n",
		`s.yaml:10:26: probes.p.z_mm: 1 mm is outside the domain; from 0 to 0.8 mm`},
	{"fibrosis of layers by hand", site, layer + "  fibrosis: true\n",
		`s.yaml:5:13: wall.fibrosis: belongs to a site; give the layer tissue: fibrotic-submucosa`},

	{"force and pressure", disc, disc + "\n  force_N: 0.1\n  pressure_kPa: 5",
		`s.yaml:8:17: electrode.pressure_kPa: is given together with force_N; give only one of force_N, pressure_kPa and contact_radius_mm`},
	{"force and contact", disc, ball + "\n  force_N: 0.1\n  contact_radius_mm: 0.5",
		`s.yaml:8:22: electrode.contact_radius_mm: is given together with force_N; give only one of force_N, pressure_kPa and contact_radius_mm`},
	{"pressure and contact", disc, ball + "\n  contact_radius_mm: 0.5\n  pressure_kPa: 5",
		`s.yaml:7:22: electrode.contact_radius_mm: is given together with pressure_kPa; give only one of force_N, pressure_kPa and contact_radius_mm`},
	{"no force", disc, ball + "\n  force_N: 0",
		`s.yaml:7:12: electrode.force_N: 0 is out of range; give a number above 0 and at most 10 N`},
	{"hardly any force", disc, ball + "\n  force_N: 1e-7",
		`s.yaml:7:12: electrode.force_N: leaves a contact of only 0.018 mm radius; press harder: at least 0.05 mm`},
	{"hardly any pressure", disc, ball + "\n  pressure_kPa: 0.01",
		`s.yaml:7:17: electrode.pressure_kPa: leaves a contact of only 0.0018 mm radius; press harder: at least 0.05 mm`},
	{"modulus without force", site, site + "  modulus_kPa: 20\n",
		`s.yaml:4:16: wall.modulus_kPa: has no effect unless a tip that lies on the wall is pressed; leave it out, or give electrode.force_N or pressure_kPa`},
	{"rest with a needle", "  site: rectum\nelectrode:\n  tip: disc\n  radius_mm: 1\n", "  site: rectum\n  squeeze_rest_percent: 50\nelectrode:\n  " + needle + "\n  force_N: 0.1\n",
		`s.yaml:4:25: wall.squeeze_rest_percent: has no effect unless a tip that lies on the wall is pressed; leave it out, or give electrode.force_N or pressure_kPa`},

	{"advance not known", end, end + "motion: {length_mm: 8, advance: by-pressure}\n",
		`s.yaml:11:33: motion.advance: "by-pressure" is not known; choose at-speed or from-pressure`},
	{"disc from pressure", disc, disc + "\n  force_N: 0.1\nmotion: {length_mm: 8, advance: from-pressure}",
		`s.yaml:8:33: motion.advance: from-pressure, but a disc does not cut; write at-speed, or tip: needle`},
	{"needle without pressure", disc, needle + "\nmotion: {length_mm: 8, advance: from-pressure}",
		`s.yaml:8:33: motion.advance: from-pressure, but neither force nor pressure is given; give electrode.force_N or pressure_kPa`},
	{"speed beside pressure", disc, needle + "\n  force_N: 0.1\nmotion: {length_mm: 8, speed_mm_s: 2, advance: from-pressure}",
		`s.yaml:9:36: motion.speed_mm_s: is decided by the pressure; leave it out, or write advance: at-speed`},
	{"mobility at speed", disc, needle + "\n  force_N: 0.1\nmotion: {length_mm: 8, speed_mm_s: 2, mobility_mm_s_kPa: 1}",
		`s.yaml:9:58: motion.mobility_mm_s_kPa: belongs to advance: from-pressure; leave it out, or write advance: from-pressure`},
	{"too fast from pressure", disc, needle + "\n  force_N: 0.1\nmotion: {length_mm: 8, mobility_mm_s_kPa: 1, advance: from-pressure}",
		`s.yaml:9:43: motion.mobility_mm_s_kPa: gives 250 mm/s at 250 kPa; a speed from 0.01 to 100 mm/s`},
	{"time from pressure", disc + "\ncurrent:\n  sparks: false\n  power_W: 10\n  on_s: 2\n", needle + "\n  force_N: 0.1\nmotion: {length_mm: 8, advance: from-pressure}\ncurrent:\n  sparks: false\n  power_W: 10\n",
		`s.yaml:10:1: current.on_s: missing; give the time in s for which the current is on`},
}

// thick is a layer by name and thickness.
type thick struct {
	Name string
	MM   float64
}

// inWall returns the wall of a case, and checks that its muscle is where it was.
func inWall(t *testing.T, c thermal.Case) []thick {
	t.Helper()
	var wall []thick
	muscles := 0
	for _, l := range c.Layers {
		if l.Beyond {
			continue
		}
		if l.Muscle {
			muscles++
		}
		wall = append(wall, thick{l.Name, l.ThicknessM * 1000})
	}
	if muscles != 1 || len(c.Borders()) != len(wall)+1 {
		t.Errorf("%d muscles, %d borders around %d layers", muscles, len(c.Borders()), len(wall))
	}
	return wall
}

// The rectum of the library is 0.85, 0.7, 1.1 and 0.1 mm; a force of 10 N leaves 40 % of
// what lies before its muscle.
func TestWallIsStretchedLiftedAndPressed(t *testing.T) {
	const hard = "\n  force_N: 10"
	for _, c := range []struct {
		name, wall, electrode string
		want                  []thick
	}{
		{"as it is", "", "", []thick{{"mucosa", 0.85}, {"submucosa", 0.7}, {"muscularis", 1.1}, {"adventitia", 0.1}}},
		{"stretched", "  stretch: 2\n", "", []thick{{"mucosa", 0.425}, {"submucosa", 0.35}, {"muscularis", 0.55}, {"adventitia", 0.05}}},
		{"shrunk", "  stretch: 0.5\n", "", []thick{{"mucosa", 1.7}, {"submucosa", 1.4}, {"muscularis", 2.2}, {"adventitia", 0.2}}},
		{"lifted", "  cushion: {fluid: saline, thickness_mm: 3}\n", "",
			[]thick{{"mucosa", 0.85}, {"submucosa", 0.35}, {"cushion", 3}, {"submucosa-deep", 0.35}, {"muscularis", 1.1}, {"adventitia", 0.1}}},
		{"stretched and lifted", "  stretch: 2\n  cushion: {fluid: saline, thickness_mm: 3}\n", "",
			[]thick{{"mucosa", 0.425}, {"submucosa", 0.175}, {"cushion", 3}, {"submucosa-deep", 0.175}, {"muscularis", 0.55}, {"adventitia", 0.05}}},
		{"pressed", "", hard, []thick{{"mucosa", 0.34}, {"submucosa", 0.28}, {"muscularis", 1.1}, {"adventitia", 0.1}}},
		{"pressed to a half", "  squeeze_rest_percent: 50\n", hard, []thick{{"mucosa", 0.425}, {"submucosa", 0.35}, {"muscularis", 1.1}, {"adventitia", 0.1}}},
		{"all three", "  stretch: 2\n  cushion: {fluid: saline, thickness_mm: 3}\n", hard,
			[]thick{{"mucosa", 0.17}, {"submucosa", 0.07}, {"cushion", 1.2}, {"submucosa-deep", 0.07}, {"muscularis", 0.55}, {"adventitia", 0.05}}},
	} {
		for _, tip := range []string{disc, ball} {
			s := parse1(t, site+"electrode:\n  "+disc, site+c.wall+"electrode:\n  "+tip+c.electrode)
			if d := cmp.Diff(c.want, inWall(t, s.Case()), cmpopts.EquateApprox(1e-12, 0)); d != "" {
				t.Errorf("%s, %s (-want +got):\n%s", c.name, tip, d)
			}
			if got := s.Case(); len(got.Layers) != len(c.want)+1 || got.Layers[len(c.want)].ThicknessM != 8e-3 {
				t.Errorf("%s: what lies beyond is not as it was: %+v", c.name, got.Layers)
			}
		}
	}
}

// A bare muscle gives way itself; so does a wall in which none is marked.
func TestBareMuscleGivesWay(t *testing.T) {
	for _, muscle := range []string{"true", "false"} {
		c := parse1(t, site+"electrode:\n  "+disc, "  layers:\n    - {name: m, thickness_mm: 1, tissue: muscle, muscle: "+muscle+"}\n    - {name: s, thickness_mm: 0.1, tissue: fat}\nelectrode:\n  "+disc+"\n  force_N: 10").Case()
		if m, s := c.Layers[0].ThicknessM, c.Layers[1].ThicknessM; math.Abs(m-0.4e-3) > 1e-15 || math.Abs(s-0.04e-3) > 1e-15 {
			t.Errorf("muscle %s: %g and %g m left", muscle, m, s)
		}
	}
}

// Between nothing and all, the wall gives way by what carries the force: the mechanics are
// those of package press on the layers before the muscle, stretched and lifted.
func TestPressedContact(t *testing.T) {
	const e, r = 10e3, 1e-3
	for _, c := range []struct {
		name, wall string
		soft       float64
	}{
		{"wall", "", 1.55e-3},
		{"stretched", "  stretch: 2\n", 0.775e-3},
		{"lifted", "  cushion: {fluid: glucose, thickness_mm: 3}\n", 4.55e-3},
	} {
		for tip, shape := range map[string]press.Tip{disc: press.Punch(r), ball: press.Sphere(r)} {
			s := parse1(t, site+"electrode:\n  "+disc, site+c.wall+"electrode:\n  "+tip+"\n  force_N: 0.01").Case()
			p := s.Electrode.Press
			force, radius := shape(press.Layer{ModulusPa: e, ThicknessM: c.soft}, p.IndentationM)
			if p.ForceN != 0.01 || math.Abs(force/0.01-1) > 1e-9 {
				t.Errorf("%s, %s: %g m carry %g N of %g N", c.name, tip, p.IndentationM, force, p.ForceN)
			}
			if math.Abs(s.Electrode.ContactRadiusM/radius-1) > 1e-9 || math.Abs(p.PressurePa*math.Pi*radius*radius/0.01-1) > 1e-9 {
				t.Errorf("%s, %s: contact %g m at %g Pa, want %g m", c.name, tip, s.Electrode.ContactRadiusM, p.PressurePa, radius)
			}
			whole := 0.0
			for _, l := range s.Layers[:len(s.Layers)-1] {
				whole += l.ThicknessM
			}
			before := map[string]float64{"wall": 2.75e-3, "stretched": 1.375e-3, "lifted": 5.75e-3}[c.name]
			if math.Abs(before-whole-p.IndentationM) > 1e-12 {
				t.Errorf("%s, %s: the wall lost %g m under an indentation of %g m", c.name, tip, before-whole, p.IndentationM)
			}
			back := parse1(t, site+"electrode:\n  "+disc, site+c.wall+"electrode:\n  "+tip+"\n  pressure_kPa: "+keys.Text(p.PressurePa/1000)).Case()
			if math.Abs(back.Electrode.Press.ForceN/0.01-1) > 1e-9 || math.Abs(back.Electrode.ContactRadiusM/radius-1) > 1e-9 {
				t.Errorf("%s, %s: its pressure gives %+v back", c.name, tip, back.Electrode)
			}
		}
	}
}

// A needle's force is spread over its front of 0.4 mm times 1 mm; at its own pace it
// waits for tissue to part, at a given speed it is forced.
func TestNeedleFromPressure(t *testing.T) {
	const track = "motion: {length_mm: 8, "
	pushed := parse1(t, disc, needle+"\n  force_N: 0.04\n"+track+"advance: from-pressure}")
	c := pushed.Case()
	if p := c.Electrode.Press; p.ForceN != 0.04 || math.Abs(p.PressurePa-100e3) > 1e-6 || p.IndentationM != 0 {
		t.Errorf("press %+v", p)
	}
	if want := tissue.CuttingMobility.Value * 100 / 1000; !c.Motion.Waits || math.Abs(c.Motion.SpeedMS-want) > 1e-12 {
		t.Errorf("motion %+v, want %g m/s", c.Motion, want)
	}
	same := parse1(t, disc, needle+"\n  pressure_kPa: 50\n"+track+"advance: from-pressure, mobility_mm_s_kPa: 0.04}").Case()
	if p := same.Electrode.Press; math.Abs(p.ForceN-0.02) > 1e-15 || math.Abs(same.Motion.SpeedMS-2e-3) > 1e-15 {
		t.Errorf("press %+v, motion %+v", p, same.Motion)
	}
	forced := parse1(t, disc, needle+"\n  force_N: 0.04\n"+track+"speed_mm_s: 3}").Case()
	if forced.Motion.Waits || forced.Motion.SpeedMS != 3e-3 || forced.Electrode.Press != c.Electrode.Press {
		t.Errorf("motion %+v, press %+v", forced.Motion, forced.Electrode.Press)
	}
	plain := parse1(t, disc, needle).Case()
	if plain.Electrode.Press != (thermal.Press{}) {
		t.Errorf("press %+v of a needle that is not pressed", plain.Electrode.Press)
	}
	if d := cmp.Diff(plain.Layers, forced.Layers); d != "" {
		t.Errorf("a needle squeezes the wall:\n%s", d)
	}
}

// Fluids and scars bring their materials.
func TestCushionAndScarMaterials(t *testing.T) {
	material := func(name string) tissue.Material {
		x, ok := tissue.FindTissue(name)
		if !ok {
			t.Fatal("no tissue " + name)
		}
		return x.At(*parse1(t, end, end).File.Current.FrequencyKHz * 1000)
	}
	for _, fluid := range tissue.Fluids() {
		c := parse1(t, site, site+"  fibrosis: true\n  cushion: {fluid: "+fluid+", thickness_mm: 3}\n").Case()
		for i, want := range []string{"colon-mucosa", tissue.FibroticSubmucosa, fluid, tissue.FibroticSubmucosa, "colon-muscularis"} {
			if c.Layers[i].Material != material(want) {
				t.Errorf("%s of %s", c.Layers[i].Name, want)
			}
		}
	}
	c := parse1(t, site, site+"  cushion: {"+hand+", thickness_mm: 3}\n").Case()
	if want := (tissue.Material{SigmaSM: 0.4, KWMK: 0.5, DensityKgM3: 1050, HeatCapacityJKgK: 3600, WaterFraction: 0.75}); c.Layers[2].Material != want {
		t.Errorf("cushion by hand: %+v", c.Layers[2].Material)
	}
}

// Every pair of what fills the lumen and what lies beyond, warm or cold.
func TestBothSidesOfTheWall(t *testing.T) {
	transfer := map[string]float64{"gas": tissue.LumenGasHeatTransfer.Value, "water": tissue.LumenWaterHeatTransfer.Value}
	for lumen, h := range transfer {
		for _, beyond := range []string{"tissue: fat", "medium: gas", "medium: water"} {
			for _, at := range []float64{20, 37} {
				there := ""
				if strings.HasPrefix(beyond, "medium") {
					there = fmt.Sprintf(", temperature_C: %g", at+1)
				}
				c := parse1(t, site, fmt.Sprintf("%s  lumen: {medium: %s, temperature_C: %g}\n  beyond: {%s%s}\n", site, lumen, at, beyond, there)).Case()
				if want := (thermal.Surface{HeatTransferWM2K: h, TemperatureC: at}); c.Lumen != want {
					t.Errorf("lumen %+v, want %+v", c.Lumen, want)
				}
				want, solid, bottom := thermal.Surface{}, there == "", thermal.Open
				if !solid {
					_, medium, _ := strings.Cut(beyond, ": ")
					want, bottom = thermal.Surface{HeatTransferWM2K: transfer[medium], TemperatureC: at + 1}, thermal.Insulated
				}
				if c.Beyond != want || c.Layers[len(c.Layers)-1].Beyond != solid || c.Domain.Bottom != bottom {
					t.Errorf("%s: beyond %+v, last layer %+v, bottom %s", beyond, c.Beyond, c.Layers[len(c.Layers)-1], c.Domain.Bottom)
				}
			}
		}
	}
}

func TestWallAndHandNotes(t *testing.T) {
	const track = "motion: {length_mm: 8, advance: from-pressure}"
	for _, c := range []struct{ old, new, want string }{
		{site, site + "  stretch: 2\n", "Stretched to 2 times its area: the wall is 1.38 mm thick instead of 2.75 mm."},
		{site, site + "  fibrosis: true\n  cushion: {fluid: saline, thickness_mm: 3}\n", "A cushion of 3 mm in a scar: fibrotic tissue lifts poorly"},
		{site, site + "  cushion: {" + hand + ", thickness_mm: 3}\n", "The fluid of the cushion does not flow"},
		{disc, disc + "\n  pressure_kPa: 5", "Pressed with 0.0157 N (5 kPa): contact radius 1 mm, wall indented by "},
		{disc, ball + "\n  force_N: 1", "Pressed with 1 N (318 kPa): contact radius 1 mm, wall indented by 0.93 mm, its limit; depths count from the surface of the pressed wall (mucosa 0.85 -> 0.34 mm, submucosa 0.7 -> 0.28 mm)."},
		{disc, needle + "\n  force_N: 0.04\n" + track, "Pressed with 0.04 N: 100 kPa on the front of the needle. It advances at no more than 2 mm/s and no faster than heat removes tissue. The current stops at the latest 4 mm along the track of 8 mm."},
	} {
		notes := parse1(t, c.old, c.new).Notes()
		if len(notes) == 0 || !strings.Contains(strings.Join(notes, "\n"), c.want) {
			t.Errorf("%q: notes %q lack %q", c.new, notes, c.want)
		}
		if strings.Contains(strings.Join(notes, "\n"), "NaN") {
			t.Errorf("%q: notes %q", c.new, notes)
		}
	}
}
