package record

import (
	"fmt"
	"math"
	"strconv"

	"muralheat/output/phrase"
	"muralheat/thermal"
)

// A Column is one quantity of a result table. Every quantity is declared once,
// here; headers, tables and records are made from the declaration.
type Column struct {
	Name   string // with its unit
	Unit   string // "" for a pure number or a word
	Text   string // what it is
	Number func(*thermal.Result) float64
	Word   func(*thermal.Result) string // in place of Number
}

// Cell returns the value as it stands in a CSV file: the shortest decimal that
// reads back to the same number, empty where there is none.
func (c Column) Cell(r *thermal.Result) string {
	if c.Word != nil {
		return Guarded(c.Word(r))
	}
	return Number(c.Number(r))
}

// Number returns a number as the tables write it: the shortest decimal that reads back the same, empty for none.
func Number(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	if math.IsInf(v, 1) {
		// As XML Schema and so CSV on the Web write it; without the sign that would make a
		// spreadsheet take it for a formula.
		return "INF"
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// inMM returns millimetres, rounded to a picometre so that 0.85 mm does not
// print as 0.8500000000000001.
func inMM(metres float64) float64 { return math.Round(metres*1e12) / 1e9 }

type result = *thermal.Result

func num(name, unit, text string, f func(result) float64) Column {
	return Column{Name: name, Unit: unit, Text: text, Number: f}
}

// injuryColumns tell how deep the wall is injured.
func injuryColumns(c *thermal.Case) []Column {
	cols := []Column{num("injury_depth_mm", "mm", "deepest point below the surface that dies within a day, by an Arrhenius integral of at least 1, or is removed by a moving needle",
		func(r result) float64 { return inMM(r.Summary.InjuryDepthM) })}
	for i, k := range c.Damage.Also {
		cols = append(cols, num("injury_depth_mm_"+k.Name, "mm", "injury depth by the damage kinetics "+k.Name,
			func(r result) float64 { return inMM(r.Summary.InjuryDepthAlsoM[i]) }))
	}
	if c.Damage.AtOnce != nil {
		at := func(name, unit, text string, f func(thermal.Coagulated) float64) Column {
			return num(name, unit, text, func(r result) float64 { return f(r.Summary.Coagulated) })
		}
		cols = append(cols,
			at("coagulated_depth_mm", "mm", "deepest point coagulated at once, which the eye and the microscope see, by the kinetics damage.at_once", func(k thermal.Coagulated) float64 { return inMM(k.DepthM) }),
			at("coagulated_half_width_mm", "mm", "distance from the axis or the track to the farthest point coagulated at once", func(k thermal.Coagulated) float64 { return inMM(k.HalfWidthM) }),
			at("coagulated_margin_to_muscle_mm", "mm", "depth of the top of the muscle minus coagulated_depth_mm", func(k thermal.Coagulated) float64 { return inMM(k.MarginToMuscleM) }),
			at("muscle_coagulated_percent", "%", "share of the thickness of the muscle that is coagulated at once", func(k thermal.Coagulated) float64 { return 100 * k.MuscleShare }))
	}
	return append(cols,
		num("injury_half_width_mm", "mm", "distance from the axis or the track to the farthest injured point of the wall", func(r result) float64 { return inMM(r.Summary.InjuryHalfWidthM) }),
		num("removed_depth_mm", "mm", "depth of the deepest removed tissue", func(r result) float64 { return inMM(r.Summary.RemovedDepthM) }),
		num("dried_depth_mm", "mm", "depth of the deepest tissue that has lost most of its water", func(r result) float64 { return inMM(r.Summary.DriedDepthM) }),
		num("margin_to_muscle_mm", "mm", "depth of the top of the muscle minus injury depth; negative: the injury is in the muscle", func(r result) float64 { return inMM(r.Summary.MarginToMuscleM) }),
		num("muscle_injured_percent", "%", "injured share of the thickness of the muscle", func(r result) float64 { return 100 * r.Summary.MuscleInjuredShare }),
		num("wall_mm", "mm", "depth of the outer surface of the wall: its thickness, as stretched, lifted and pressed", func(r result) float64 { return inMM(r.Case.WallM()) }),
		num("transmural", "", "1 if the injury reaches the outer surface of the wall, else 0", func(r result) float64 { return Yes(r.Summary.Transmural) }),
		Column{Name: "deepest_layer", Text: "deepest layer with injury; empty if there is none", Word: func(r result) string { return r.Summary.DeepestLayer }},
		num("peak_C", "C", "highest temperature reached anywhere", func(r result) float64 { return r.Summary.PeakC }),
		num("outer_surface_peak_C", "C", "highest temperature reached at the outer surface of the wall", func(r result) float64 { return r.Summary.OuterSurfacePeakC }),
	)
}

// padColumns tell what a neutral electrode did to the skin.
func padColumns() []Column {
	pad := func(name, unit, text string, f func(thermal.PadSummary) float64) Column {
		return num(name, unit, text, func(r result) float64 { return f(r.Summary.Pad) })
	}
	return []Column{
		pad("mean_rise_1cm2_K", "K", "highest mean temperature rise over any round square centimetre of skin, by which IEC 60601-2-2:2017, 201.15.101.5, judges a neutral electrode", func(p thermal.PadSummary) float64 { return p.MeanRiseK }),
		pad("mean_rise_at_mm", "mm", "distance of that square centimetre from the centre of the pad", func(p thermal.PadSummary) float64 { return inMM(p.MeanRiseAtM) }),
		pad("highest_rise_K", "K", "highest temperature rise anywhere in the body", func(p thermal.PadSummary) float64 { return p.HighestRiseK }),
		pad("rise_rim_K", "K", "highest temperature rise of the skin at the rim of the contact", func(p thermal.PadSummary) float64 { return p.RimRiseK }),
		pad("rise_centre_K", "K", "highest temperature rise of the skin at the centre of the pad", func(p thermal.PadSummary) float64 { return p.CentreRiseK }),
		pad("skin_peak_C", "C", "highest temperature of the skin", func(p thermal.PadSummary) float64 { return p.SkinPeakC }),
		num("contact_area_cm2", "cm2", "area that touches the skin", func(r result) float64 { return phrase.ContactCM2(r.Case) }),
		num("injury_depth_mm", "mm", "deepest point with an Arrhenius integral of at least 1", func(r result) float64 { return inMM(r.Summary.InjuryDepthM) }),
		Column{Name: "deepest_layer", Text: "deepest layer with injury; empty if there is none", Word: func(r result) string { return r.Summary.DeepestLayer }},
	}
}

// loopColumns tell what a loop did to the stalk.
func loopColumns(c *thermal.Case) []Column {
	stalk := func(name, unit, text string, f func(thermal.StalkSummary) float64) Column {
		return num(name, unit, text, func(r result) float64 { return f(r.Summary.Stalk) })
	}
	cols := []Column{
		stalk("cut_through", "", "1 if the ring closed to the axis of the stalk while current flowed, else 0", func(s thermal.StalkSummary) float64 { return Yes(!math.IsNaN(s.CutThroughS)) }),
		stalk("cut_through_s", "s", "time at which the ring had cut through; empty if it did not", func(s thermal.StalkSummary) float64 { return s.CutThroughS }),
		stalk("ring_radius_mm", "mm", "inner radius of the ring at the end", func(s thermal.StalkSummary) float64 { return inMM(s.RingRadiusM) }),
		stalk("cut_parted_percent", "%", "share of the tissue passed by the wire that heat had removed; the rest was torn or dragged; empty if it passed none", func(s thermal.StalkSummary) float64 { return 100 * s.PartedShare }),
		stalk("stalk_peak_C", "C", "highest temperature reached in stalk and head", func(s thermal.StalkSummary) float64 { return s.PeakC }),
		stalk("stalk_base_peak_C", "C", "highest temperature reached at the base of the stalk", func(s thermal.StalkSummary) float64 { return s.BasePeakC }),
		stalk("injured_below_ring_mm", "mm", "greatest injured length of the stalk below the wire", func(s thermal.StalkSummary) float64 { return inMM(s.BelowRingM) }),
	}
	if phrase.Touches(c) {
		cols = append(cols,
			stalk("leak_percent", "%", "share of the charge that flowed through the head into the opposite wall", func(s thermal.StalkSummary) float64 { return 100 * s.LeakShare }),
			stalk("opposite_peak_C", "C", "highest temperature reached in the opposite wall", func(s thermal.StalkSummary) float64 { return s.OppositePeakC }))
	}
	return cols
}

// SummaryColumns lists what summary.csv reports of a case in one row, in order.
func SummaryColumns(c *thermal.Case) []Column {
	var cols []Column
	switch c.Electrode.Tip {
	case thermal.Pad:
		cols = padColumns()
	default:
		cols = injuryColumns(c)
	}
	if c.Electrode.Tip == thermal.Loop {
		cols = append(cols, loopColumns(c)...)
	}
	for i, l := range c.Layers {
		layer := func(f func(thermal.LayerSummary) float64) func(result) float64 {
			return func(r result) float64 { return f(r.Summary.Layers[i]) }
		}
		cols = append(cols,
			num("max_C_"+l.Name, "C", "highest temperature reached in the layer", layer(layerMaxC)),
			num("omega_max_"+l.Name, "", "largest Arrhenius integral in the layer", layer(layerOmega)),
			num("injured_mm3_"+l.Name, "mm3", "injured volume of the layer, including what a moving needle or wire removed", layer(layerInjured)),
			num("cem43_max_"+l.Name, "min", "largest cumulative equivalent minutes at 43 C in the layer", layer(layerCEM43)))
	}
	balance := func(name, text string, f func(thermal.Balance) float64) Column {
		return num(name, "J", text, func(r result) float64 { return f(r.Balance) })
	}
	if phrase.Cuts(c) {
		cols = append(cols,
			num("cut_sustained", "", "1 if heat removed the tissue as fast as the needle advanced, else 0", func(r result) float64 { return Yes(r.Summary.Cut.Sustained) }),
			num("cut_parted_percent", "%", "share of the tissue swept by the needle that heat had removed; the rest was dragged", func(r result) float64 { return 100 * r.Summary.Cut.PartedShare }),
			num("held_up_percent", "%", "share of the path that the push alone would have made but for tissue in the way; 0 at a set speed", func(r result) float64 { return 100 * r.Summary.Cut.HeldShare }),
			num("kerf_width_mm", "mm", "greatest width of the removed tissue across the track", func(r result) float64 { return inMM(r.Summary.Cut.KerfWidthM) }),
			num("removed_mm3", "mm3", "volume of tissue removed by the needle", func(r result) float64 { return 1e9 * r.Summary.Cut.RemovedM3 }),
			num("injury_beside_cut_mm", "mm", "injury half-width minus half the kerf", func(r result) float64 { return inMM(phrase.BesideCutM(r.Summary)) }),
			num("injury_below_cut_mm", "mm", "injury depth minus removed depth", func(r result) float64 { return inMM(phrase.BelowCutM(r.Summary)) }),
			num("injured_beside_mm2", "mm2", "cross-section of the injured tissue left behind, mean over the middle half of the path", func(r result) float64 { return 1e6 * r.Summary.Cut.BurntM2 }),
			num("path_mm", "mm", "path length of the needle when the current stops", func(r result) float64 { return inMM(r.Summary.Cut.PathM) }),
			num("mean_speed_mm_s", "mm/s", "path length over the time the current was on", func(r result) float64 { return inMM(phrase.MeanSpeedMS(r)) }),
			num("energy_per_removed_J_mm3", "J/mm3", "energy delivered per volume removed", func(r result) float64 { return phrase.PerRemoved(r, r.Summary.Cut.EnergyJM3) }),
			num("heat_in_removed_J_mm3", "J/mm3", "heat in the removed tissue per volume of it", func(r result) float64 { return phrase.PerRemoved(r, r.Summary.Cut.HeatJM3) }))
	}
	cols = append(cols, num("contact_radius_mm", "mm", "radius of the contact; of a needle, of its shaft; of a loop, of its wire", func(r result) float64 { return inMM(r.Case.Electrode.ContactRadiusM) }))
	if pressed(c) {
		cols = append(cols,
			num("pressure_kPa", "kPa", "pressure of the electrode on the tissue", func(r result) float64 { return r.Case.Electrode.Press.PressurePa / 1000 }),
			num("indentation_mm", "mm", "indentation of the wall under the electrode", func(r result) float64 { return inMM(r.Case.Electrode.Press.IndentationM) }))
	}
	return append(cols,
		balance("energy_J", "energy delivered by the source", func(b thermal.Balance) float64 { return b.ElectricJ }),
		balance("energy_far_J", "part of energy_J that is dissipated in the body outside the mesh", func(b thermal.Balance) float64 { return b.FarJ }),
		balance("energy_metabolic_J", "metabolic heat", func(b thermal.Balance) float64 { return b.MetabolicJ }),
		balance("energy_stored_J", "heat still in the tissue at the end", func(b thermal.Balance) float64 { return b.StoredJ }),
		balance("energy_steam_J", "heat carried away by water that boiled off", func(b thermal.Balance) float64 { return b.SteamJ }),
		balance("energy_smoke_J", "heat spent on carbonisation", func(b thermal.Balance) float64 { return b.SmokeJ }),
		balance("energy_removed_J", "heat in tissue that was removed", func(b thermal.Balance) float64 { return b.RemovedJ }),
		balance("energy_cutting_J", "spent in the gap before a cutting electrode, on tissue that it removed and in the vapour that left", func(b thermal.Balance) float64 { return b.CuttingJ }),
		balance("energy_perfusion_J", "heat carried away by blood", func(b thermal.Balance) float64 { return b.PerfusionJ }),
		balance("energy_electrode_J", "heat given to the metal of the electrode", func(b thermal.Balance) float64 { return b.ElectrodeJ }),
		balance("energy_surfaces_J", "heat lost through the surfaces of the mesh", func(b thermal.Balance) float64 { return b.SurfacesJ }),
		num("current_rms_A", "A", "RMS current over the time it was on", func(r result) float64 { return r.Summary.CurrentRMSA }),
		num("heating_factor_A2s", "A2 s", "integral of the squared current, the load on the neutral electrode (IEC 60601-2-2:2017, heating factor)", func(r result) float64 { return r.Summary.HeatingFactorA2S }),
		num("mean_power_W", "W", "delivered power, mean over the time the current was on", func(r result) float64 { return r.Summary.MeanPowerW }),
		num("power_set_W", "W", "power that was set, mean over the time the current was on; empty where the source holds a voltage or a current", phrase.SetPowerW),
		num("resistance_start_ohm", "ohm", "resistance at the start", func(r result) float64 { return r.Summary.ResistanceStartOhm }),
		num("resistance_end_ohm", "ohm", "resistance when the current stopped", func(r result) float64 { return r.Summary.ResistanceEndOhm }),
		num("resistance_rise", "", "highest resistance over the lowest", func(r result) float64 { return r.Summary.ResistanceRise }),
		num("dry_out_s", "s", "time at which no wet tissue touched the electrode for the first time; empty if that never happened", func(r result) float64 { return r.Summary.DryOutS }),
		num("electrode_peak_C", "C", "highest temperature of the electrode's metal", func(r result) float64 { return r.Summary.ElectrodePeakC }),
		num("spark_share", "", "share of the time with current in which sparks carried some of it, 0 to 1", func(r result) float64 { return r.Summary.SparkShare }),
		num("limited_percent", "%", "share of the time with current in which a limit kept the source below its setting", func(r result) float64 { return 100 * r.Summary.LimitedShare }),
		num("peak_voltage_V", "V", "highest peak voltage reached", func(r result) float64 { return r.Summary.PeakVoltageV }),
		num("crest_factor", "", "peak voltage over RMS voltage; with pulses, during a pulse", func(r result) float64 { return r.Summary.CrestFactor }),
		num("energy_residual_percent", "%", "energy in minus energy accounted for, over energy in", func(r result) float64 { return 100 * r.Balance.EnergyResidual }),
		num("water_residual_percent", "%", "water missing from the tissue minus water that boiled off, over the larger", func(r result) float64 { return 100 * r.Balance.WaterResidual }),
		num("charge_residual_percent", "%", "worst current in minus current out, over current in", func(r result) float64 { return 100 * r.Balance.ChargeResidual }),
		num("cells", "", "number of cells of the mesh", func(r result) float64 { return float64(r.Summary.Cells) }),
		num("steps", "", "number of time steps", func(r result) float64 { return float64(r.Summary.Steps) }),
		num("solves", "", "number of solutions of the electric field", func(r result) float64 { return float64(r.Summary.Solves) }),
		Column{Name: RemarkColumn, Text: "why the numbers are what they are: what dried, what limited the source, sparks, what waited or went on", Word: phrase.Remark},
	)
}

// pressed reports whether it is stated how hard the hand presses.
func pressed(c *thermal.Case) bool {
	return c.Electrode.Press.ForceN > 0 || c.Electrode.Press.PressurePa > 0
}

// Yes returns 1 for true, 0 for false.
func Yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func layerMaxC(l thermal.LayerSummary) float64    { return l.MaxC }
func layerOmega(l thermal.LayerSummary) float64   { return l.OmegaMax }
func layerInjured(l thermal.LayerSummary) float64 { return 1e9 * l.InjuredM3 }
func layerCEM43(l thermal.LayerSummary) float64   { return l.CEM43MaxMin }

// historyColumn is one quantity of the time course.
type historyColumn struct {
	name  string
	value func(thermal.Sample) float64
}

// historyColumns lists the time course of a case, in order.
func historyColumns(c *thermal.Case) []historyColumn {
	type sample = thermal.Sample
	cols := []historyColumn{
		{"time_s", func(s sample) float64 { return s.TimeS }},
		{"power_W", func(s sample) float64 { return s.PowerW }},
		{"voltage_V", func(s sample) float64 { return s.VoltageV }},
		{"current_A", func(s sample) float64 { return s.CurrentA }},
		{"resistance_ohm", func(s sample) float64 { return s.ResistanceOhm }},
		{"spark_percent", func(s sample) float64 { return 100 * s.SparkShare }},
	}
	if c.Motion.Moving() {
		cols = append(cols, historyColumn{"position_mm", func(s sample) float64 { return inMM(s.PositionM) }})
	}
	if c.Electrode.CapacityJK > 0 {
		cols = append(cols, historyColumn{"T_electrode_C", func(s sample) float64 { return s.ElectrodeC }})
	}
	for i, b := range c.Borders() {
		cols = append(cols, historyColumn{fmt.Sprintf("T_%s_C", b.Name), func(s sample) float64 { return phrase.At(s.BorderC, i) }})
	}
	if c.Electrode.Tip == thermal.Pad {
		cols = append(cols, historyColumn{"mean_rise_1cm2_K", func(s sample) float64 { return s.MeanRiseK }})
	}
	cols = append(cols, historyColumn{"depth_mm", func(s sample) float64 { return inMM(s.DepthM) }})
	for i, p := range c.Probes {
		cols = append(cols,
			historyColumn{fmt.Sprintf("T_%s_C", p.Name), func(s sample) float64 { return phrase.At(s.ProbeC, i) }},
			historyColumn{"omega_" + p.Name, func(s sample) float64 { return phrase.At(s.ProbeOmega, i) }})
	}
	return cols
}

// layerColumn is one quantity of the table of layers.
type layerColumn struct {
	Name  string
	Value func(thermal.LayerSummary) float64
}

// LayerColumns are those of layers.csv behind the name of the layer.
var LayerColumns = []layerColumn{
	{"top_mm", func(l thermal.LayerSummary) float64 { return inMM(l.TopM) }},
	{"bottom_mm", func(l thermal.LayerSummary) float64 { return inMM(l.BottomM) }},
	{"thickness_mm", func(l thermal.LayerSummary) float64 { return inMM(l.BottomM - l.TopM) }},
	{"max_C", layerMaxC},
	{"omega_max", layerOmega},
	{"cem43_max_min", layerCEM43},
	{"injured_mm3", layerInjured},
	{"injured_percent", func(l thermal.LayerSummary) float64 { return 100 * l.InjuredShare }},
}

// Columns that verdicts and figures read by name.
const (
	DepthColumn  = "injury_depth_mm"
	MarginColumn = "margin_to_muscle_mm"
	RiseColumn   = "mean_rise_1cm2_K"
	RemarkColumn = "remark"
)
