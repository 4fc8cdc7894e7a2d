package scenarios

import (
	"fmt"
	"math"
	"slices"

	"muralheat/thermal/tissue"
)

// Scenes: what the current meets. Each has keys of its own.
const (
	sceneWall  = "wall"
	scenePad   = "neutral-electrode"
	sceneStalk = "stalk-loop"
)

// scene returns that of a file, which may be asked before defaults are filled in.
func scene(f *File) string {
	if f.Scene == nil {
		return sceneWall
	}
	return *f.Scene
}

func inScene(name string) func(*File) bool { return func(f *File) bool { return scene(f) == name } }

// sceneKeys are the keys that belong to one scene; those it cannot do without are needed.
var sceneKeys = []struct {
	key, scene string
	needed     string
}{
	{"electrode", sceneWall, "this key is needed"},
	{"motion", sceneWall, ""},
	{"wall.modulus_kPa", sceneWall, ""},
	{"wall.squeeze_rest_percent", sceneWall, ""},
	{"pad", scenePad, "this key is needed: how large the pad is"},
	{"stalk", sceneStalk, "this key is needed: how thick the stalk is"},
	{"loop", sceneStalk, ""},
	{"current.as_run", scenePad, ""},
	{"current.rest_s", scenePad, ""},
}

// sceneFits notes keys of another scene, and what the scene lacks. Where it is not clear
// which scene is meant, nothing more can be said of the file.
func sceneFits(f *File, r *report) bool {
	if r.spoilt("scene") {
		return false
	}
	clear := true
	for _, k := range sceneKeys {
		switch given := r.given(k.key); {
		case given && k.scene != scene(f) && !r.bad[k.key]:
			r.at(k.key, "belongs to scene: "+k.scene, "leave it out, or write scene: "+k.scene)
			clear = false
		case !given && k.scene == scene(f) && k.needed != "" && !r.bad[k.key]:
			r.at(k.key, "missing", k.needed)
			clear = clear && scene(f) == sceneWall
		}
	}
	for _, k := range []string{"wall.cushion", "wall.fibrosis"} {
		if scene(f) == scenePad && r.given(k) && !r.bad[k] {
			r.at(k, "belongs to the gut wall", "leave it out")
		}
	}
	return clear
}

// padOuterMM returns the radius of the whole pad, that of a disc of its area.
func padOuterMM(f *File) float64 {
	switch p := f.Pad; {
	case p.AreaCM2 != nil:
		return 10 * math.Sqrt(*p.AreaCM2/math.Pi)
	case p.RadiusMM != nil:
		return *p.RadiusMM
	default:
		return math.Sqrt(num(p.LengthMM) * num(p.WidthMM) / math.Pi)
	}
}

// padContactMM returns the radii between which it touches the skin.
func padContactMM(f *File) (inner, outer float64) {
	r, share := padOuterMM(f), num(f.Pad.ContactSharePercent)/100
	if word(f.Pad.ContactLost) == "centre" {
		return r * math.Sqrt(1-share), r
	}
	return 0, r * math.Sqrt(share)
}

func wireMM(f *File) float64 { return num(f.Loop.WireDiameterMM) / 2 }

// pulled reports whether a force closes the loop.
func pulled(f *File) bool { return inScene(sceneStalk)(f) && f.Loop.ForceN != nil }

// pullKPa is the pressure of the wire on what it holds at the start: a string around a
// cylinder, half of the pull in each leg, over the breadth of the wire,
//
//	p = F/(2 R w)
func pullKPa(f *File) float64 {
	return num(f.Loop.ForceN) / (num(f.Loop.ClosedToMM) * num(f.Loop.WireDiameterMM)) * 1000
}

// closingMMS returns how fast the ring's radius shrinks at the start, 0 if it stays.
func closingMMS(f *File) float64 {
	if pulled(f) {
		return num(f.Loop.Mobility) * pullKPa(f)
	}
	return orNone(f.Loop.SpeedMMS)
}

// sceneRules are those of the keys that only one scene has.
func sceneRules(f *File) []rule {
	switch scene(f) {
	case scenePad:
		return padRules
	case sceneStalk:
		return append(slices.Clone(stalkRules), materialRules("stalk", f.Stalk.Material, f.Stalk.Tissue)...)
	}
	return slices.Concat(pressRules, electrodeRules)
}

var padRules = []rule{
	{key: "pad.width_mm", hangs: []string{"pad.length_mm"}, when: func(f *File) bool { return f.Pad.LengthMM != nil },
		unless: "belongs to a rectangular pad", right: "give length_mm with it, or leave it out", needed: "give the width of the pad in mm"},
	{key: "pad.contact_share_percent", fill: fixed(100.0, "assumption: all of the pad touches")},
	{key: "pad.contact_lost", fill: fixed("rim", "assumption: what is lost is peeled off at the rim")},
	{key: "pad.skin", fill: fixed("gel", "assumption: a conductive gel couples pad and skin")},
	{key: "pad.contact_resistance_ohm_cm2", hangs: []string{"pad.skin", "current.frequency_kHz"}, fill: func(f *File) (any, string) { return contactImpedance(f, false) }},
	{key: "pad.contact_reactance_ohm_cm2", hangs: []string{"pad.skin", "current.frequency_kHz"}, fill: func(f *File) (any, string) { return contactImpedance(f, true) }},
	{key: "pad.heat_transfer_W_m2K", fill: of(tissue.PadHeatTransfer)},
	{key: "pad.temperature_C", fill: of(tissue.RoomTemperature)},
}

// contactImpedance is that of a square centimetre between pad and skin.
func contactImpedance(f *File, reactance bool) (any, string) {
	switch word(f.Pad.Skin) {
	case "gel":
		if reactance {
			return 0.0, "assumption: gel has soaked the horny layer, its capacitance is bridged"
		}
		return tissue.GelContact.Value, tissue.GelContact.Cited()
	case "wet":
		if reactance {
			return 0.0, "assumption: water has soaked the horny layer, its capacitance is bridged"
		}
		return tissue.WetContact.Value, tissue.WetContact.Cited()
	}
	z, source := tissue.DryContact(num(f.Current.FrequencyKHz) * 1000)
	if reactance {
		return -imag(z), source
	}
	return real(z), source
}

var stalkRules = []rule{
	{key: "stalk.height_mm", hangs: []string{"stalk.diameter_mm"}, fill: func(f *File) (any, string) {
		return max(num(f.Stalk.DiameterMM), 5), "assumption: as high as it is thick, at least 5 mm"
	}},
	{key: "stalk.head_diameter_mm", hangs: []string{"stalk.diameter_mm"}, fill: func(f *File) (any, string) {
		return 2 * num(f.Stalk.DiameterMM), "assumption: twice diameter_mm"
	}},
	{key: "stalk.head_height_mm", hangs: []string{"stalk.head_diameter_mm"}, fill: func(f *File) (any, string) {
		return num(f.Stalk.HeadDiameterMM) / 2, "assumption: half of head_diameter_mm"
	}},
	{key: "loop.wire_diameter_mm", fill: of(tissue.LoopWire)},
	{key: "loop.height_mm", hangs: []string{"stalk.height_mm"}, fill: func(f *File) (any, string) {
		return num(f.Stalk.HeightMM) / 2, "assumption: half way up the stalk"
	}},
	{key: "loop.closed_to_mm", hangs: []string{"stalk.diameter_mm"}, fill: func(f *File) (any, string) {
		return num(f.Stalk.DiameterMM), "as stalk.diameter_mm: the ring touches and does not squeeze"
	}},
	{key: "loop.mobility_mm_s_kPa", hangs: []string{"loop.force_N"}, when: pulled, unless: "belongs to force_N", right: "leave it out, or give force_N in place of a speed", fill: of(tissue.CuttingMobility)},
	{key: "loop.strength_MPa", hangs: []string{"loop.force_N"}, when: pulled, unless: "belongs to force_N", right: "leave it out, or give force_N in place of a speed", fill: of(tissue.CuttingStrength)},
	{key: "loop.heat_transfer_W_m2K", fill: of(tissue.ElectrodeHeatTransfer)},
	{key: "loop.temperature_C", fill: asBody},
}

// sceneChecks hold the keys of a scene against each other.
func sceneChecks(f *File) []check {
	switch scene(f) {
	case scenePad:
		return padChecks
	case sceneStalk:
		return stalkChecks
	}
	return slices.Concat(electrodeChecks, pressChecks(f))
}

var padChecks = []check{
	{[]string{"numerics.geometry"}, flatOnly},
	{[]string{"pad", "domain.radius_mm"}, func(f *File) (string, string) {
		if padOuterMM(f) >= *f.Domain.RadiusMM {
			return fmt.Sprintf("a pad of %.4g mm radius reaches out of the domain", padOuterMM(f)), fmt.Sprintf("less than %g mm, or a larger domain", *f.Domain.RadiusMM)
		}
		return "", ""
	}},
	{[]string{"pad.contact_share_percent", "pad.contact_lost", "numerics.finest_um", "pad"}, func(f *File) (string, string) {
		if inner, outer := padContactMM(f); outer-inner < 2**f.Numerics.FinestUM/1000 {
			return fmt.Sprintf("leaves a contact of %.2g mm from rim to rim", outer-inner), fmt.Sprintf("at least two cells, %.3g mm", 2**f.Numerics.FinestUM/1000)
		}
		return "", ""
	}},
}

func flatOnly(f *File) (string, string) {
	if *f.Numerics.Geometry == "3-D" {
		return "this scene is axisymmetric", "write auto or axisymmetric"
	}
	return "", ""
}

var stalkChecks = []check{
	{[]string{"numerics.geometry"}, flatOnly},
	{[]string{"stalk.head_diameter_mm", "stalk.diameter_mm"}, func(f *File) (string, string) {
		if *f.Stalk.HeadDiameterMM < *f.Stalk.DiameterMM {
			return fmt.Sprintf("%g mm is thinner than the stalk", *f.Stalk.HeadDiameterMM), fmt.Sprintf("at least diameter_mm, %g", *f.Stalk.DiameterMM)
		}
		return "", ""
	}},
	{[]string{"stalk.opposite.contact_diameter_mm", "stalk.head_diameter_mm"}, func(f *File) (string, string) {
		if o := f.Stalk.Opposite; o != nil && *o.ContactDiameterMM > *f.Stalk.HeadDiameterMM {
			return fmt.Sprintf("%g mm is wider than the head", *o.ContactDiameterMM), fmt.Sprintf("at most head_diameter_mm, %g", *f.Stalk.HeadDiameterMM)
		}
		return "", ""
	}},
	{[]string{"loop.closed_to_mm", "stalk.diameter_mm"}, func(f *File) (string, string) {
		if *f.Loop.ClosedToMM > *f.Stalk.DiameterMM {
			return fmt.Sprintf("%g mm does not touch the stalk", *f.Loop.ClosedToMM), fmt.Sprintf("at most stalk.diameter_mm, %g", *f.Stalk.DiameterMM)
		}
		return "", ""
	}},
	{[]string{"loop.height_mm", "loop.wire_diameter_mm", "stalk.height_mm"}, func(f *File) (string, string) {
		wire, z := *f.Loop.WireDiameterMM, *f.Loop.HeightMM
		if z < wire || z > *f.Stalk.HeightMM-wire {
			return fmt.Sprintf("%g mm is not on the stalk", z), fmt.Sprintf("from %g to %g mm: a wire's thickness off its ends", wire, *f.Stalk.HeightMM-wire)
		}
		return "", ""
	}},
	{[]string{"stalk.head_diameter_mm", "domain.radius_mm"}, func(f *File) (string, string) {
		if *f.Stalk.HeadDiameterMM/2 >= *f.Domain.RadiusMM {
			return fmt.Sprintf("%g mm reaches out of the domain", *f.Stalk.HeadDiameterMM), fmt.Sprintf("less than %g mm, or a larger domain", 2**f.Domain.RadiusMM)
		}
		return "", ""
	}},
	{[]string{"numerics.finest_um", "loop.wire_diameter_mm"}, func(f *File) (string, string) {
		if most := wireMM(f) * 1000 / 2; *f.Numerics.FinestUM > most {
			return fmt.Sprintf("%g um leaves fewer than four cells on the wire", *f.Numerics.FinestUM), fmt.Sprintf("at most %.6g, a quarter of loop.wire_diameter_mm", most)
		}
		return "", ""
	}},
	{[]string{wallKeys, "stalk"}, func(f *File) (string, string) {
		for _, s := range sheets(f) {
			if onTop(f, s.name) {
				return "a layer is named " + s.name, "give it another name: what stands on the wall has that one"
			}
		}
		return "", ""
	}},
}

// siteFits holds the site against the scene.
var siteFits = check{[]string{"wall.site", "scene"}, func(f *File) (string, string) {
	if f.Wall.Site == nil {
		return "", ""
	}
	site, _ := tissue.FindSite(*f.Wall.Site)
	switch {
	case site.BodyWall && scene(f) != scenePad:
		return quote(*f.Wall.Site) + " is a body wall", "it goes with scene: " + scenePad
	case !site.BodyWall && scene(f) == scenePad:
		return quote(*f.Wall.Site) + " is a gut wall", "choose a body wall, as thigh, or give layers"
	}
	return "", ""
}}

// sceneNotes are remarks on what the scene leaves open.
func sceneNotes(f *File) []string {
	switch scene(f) {
	case scenePad:
		notes := []string{"A model is no substitute for the thermal test of a neutral electrode (IEC 60601-2-2:2017, 201.15.101.5: 700 mA for 60 s, no more than 6 K over any 1 cm2 of skin)."}
		if word(f.Pad.Skin) == "dry" {
			notes = append(notes, "Dry skin conducts through its capacitance and unevenly: the contact is a stated impedance, even over the pad, and its magnitude steers the current.")
		}
		if f.Pad.LengthMM != nil {
			notes = append(notes, fmt.Sprintf("The rectangular pad is computed as a disc of the same area, %.3g mm in radius: corners are hotter than that.", padOuterMM(f)))
		}
		return notes
	case sceneStalk:
		var notes []string
		if *f.Loop.ClosedToMM < *f.Stalk.DiameterMM {
			notes = append(notes, "The squeezed stalk is a groove with flanks of 45 degrees (assumption).")
		}
		if pulled(f) {
			notes = append(notes, fmt.Sprintf("Pulled by %.3g N: %.3g MPa under the wire at the start, rising as the ring narrows.", *f.Loop.ForceN, pullKPa(f)/1000))
		}
		return notes
	}
	return nil
}
