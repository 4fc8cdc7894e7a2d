package scenarios

import (
	"fmt"
	"math"
	"slices"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/tissue"
)

func init() {
	scenes = append(scenes, &sceneKind{
		name:     sceneStalk,
		keys:     []sceneKey{{"stalk", "this key is needed: it says how thick the stalk is"}, {"loop", ""}},
		surface:  "stalk-base",
		oneOf:    []alternative{{"stalk", false, []string{"tissue", "material"}}, {"loop", false, []string{"speed_mm_s", "force_N"}}},
		prepare:  stalkAsWall,
		defaults: stalkDefaults,
		quality:  cellsOfWall,
		rules: func(f *keys.File) []rule {
			return append(slices.Clone(stalkRules), materialRules("stalk", f.Stalk.Material, f.Stalk.Tissue)...)
		},
		checks:  func(*keys.File) []check { return stalkChecks },
		metal:   func(f *keys.File) metal { return metal{"loop", f.Loop.HeatTransferWM2K, f.Loop.TemperatureC} },
		contact: wireMM,
		notes:   stalkNotes,
		build: func(f *keys.File, c *thermal.Case) {
			c.Electrode, c.Motion = loop(f)
			c.Physics.TearPa = keys.OrNone(f.Loop.StrengthMPa) * 1e6
		},
	})
}

// stalkNotes are remarks on what the scene leaves open.
func stalkNotes(f *keys.File) []string {
	var notes []string
	if *f.Loop.ClosedToMM < *f.Stalk.DiameterMM {
		notes = append(notes, "The groove that the ring squeezes into the stalk has flanks of 45 degrees (assumption).")
	}
	if pulled(f) {
		notes = append(notes, fmt.Sprintf("Pulled with %.3g N: %.3g MPa under the wire at the start, rising as the ring closes.", *f.Loop.ForceN, pullKPa(f)/1000))
	}
	return notes
}

// storey is one layer above the wall, as it is computed.
type storey struct {
	name         string
	mm, radiusMM float64 // thickness, radius; 0: as wide as the domain
	material     *keys.Material
}

// touchMM is the thickness of the neck through which a head touches the wall opposite.
const touchMM = 0.5

// above returns what rises from the wall, from the top down: head and stalk of a polyp, and
// the wall on the other side if the head touches it.
func above(f *keys.File) []storey {
	if scene(f) != sceneStalk {
		return nil
	}
	s := f.Stalk
	list := []storey{
		{"head", keys.Num(s.HeadHeightMM), keys.Num(s.HeadDiameterMM) / 2, s.Material},
		{"stalk", keys.Num(s.HeightMM), keys.Num(s.DiameterMM) / 2, s.Material},
	}
	if s.Opposite == nil {
		return list
	}
	list = append([]storey{{"touch", touchMM, keys.Num(s.Opposite.ContactDiameterMM) / 2, s.Material}}, list...)
	wall := sheets(f)
	if solidBeyond(f) {
		b := f.Wall.Beyond
		wall = append(wall, sheet{keys.Word(b.Name), keys.Num(b.ThicknessMM), b.Material, false})
	}
	slices.Reverse(wall)
	var other []storey
	for _, l := range wall {
		other = append(other, storey{"opposite-" + l.name, l.mm, 0, l.material})
	}
	return append(other, list...)
}

// onTop reports whether something above the wall has a name.
func onTop(f *keys.File, name string) bool {
	return slices.ContainsFunc(above(f), func(s storey) bool { return s.name == name })
}

func loop(f *keys.File) (thermal.Electrode, thermal.Motion) {
	l := f.Loop
	ring := *l.ClosedToMM / 2 / 1000
	e := thermal.Electrode{
		Tip: thermal.Loop, ContactRadiusM: wireMM(f) / 1000, TipRadiusM: ring, Own: thermal.Own{thermal.LoopHeight: *l.HeightMM / 1000},
		Surface:    thermal.Surface{HeatTransferWM2K: *l.HeatTransferWM2K, TemperatureC: *l.TemperatureC},
		CapacityJK: *l.HeatCapacityJK, LossWK: keys.OrNone(l.WireLossWK),
	}
	if pulled(f) {
		e.Press = thermal.Press{ForceN: *l.ForceN, PressurePa: pullKPa(f) * 1000}
	}
	v := closingMMS(f)
	if v == 0 {
		return e, thermal.Motion{}
	}
	return e, thermal.Motion{LengthM: ring, SpeedMS: v / 1000, Waits: pulled(f)}
}

func wireMM(f *keys.File) float64 { return keys.Num(f.Loop.WireDiameterMM) / 2 }

// ringMM3 is the wire of an open loop, mm3.
func ringMM3(f *keys.File) float64 {
	w := wireMM(f)
	return math.Pi * w * w * math.Pi * (keys.Num(f.Loop.ClosedToMM) + 2*w)
}

// pulled reports whether a force closes the loop.
func pulled(f *keys.File) bool { return scene(f) == sceneStalk && f.Loop.ForceN != nil }

// pullKPa is the pressure of the wire on what it holds at the start: a string around a
// cylinder, half of the pull in each leg, over the breadth of the wire,
//
//	p = F/(2 R w)
func pullKPa(f *keys.File) float64 {
	return keys.Num(f.Loop.ForceN) / (keys.Num(f.Loop.ClosedToMM) * keys.Num(f.Loop.WireDiameterMM)) * 1000
}

// closingMMS returns how fast the ring's radius shrinks at the start, 0 if it stays.
func closingMMS(f *keys.File) float64 {
	if pulled(f) {
		return keys.Num(f.Loop.Mobility) * pullKPa(f)
	}
	return keys.OrNone(f.Loop.SpeedMMS)
}

// stalkAsWall lets the stalk be of what the wall is inside, unless it is said.
func stalkAsWall(f *keys.File, r *keys.Report, from sources) {
	s := f.Stalk
	if s.Tissue != nil || s.Material != nil || len(f.Wall.Layers) == 0 || r.Spoilt("stalk") {
		return
	}
	s.Tissue, s.Material = f.Wall.Layers[0].Tissue, f.Wall.Layers[0].Material
	if s.Tissue != nil {
		from["stalk.tissue"] = "assumption: as the innermost layer of the wall"
	}
}

var stalkDefaults = []rule{
	{key: "current.on_s", hangs: []string{"stalk", "loop"}, fill: func(f *keys.File) (any, string) {
		if f.Loop.SpeedMMS == nil {
			return none(f)
		}
		return keys.Num(f.Loop.ClosedToMM) / 2 / *f.Loop.SpeedMMS, "half of closed_to_mm over speed_mm_s: on until the ring closes"
	}},
	{key: "domain.radius_mm", hangs: []string{"stalk", "loop"}, fill: func(f *keys.File) (any, string) {
		return max(60, 2*keys.Num(f.Stalk.HeadDiameterMM)), "assumption: 60 mm, at least twice the head"
	}},
}

var stalkRules = []rule{
	{key: "stalk.height_mm", hangs: []string{"stalk.diameter_mm"}, fill: func(f *keys.File) (any, string) {
		return max(keys.Num(f.Stalk.DiameterMM), 5), "assumption: as high as it is thick, at least 5 mm"
	}},
	{key: "stalk.head_diameter_mm", hangs: []string{"stalk.diameter_mm"}, fill: func(f *keys.File) (any, string) {
		return 2 * keys.Num(f.Stalk.DiameterMM), "assumption: twice diameter_mm"
	}},
	{key: "stalk.head_height_mm", hangs: []string{"stalk.head_diameter_mm"}, fill: func(f *keys.File) (any, string) {
		return keys.Num(f.Stalk.HeadDiameterMM) / 2, "assumption: half of head_diameter_mm"
	}},
	{key: "loop.wire_diameter_mm", fill: of(tissue.LoopWire)},
	{key: "loop.height_mm", hangs: []string{"stalk.height_mm"}, fill: func(f *keys.File) (any, string) {
		return keys.Num(f.Stalk.HeightMM) / 2, "assumption: half way up the stalk"
	}},
	{key: "loop.closed_to_mm", hangs: []string{"stalk.diameter_mm"}, fill: func(f *keys.File) (any, string) {
		return keys.Num(f.Stalk.DiameterMM), "as stalk.diameter_mm: the ring touches and does not squeeze"
	}},
	{key: "loop.mobility_mm_s_kPa", hangs: []string{"loop.force_N"}, when: pulled, unless: "belongs to force_N", right: "leave it out, or give force_N in place of a speed", fill: of(tissue.CuttingMobility)},
	{key: "loop.strength_MPa", hangs: []string{"loop.force_N"}, when: pulled, unless: "belongs to force_N", right: "leave it out, or give force_N in place of a speed", fill: of(tissue.CuttingStrength)},
	{key: "loop.heat_transfer_W_m2K", fill: of(tissue.ElectrodeHeatTransfer)},
	{key: "loop.temperature_C", fill: asBody},
	{key: "loop.heat_capacity_J_K", hangs: []string{"loop.closed_to_mm", "loop.wire_diameter_mm"}, fill: func(f *keys.File) (any, string) {
		return metalJK(ringMM3(f)), "the wire around the stalk; " + tissue.MetalHeatCapacity.Cited()
	}},
	wireLoss("loop", func(f *keys.File) *float64 { return f.Loop.HeatCapacityJK }, wireMM, 2),
}

var stalkChecks = []check{
	{[]string{"numerics.geometry"}, flatOnly},
	{[]string{"stalk.head_diameter_mm", "stalk.diameter_mm"}, func(f *keys.File) (string, string) {
		if *f.Stalk.HeadDiameterMM < *f.Stalk.DiameterMM {
			return fmt.Sprintf("%g mm is thinner than the stalk", *f.Stalk.HeadDiameterMM), fmt.Sprintf("at least diameter_mm, %g", *f.Stalk.DiameterMM)
		}
		return "", ""
	}},
	{[]string{"stalk.opposite.contact_diameter_mm", "stalk.head_diameter_mm"}, func(f *keys.File) (string, string) {
		if o := f.Stalk.Opposite; o != nil && *o.ContactDiameterMM > *f.Stalk.HeadDiameterMM {
			return fmt.Sprintf("%g mm is wider than the head", *o.ContactDiameterMM), fmt.Sprintf("at most head_diameter_mm, %g", *f.Stalk.HeadDiameterMM)
		}
		return "", ""
	}},
	{[]string{"loop.closed_to_mm", "stalk.diameter_mm"}, func(f *keys.File) (string, string) {
		if *f.Loop.ClosedToMM > *f.Stalk.DiameterMM {
			return fmt.Sprintf("%g mm does not touch the stalk", *f.Loop.ClosedToMM), fmt.Sprintf("at most stalk.diameter_mm, %g", *f.Stalk.DiameterMM)
		}
		return "", ""
	}},
	{[]string{"loop.height_mm", "loop.wire_diameter_mm", "stalk.height_mm"}, func(f *keys.File) (string, string) {
		wire, z := *f.Loop.WireDiameterMM, *f.Loop.HeightMM
		if z < wire || z > *f.Stalk.HeightMM-wire {
			return fmt.Sprintf("%g mm is off the stalk", z), fmt.Sprintf("from %g to %g mm: one wire diameter away from its ends", wire, *f.Stalk.HeightMM-wire)
		}
		return "", ""
	}},
	{[]string{"stalk.head_diameter_mm", "domain.radius_mm"}, func(f *keys.File) (string, string) {
		if *f.Stalk.HeadDiameterMM/2 >= *f.Domain.RadiusMM {
			return fmt.Sprintf("%g mm does not fit into the domain", *f.Stalk.HeadDiameterMM), fmt.Sprintf("less than %g mm, or a larger domain", 2**f.Domain.RadiusMM)
		}
		return "", ""
	}},
	{[]string{"numerics.finest_um", "loop.wire_diameter_mm"}, func(f *keys.File) (string, string) {
		if most := wireMM(f) * 1000 / 2; *f.Numerics.FinestUM > most {
			return fmt.Sprintf("%g um leaves fewer than four cells across the wire", *f.Numerics.FinestUM), fmt.Sprintf("at most %.6g, a quarter of loop.wire_diameter_mm", most)
		}
		return "", ""
	}},
	{[]string{wallKeys, "stalk"}, func(f *keys.File) (string, string) {
		for _, s := range sheets(f) {
			if onTop(f, s.name) {
				return "a layer is named " + s.name, "give it another name: part of the polyp has this one"
			}
		}
		return "", ""
	}},
}
