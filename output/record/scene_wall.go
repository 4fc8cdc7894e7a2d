package record

import (
	"math"
	"strings"

	"muralheat/output/phrase"
	"muralheat/thermal"
)

func init() {
	scenes[thermal.OnWall] = scene{judged: DepthColumn, columns: injuryColumns, lines: injuryLines, touched: fromSurface}
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

// cutColumns tell what an electrode did that was drawn through the wall.
func cutColumns(c *thermal.Case) []Column {
	tip := string(c.Electrode.Tip)
	return []Column{
		num("cut_sustained", "", "1 if heat removed the tissue as fast as the "+tip+" advanced, else 0", func(r result) float64 { return Yes(r.Summary.Cut.Sustained) }),
		num("cut_parted_percent", "%", "share of the tissue swept by the "+tip+" that heat had removed; the rest was dragged", func(r result) float64 { return 100 * r.Summary.Cut.PartedShare }),
		num("held_up_percent", "%", "share of the path that the push alone would have made but for tissue in the way; 0 at a set speed", func(r result) float64 { return 100 * r.Summary.Cut.HeldShare }),
		num("kerf_width_mm", "mm", "greatest width of the removed tissue across the track", func(r result) float64 { return inMM(r.Summary.Cut.KerfWidthM) }),
		num("removed_mm3", "mm3", "volume of tissue removed by the "+tip, func(r result) float64 { return 1e9 * r.Summary.Cut.RemovedM3 }),
		num("injury_beside_cut_mm", "mm", "injury half-width minus half the kerf", func(r result) float64 { return inMM(phrase.BesideCutM(r.Summary)) }),
		num("injury_below_cut_mm", "mm", "injury depth minus removed depth", func(r result) float64 { return inMM(phrase.BelowCutM(r.Summary)) }),
		num("injured_beside_mm2", "mm2", "cross-section of the injured tissue left behind, mean over the middle half of the path", func(r result) float64 { return 1e6 * r.Summary.Cut.BurntM2 }),
		num("path_mm", "mm", "path length of the "+tip+" when the current stops", func(r result) float64 { return inMM(r.Summary.Cut.PathM) }),
		num("mean_speed_mm_s", "mm/s", "path length over the time the current was on", func(r result) float64 { return inMM(phrase.MeanSpeedMS(r)) }),
		num("energy_per_removed_J_mm3", "J/mm3", "energy delivered per volume removed", func(r result) float64 { return phrase.PerRemoved(r, r.Summary.Cut.EnergyJM3) }),
		num("heat_in_removed_J_mm3", "J/mm3", "heat in the removed tissue per volume of it", func(r result) float64 { return phrase.PerRemoved(r, r.Summary.Cut.HeatJM3) }),
	}
}

// injuryLines answer how deep the wall is injured.
func injuryLines(b *strings.Builder, r *thermal.Result) {
	s := r.Summary
	wall, row := r.Case.WallM(), rowsOf(b)
	row("injury depth", "%.2f mm of a wall of %.2f mm (%s)", 1e3*s.InjuryDepthM, 1e3*wall, r.Case.Damage.Kinetics.Name)
	for i, k := range r.Case.Damage.Also {
		row("", "%.2f mm by %s", 1e3*s.InjuryDepthAlsoM[i], k.Name)
	}
	if k := r.Case.Damage.AtOnce; k != nil {
		row("coagulated at once", "%.2f mm deep, half-width %.2f mm (%s)", 1e3*s.Coagulated.DepthM, 1e3*s.Coagulated.HalfWidthM, k.Name)
	}
	row("injury half-width", "%.2f mm", 1e3*s.InjuryHalfWidthM)
	if !math.IsNaN(s.MarginToMuscleM) {
		row("margin to the muscle", "%.2f mm", 1e3*s.MarginToMuscleM)
	}
	if s.RemovedDepthM > 0 {
		row("removed down to", "%.2f mm", 1e3*s.RemovedDepthM)
	}
	if s.DriedDepthM > 0 {
		row("dried down to", "%.2f mm", 1e3*s.DriedDepthM)
	}
	row("hottest", "%.0f °C anywhere, %.1f °C at the outer surface", s.PeakC, s.OuterSurfacePeakC)
}

// cutLines says whether an electrode that was drawn through the wall cut or dragged, and what the cut looks like.
func cutLines(b *strings.Builder, r *thermal.Result) {
	s, cut, row, tip := r.Summary, r.Summary.Cut, rowsOf(b), r.Case.Electrode.Tip
	b.WriteString("Cut\n")
	row("path", "%.2f mm of %s mm, %.2f mm/s on average", 1e3*cut.PathM, phrase.Short(1e3*r.Case.Motion.LengthM), 1e3*phrase.MeanSpeedMS(r))
	if cut.HeldShare > 0.005 {
		row("stopped by tissue", "on %.0f %% of the path that the push alone would have made", 100*cut.HeldShare)
	}
	switch {
	case cut.RemovedM3 == 0:
		row("sustained", "no: the %s swept nothing", tip)
		return
	case cut.Sustained:
		row("sustained", "yes: heat removed %.0f %% of what the %s swept", math.Floor(100*cut.PartedShare), tip)
	default:
		row("sustained", "no, the %s drags: heat removed %.0f %% of what it swept", tip, math.Floor(100*cut.PartedShare))
	}
	row("kerf", "%.2f mm wide, %.2f mm deep; %.2f mm3 removed", 1e3*cut.KerfWidthM, 1e3*s.RemovedDepthM, 1e9*cut.RemovedM3)
	row("injury beside the kerf", "%.2f mm at its widest", 1e3*phrase.BesideCutM(s))
	row("injury below the kerf", "%.2f mm", 1e3*phrase.BelowCutM(s))
	row("for each mm3 removed", "%.2f J delivered, %.2f J in the tissue that was removed", phrase.PerRemoved(r, cut.EnergyJM3), phrase.PerRemoved(r, cut.HeatJM3))
}
