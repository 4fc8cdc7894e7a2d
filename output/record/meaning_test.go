package record

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"

	"muralheat/mesh"
	"muralheat/thermal"
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
)

// distinct is a result in which every quantity has a value of its own. All made up.
func distinct(tip thermal.Tip, moving bool) *thermal.Result {
	c := &thermal.Case{
		Layers: []thermal.Layer{
			{Name: "inner", ThicknessM: 1.5e-3},
			{Name: "outer", ThicknessM: 2.5e-3, Muscle: true},
		},
		Electrode: thermal.Electrode{Tip: tip, ContactRadiusM: 2.25e-3, TipRadiusM: 3e-3, Press: thermal.Press{ForceN: 0.7, PressurePa: 8100, IndentationM: 0.31e-3}},
		Drive:     drive.Drive{Mode: drive.Mode{PowerW: 12, DutyCycle: 1, Path: drive.Path{SeriesOhm: 8}, Limits: drive.Limits{LoadLine: []drive.Load{{ResistanceOhm: 50, PowerW: 40}}}}, OnS: 4},
		Damage:    thermal.Damage{Also: []damage.Kinetics{{Name: "other"}}},
		Probes:    []thermal.Probe{{Name: "p"}},
	}
	if tip == thermal.Loop {
		c.Layers = append([]thermal.Layer{{Name: "opposite", ThicknessM: 1e-3, Above: true}, {Name: "touch", ThicknessM: 0.5e-3, Above: true, RadiusM: 1e-3}}, c.Layers...)
	}
	if moving {
		c.Motion = thermal.Motion{LengthM: 9e-3, SpeedMS: 1e-3}
	}
	r := &thermal.Result{Case: c}
	r.Summary = thermal.Summary{
		InjuryDepthM: 1.01e-3, InjuryDepthAlsoM: []float64{1.02e-3}, InjuryHalfWidthM: 1.23e-3, RemovedDepthM: 0.44e-3, DriedDepthM: 0.55e-3,
		MarginToMuscleM: 0.49e-3, MuscleInjuredShare: 0.07, Transmural: true, DeepestLayer: "outer", PeakC: 108, OuterSurfacePeakC: 49,
		MeanPowerW: 10.5, ResistanceStartOhm: 111, ResistanceEndOhm: 222, ResistanceRise: 3.5, PeakVoltageV: 333, CrestFactor: 1.75,
		LimitedShare: 0.13, OutsideLine: 0.19, SparkShare: 0.17, SparkFromS: 1.7, DryOutS: 1.9, SteamCondensed: 0.64, ElectrodePeakC: 66, CurrentRMSA: 0.21, HeatingFactorA2S: 0.23, Cells: 2500, Steps: 260, Solves: 27, Iterations: 28,
		Cut:   thermal.Cut{PathM: 6e-3, KerfWidthM: 0.62e-3, RemovedM3: 0.63e-9, PartedShare: 0.64, Sustained: true, HeldShare: 0.65, BurntM2: 0.66e-6, HeatJM3: 6.7e9, EnergyJM3: 6.8e9},
		Pad:   thermal.PadSummary{HighestRiseK: 7.1, MeanRiseK: 7.2, MeanRiseAtM: 7.3e-3, CentreRiseK: 7.4, RimRiseK: 7.5, SkinPeakC: 76},
		Stalk: thermal.StalkSummary{CutThroughS: 8.1, RingRadiusM: 0.82e-3, LeakShare: 0.083, PeakC: 84, BasePeakC: 85, BelowRingM: 0.86e-3, PartedShare: 0.87, OppositePeakC: 88},
	}
	for i, l := range c.Layers {
		n := float64(i + 1)
		r.Summary.Layers = append(r.Summary.Layers, thermal.LayerSummary{Name: l.Name, TopM: 0.1e-3 * n, BottomM: 0.5e-3 * n, MaxC: 60 + n, OmegaMax: 0.2 + n, CEM43MaxMin: 300 + n, InjuredM3: 1e-9 * (4 + n), InjuredShare: 0.1 * n})
	}
	r.Balance = thermal.Balance{TerminalJ: 91.9, LeadsJ: 0.9, ElectricJ: 91, FarJ: 92, BathJ: 8.5, MetabolicJ: 93, StoredJ: 94, SteamJ: 95, SmokeJ: 96, RemovedJ: 97, CuttingJ: 97.5, PerfusionJ: 98, ElectrodeJ: 99, SurfacesJ: 99.5, EnergyResidual: 1e-9, SourceResidual: 4e-9, WaterResidual: 3e-9, ChargeResidual: 2e-9}
	borders := make([]float64, len(c.Borders()))
	for i := range borders {
		borders[i] = 41 + float64(i)
	}
	r.History = []thermal.Sample{{TimeS: 0.5, PowerW: 5.1, VoltageV: 52, CurrentA: 0.53, ResistanceOhm: 540, SparkShare: 0.055, TerminalW: 5.9, PositionM: 5.6e-3, BorderC: borders, DepthM: 0.57e-3, MeanRiseK: 5.8, ProbeC: []float64{59}, ProbeOmega: []float64{0.6}}}
	return r
}

// cells returns the first row of a table by the names of its columns.
func cells(t *testing.T, table []byte) map[string]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(string(table))).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%v: %s", err, table)
	}
	out := map[string]string{}
	for i, name := range rows[0] {
		out[name] = rows[1][i]
	}
	return out
}

// same reports whether two cells are the same word, or the same number to a millionth.
func same(got, want string) bool {
	a, err1 := strconv.ParseFloat(got, 64)
	b, err2 := strconv.ParseFloat(want, 64)
	if err1 != nil || err2 != nil {
		return got == want
	}
	return math.Abs(a-b) <= 1e-6*math.Abs(b)
}

// What stands under the name of a column is what it says, in its unit. The values are written
// here once more, by hand.
func TestColumnsMeanWhatTheySay(t *testing.T) {
	common := map[string]string{
		"injury_depth_mm": "1.01", "deepest_layer": "outer",
		"max_C_inner": "61", "omega_max_inner": "1.2", "injured_mm3_inner": "5", "cem43_max_inner": "301",
		"max_C_outer": "62", "omega_max_outer": "2.2", "injured_mm3_outer": "6", "cem43_max_outer": "302",
		"contact_radius_mm": "2.25", "pressure_kPa": "8.1", "indentation_mm": "0.31",
		"energy_J": "91", "terminal_energy_J": "91.9", "energy_leads_J": "0.9", "outside_load_line_percent": "19", "source_residual_percent": "4e-07", "energy_far_J": "92", "energy_bath_J": "8.5", "energy_metabolic_J": "93", "energy_stored_J": "94", "energy_steam_J": "95", "energy_smoke_J": "96",
		"energy_removed_J": "97", "energy_cutting_J": "97.5", "energy_perfusion_J": "98", "energy_electrode_J": "99", "energy_surfaces_J": "99.5",
		"current_rms_A": "0.21", "heating_factor_A2s": "0.23", "mean_power_W": "10.5", "set_power_W": "12", "resistance_start_ohm": "111", "resistance_end_ohm": "222",
		"resistance_rise": "3.5", "dry_out_s": "1.9", "steam_condensed_percent": "64", "electrode_peak_C": "66", "spark_share": "0.17", "limited_percent": "13", "peak_voltage_V": "333", "crest_factor": "1.75",
		"energy_residual_percent": "1e-07", "water_residual_percent": "3e-07", "charge_residual_percent": "2e-07", "cells": "2500", "steps": "260", "solves": "27",
		"remark": "The contact dried after 1.9 s: 10.6 of the 12 W set left the terminals. Wet tissue held the needle up: it made 35 % of the path that the push alone would have made. " +
			"Sparks struck the tissue before the metal from 1.7 s on, for 17 % of the time with current.",
	}
	injury := map[string]string{
		"injury_depth_mm_other": "1.02", "injury_half_width_mm": "1.23", "removed_depth_mm": "0.44", "dried_depth_mm": "0.55", "margin_to_muscle_mm": "0.49",
		"muscle_injured_percent": "7", "wall_mm": "4", "transmural": "1", "peak_C": "108", "outer_surface_peak_C": "49",
	}
	cut := map[string]string{
		"cut_sustained": "1", "cut_parted_percent": "64", "held_up_percent": "65", "kerf_width_mm": "0.62", "removed_mm3": "0.63",
		"injury_beside_cut_mm": "0.92", "injury_below_cut_mm": "0.57", "injured_beside_mm2": "0.66", "path_mm": "6", "mean_speed_mm_s": "1.5",
		"energy_per_removed_J_mm3": "6.8", "heat_in_removed_J_mm3": "6.7",
	}
	pad := map[string]string{
		"mean_rise_1cm2_K": "7.2", "mean_rise_at_mm": "7.3", "highest_rise_K": "7.1", "rise_rim_K": "7.5", "rise_centre_K": "7.4", "skin_peak_C": "76",
		"contact_area_cm2": "0.159043128", // pi (0.225 cm)^2
	}
	loop := map[string]string{
		"cut_through": "1", "cut_through_s": "8.1", "ring_radius_mm": "0.82", "cut_parted_percent": "87", "stalk_peak_C": "84", "stalk_base_peak_C": "85",
		"injured_below_ring_mm": "0.86", "leak_percent": "8.3", "opposite_peak_C": "88",
	}
	outside := map[string]string{"marks": "Outside the range compared with experiments."} // with energies and voltages as made up here
	for _, tt := range []struct {
		name   string
		r      *thermal.Result
		parts  []map[string]string
		others int // columns of layers above the wall
	}{
		{"disc", distinct(thermal.Disc, false), []map[string]string{common, injury, {"marks": ""}}, 0},
		{"cut", distinct(thermal.Needle, true), []map[string]string{common, injury, cut, outside}, 0},
		{"pad", distinct(thermal.Pad, false), []map[string]string{common, pad, outside}, 0},
		{"loop", distinct(thermal.Loop, true), []map[string]string{injury, loop}, -1},
	} {
		got, told := cells(t, summaryCSV(tt.r)), 0
		for _, part := range tt.parts {
			for name, want := range part {
				told++
				if !same(got[name], want) {
					t.Errorf("%s: %s is %q, want %q", tt.name, name, got[name], want)
				}
			}
		}
		if tt.others == 0 && told != len(got) {
			t.Errorf("%s: %d columns are told of, the table has %d", tt.name, told, len(got))
		}
	}
	if got := cells(t, summaryCSV(distinct(thermal.Loop, true))); got["max_C_opposite"] != "61" || got["max_C_inner"] != "63" || got["energy_steam_J"] != "95" {
		t.Errorf("loop: %v", got)
	}
}

func TestHistoryAndLayersMeanWhatTheySay(t *testing.T) {
	for name, tt := range map[string]struct {
		table []byte
		want  map[string]string
	}{
		"history of a needle": {historyCSV(distinct(thermal.Needle, true)), map[string]string{
			"time_s": "0.5", "power_W": "5.1", "terminal_power_W": "5.9", "voltage_V": "52", "current_A": "0.53", "resistance_ohm": "540", "spark_percent": "5.5", "position_mm": "5.6",
			"T_surface_C": "41", "T_inner-outer_C": "42", "T_outer-surface_C": "43", "depth_mm": "0.57", "T_p_C": "59", "omega_p": "0.6"}},
		"history of a pad": {historyCSV(distinct(thermal.Pad, false)), map[string]string{
			"time_s": "0.5", "power_W": "5.1", "terminal_power_W": "5.9", "voltage_V": "52", "current_A": "0.53", "resistance_ohm": "540", "spark_percent": "5.5",
			"T_surface_C": "41", "T_inner-outer_C": "42", "T_outer-surface_C": "43", "mean_rise_1cm2_K": "5.8", "depth_mm": "0.57", "T_p_C": "59", "omega_p": "0.6"}},
		"layers": {layersCSV(distinct(thermal.Disc, false)), map[string]string{
			"layer": "inner", "top_mm": "0.1", "bottom_mm": "0.5", "thickness_mm": "0.4", "max_C": "61", "omega_max": "1.2", "cem43_max_min": "301", "injured_mm3": "5", "injured_percent": "10"}},
	} {
		got := cells(t, tt.table)
		for column, want := range tt.want {
			if !same(got[column], want) {
				t.Errorf("%s: %s is %q, want %q", name, column, got[column], want)
			}
		}
		if len(got) != len(tt.want) {
			t.Errorf("%s: %d columns, %d are told of: %v", name, len(got), len(tt.want), got)
		}
	}
}

// The table on the terminal says the same under its words.
func TestTerminalMeansWhatItSays(t *testing.T) {
	for name, tt := range map[string]struct {
		r    *thermal.Result
		says []string
	}{
		"cut": {distinct(thermal.Needle, true), []string{"injury depth 1.01 mm", "injury half-width 1.23 mm", "margin to the muscle 0.49 mm", "removed down to 0.44 mm", "dried down to 0.55 mm",
			"hottest 108 °C anywhere, 49.0 °C at the outer surface", "10.5 of 12 W mean, 91.0 J", "at the terminals 10.6 W mean, 91.9 J; 0.9 J of it lost before the tissue", "0.21 A RMS", "0.23 A2 s", "111 ohm at the start, 222 ohm at the end", "1.9 s: no wet tissue",
			"sparks for 17 %", "333 V, crest factor 1.75", "steam 51.6 %", "carbonisation 52.2 %", "6.80 J delivered, 6.70 J in the tissue", "0.62 mm wide, 0.44 mm deep; 0.63 mm3"}},
		"pad":  {distinct(thermal.Pad, false), []string{"mean rise over 1 cm2 7.2 K at most, its centre 7.3 mm", "highest rise 7.1 K", "7.5 K at the rim of the contact, 7.4 K at the centre", "hottest skin 76.0 °C"}},
		"loop": {distinct(thermal.Loop, true), []string{"hottest 84 °C, 85.0 °C at its base; injured 0.9 mm below the wire", "8.3 % of the charge left there, hottest 88.0 °C", "87 % had boiled dry"}},
	} {
		var b strings.Builder
		scenes[tt.r.Case.Scene()].lines(&b, tt.r)
		if name == "cut" {
			cutLines(&b, tt.r)
			tt.r.Mesh = &mesh.Mesh{}
			electricLines(&b, tt.r)
		}
		text := strings.Join(strings.Fields(b.String()), " ")
		for _, s := range tt.says {
			if !strings.Contains(text, s) {
				t.Errorf("%s: no %q in\n%s", name, s, text)
			}
		}
	}
}
