package scenarios

import (
	"slices"

	"muralheat/scenarios/keys"
	"muralheat/scenarios/source"
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
		{key: "afterwards_s", fill: fixed(10.0, "assumption: after some seconds the remaining heat has spread and damage has ended")},
		{key: "body.temperature_C", fill: of(tissue.BodyTemperature)},
		{key: "body.blood_heat_capacity_J_kgK", fill: of(tissue.BloodHeatCapacity)},

		motionAdvance, motionSpeed, motionMobility,

		{key: "current.frequency_kHz", fill: of(tissue.Frequency)},
		{key: "current.duty_cycle_percent", fill: fixed(float64(source.DutyCyclePercent), "assumption: continuous sine")},
		{key: "current.series_ohm", fill: fixed(0.0, "assumption: the electrode is at the terminals")},
		{key: "current.lost_percent", fill: fixed(0.0, "assumption: nothing is lost before the tissue")},

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

		{key: "current.sparks", fill: none},
		stated(voltageLimit("current", func(f *keys.File) *keys.Mode { return &f.Current.Mode }, peakVoltage)),
		{key: "current.limits.current_A", fill: fixed(0.0, "assumption: no limit")},
		{key: "current.limits.power_W", fill: fixed(0.0, "assumption: no limit")},
	}
	if f.Current.Pulses != nil {
		rules = append(rules, pulseRules...)
	}
	rules = append(rules, steamRules...)
	rules = append(rules, wallRules(f)...)
	rules = append(rules, cushionRules(f)...)
	rules = append(rules, liquidRules(f)...)
	rules = append(rules, sceneOf(f).rules(f)...)
	rules = append(rules, damageRules...)
	rules = append(rules, timeRule)
	rules = append(rules, repeatRules...)
	rules = append(rules, numericsRules...)
	rules = append(rules, domainRules...)
	rules = append(rules, probeRules(f)...)
	for _, own := range sceneOf(f).defaults {
		i := slices.IndexFunc(rules, func(r rule) bool { return r.key == own.key })
		rules[i].fill, rules[i].hangs = own.fill, slices.Concat(rules[i].hangs, own.hangs)
	}
	return rules
}

// timeRule comes late: the default hangs on how far and how fast the electrode goes.
var timeRule = rule{key: "current.on_s", hangs: []string{"motion"}, fill: travel, needed: "give the time in s for which the current is on"}

// pulseRules are those of pulses and of what flows between them.
var pulseRules = []rule{
	{key: "current.pulses.length_ms", fill: none, needed: "give a number from 1 to 600000 ms"},
	{key: "current.pulses.period_ms", fill: none, needed: "give a number from 1 to 900000 ms"},
	{key: betweenKeys + ".power_W", hangs: []string{betweenKeys + ".burst_power_W", betweenKeys + ".peak_voltage_V", betweenKeys + ".current_A"},
		when: func(f *keys.File) bool {
			return between(f).BurstPowerW == nil && between(f).PeakVoltageV == nil && between(f).CurrentA == nil
		},
		fill: fixed(0.0, "assumption: nothing flows between pulses")},
	asPulses("duty_cycle_percent", func(f *keys.File) *float64 { return f.Current.DutyCyclePercent }),
	voltageLimit(betweenKeys, between, func(f *keys.File) (any, string) {
		switch v := f.Current.Limits.PeakVoltageV; {
		case !source.Flows(between(f)):
			return none(f)
		case v != nil:
			return *v, "as current.limits.peak_voltage_V"
		case f.Current.PeakVoltageV != nil:
			return *f.Current.PeakVoltageV, "as current.peak_voltage_V"
		}
		return peakVoltage(f)
	}),
	asPulses("limits.current_A", func(f *keys.File) *float64 { return f.Current.Limits.CurrentA }),
	asPulses("limits.power_W", func(f *keys.File) *float64 { return f.Current.Limits.PowerW }),
}

var damageRules = []rule{
	{key: "damage.kinetics", hangs: []string{"damage.A_per_s"}, when: func(f *keys.File) bool { return f.Damage.APerS == nil }, fill: fixed(tissue.DefaultKinetics, kineticsSource(tissue.DefaultKinetics))},
	{key: "damage.at_once", fill: fixed(tissue.AtOnceKinetics, kineticsSource(tissue.AtOnceKinetics))},
	{key: "damage.Ea_J_mol", hangs: []string{"damage.A_per_s", "damage.E_over_R_K"}, when: func(f *keys.File) bool { return f.Damage.APerS != nil && f.Damage.EOverRK == nil },
		unless: "belongs to kinetics given by A_per_s", right: "give A_per_s with it, or leave both out",
		needed: "give Ea_J_mol or E_over_R_K with A_per_s"},
	{key: "damage.E_over_R_K", hangs: []string{"damage.A_per_s"}, when: func(f *keys.File) bool { return f.Damage.APerS != nil },
		unless: "belongs to kinetics given by A_per_s", right: "give A_per_s with it, or leave both out",
		fill: none},
}

const betweenKeys = "current.pulses.between"

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
	if f.Motion == nil || fromPressure(f) {
		return nil, ""
	}
	return keys.Num(f.Motion.LengthMM) / keys.Num(f.Motion.SpeedMMS), "length_mm over speed_mm_s: on for the whole track"
}

// peakVoltage keeps a power-controlled source from driving dried tissue with
// thousands of volts.
func peakVoltage(f *keys.File) (any, string) {
	switch {
	case !boils(f):
		return 0.0, "no limit: without boiling nothing dries"
	case sceneOf(f).bodyWall:
		return keys.Num(f.Physics.SparkOnsetV), "assumption: no sparks under a pad"
	case f.Current.Sparks != nil && !*f.Current.Sparks:
		return keys.Num(f.Physics.SparkOnsetV), "current.sparks: false: the source stays below the onset of sparks, physics.spark_onset_V"
	}
	return none(f)
}

// voltageLimit is the rule of the peak voltage of a mode that does not hold it.
func voltageLimit(path string, of func(*keys.File) *keys.Mode, fill func(*keys.File) (any, string)) rule {
	return rule{key: path + ".limits.peak_voltage_V", hangs: []string{path + ".peak_voltage_V", "physics.boiling", "physics.spark_onset_V"},
		when:   func(f *keys.File) bool { return of(f).PeakVoltageV == nil },
		unless: "is given together with " + path + ".peak_voltage_V", right: "give one of them: a voltage is either held or limited",
		fill: fill}
}

// stated asks for the limit of the source, which has no default.
func stated(limit rule) rule {
	limit.needed = "give the highest peak voltage of the source in V (0: no limit), or current.sparks: false for a source that stays below the onset of sparks"
	return limit
}

func between(f *keys.File) *keys.Mode { return f.Current.Pulses.Between }

// asPulses lets a key between pulses follow that of the pulses.
func asPulses(key string, pulse func(*keys.File) *float64) rule {
	return rule{key: betweenKeys + "." + key, hangs: []string{"current." + key}, when: func(f *keys.File) bool { return source.Flows(between(f)) },
		fill: func(f *keys.File) (any, string) { return keys.Num(pulse(f)), "as current." + key }}
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
