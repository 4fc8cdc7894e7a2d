package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"muralheat/output/document"
	"muralheat/output/record"
	"muralheat/thermal"
	"muralheat/thermal/damage"
)

// What a credibility report says of every case: the laws that are solved, what is assumed
// beyond the settings, and what must not be read out of it.

// equations lists the laws with their units, and what of them is in force in a case.
func equations(c *thermal.Case) document.Table {
	p, e := c.Physics, c.Electrode
	rows := [][]string{
		{"Electric field", "∇·(σ ∇V) = 0; V in V (RMS), σ in S/m", "quasi-static and resistive: no waves, no capacitance of tissue (assumption: the body is far smaller than a wavelength, and at these frequencies conduction current outweighs displacement current)"},
		{"Heat (Pennes 1948)", "ρ c ∂T/∂t = ∇·(k ∇T) + σ|∇V|² − w c_b (T − T_b)" + whenElse(p.MetabolicHeat, " + q_m", "") + "; each term in W/m³, T in °C",
			whenElse(p.MetabolicHeat, "with metabolic heat q_m", "without metabolic heat: blood carries it away at rest (assumption)")},
		{"Conductivity", "σ = σ₃₇ (1 + a (T − 37 °C)), up to the boiling point; a in 1/K", fmt.Sprintf("a = %s 1/K", digits(p.SigmaPerK))},
	}
	switch p.PerfusionStops {
	case thermal.Never:
		rows = append(rows, []string{"Blood flow", "w as at rest; kg/(m³ s)", "never stops"})
	case thermal.AtInjury:
		rows = append(rows, []string{"Blood flow", "w = 0 where Ω ≥ 1; kg/(m³ s)", "stops at injury"})
	default:
		rows = append(rows, []string{"Blood flow", "w = w₀ exp(−Ω); kg/(m³ s)", "stops with damage"})
	}
	if p.Boiling {
		rows = append(rows,
			[]string{"Boiling", "at T = T_boil surplus heat boils off water: ρ L dm/dt = surplus heat; m, mass fraction of water, does not come back", fmt.Sprintf("T_boil = %s °C, L = %s J/kg", digits(p.BoilC), digits(p.LatentJKg))},
			drying(p),
			steam(p),
			[]string{"Sparks", "cross d mm of dried tissue above V_onset + s d (peak) and take up that voltage", fmt.Sprintf("V_onset = %s V, s = %s kV/mm", digits(p.SparkOnsetV), digits(p.SparkVM/1e6))})
	} else {
		rows = append(rows, []string{"Boiling, drying, sparks", "–", "not computed: temperatures above 100 °C are formal"})
	}
	if p.Carbonisation {
		rows = append(rows, []string{"Carbonisation", "dry mass decomposes at T_c; its heat, and surplus heat above a ceiling, leave as smoke", fmt.Sprintf("T_c = %s °C, %s J/kg, ceiling %s °C", digits(p.CarbonC), digits(p.CarbonJKg), digits(p.CarbonCeilingC))})
	}
	rows = append(rows, []string{"Damage (Arrhenius)", "Ω = ∫ A exp(−θ/T) dt; A in 1/s, θ = E/R in K, T in K; injury where Ω ≥ 1", lawOf(c.Damage.Kinetics)})
	if k := c.Damage.AtOnce; k != nil {
		rows = append(rows, []string{"Damage, coagulated at once", "the same", lawOf(*k)})
	}
	for _, k := range c.Damage.Also {
		rows = append(rows, []string{"Damage, further kinetics", "the same", lawOf(k)})
	}
	rows = append(rows, []string{"Thermal dose", "CEM43 = ∫ R^(43 − T) dt, R = 0.5 above 43 °C, 0.25 below; min", "reported only (Sapareto and Dewey 1984)"})
	if c.Cuts() || sceneOf(c).cuts {
		rows = append(rows, []string{"Cutting", "sparks in a gap of constant voltage hold the face of the cut at the boiling point, and what heat is left removes tissue", fmt.Sprintf("gap %s V peak; %s of the removed water boils away; %s", digits(p.SparkOnsetV), digits(p.VaporisedShare), whenElse(c.Motion.Waits, "the electrode waits for what has not been removed", "the speed is forced, and tissue for which there is no heat is dragged along"))})
	}
	if e.Film.OhmM2 > 0 {
		rows = append(rows, []string{"Contact of the pad", "j = (V_metal − V_skin)/Z; Z in ohm m²; its resistive share heats the skin", fmt.Sprintf("Z = %s ohm cm², %s %% of it resistive", digits(1e4*e.Film.OhmM2), digits(100*e.Film.HeatShare))})
	}
	if e.Press.IndentationM > 0 {
		rows = append(rows, []string{"Pressed wall", "layers before the muscle as one elastic, incompressible layer on a firm base; the indentation reduces their thickness", fmt.Sprintf("indentation %s mm", digits(1e3*e.Press.IndentationM))})
	}
	return document.Table{Caption: "Equations solved, with units, and what is in force", Head: []string{"subject", "equation", "in force here"}, Rows: rows, Stacked: true}
}

// lawOf names a damage law with its constants.
func lawOf(k damage.Kinetics) string {
	s := k.Name
	for n, x := range k.Segments {
		lead := ": "
		if n > 0 {
			lead = fmt.Sprintf("; from %s °C ", digits(x.FromC))
		}
		s += fmt.Sprintf("%sA = 10^%.2f 1/s, θ = %s K", lead, x.LnA/math.Ln10, digits(x.ThetaK))
	}
	return s
}

// structure lists what the model takes for granted and no setting changes.
func structure(c *thermal.Case) document.List {
	l := document.List{
		"Assumption: layers are plane, uniform and isotropic; no folds, no vessels large enough to carry heat by themselves.",
		"Assumption: steam tears tissue alike everywhere, and what it throws out is not computed.",
		"Assumption: the source is averaged over its high-frequency bursts; slow pulses are resolved in time.",
		"Assumption: the electrode makes even contact over the area given, and moves only as given.",
	}
	return append(l, sceneOf(c).assumed...)
}

// elsewhere says where to read what a finer mesh changes in cases like c.
func elsewhere(c *thermal.Case) string {
	own := sceneOf(c)
	s := "What a finer mesh changes in examples: muralheat guide " + own.guide + "."
	if own.unsettled != "" {
		s += " " + own.unsettled
	}
	if c.Numerics.Quality == "draft" {
		s += " This case has quality draft: its error is larger."
	}
	return s
}

// limits lists what must not be read out of a report.
func limits(c *thermal.Case) document.List {
	l := document.List{
		"There is no patient in this model. Nothing here is a generator setting or a limit for treatment; local protocol and licensed practice decide.",
		"The highest temperature at the rim of the metal depends on the size of the cells; read temperatures at stated depths.",
		"Damage kinetics are extrapolated above some 60 °C.",
	}
	return append(l, sceneOf(c).limits(c)...)
}

func whenElse(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

// plain prints three significant digits, without an exponent where it can be read without: with
// two a number may look as if it were another that it is not.
func plain(v float64) string {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64)
	return digits(r)
}

// digits prints a number to four significant digits, without an exponent where it can be
// read without.
func digits(v float64) string {
	switch a := math.Abs(v); {
	case math.IsNaN(v):
		return "none"
	case math.IsInf(v, 0):
		return strconv.FormatFloat(v, 'g', -1, 64)
	case a == 0:
		return "0"
	case a >= 1e6 || a < 1e-4:
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	places := max(0, 3-int(math.Floor(math.Log10(math.Abs(v)))))
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// assumptions groups the settings that rest on an assumption by what is assumed.
func assumptions(settings []record.Setting) document.Table {
	var order []string
	keys := map[string][]string{}
	for _, s := range settings {
		source := ofTissue.ReplaceAllString(strings.TrimPrefix(s.Source, "library: "), "")
		if s.Given || !strings.Contains(source, "assumption") || strings.HasSuffix(s.Key, ".name") {
			continue
		}
		if keys[source] == nil {
			order = append(order, source)
		}
		keys[source] = append(keys[source], fmt.Sprintf("%s = %s", s.Key, valueOf(s)))
	}
	t := document.Table{Caption: fmt.Sprintf("%d assumptions behind the values that were not given", len(order)), Head: []string{"setting", "assumed because"}, Stacked: true, Folded: true}
	for _, source := range order {
		k := keys[source]
		if len(k) > 3 {
			k = append(slices.Clone(k[:2]), fmt.Sprintf("and %d more of this kind", len(k)-2))
		}
		t.Rows = append(t.Rows, []string{strings.Join(k, "; "), source})
	}
	return t
}

// steam tells where steam goes.
func steam(p thermal.Physics) []string {
	s := p.Steam
	if s.PermeabilityM2 == 0 {
		return []string{"Steam", "leaves where it forms", ""}
	}
	return []string{"Steam", "S ∂p/∂t − ∇·(κ a(w) ∇p) = boiling, p = 0 at open surfaces and in tissue below the boiling point, where it condenses; tissue boils at T_sat(p), S = ρ c dT_sat/dp; a = ε + (1 − ε)(1 − w)³; κ rises as tissue tears",
		fmt.Sprintf("permeability %s m² before it tears, ε = %s, tears at %s kPa; %s of the contact open", digits(s.PermeabilityM2), digits(s.WetShare), digits(s.TearPa/1000), digits(s.VentShare))}
}

// drying tells how conductivity falls with the water of tissue, and how water flows.
func drying(p thermal.Physics) []string {
	share := fmt.Sprintf("s = %s, k = %s W/(m K)", digits(p.DrySigmaShare), digits(p.DryKWMK))
	if p.Drying != thermal.Percolation {
		return []string{"Drying", "1/σ = w/σ_wet + (1 − w)/(s σ_wet); w, share of water left: dried and wet tissue in series", share}
	}
	return []string{"Drying", "σ = σ_wet (s + (1 − s) xⁿ), x = max(0, (w − w_c)/(1 − w_c)); w, share of water left; ∂(ρ W w)/∂t = ∇·(ρ W D ∇w) − boiling, D in m²/s; σ_wet rises by a share r with damage, 1 − exp(−Ω)",
		share + fmt.Sprintf(", n = %s, w_c = %s, D = %s m²/s, r = %s; at least %s S/m, its displacement current", digits(p.SigmaExponent), digits(p.SigmaThreshold), digits(p.WaterM2S), digits(p.CoagulatedSigmaRise), digits(p.DryLeakSM))}
}
