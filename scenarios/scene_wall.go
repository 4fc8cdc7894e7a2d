package scenarios

import (
	"fmt"
	"slices"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/tissue"
)

func wallScene() sceneKind {
	return sceneKind{
		name:   sceneWall,
		keys:   []sceneKey{{"electrode", "this key is needed"}, {"motion", ""}, {"wall.modulus_kPa", ""}, {"wall.squeeze_rest_percent", ""}},
		rules:  func(*keys.File) []rule { return slices.Concat(pressRules, electrodeRules) },
		checks: func(f *keys.File) []check { return slices.Concat(electrodeChecks, pressChecks(f)) },
		notes:  func(*keys.File) []string { return nil },
		build:  func(f *keys.File, c *thermal.Case) { c.Electrode = electrode(f) },
	}
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
	}
	if e.InsertionMM != nil {
		t.InsertionM = *e.InsertionMM / 1000
	}
	if e.ForceN != nil || e.PressureKPa != nil {
		h := hold(f)
		t.Press = thermal.Press{ForceN: h.ForceN, PressurePa: h.PressurePa, IndentationM: h.IndentationM}
	}
	return t
}

var electrodeRules = []rule{
	{key: "electrode.contact_radius_mm", hangs: []string{"electrode.tip", "electrode.force_N", "electrode.pressure_kPa"},
		when:   func(f *keys.File) bool { return tipIs("ball")(f) && !presses(f) },
		unless: "only a ball has a contact smaller than itself", right: "leave it out: radius_mm is the contact radius",
		fill: func(f *keys.File) (any, string) {
			return tissue.BallContactShare.Value * keys.Num(f.Electrode.RadiusMM),
				fmt.Sprintf("%g of radius_mm; %s", tissue.BallContactShare.Value, tissue.BallContactShare.Cited())
		}},
	{key: "electrode.insertion_mm", hangs: []string{"electrode.tip"}, when: tipIs("needle"),
		unless: "only a needle is inserted into the tissue", right: "leave it out, or write tip: needle",
		needed: "give the depth of the needle's end in mm"},
	{key: "electrode.heat_transfer_W_m2K", fill: of(tissue.ElectrodeHeatTransfer)},
	{key: "electrode.temperature_C", fill: asBody},
	{key: "electrode.heat_capacity_J_K", hangs: []string{"electrode.tip", "electrode.insertion_mm"}, fill: func(f *keys.File) (any, string) {
		return metalJK(tipMM3(f)), "metal that touches, and what is behind it up to a length of two radii (assumption); " + tissue.MetalHeatCapacity.Cited()
	}},
	wireLoss("electrode", func(f *keys.File) *float64 { return f.Electrode.HeatCapacityJK }, func(f *keys.File) float64 { return keys.Num(f.Electrode.RadiusMM) }, 1),
}
