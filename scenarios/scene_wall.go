package scenarios

import (
	"fmt"
	"slices"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/tissue"
)

func init() {
	scenes = append(scenes, &sceneKind{
		name:    sceneWall,
		keys:    []sceneKey{{"electrode", "this key is needed"}, {"motion", ""}, {"before", ""}, {"wall.modulus_kPa", ""}, {"wall.squeeze_rest_percent", ""}},
		surface: "surface",
		oneOf:   []alternative{{"electrode", false, []string{"force_N", "pressure_kPa", "contact_radius_mm"}}},
		quality: cellsOfWall,
		rules:   func(*keys.File) []rule { return slices.Concat(pressRules, tipRules(), electrodeRules) },
		checks:  func(f *keys.File) []check { return slices.Concat(tipOf(f).checks, electrodeChecks, pressChecks(f)) },
		metal: func(f *keys.File) metal {
			return metal{"electrode", f.Electrode.HeatTransferWM2K, f.Electrode.TemperatureC}
		},
		contact: func(f *keys.File) float64 {
			if own := tipOf(f).contactMM; own != nil {
				return own(f)
			}
			return keys.Num(f.Electrode.RadiusMM)
		},
		notes: wallSceneNotes,
		build: func(f *keys.File, c *thermal.Case) { c.Electrode = electrode(f) },
	})
}

// wallSceneNotes are remarks on how much of the body is computed.
func wallSceneNotes(f *keys.File) []string {
	least := 5 * contactMM(f)
	if *f.Domain.Side != "open" {
		least = 10 * contactMM(f)
	}
	if *f.Domain.RadiusMM >= least {
		return nil
	}
	return []string{fmt.Sprintf("The radius of the domain is only %.3g contact radii: its side influences the result.", *f.Domain.RadiusMM/contactMM(f))}
}

func electrode(f *keys.File) thermal.Electrode {
	e := f.Electrode
	t := thermal.Electrode{
		Tip:            thermal.Tip(*e.Tip),
		ContactRadiusM: contactMM(f) / 1000,
		TipRadiusM:     *e.RadiusMM / 1000,
		Surface:        thermal.Surface{HeatTransferWM2K: *e.HeatTransferWM2K, TemperatureC: *e.TemperatureC},
		CapacityJK:     *e.HeatCapacityJK,
		LossWK:         keys.OrNone(e.WireLossWK),
		BareM:          keys.OrNone(e.BareMM) / 1000,
	}
	if own := tipOf(f).build; own != nil {
		own(f, &t)
	}
	if e.ForceN != nil || e.PressureKPa != nil {
		h := hold(f)
		t.Press = thermal.Press{ForceN: h.ForceN, PressurePa: h.PressurePa, IndentationM: h.IndentationM}
	}
	return t
}

var electrodeRules = []rule{
	{key: "electrode.heat_transfer_W_m2K", fill: of(tissue.ElectrodeHeatTransfer)},
	{key: "electrode.temperature_C", fill: asBody},
	{key: "electrode.bare_mm", fill: none, hangs: []string{"wall.liquid"}, when: func(f *keys.File) bool { return f.Wall.Liquid != nil },
		unless: "is how much metal stands bare in a liquid", right: "leave it out, or give wall.liquid"},
	{key: "electrode.heat_capacity_J_K", hangs: []string{"electrode.tip", "electrode.insertion_mm"}, fill: func(f *keys.File) (any, string) {
		return metalJK(tipOf(f).metalMM3(f)), "metal that touches, and what is behind it up to a length of two radii (assumption); " + tissue.MetalHeatCapacity.Cited()
	}},
	wireLoss("electrode", func(f *keys.File) *float64 { return f.Electrode.HeatCapacityJK }, func(f *keys.File) float64 { return keys.Num(f.Electrode.RadiusMM) }, 1),
}

var electrodeChecks = []check{
	{[]string{"electrode.radius_mm", "electrode.tip", "electrode.contact_radius_mm", "domain.radius_mm", "domain.half_width_mm"}, func(f *keys.File) (string, string) {
		room := *f.Domain.RadiusMM
		if f.Domain.HalfWidthMM != nil {
			room = min(room, *f.Domain.HalfWidthMM)
		}
		if max(contactMM(f), *f.Electrode.RadiusMM) >= room {
			return fmt.Sprintf("%g mm does not fit into the domain", *f.Electrode.RadiusMM), fmt.Sprintf("less than %g mm, or a larger domain", room)
		}
		return "", ""
	}},
	{[]string{"numerics.finest_um", "electrode.radius_mm", "electrode.tip", "electrode.contact_radius_mm"}, func(f *keys.File) (string, string) {
		if *f.Numerics.FinestUM > contactMM(f)*1000/2 {
			return fmt.Sprintf("%g um leaves fewer than two cells per contact radius", *f.Numerics.FinestUM), fmt.Sprintf("at most %.6g, half the contact radius", contactMM(f)*1000/2)
		}
		return "", ""
	}},
	{[]string{"numerics.geometry", "motion"}, func(f *keys.File) (string, string) {
		if moves(f) && *f.Numerics.Geometry == "axisymmetric" {
			return "a moving electrode is not axisymmetric", "write auto or 3-D, or leave motion out"
		}
		return "", ""
	}},
	{[]string{"numerics.geometry", "electrode.tip"}, func(f *keys.File) (string, string) {
		if !round(f) && *f.Numerics.Geometry == "axisymmetric" {
			return "a " + *f.Electrode.Tip + " is not axisymmetric", "write auto or 3-D"
		}
		return "", ""
	}},
}
