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

// SummaryColumns lists what summary.csv reports of a case in one row, in order.
func SummaryColumns(c *thermal.Case) []Column {
	cols := scenes[c.Scene()].columns(c)
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
	if c.Cuts() {
		cols = append(cols, cutColumns(c)...)
	}
	if c.Activations() > 1 {
		cols = append(cols,
			num("activations", "", "how often the case was repeated on its place; energies and times are those of all", func(r result) float64 { return float64(r.Case.Activations()) }),
			num("pause_s", "s", "time without current between two of them", func(r result) float64 { return r.Case.Repeat.PauseS }))
	}
	cols = append(cols, num("contact_radius_mm", "mm", "radius of the contact; of a needle, of its shaft; of a loop, of its wire", func(r result) float64 { return inMM(r.Case.Electrode.ContactRadiusM) }))
	if pressed(c) {
		cols = append(cols,
			num("pressure_kPa", "kPa", "pressure of the electrode on the tissue", func(r result) float64 { return r.Case.Electrode.Press.PressurePa / 1000 }),
			num("indentation_mm", "mm", "indentation of the wall under the electrode", func(r result) float64 { return inMM(r.Case.Electrode.Press.IndentationM) }))
	}
	if len(c.Before) > 0 {
		cols = append(cols, balance("energy_held_J", "heat that the tissue holds at the start, from what was done before on the same place", func(b thermal.Balance) float64 { return b.HeldJ }))
	}
	return append(cols,
		balance("energy_J", "energy delivered into the tissue", func(b thermal.Balance) float64 { return b.ElectricJ }),
		balance("terminal_energy_J", "energy that the source gave at its terminals", func(b thermal.Balance) float64 { return b.TerminalJ }),
		balance("energy_leads_J", "part of terminal_energy_J that was lost before the tissue: in series with it, or beside it", func(b thermal.Balance) float64 { return b.LeadsJ }),
		balance("energy_bath_J", "part of energy_J that heats a liquid stirred by moving metal", func(b thermal.Balance) float64 { return b.BathJ }),
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
		num("mean_power_W", "W", "power into the tissue, mean over the time the current was on", func(r result) float64 { return r.Summary.MeanPowerW }),
		num("set_power_W", "W", "power that was set, mean over the time the current was on; empty where the source holds a voltage or a current", phrase.SetPowerW),
		num("resistance_start_ohm", "ohm", "resistance at the start", func(r result) float64 { return r.Summary.ResistanceStartOhm }),
		num("resistance_end_ohm", "ohm", "resistance when the current stopped", func(r result) float64 { return r.Summary.ResistanceEndOhm }),
		num("resistance_rise", "", "highest resistance over the lowest", func(r result) float64 { return r.Summary.ResistanceRise }),
		num("dry_out_s", "s", "time at which no wet tissue touched the electrode for the first time; empty if that never happened", func(r result) float64 { return r.Summary.DryOutS }),
		num("steam_condensed_percent", "%", "share of the steam that condensed again, in cooler tissue; empty if nothing boiled", func(r result) float64 { return 100 * r.Summary.SteamCondensed }),
		num("electrode_peak_C", "C", "highest temperature of the electrode's metal", func(r result) float64 { return r.Summary.ElectrodePeakC }),
		num("spark_share", "", "share of the time with current in which sparks carried some of it, 0 to 1", func(r result) float64 { return r.Summary.SparkShare }),
		num("limited_percent", "%", "share of the time with current in which a limit kept the source below its setting", func(r result) float64 { return 100 * r.Summary.LimitedShare }),
		num("outside_load_line_percent", "%", "share of the time with current in which the load was outside the load line of the source, whose ends then go on (assumption); empty without one", outsideLine),
		num("peak_voltage_V", "V", "highest peak voltage reached on the electrode", func(r result) float64 { return r.Summary.PeakVoltageV }),
		num("crest_factor", "", "peak voltage over RMS voltage; with pulses, during a pulse", func(r result) float64 { return r.Summary.CrestFactor }),
		num("energy_residual_percent", "%", "energy in minus energy accounted for, over energy in", func(r result) float64 { return 100 * r.Balance.EnergyResidual }),
		num("source_residual_percent", "%", "energy at the terminals minus lost before the tissue minus into the tissue, over the first", func(r result) float64 { return 100 * r.Balance.SourceResidual }),
		num("water_residual_percent", "%", "water missing from the tissue minus water that left as steam, over all that boiled off", func(r result) float64 { return 100 * r.Balance.WaterResidual }),
		num("charge_residual_percent", "%", "worst current in minus current out, over current in", func(r result) float64 { return 100 * r.Balance.ChargeResidual }),
		num("cells", "", "number of cells of the mesh", func(r result) float64 { return float64(r.Summary.Cells) }),
		num("steps", "", "number of time steps", func(r result) float64 { return float64(r.Summary.Steps) }),
		num("solves", "", "number of solutions of the electric field", func(r result) float64 { return float64(r.Summary.Solves) }),
		Column{Name: RemarkColumn, Text: "why the numbers are what they are: what dried, what limited the source, sparks, what waited or went on", Word: phrase.Remark},
		Column{Name: MarksColumn, Text: "what must stand beside these numbers: invented data, a draft mesh, injury beyond the fine cells, a failed self-check", Word: Marks},
	)
}

// outsideLine is the share of time outside the load line, in percent; NaN without one.
func outsideLine(r result) float64 {
	if d := &r.Case.Drive; len(d.Limits.LoadLine) == 0 && (d.Pulses == nil || len(d.Pulses.Between.Limits.LoadLine) == 0) {
		return math.NaN()
	}
	return 100 * r.Summary.OutsideLine
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
	}
	if c.Drive.Path.Loses() {
		cols = append(cols, historyColumn{"terminal_power_W", func(s sample) float64 { return s.TerminalW }})
	}
	cols = append(cols, []historyColumn{
		{"voltage_V", func(s sample) float64 { return s.VoltageV }},
		{"current_A", func(s sample) float64 { return s.CurrentA }},
		{"resistance_ohm", func(s sample) float64 { return s.ResistanceOhm }},
		{"spark_percent", func(s sample) float64 { return 100 * s.SparkShare }},
	}...)
	if c.Motion.Moving() {
		cols = append(cols, historyColumn{"position_mm", func(s sample) float64 { return inMM(s.PositionM) }})
	}
	if c.Electrode.CapacityJK > 0 {
		cols = append(cols, historyColumn{electrodeColumn, func(s sample) float64 { return s.ElectrodeC }})
	}
	for i, b := range c.Borders() {
		cols = append(cols, historyColumn{fmt.Sprintf("T_%s_C", b.Name), func(s sample) float64 { return phrase.At(s.BorderC, i) }})
	}
	cols = append(cols, scenes[c.Scene()].history...)
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
	MarksColumn  = "marks"

	electrodeColumn = "T_electrode_C"
)
