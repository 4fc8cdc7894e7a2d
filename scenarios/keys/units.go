package keys

import "strings"

// Units are the endings of keys that hold a number, longest first where one ends
// in another.
var Units = []struct{ ending, Unit string }{
	{"_W_m2K", "W/(m2 K)"},
	{"_J_kgK", "J/(kg K)"}, {"_kg_m3s", "kg/(m3 s)"}, {"_kg_m3", "kg/m3"},
	{"_W_mK", "W/(m K)"}, {"_W_m3", "W/m3"}, {"_J_kg", "J/kg"}, {"_J_mol", "J/mol"}, {"_J_K", "J/K"}, {"_W_K", "W/K"},
	{"_per_K", "1/K"}, {"_per_s", "1/s"}, {"_S_m", "S/m"}, {"_percent", "percent"},
	{"_mm_s_kPa", "mm/(s kPa)"}, {"_kPa", "kPa"}, {"_N", "N"},
	{"_kV_mm", "kV/mm"}, {"_mm_s", "mm/s"}, {"_mm", "mm"}, {"_um", "um"}, {"_kHz", "kHz"}, {"_ms", "ms"},
	{"_ohm_cm2", "ohm cm2"}, {"_m2_s", "m2/s"}, {"_cm2", "cm2"}, {"_m2", "m2"}, {"_MPa", "MPa"},
	{"_ohm", "ohm"}, {"_W", "W"}, {"_V", "V"}, {"_A", "A"}, {"_C", "C"}, {"_K", "K"}, {"_s", "s"},
}

// UnitOf returns the unit that a key ends in, or "" for a pure number or text.
func UnitOf(key string) string {
	for _, u := range Units {
		if strings.HasSuffix(key, u.ending) {
			return u.Unit
		}
	}
	return ""
}
