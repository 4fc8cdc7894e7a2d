package scenarios

import (
	"fmt"
	"math"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/tissue"
)

func init() {
	scenes = append(scenes, &sceneKind{
		name:     scenePad,
		bodyWall: true,
		surface:  "surface",
		into:     true,
		oneOf:    []alternative{{"pad", true, []string{"area_cm2", "radius_mm", "length_mm"}}},
		held:     []string{"as_run", "activations"},
		prepare: func(f *keys.File, r *keys.Report, sources map[string]string) {
			asRun(f, r, sources)
			activations(f, r, sources)
		},
		defaults: padDefaults,
		quality:  func(name string) (quality, string) { return padQualities[name], "quality " + name + " of a pad" },
		keys:     []sceneKey{{"pad", "this key is needed: it says how large the pad is"}, {"current.as_run", ""}, {"current.rest_s", ""}, {"current.activations", ""}},
		rules:    func(*keys.File) []rule { return padRules },
		checks:   func(*keys.File) []check { return padChecks },
		metal:    func(f *keys.File) metal { return metal{"pad", f.Pad.HeatTransferWM2K, f.Pad.TemperatureC} },
		contact:  func(f *keys.File) float64 { _, outer := padContactMM(f); return outer },
		notes:    padNotes,
		build: func(f *keys.File, c *thermal.Case) {
			c.Electrode, c.Rest, c.Drive.Course = pad(f), true, course(f)
			for _, s := range c.Drive.Course {
				c.Drive.CurrentA = max(c.Drive.CurrentA, s.CurrentA)
			}
		},
	})
}

// padNotes are remarks on what the scene leaves open.
func padNotes(f *keys.File) []string {
	notes := []string{"A model is no substitute for the thermal test of a neutral electrode (IEC 60601-2-2:2017, 201.15.101.5: 700 mA for 60 s, no more than 6 K over any 1 cm2 of skin)."}
	if keys.Word(f.Pad.Skin) == "dry" {
		notes = append(notes, "Dry skin conducts unevenly and through its capacitance. Here the contact is a given impedance, the same all over the pad, whose magnitude steers the current.")
	}
	if f.Pad.LengthMM != nil {
		notes = append(notes, fmt.Sprintf("The rectangular pad is computed as a disc of the same area, %.3g mm in radius: its corners are hotter than that.", padOuterMM(f)))
	}
	return notes
}

func pad(f *keys.File) thermal.Electrode {
	p := f.Pad
	inner, outer := padContactMM(f)
	e := thermal.Electrode{
		Tip: thermal.Pad, TipRadiusM: padOuterMM(f) / 1000, ContactRadiusM: outer / 1000, Own: thermal.Own{thermal.PadInner: inner / 1000},
		Surface: thermal.Surface{HeatTransferWM2K: *p.HeatTransferWM2K, TemperatureC: *p.TemperatureC},
	}
	if z := math.Hypot(*p.ResistanceOhmCM2, *p.ReactanceOhmCM2); z > 0 {
		e.Film = thermal.Film{OhmM2: z / 1e4, HeatShare: *p.ResistanceOhmCM2 / z}
	}
	return e
}

// padOuterMM returns the radius of the whole pad, that of a disc of its area.
func padOuterMM(f *keys.File) float64 {
	switch p := f.Pad; {
	case p.AreaCM2 != nil:
		return 10 * math.Sqrt(*p.AreaCM2/math.Pi)
	case p.RadiusMM != nil:
		return *p.RadiusMM
	default:
		return math.Sqrt(keys.Num(p.LengthMM) * keys.Num(p.WidthMM) / math.Pi)
	}
}

// padContactMM returns the radii between which it touches the skin.
func padContactMM(f *keys.File) (inner, outer float64) {
	r, share := padOuterMM(f), keys.Num(f.Pad.ContactSharePercent)/100
	if keys.Word(f.Pad.ContactLost) == "centre" {
		return r * math.Sqrt(1-share), r
	}
	return 0, r * math.Sqrt(share)
}

// padQualities are the presets of a pad: 250 um leave the mean rise over a square centimetre
// right to 0.01 K. The skin under a pad is a small part of a large body, whose energy the
// tolerance counts: it must be tight (measured).
var padQualities = map[string]quality{
	"draft":    {500, 20, 5e-5, 1, 200},
	"standard": {250, 20, 1e-5, 0.5, 100},
	"fine":     {125, 10, 5e-6, 0.25, 50},
}

var padDefaults = []rule{
	{key: "afterwards_s", fill: fixed(15.0, "IEC 60601-2-2:2017, 201.15.101.5: skin is looked at within 15 s of switching off")},
	{key: "damage.at_once", fill: none},
	{key: "wall.beyond.thickness_mm", fill: fixed(180.0, "assumption: so deep that it does not matter; a body is not a half-space")},
	{key: "wall.lumen.temperature_C", fill: of(tissue.RoomTemperature)},
	{key: "wall.lumen.heat_transfer_W_m2K", fill: func(f *keys.File) (any, string) {
		if keys.Word(f.Wall.Lumen.Medium) == "gas" {
			return of(tissue.SkinHeatTransfer)(f)
		}
		return mediumTransfer(keys.Word(f.Wall.Lumen.Medium))
	}},
	{key: "domain.radius_mm", hangs: []string{"pad"}, fill: func(f *keys.File) (any, string) {
		return max(300, 4*padOuterMM(f)), "assumption: 300 mm, at least 4 radii of the pad: the body goes on, as a half-space"
	}},
}

var padRules = []rule{
	{key: "pad.width_mm", hangs: []string{"pad.length_mm"}, when: func(f *keys.File) bool { return f.Pad.LengthMM != nil },
		unless: "belongs to a rectangular pad", right: "give length_mm with it, or leave it out", needed: "give the width of the pad in mm"},
	{key: "pad.contact_share_percent", fill: fixed(100.0, "assumption: the whole pad touches")},
	{key: "pad.contact_lost", fill: fixed("rim", "assumption: contact is lost by peeling at the rim")},
	{key: "pad.skin", fill: fixed("gel", "assumption: a conductive gel couples pad and skin")},
	{key: "pad.contact_resistance_ohm_cm2", hangs: []string{"pad.skin", "current.frequency_kHz"}, fill: func(f *keys.File) (any, string) { return contactImpedance(f, false) }},
	{key: "pad.contact_reactance_ohm_cm2", hangs: []string{"pad.skin", "current.frequency_kHz"}, fill: func(f *keys.File) (any, string) { return contactImpedance(f, true) }},
	{key: "pad.heat_transfer_W_m2K", fill: of(tissue.PadHeatTransfer)},
	{key: "pad.temperature_C", fill: of(tissue.RoomTemperature)},
}

// contactImpedance is that of a square centimetre between pad and skin.
func contactImpedance(f *keys.File, reactance bool) (any, string) {
	switch keys.Word(f.Pad.Skin) {
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
	z, source := tissue.DryContact(keys.Num(f.Current.FrequencyKHz) * 1000)
	if reactance {
		return -imag(z), source
	}
	return real(z), source
}

var padChecks = []check{
	{[]string{"numerics.geometry"}, flatOnly},
	{[]string{"pad", "domain.radius_mm"}, func(f *keys.File) (string, string) {
		if padOuterMM(f) >= *f.Domain.RadiusMM {
			return fmt.Sprintf("a pad of %.4g mm radius does not fit into the domain", padOuterMM(f)), fmt.Sprintf("less than %g mm, or a larger domain", *f.Domain.RadiusMM)
		}
		return "", ""
	}},
	{[]string{"pad.contact_share_percent", "pad.contact_lost", "numerics.finest_um", "pad"}, func(f *keys.File) (string, string) {
		if inner, outer := padContactMM(f); outer-inner < 2**f.Numerics.FinestUM/1000 {
			return fmt.Sprintf("leaves a contact only %.2g mm wide", outer-inner), fmt.Sprintf("at least two cells, %.3g mm", 2**f.Numerics.FinestUM/1000)
		}
		return "", ""
	}},
}
