package main

// tables are those of the guide that come out of the model, in the order of its pages. The last have no page: their
// numbers stand in sentences.
var tables = []table{
	{
		block: block{"neutral-electrode", "pads"}, first: "change", example: "pad-full",
		columns: []column{{"mean over 1 cm2, K", "mean_rise_1cm2_K", 1}, {"at the rim, K", "rise_rim_K", 1}, {"at the centre, K", "rise_centre_K", 1}, {"resistance at the start, ohm", "resistance_start_ohm", 0}},
		rows: []row{
			change("none"),
			change("peeled off at its rim, 40 % left (`pad-peeled`)", "pad.contact_share_percent", "40"),
			change("dried in its middle, 40 % left", "pad.contact_share_percent", "40", "pad.contact_lost", "centre"),
			change("half the area, 55 cm2", "pad.area_cm2", "55"),
			change("0.5 A", "current.current_A", "0.5"),
			change("1 A", "current.current_A", "1"),
			change("fat of 4 mm instead of 10", "wall.layers.fat.thickness_mm", "4"),
			change("fat of 30 mm", "wall.layers.fat.thickness_mm", "30"),
			change("on the abdomen", "wall.site", "abdomen"),
			change("a contact of 1000 ohm cm2 that heats", "pad.contact_resistance_ohm_cm2", "1000"),
			change("dry skin, evenly", "pad.skin", "dry"),
		},
	},
	{
		block: block{"wire-loop", "loops"}, first: "change", example: "stalk-pulled",
		columns: []column{{"through after, s", "cut_through_s", 1}, {"depth below the base, mm", "injury_depth_mm", 2}, {"muscle injured, %", "muscle_injured_percent", 0}, {"hottest at the base, C", "stalk_base_peak_C", 0}},
		rows: []row{
			change("none"),
			change("none, `quality: fine`", "numerics.quality", "fine"),
			change("40 W", "current.power_W", "40"),
			change("40 W, `quality: fine`", "current.power_W", "40", "numerics.quality", "fine"),
			change("10 W", "current.power_W", "10"),
			change("stalk of 3 mm", "stalk.diameter_mm", "3", "loop.closed_to_mm", "3"),
			change("stalk of 3 mm, `quality: fine`", "stalk.diameter_mm", "3", "loop.closed_to_mm", "3", "numerics.quality", "fine"),
			change("wire 1 mm above the wall instead of 4", "loop.height_mm", "1"),
			change("pulled with 8 N", "loop.force_N", "8"),
			change("pulled with 2 N", "loop.force_N", "2"),
			change("pulled with 50 N: cuts cold", "loop.force_N", "50"),
			change("at most 200 V", "current.limits.peak_voltage_V", "200"),
			change("at most 600 V", "current.limits.peak_voltage_V", "600"),
			change("cushion of 3 mm of saline", "wall.cushion.fluid", "saline", "wall.cushion.thickness_mm", "3"),
		},
	},
	{
		block: block{"lectures", "incision"}, first: "change", example: "incision-pulses", base: settings("motion.length_mm", "12"),
		columns: []column{{"path length, mm", "path_mm", 2}, {"injured beside the kerf, mm2", "injured_beside_mm2", 2}, {"depth, mm", "injury_depth_mm", 2}},
		rows: []row{
			change("none"),
			change("pulses of 100 instead of 50 ms, the same pauses", "current.pulses.length_ms", "100", "current.pulses.period_ms", "350"),
			change("pauses of 550 instead of 250 ms", "current.pulses.period_ms", "600"),
			change("4 instead of 2 W between pulses", "current.pulses.between.power_W", "4"),
			change("nothing between pulses", "current.pulses.between.power_W", "0"),
			change("pushed with 0.1 instead of 0.25 N", "electrode.force_N", "0.1"),
		},
	},
	{
		block: block{"lectures", "discs"}, first: "current for 3 s", example: "disc-antrum",
		base:    settings("electrode.radius_mm", "1", "current.duty_cycle_percent", "100"),
		columns: []column{{"delivered, J", "energy_J", 1}, {"left as smoke, J", "energy_smoke_J", 1}, {"depth, mm", "injury_depth_mm", 2}},
		rows: []row{
			change("3 W, up to 200 V"),
			change("6 W, up to 200 V", "current.power_W", "6"),
			change("12 W, up to 200 V", "current.power_W", "12"),
			change("24 W, up to 200 V", "current.power_W", "24"),
			change("12 W, up to 1000 V", "current.power_W", "12", "current.limits.peak_voltage_V", "1000"),
			change("12 W, up to 1000 V, on for 6 % of the time", "current.power_W", "12", "current.limits.peak_voltage_V", "1000", "current.duty_cycle_percent", "6"),
		},
	},
	{
		block: block{"neutral-electrode", "pad-meshes"}, first: "example", tries: "quality",
		columns: []column{{"mean over 1 cm2, K", "mean_rise_1cm2_K", 3}, {"at the rim, K", "rise_rim_K", 2}},
		rows:    []row{meshes("pad-full"), meshes("pad-peeled")},
	},
	{
		block: block{"wire-loop", "opposite"}, first: "key", example: "stalk-opposite",
		columns: []column{{"charge through the opposite wall, %", "leak_percent", 0}, {"hottest there, C", "opposite_peak_C", 0}},
		rows:    []row{tried("stalk.opposite.contact_diameter_mm", "2", "4", "8")},
	},
	{
		block: block{"wire-loop", "stalls"}, first: "key", example: "stalk-pulled",
		columns: []column{{"through after, s", "cut_through_s", 1}},
		rows: []row{
			tried("stalk.diameter_mm", "3", "4", "5", "6", "8", "10"),
			tried("stalk.diameter_mm", "3", "4", "5", "6", "8").with("`quality: fine`", "numerics.quality", "fine"),
			tried("stalk.diameter_mm", "3", "4", "5", "6", "8", "10").with("40 W", "current.power_W", "40"),
			tried("current.limits.peak_voltage_V", "350", "400", "450", "500", "550", "600"),
		},
	},
	{
		block: block{"wire-loop", "loop-meshes"}, first: "example", tries: "quality",
		columns: []column{{"depth below the base, mm", "injury_depth_mm", 2}, {"through after, s", "cut_through_s", 1}, {"parted, %", "cut_parted_percent", 0}},
		rows:    []row{meshes("stalk-pulled"), meshes("stalk-opposite"), meshes("stalk-loop")},
	},
	{
		block: block{"results", "bodies"}, first: "key", example: "disc-antrum",
		columns: []column{{"resistance at the start, ohm", "resistance_start_ohm", 0}, {"depth, mm", "injury_depth_mm", 2}},
		rows: []row{
			tried("domain.radius_mm", "20", "60", "200").with("0.8 W for 4 s, near the threshold", "current.power_W", "0.8", "current.on_s", "4"),
			tried("domain.radius_mm", "20", "60", "200").with("3 W for 3 s"),
		},
	},
	{
		block: block{"accuracy", "meshes"}, first: "example", tries: "quality",
		columns: []column{{"depth, mm", "injury_depth_mm", 3}, {"half-width, mm", "injury_half_width_mm", 3}},
		rows: []row{meshes("ball-touch"), meshes("marking-dots"), meshes("haemostasis-jaws"), meshes("colon-thin"),
			meshes("colon-cushion"), meshes("disc-antrum"), meshes("disc-held")},
	},
	worth("worth-wet", "ball-touch", []column{{"depth, mm", "injury_depth_mm", 2}}),
	worth("worth-dried", "haemostasis-jaws", []column{{"depth, mm", "injury_depth_mm", 2}}, "current.peak_voltage_V", "300", "current.on_s", "4"),
	worth("worth-cut", "incision-pulses", []column{{"injury beside the kerf, mm", "injury_beside_cut_mm", 2}, {"path length, mm", "path_mm", 2}}, "motion.length_mm", "12"),
	{
		block: block{"accuracy", "voltage"}, first: "key", example: "haemostasis-jaws", base: settings("current.on_s", "4"),
		columns: []column{{"depth, mm", "injury_depth_mm", 2}},
		rows:    []row{tried("current.peak_voltage_V", "100", "150", "200", "300", "400", "600")},
	},
	{
		block: block{"", "kinetics"}, example: "ball-touch", columns: []column{{"", "injury_depth_mm", 2}},
		rows: []row{change("skin-1947", "damage.kinetics", "skin-1947"), change("skin-1947-joule")},
	},
	{
		block: block{"", "return"}, example: "stalk-pulled", columns: []column{{"", "heating_factor_A2s", 3}},
		rows: []row{change("stalk-pulled")},
	},
	{
		block: block{"", "boil"}, columns: []column{{"", "J_mm3", 1}},
		rows: []row{{label: "wall", value: boilDry}},
	},
	{
		block: block{"", "verify"}, columns: []column{{"", "checks", 0}},
		rows: []row{{label: "all", value: countChecks}},
	},
}
