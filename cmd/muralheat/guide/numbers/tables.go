package main

// tables are those of the guide that come out of the model.
var tables = []table{
	{
		block: block{"neutral-electrode", "pads"}, example: "pad-full",
		columns: []column{{"mean over 1 cm2, K", "mean_rise_1cm2_K", 1}, {"at the rim, K", "rise_rim_K", 1}, {"at the centre, K", "rise_centre_K", 1}, {"resistance at the start, ohm", "resistance_start_ohm", 0}},
		rows: []row{
			{"none", nil},
			{"peeled off at its rim, 40 % left (`pad-peeled`)", []setting{{"pad.contact_share_percent", "40"}}},
			{"dried in its middle, 40 % left", []setting{{"pad.contact_share_percent", "40"}, {"pad.contact_lost", "centre"}}},
			{"half the area, 55 cm2", []setting{{"pad.area_cm2", "55"}}},
			{"0.5 A", []setting{{"current.current_A", "0.5"}}},
			{"1 A", []setting{{"current.current_A", "1"}}},
			{"fat of 4 mm instead of 10", []setting{{"wall.layers.fat.thickness_mm", "4"}}},
			{"fat of 30 mm", []setting{{"wall.layers.fat.thickness_mm", "30"}}},
			{"on the abdomen", []setting{{"wall.site", "abdomen"}}},
			{"a contact of 1000 ohm cm2 that heats", []setting{{"pad.contact_resistance_ohm_cm2", "1000"}}},
			{"dry skin, evenly", []setting{{"pad.skin", "dry"}}},
		},
	},
	{
		block: block{"wire-loop", "loops"}, example: "stalk-pulled",
		columns: []column{{"through after, s", "cut_through_s", 1}, {"depth below the base, mm", "injury_depth_mm", 2}, {"muscle injured, %", "muscle_injured_percent", 0}, {"hottest at the base, C", "stalk_base_peak_C", 0}},
		rows: []row{
			{"none", nil},
			{"none, `quality: fine`", []setting{{"numerics.quality", "fine"}}},
			{"40 W", []setting{{"current.power_W", "40"}}},
			{"40 W, `quality: fine`", []setting{{"current.power_W", "40"}, {"numerics.quality", "fine"}}},
			{"10 W", []setting{{"current.power_W", "10"}}},
			{"stalk of 3 mm", []setting{{"stalk.diameter_mm", "3"}, {"loop.closed_to_mm", "3"}}},
			{"stalk of 3 mm, `quality: fine`", []setting{{"stalk.diameter_mm", "3"}, {"loop.closed_to_mm", "3"}, {"numerics.quality", "fine"}}},
			{"wire 1 mm above the wall instead of 4", []setting{{"loop.height_mm", "1"}}},
			{"pulled with 8 N", []setting{{"loop.force_N", "8"}}},
			{"pulled with 2 N", []setting{{"loop.force_N", "2"}}},
			{"pulled with 50 N: cuts cold", []setting{{"loop.force_N", "50"}}},
			{"at most 200 V", []setting{{"current.limits.peak_voltage_V", "200"}}},
			{"at most 600 V", []setting{{"current.limits.peak_voltage_V", "600"}}},
			{"cushion of 3 mm of saline", []setting{{"wall.cushion.fluid", "saline"}, {"wall.cushion.thickness_mm", "3"}}},
		},
	},
	{
		block: block{"lectures", "incision"}, example: "incision-pulses",
		columns: []column{{"path length, mm", "path_mm", 2}, {"injured beside the kerf, mm2", "injured_beside_mm2", 2}, {"depth, mm", "injury_depth_mm", 2}},
		rows: []row{
			{"none", []setting{{"motion.length_mm", "12"}}},
			{"pulses of 100 instead of 50 ms, the same pauses", []setting{{"motion.length_mm", "12"}, {"current.pulses.length_ms", "100"}, {"current.pulses.period_ms", "350"}}},
			{"pauses of 550 instead of 250 ms", []setting{{"motion.length_mm", "12"}, {"current.pulses.period_ms", "600"}}},
			{"4 instead of 2 W between pulses", []setting{{"motion.length_mm", "12"}, {"current.pulses.between.power_W", "4"}}},
			{"nothing between pulses", []setting{{"motion.length_mm", "12"}, {"current.pulses.between.power_W", "0"}}},
			{"pushed with 0.1 instead of 0.25 N", []setting{{"motion.length_mm", "12"}, {"electrode.force_N", "0.1"}}},
		},
	},
}
