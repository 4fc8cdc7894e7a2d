package scenarios_test

const underwater = "Tseng and others 2021, BMC Gastroenterol 21:406, abstract: the serosa rises by 1.4 K under water, by 6.1 K in air"

// loopUnder has the loop close under a liquid, with the power that a liquid asks for.
func loopUnder(fluid string) string {
	return with(loopStrong, "site: left-colon", "site: left-colon, liquid: {fluid: "+fluid+", depth_mm: 20}")
}

// Where a direction of the scenes beside the wall comes from.
const (
	volunteers = "12 volunteers, PMID 3614035, abstract: the skin rises by 1.5 K in full contact, by 5.7 K in partial contact close to a fault"
	perimeter  = "Overmyer, Pearce and DeWitt 1979, J Biomech Eng 101:66: hot perimeter, cool centre"
	saltedGel  = "Tan and Hinberg 1988, IEEE EMBS, abstract, 60 s on a salted gel: 0.6 to 0.7, 2.8 to 3.0 and 5.2 to 6.0 C at 1, 2 and 3 A; more with less contact"
	fatMatters = "Pearce 2015, IEEE EMBS p. 2559, abstract: the thickness of fat is critical"
	neck       = "Gershman, polypectomy chapter: the current through a neck of 5 and a base of 10 mm is 1 and 0.25 A/cm2; heat goes with its square"
)

// A neutral electrode as the standard has it tested, and a loop around a stalk: pulled
// shut, closing at a speed, at rest with a current held that boils nothing.
const padOn = `title: Invented bench case of a neutral electrode
scene: neutral-electrode
wall: {site: thigh}
pad: {area_cm2: 100}
current: {current_A: 0.7, on_s: 60}
numerics: {quality: draft}
`

const loopPulled = `title: Invented bench case of a loop pulled shut
scene: stalk-loop
wall: {site: left-colon}
stalk: {diameter_mm: 5, height_mm: 8}
loop: {height_mm: 4, force_N: 4}
current: {power_W: 20, limits: {peak_voltage_V: 400}, on_s: 10}
`

var (
	loopClosing = with(loopPulled, "force_N: 4", "speed_mm_s: 1", ", on_s: 10", "")
	loopStrong  = with(loopClosing, "power_W: 20", "power_W: 50", "peak_voltage_V: 400", "peak_voltage_V: 500")
	loopHeavy   = with(loopPulled, "height_mm: 8", "height_mm: 8, head_diameter_mm: 14", "on_s: 10", "on_s: 20")
	loopAtRest  = with(loopPulled, ", force_N: 4", "", "power_W: 20", "current_A: 0.1", "on_s: 10", "on_s: 0.5")
	padOverFat  = with(padOn, "site: thigh", "layers: [{name: skin, thickness_mm: 1.5, tissue: skin-wet}, {name: fat, thickness_mm: 5, tissue: fat}]")
	padLost     = with(padOn, "area_cm2: 100", "area_cm2: 100, contact_share_percent: 50")
	touching    = with(loopPulled, "height_mm: 8", "height_mm: 8, opposite: {contact_diameter_mm: 2}")
)

var padDirections = []direction{
	{"half of a pad peeled off at its rim", practice + "; " + volunteers + "; " + saltedGel, padOn, padLost,
		[]move{rises("mean_rise_1cm2_K", 3), rises("rise_rim_K", 4), rises("resistance_start_ohm", 10)}},
	{"half of a pad lost in its middle", practice + "; " + saltedGel, padOn, with(padLost, "percent: 50", "percent: 50, contact_lost: centre"),
		[]move{rises("mean_rise_1cm2_K", 0.8), rises("rise_rim_K", 1.2), falls("rise_centre_K", 0.3)}},
	{"half of a pad lost in its middle to half at its rim", perimeter, with(padLost, "percent: 50", "percent: 50, contact_lost: centre"), padLost,
		[]move{rises("mean_rise_1cm2_K", 2)}},
	{"100 to 50 cm2", practice + "; " + saltedGel, padOn, with(padOn, "area_cm2: 100", "area_cm2: 50"),
		[]move{rises("mean_rise_1cm2_K", 3), rises("resistance_start_ohm", 10)}},
	{"0.5 to 0.7 A", saltedGel, with(padOn, "current_A: 0.7", "current_A: 0.5"), padOn,
		[]move{rises("mean_rise_1cm2_K", 0.7), rises("heating_factor_A2s", 14)}},
	{"30 to 60 s", practice, with(padOn, "on_s: 60", "on_s: 30"), padOn,
		[]move{rises("mean_rise_1cm2_K", 0.6), rises("heating_factor_A2s", 14)}},
	{"60 s at once to four times 15 s with pauses as long", practice, padOn, with(padOn, "on_s: 60", "on_s: 105, pulses: {length_ms: 15000, period_ms: 30000}"),
		[]move{falls("mean_rise_1cm2_K", 0.2), stays("heating_factor_A2s", 0.1)}},
	{"fat of 5 to 20 mm", fatMatters, padOverFat, with(padOverFat, "thickness_mm: 5", "thickness_mm: 20"),
		[]move{rises("mean_rise_1cm2_K", 0.9), rises("resistance_start_ohm", 9)}},
	{"thigh to abdomen", fatMatters, padOn, with(padOn, "thigh", "abdomen"),
		[]move{rises("mean_rise_1cm2_K", 0.4), rises("resistance_start_ohm", 5)}},
	{"a contact that heats, gel to 1000 ohm cm2", practice, padOn, with(padOn, "area_cm2: 100", "area_cm2: 100, contact_resistance_ohm_cm2: 1000"),
		[]move{rises("mean_rise_1cm2_K", 0.5), rises("rise_centre_K", 1)}},
	// Dry skin is feared because it touches in spots. The film of the model is even: mostly a
	// capacitance, it spreads the current over the pad and takes the heat off its rim.
	{"gel to dry skin, evenly", against, padOn, with(padOn, "area_cm2: 100", "area_cm2: 100, skin: dry"),
		[]move{falls("mean_rise_1cm2_K", 0.3), falls("rise_rim_K", 0.7), rises("rise_centre_K", 0.1), rises("resistance_start_ohm", 3)}},
}

var loopDirections = []direction{
	{"a stalk of 5 to 7 mm at a held current", neck, loopAtRest, with(loopAtRest, "diameter_mm: 5", "diameter_mm: 7"),
		[]move{falls("stalk_peak_C", 10), falls("stalk_base_peak_C", 6), falls("resistance_start_ohm", 200)}},
	{"closing in gas to under glucose", underwater, loopStrong, loopUnder("glucose"),
		[]move{falls("stalk_base_peak_C", 3), rises("energy_surfaces_J", 1), stays("cut_through_s", 0.1)}},
	{"closing under glucose to under saline", practice, loopUnder("glucose"), loopUnder("saline"),
		[]move{falls("resistance_start_ohm", 1000), falls("cut_parted_percent", 20), falls("stalk_base_peak_C", 2)}},
	{"closing at 1 to 0.5 mm/s", practice, loopClosing, with(loopClosing, "speed_mm_s: 1", "speed_mm_s: 0.5"),
		[]move{rises("cut_through_s", 2.4), rises("energy_J", 3), rises("injured_mm3_stalk", 8)}},
}

// longLoopDirections take seconds each.
var longLoopDirections = []direction{
	{"a stalk of 5 to 8 mm, pulled", practice, loopPulled, with(loopPulled, "diameter_mm: 5", "diameter_mm: 8", "on_s: 10", "on_s: 25"),
		[]move{rises("cut_through_s", 2), rises("energy_J", 40), stays("cut_through", 0)}},
	{"a stalk of 5 to 3 mm, pulled", practice, loopPulled, with(loopPulled, "diameter_mm: 5", "diameter_mm: 3"),
		[]move{falls("cut_through_s", 0.5), falls("energy_J", 15)}},
	// Sparks at the limit of the voltage give little more than 20 W.
	{"20 to 40 W, pulled", practice, loopPulled, with(loopPulled, "power_W: 20", "power_W: 40"),
		[]move{falls("cut_through_s", 0.08), stays("injury_depth_mm", 0.15)}},
	{"a ring 4 to 1 mm above the wall, closing at a speed", practice, loopClosing, with(loopClosing, "height_mm: 4", "height_mm: 1"),
		[]move{rises("injury_depth_mm", 0.3), rises("stalk_base_peak_C", 5), falls("margin_to_muscle_mm", 0.3)}},
	{"a ring 4 to 1 mm above the wall, pulled", practice, loopPulled, with(loopPulled, "height_mm: 4", "height_mm: 1"),
		[]move{falls("cut_through_s", 0.1), rises("stalk_base_peak_C", 6), rises("injury_depth_mm", 0.2)}},
	{"a stalk squeezed to 3 mm before the current", practice, loopClosing, with(loopClosing, "height_mm: 4", "height_mm: 4, closed_to_mm: 3"),
		[]move{falls("cut_through_s", 0.9), falls("stalk_base_peak_C", 2), rises("resistance_start_ohm", 70)}},
	{"pulled with 4 to 8 N", practice, loopPulled, with(loopPulled, "force_N: 4", "force_N: 8"),
		[]move{falls("cut_through_s", 0.4), falls("cut_parted_percent", 25), falls("stalk_base_peak_C", 4)}},
	// That a cold cut bleeds is not computed.
	{"pulled so hard that it cuts cold, 4 to 50 N", practice, loopPulled, with(loopPulled, "force_N: 4", "force_N: 50"),
		[]move{falls("cut_through_s", 0.8), falls("cut_parted_percent", 60), falls("stalk_base_peak_C", 10)}},
	{"limit of the peak voltage 400 to 200 V, pulled", practice, loopPulled, with(loopPulled, "peak_voltage_V: 400", "peak_voltage_V: 200"),
		[]move{falls("cut_through", 1), falls("mean_power_W", 0.9), falls("spark_share", 0.9)}},
	{"a cushion of saline under the polyp", practice, loopHeavy, with(loopHeavy, "site: left-colon", "site: left-colon, cushion: {fluid: saline, thickness_mm: 3}"),
		[]move{falls("max_C_muscularis", 4), rises("margin_to_muscle_mm", 2)}},
	{"left to right colon", practice, loopPulled, with(loopPulled, "left-colon", "right-colon"),
		[]move{falls("margin_to_muscle_mm", 0.07), rises("outer_surface_peak_C", 1)}},
	// The head that touches takes current from the stalk. A narrow touch boils, a wide one
	// takes more and burns nothing.
	{"the head touches the opposite wall", practice, loopPulled, touching,
		[]move{falls("resistance_start_ohm", 200), falls("stalk_base_peak_C", 5)}},
	{"it touches with 2 to 8 mm", practice, touching, with(touching, "contact_diameter_mm: 2", "contact_diameter_mm: 8"),
		[]move{rises("leak_percent", 15), falls("opposite_peak_C", 30), falls("resistance_start_ohm", 100)}},
}
