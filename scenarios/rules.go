package scenarios

import (
	"fmt"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/tissue"
)

// rule says what becomes of one key: whether it applies in this scenario at all,
// and if it does and was left out, its default and where that comes from.
type rule struct {
	key    string
	hangs  []string                       // keys that must be right before this rule can say anything
	when   func(*keys.File) bool          // nil: always
	unless string                         // what is wrong with the key where it does not apply
	right  string                         // and what to do about it
	fill   func(*keys.File) (any, string) // value and source; nil: the person must give it
	needed string                         // what to give, if there is no default
}

// rulesFor returns the table of all defaults, in an order in which each rule
// depends only on those before it. Physical defaults with a source live in
// thermal/tissue; what is set here is numerical or a choice of this tool, and
// says "assumption:" why.
func rulesFor(f *keys.File) []rule {
	rules := []rule{
		{key: "scene", fill: fixed(sceneWall, "assumption: the usual case")},
		{key: "afterwards_s", fill: func(f *keys.File) (any, string) {
			if scene(f) == scenePad {
				return 15.0, "IEC 60601-2-2:2017, 201.15.101.5: skin is looked at within 15 s of switching off"
			}
			return 10.0, "assumption: after some seconds the remaining heat has spread and damage has ended"
		}},
		{key: "body.temperature_C", fill: of(tissue.BodyTemperature)},
		{key: "body.blood_heat_capacity_J_kgK", fill: of(tissue.BloodHeatCapacity)},

		motionAdvance, motionSpeed, motionMobility,

		{key: "current.frequency_kHz", fill: of(tissue.Frequency)},
		{key: "current.duty_cycle_percent", fill: fixed(100.0, "assumption: continuous sine")},

		{key: "physics.conductivity_per_K", fill: of(tissue.SigmaSlope)},
		{key: "physics.metabolic_heat", fill: fixed(false, "assumption: the body starts in balance: perfusion already carries metabolic heat away")},
		{key: "physics.perfusion_stops", fill: fixed("with-damage", "assumption: blood flow follows the share of tissue not yet injured, exp(-Omega); usual practice, from memory")},
		{key: "physics.boiling", fill: fixed(true, "assumption: tissue water boils; without that, temperatures rise beyond boiling and injury comes out deeper")},
		{key: "physics.boil_C", fill: of(tissue.BoilTemperature)},
		dry("physics.latent_heat_J_kg", of(tissue.LatentHeat)),
		dry("physics.dry_conductivity_share", of(tissue.DrySigmaShare)),
		drying,
		percolating("physics.conductivity_exponent", of(tissue.SigmaExponent)),
		percolating("physics.conductivity_threshold", of(tissue.SigmaThreshold)),
		dry("physics.dry_permittivity", unlessSeries(tissue.DryPermittivity, 1)),
		{key: "physics.coagulated_conductivity_rise_percent", hangs: []string{"physics.drying"}, fill: unlessSeries(tissue.CoagulatedSigmaRise, 100)},
		dry("physics.water_diffusivity_m2_s", unlessSeries(tissue.WaterDiffusivity, 1)),
		dry("physics.dry_k_W_mK", of(tissue.DryConductivity)),
		{key: "physics.carbonisation", hangs: []string{"physics.boiling"}, fill: func(f *keys.File) (any, string) {
			if !boils(f) {
				return false, "nothing dries without boiling"
			}
			return true, "assumption: dried tissue decomposes; without that its temperature would rise without limit"
		}},
		carbon("physics.carbon_C", of(tissue.CarbonTemperature)),
		carbon("physics.carbon_J_kg", of(tissue.CarbonHeat)),
		carbon("physics.carbon_ceiling_C", of(tissue.CarbonCeiling)),
		dry("physics.spark_onset_V", of(tissue.SparkOnset)),
		dry("physics.spark_kV_mm", of(tissue.SparkStrength)),
		dry("physics.vaporised_share", of(tissue.VaporisedShare)),

		voltageLimit("current", func(f *keys.File) *keys.Mode { return &f.Current.Mode }, peakVoltage),
		{key: "current.limits.current_A", fill: fixed(0.0, "assumption: no limit")},
		{key: "current.limits.power_W", fill: fixed(0.0, "assumption: no limit")},
	}
	if f.Current.Pulses != nil {
		rules = append(rules, betweenRules...)
	}
	rules = append(rules, wallRules(f)...)
	rules = append(rules, cushionRules(f)...)
	rules = append(rules, liquidRules(f)...)
	rules = append(rules, sceneOf(f).rules(f)...)
	rules = append(rules, damageRules...)
	rules = append(rules, timeRule)
	rules = append(rules, numericsRules...)
	rules = append(rules, domainRules...)
	return append(rules, probeRules(f)...)
}

// timeRule comes late: the default hangs on how far and how fast the electrode goes.
var timeRule = rule{key: "current.on_s", hangs: []string{"motion", "loop", "stalk"}, fill: travel, needed: "give the time in s for which the current is on"}

// betweenRules are those of what flows between pulses.
var betweenRules = []rule{
	{key: betweenKeys + ".power_W", hangs: []string{betweenKeys + ".burst_power_W", betweenKeys + ".peak_voltage_V", betweenKeys + ".current_A"},
		when: func(f *keys.File) bool {
			return between(f).BurstPowerW == nil && between(f).PeakVoltageV == nil && between(f).CurrentA == nil
		},
		fill: fixed(0.0, "assumption: nothing flows between pulses")},
	asPulses("duty_cycle_percent", func(f *keys.File) *float64 { return f.Current.DutyCyclePercent }),
	voltageLimit(betweenKeys, between, func(f *keys.File) (any, string) {
		switch v := f.Current.Limits.PeakVoltageV; {
		case !flows(between(f)):
			return none(f)
		case v != nil:
			return *v, "as current.limits.peak_voltage_V"
		}
		return peakVoltage(f)
	}),
	asPulses("limits.current_A", func(f *keys.File) *float64 { return f.Current.Limits.CurrentA }),
	asPulses("limits.power_W", func(f *keys.File) *float64 { return f.Current.Limits.PowerW }),
}

var damageRules = []rule{
	{key: "damage.kinetics", hangs: []string{"damage.A_per_s"}, when: func(f *keys.File) bool { return f.Damage.APerS == nil }, fill: fixed(tissue.DefaultKinetics, kineticsSource(tissue.DefaultKinetics))},
	{key: "damage.at_once", hangs: []string{"pad"}, fill: func(f *keys.File) (any, string) {
		if scene(f) == scenePad {
			return none(f)
		}
		return tissue.AtOnceKinetics, kineticsSource(tissue.AtOnceKinetics)
	}},
	{key: "damage.Ea_J_mol", hangs: []string{"damage.A_per_s", "damage.E_over_R_K"}, when: func(f *keys.File) bool { return f.Damage.APerS != nil && f.Damage.EOverRK == nil },
		unless: "belongs to kinetics given by A_per_s", right: "give A_per_s with it, or leave both out",
		needed: "give Ea_J_mol or E_over_R_K with A_per_s"},
	{key: "damage.E_over_R_K", hangs: []string{"damage.A_per_s"}, when: func(f *keys.File) bool { return f.Damage.APerS != nil },
		unless: "belongs to kinetics given by A_per_s", right: "give A_per_s with it, or leave both out",
		fill: none},
}

var numericsRules = []rule{
	{key: "numerics.quality", fill: fixed("standard", "assumption: the error of the depth is below the spread of the model")},
	{key: "numerics.finest_um", hangs: []string{"numerics.quality", "electrode"}, fill: func(f *keys.File) (any, string) {
		q, name := qualityOf(f)
		return min(q.finestUM, contactMM(f)*1000/2), name + "; at most half the contact radius"
	}},
	preset("numerics.growth_percent", func(q quality) float64 { return q.growthPercent }, 2),
	preset("numerics.tolerance", func(q quality) float64 { return q.tolerance }, 2),
	preset("numerics.resolve_percent", func(q quality) float64 { return q.resolvePercent }, 20),
	preset("numerics.max_step_ms", func(q quality) float64 { return q.maxStepMS }, 1),
	{key: "numerics.geometry", fill: fixed("auto", "assumption: axisymmetric is faster and agrees with 3-D")},
}

// quality is one preset of numerics.
type quality struct{ finestUM, growthPercent, tolerance, resolvePercent, maxStepMS float64 }

// padQualities are those of a pad: 250 um leave the mean rise over a square centimetre
// right to 0.01 K. The skin under a pad is a small part of a large body, whose energy the
// tolerance counts: it must be tight (measured).
var padQualities = map[string]quality{
	"draft":    {500, 20, 5e-5, 1, 200},
	"standard": {250, 20, 1e-5, 0.5, 100},
	"fine":     {125, 10, 5e-6, 0.25, 50},
}

// qualityOf returns the preset of a file and its name.
func qualityOf(f *keys.File) (quality, string) {
	name := keys.Word(f.Numerics.Quality)
	if scene(f) == scenePad {
		return padQualities[name], "quality " + name + " of a pad"
	}
	return qualities[name], "quality " + name
}

// qualities are the presets; assumption: 100 um is where the error of the depth
// (0.03 mm, measured on prototypes) falls below the spread of the model. An old field
// lags where conductivity rises without boiling: one that waits for 5 % leaves 0.03 mm of depth,
// for 0.5 % 0.002 mm, for a tenth more time (measured against finite elements, DEVELOPERS.md).
var qualities = map[string]quality{
	"draft":    {200, 40, 1e-2, 1, 20},
	"standard": {100, 20, 5e-3, 0.5, 10},
	"fine":     {50, 10, 2e-3, 0.25, 5},
}

var domainRules = []rule{
	{key: "domain.radius_mm", hangs: append([]string{"pad", "stalk", "loop"}, geometryKeys...), fill: func(f *keys.File) (any, string) {
		switch scene(f) {
		case scenePad:
			return max(300, 4*padOuterMM(f)), "assumption: 300 mm, at least 4 radii of the pad: the body goes on, as a half-space"
		case sceneStalk:
			return max(60, 2*keys.Num(f.Stalk.HeadDiameterMM)), "assumption: 60 mm, at least twice the head"
		}
		if threeD(f) {
			return max(20, 10*contactMM(f)), "assumption: 20 mm, at least 10 contact radii; over fat a wider body has a higher resistance (muralheat guide results)"
		}
		return max(60, 10*contactMM(f)), "assumption: 60 mm, at least 10 contact radii; over fat the wall carries current far sideways, and a wider body has a higher resistance (muralheat guide results)"
	}},
	{key: "domain.half_width_mm", hangs: geometryKeys, when: threeD, unless: "belongs to 3-D", right: "leave it out: radius_mm is enough",
		fill: func(f *keys.File) (any, string) { return keys.Num(f.Domain.RadiusMM), "assumption: as radius_mm" }},
	{key: "domain.side", fill: fixed("open", "assumption: the body goes on")},
	{key: "domain.bottom", hangs: []string{"wall.beyond"}, fill: func(f *keys.File) (any, string) {
		if solidBeyond(f) {
			return "open", "assumption: the body goes on"
		}
		return "insulated", "assumption: no current leaves through the medium beyond"
	}},
}

// wallRules are those of the wall's two sides and of each layer.
func wallRules(f *keys.File) []rule {
	var rules []rule
	for i, l := range f.Wall.Layers {
		path := keys.Item("wall.layers", i, keys.Word(l.Name))
		rules = append(rules, rule{key: path + ".muscle", fill: func(*keys.File) (any, string) {
			return keys.Word(l.Name) == "muscularis", "assumption: true for a layer named muscularis"
		}})
		rules = append(rules, materialRules(path, l.Material, l.Tissue)...)
	}
	if b := f.Wall.Beyond; b != nil {
		solid := func(why string, fill func(*keys.File) (any, string)) rule {
			return rule{key: "wall.beyond." + why, hangs: beyondKeys, when: solidBeyond, unless: "belongs to a tissue or material", right: "leave it out with a medium", fill: fill}
		}
		fluid := func(f *keys.File) bool { return !solidBeyond(f) }
		rules = append(rules,
			solid("name", func(*keys.File) (any, string) {
				if b.Tissue != nil {
					return *b.Tissue, "the tissue's name"
				}
				return "beyond", "assumption: no other name given"
			}),
			solid("thickness_mm", func(f *keys.File) (any, string) {
				if scene(f) == scenePad {
					return 180.0, "assumption: so deep that it does not matter; a body is not a half-space"
				}
				return of(tissue.BeyondThickness)(f)
			}),
			rule{key: "wall.beyond.heat_transfer_W_m2K", hangs: beyondKeys, when: fluid, unless: "belongs to a medium", right: "leave it out with a tissue or material",
				fill: func(*keys.File) (any, string) { return mediumTransfer(keys.Word(b.Medium)) }},
			rule{key: "wall.beyond.temperature_C", hangs: beyondKeys, when: fluid, unless: "belongs to a medium", right: "leave it out: its far side stays at body temperature",
				fill: asBody},
		)
		rules = append(rules, materialRules("wall.beyond", b.Material, b.Tissue)...)
	}
	return append(rules,
		rule{key: "wall.lumen.medium", fill: func(f *keys.File) (any, string) {
			if f.Wall.Lumen.HeatTransferWM2K != nil {
				return none(f)
			}
			return "gas", "assumption: the lumen is opened with gas"
		}},
		rule{key: "wall.lumen.heat_transfer_W_m2K", hangs: []string{"wall.lumen.medium"}, fill: func(f *keys.File) (any, string) {
			if scene(f) == scenePad && keys.Word(f.Wall.Lumen.Medium) == "gas" {
				return of(tissue.SkinHeatTransfer)(f)
			}
			return mediumTransfer(keys.Word(f.Wall.Lumen.Medium))
		}},
		rule{key: "wall.lumen.temperature_C", fill: func(f *keys.File) (any, string) {
			if scene(f) == scenePad {
				return of(tissue.RoomTemperature)(f)
			}
			value, _ := asBody(f)
			return value, "as body.temperature_C; " + tissue.LumenTemperature.Cited()
		}},
	)
}

// materialRules are those of a material: values of a tissue at the scenario's
// frequency, or what a hand-written material may leave out.
func materialRules(path string, m *keys.Material, name *string) []rule {
	path += ".material"
	if name != nil {
		var rules []rule
		for _, v := range tissueValues {
			rules = append(rules, rule{key: path + "." + v.key, fill: func(f *keys.File) (any, string) {
				if f.Current.FrequencyKHz == nil {
					return none(f)
				}
				return v.of(*name, *f.Current.FrequencyKHz)
			}})
		}
		return rules
	}
	if m == nil {
		return nil
	}
	return []rule{
		{key: path + ".perfusion_kg_m3s", fill: fixed(0.0, "assumption: no blood flow unless given")},
		{key: path + ".water_fraction", hangs: []string{"physics.boiling"}, fill: func(f *keys.File) (any, string) {
			if boils(f) {
				return nil, ""
			}
			return 0.0, "not used without boiling"
		}, needed: "give the mass share of water, from 0 to below 1, or set physics.boiling: false"},
		{key: path + ".metabolic_W_m3", fill: fixed(0.0, "assumption: no metabolic heat unless given")},
	}
}

func probeRules(f *keys.File) []rule {
	var rules []rule
	for i, p := range f.Probes {
		path := keys.Item("probes", i, keys.Word(p.Name))
		flat := func(f *keys.File) bool { return !threeD(f) }
		rules = append(rules,
			rule{key: path + ".r_mm", hangs: geometryKeys, when: flat, unless: "belongs to the axisymmetric geometry", right: "give x_mm and y_mm in 3-D", fill: fixed(0.0, "assumption: on the axis")},
			rule{key: path + ".x_mm", hangs: geometryKeys, when: threeD, unless: "belongs to 3-D", right: "give r_mm for a stationary electrode", fill: fixed(0.0, "assumption: where the electrode starts")},
			rule{key: path + ".y_mm", hangs: geometryKeys, when: threeD, unless: "belongs to 3-D", right: "give r_mm for a stationary electrode", fill: fixed(0.0, "assumption: on the track")},
		)
	}
	return rules
}

const betweenKeys = "current.pulses.between"

// Keys that decide which others apply.
var (
	geometryKeys = []string{"motion", "numerics.geometry"}
	beyondKeys   = []string{"wall.beyond.tissue", "wall.beyond.material", "wall.beyond.medium"}
)

// Fillers.

func fixed(value any, source string) func(*keys.File) (any, string) {
	return func(*keys.File) (any, string) { return value, source }
}

func of(v tissue.Value) func(*keys.File) (any, string) { return fixed(v.Value, v.Cited()) }

// none leaves a key out.
func none(*keys.File) (any, string) { return nil, "" }

func asBody(f *keys.File) (any, string) {
	return keys.Num(f.Body.TemperatureC), "assumption: as body.temperature_C"
}

func travel(f *keys.File) (any, string) {
	if inScene(sceneStalk)(f) && f.Loop.SpeedMMS != nil {
		return keys.Num(f.Loop.ClosedToMM) / 2 / *f.Loop.SpeedMMS, "half of closed_to_mm over speed_mm_s: on until the ring closes"
	}
	if f.Motion == nil || fromPressure(f) {
		return nil, ""
	}
	return keys.Num(f.Motion.LengthMM) / keys.Num(f.Motion.SpeedMMS), "length_mm over speed_mm_s: on for the whole track"
}

// peakVoltage keeps a power-controlled source from driving dried tissue with
// thousands of volts.
func peakVoltage(f *keys.File) (any, string) {
	if boils(f) {
		return keys.Num(f.Physics.SparkOnsetV), "assumption: limited to the onset of sparks, physics.spark_onset_V; give a higher limit to compute sparks"
	}
	return 0.0, "no limit: without boiling nothing dries"
}

// voltageLimit is the rule of the peak voltage of a mode that does not hold it.
func voltageLimit(path string, of func(*keys.File) *keys.Mode, fill func(*keys.File) (any, string)) rule {
	return rule{key: path + ".limits.peak_voltage_V", hangs: []string{path + ".peak_voltage_V", "physics.boiling", "physics.spark_onset_V"},
		when:   func(f *keys.File) bool { return of(f).PeakVoltageV == nil },
		unless: "is given together with " + path + ".peak_voltage_V", right: "give one of them: a voltage is either held or limited",
		fill: fill}
}

func between(f *keys.File) *keys.Mode { return f.Current.Pulses.Between }

// asPulses lets a key between pulses follow that of the pulses.
func asPulses(key string, pulse func(*keys.File) *float64) rule {
	return rule{key: betweenKeys + "." + key, hangs: []string{"current." + key}, when: func(f *keys.File) bool { return flows(between(f)) },
		fill: func(f *keys.File) (any, string) { return keys.Num(pulse(f)), "as current." + key }}
}

func mediumTransfer(medium string) (any, string) {
	switch medium {
	case "gas":
		return tissue.LumenGasHeatTransfer.Value, tissue.LumenGasHeatTransfer.Cited()
	case "water":
		return tissue.LumenWaterHeatTransfer.Value, tissue.LumenWaterHeatTransfer.Cited()
	}
	return nil, ""
}

// preset takes a value from the quality, in 3-D so many times as large: cells and solutions cost
// more there, a moving tip asks for a new field all the time, and depth moves by less than
// 0.01 mm (measured).
func preset(key string, pick func(quality) float64, in3D float64) rule {
	return rule{key: key, hangs: append([]string{"numerics.quality"}, geometryKeys...), fill: func(f *keys.File) (any, string) {
		q, source := qualityOf(f)
		x := pick(q)
		if threeD(f) && in3D != 1 {
			return in3D * x, fmt.Sprintf("%s, %g times that in 3-D", source, in3D)
		}
		return x, source
	}}
}

func dry(key string, fill func(*keys.File) (any, string)) rule {
	return rule{key: key, hangs: []string{"physics.boiling"}, when: boils, unless: "has no effect without boiling", right: "leave it out, or set physics.boiling: true", fill: fill}
}

// drying chooses how conductivity falls with water.
var drying = dry("physics.drying", fixed(string(thermal.Percolation), "assumption: water conducts along connected paths, down to a threshold"))

func percolating(key string, fill func(*keys.File) (any, string)) rule {
	return rule{key: key, hangs: []string{"physics.boiling", "physics.drying"}, when: func(f *keys.File) bool { return boils(f) && !inSeries(f) },
		unless: "belongs to percolation", right: "leave it out, or set physics.drying: percolation", fill: fill}
}

// unlessSeries fills in scale times v, and nothing where the model of drying in series stands
// alone, as it was stated.
func unlessSeries(v tissue.Value, scale float64) func(*keys.File) (any, string) {
	return func(f *keys.File) (any, string) {
		switch {
		case !boils(f):
			return 0.0, "assumption: none without boiling"
		case inSeries(f):
			return 0.0, "assumption: the series model is stated without it"
		}
		return scale * v.Value, v.Cited()
	}
}

func carbon(key string, fill func(*keys.File) (any, string)) rule {
	return rule{key: key, hangs: []string{"physics.boiling", "physics.carbonisation"}, when: func(f *keys.File) bool { return boils(f) && keys.On(f.Physics.Carbonisation) },
		unless: "has no effect without carbonisation", right: "leave it out, or set physics.carbonisation: true", fill: fill}
}
