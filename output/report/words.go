package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"muralheat/output/document"
	"muralheat/output/phrase"
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
		{"Electric field", "∇·(σ ∇V) = 0; V in V (RMS), σ in S/m", "quasi-static and resistive: no waves, no capacitance of tissue (assumption: the body is far smaller than a wavelength, and conduction outweighs displacement at these frequencies)"},
		{"Heat (Pennes 1948)", "ρ c ∂T/∂t = ∇·(k ∇T) + σ|∇V|² − w c_b (T − T_b)" + whenElse(p.MetabolicHeat, " + q_m", "") + "; each term in W/m³, T in °C",
			whenElse(p.MetabolicHeat, "with metabolic heat q_m", "without metabolic heat: it is what blood carries away at rest (assumption)")},
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
			[]string{"Boiling", "at T = T_boil heat boils off water: ρ L dm/dt = surplus of heat; m, mass share of water, never comes back", fmt.Sprintf("T_boil = %s °C, L = %s J/kg", digits(p.BoilC), digits(p.LatentJKg))},
			drying(p),
			[]string{"Sparks", "cross d mm of dried tissue above V_onset + s d (peak), and take that voltage", fmt.Sprintf("V_onset = %s V, s = %s kV/mm", digits(p.SparkOnsetV), digits(p.SparkVM/1e6))})
	} else {
		rows = append(rows, []string{"Boiling, drying, sparks", "–", "not computed: temperatures above 100 °C are formal"})
	}
	if p.Carbonisation {
		rows = append(rows, []string{"Carbonisation", "dry mass decomposes at T_c, its heat and the surplus above a ceiling leave as smoke", fmt.Sprintf("T_c = %s °C, %s J/kg, ceiling %s °C", digits(p.CarbonC), digits(p.CarbonJKg), digits(p.CarbonCeilingC))})
	}
	rows = append(rows, []string{"Damage (Arrhenius)", "Ω = ∫ A exp(−θ/T) dt; A in 1/s, θ = E/R in K, T in K; injury where Ω ≥ 1", lawOf(c.Damage.Kinetics)})
	for _, k := range c.Damage.Also {
		rows = append(rows, []string{"Damage, beside it", "the same", lawOf(k)})
	}
	rows = append(rows, []string{"Thermal dose", "CEM43 = ∫ R^(43 − T) dt, R = 0.5 above 43 °C, 0.25 below; min", "reported, decides nothing (Sapareto and Dewey 1984)"})
	if phrase.Cuts(c) || e.Tip == thermal.Loop {
		rows = append(rows, []string{"Cutting", "sparks in a gap of constant voltage hold the face of the cut at the boiling point, and what heat is left removes tissue", fmt.Sprintf("gap %s V peak; %s of the removed water boils away; %s", digits(p.SparkOnsetV), digits(p.VaporisedShare), whenElse(c.Motion.Waits, "the electrode waits for what has not been removed", "the speed is forced, and tissue for which there is no heat is dragged along"))})
	}
	if e.Film.OhmM2 > 0 {
		rows = append(rows, []string{"Contact of the pad", "j = (V_metal − V_skin)/Z; Z in ohm m²; its resistive share heats the skin", fmt.Sprintf("Z = %s ohm cm², %s %% of it resistive", digits(1e4*e.Film.OhmM2), digits(100*e.Film.HeatShare))})
	}
	if e.Press.IndentationM > 0 {
		rows = append(rows, []string{"Pressed wall", "layers before the muscle as one elastic, incompressible layer on a firm base; what gives way is taken from their thickness", fmt.Sprintf("indentation %s mm", digits(1e3*e.Press.IndentationM))})
	}
	return document.Table{Caption: "Laws solved, with units, and what is in force", Head: []string{"law", "equation", "in force here"}, Rows: rows, Stacked: true}
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
		"Assumption: layers are plane, even and alike in all directions; no folds, no vessels large enough to carry heat by themselves.",
		"Assumption: steam leaves at once; its pressure, and fragments thrown out by it, are not computed.",
		"Assumption: the source is averaged over its high-frequency bursts; slow pulses are resolved in time.",
		"Assumption: the electrode makes even contact over the area stated, and does not move but as stated.",
	}
	if c.Electrode.Tip != thermal.Pad {
		l = append(l, "Assumption: power is what reaches the tissue; leads, the contact to the generator and the way to the neutral electrode take none of it.")
	}
	return l
}

// elsewhere is what is known of the numerical error of other cases like c.
func elsewhere(c *thermal.Case) string {
	s := "at quality standard the depth was within 0.08 mm of a mesh twice as fine for discs and needles, standing or moving, pulsed or not"
	switch c.Electrode.Tip {
	case thermal.Pad:
		s = "at quality standard the mean rise over 1 cm² under two pads was within 1 % of one on a mesh twice as fine"
	case thermal.Loop:
		s = "between quality standard and a mesh twice as fine the depth under a loop moved by 0.1 to 0.3 mm, and whether a pulled one gets through may change"
	}
	s = "What is known of other cases: " + s + " (muralheat guide accuracy, measured)."
	if c.Numerics.Quality == "draft" {
		s += " This is quality draft: expect more."
	}
	return s
}

// limits lists what must not be read out of a report.
func limits(c *thermal.Case) document.List {
	l := document.List{
		"No patient is in this model. Nothing here is a setting of a generator or a limit for treatment; local protocol and licensed practice decide.",
		"The hottest temperature where metal ends on tissue depends on the size of the cells; read temperatures at stated depths.",
		"Damage laws are extrapolated above some 60 °C.",
	}
	if c.Electrode.Tip == thermal.Pad {
		return append(l,
			"Misuse to foresee: a rise of the model taken for that of the test on people or a proven phantom (IEC 60601-2-2), which it cannot replace; the area of a pad taken for the area that touches; a mean over 1 cm² taken for the hottest place.",
			"A body is no half-space: its edges, bones and limbs are not in it.",
			"Contact is even over what touches: skin that touches in spots, through hair or dried gel, gets hotter there than this shows.",
			"The horny layer is a stated impedance whose magnitude steers the current; only its resistance heats.",
			"Not computed: blood flow that answers to warmth, sweat, pressure on the skin.",
		)
	}
	l = append(l,
		"Misuse to foresee: a set power taken for a delivered one (animals' coagula hold a few per cent of the set energy); a mean wall taken for the thinnest one; a depth read without its uncertainty; a limit of the model taken for a safe limit.",
		"Conductivity of the separate layers of gut wall has not been measured: the whole wall's stands for each.",
		"Layer thicknesses below that of the whole wall have low confidence.",
		"Not computed: perforation, bleeding, healing, delayed necrosis beyond the damage integral, flow of injected fluid, toughness of scars.",
	)
	if c.Electrode.Tip == thermal.Loop {
		l = append(l,
			"Whether a pulled loop gets through is the weakest answer: it depends on the mesh, and comes and goes with power and diameter. So does the depth under it.",
			"Vessels of the stalk, which the current is to seal, are not computed: a cut that burns nothing is not a safe one.")
	}
	if c.Physics.Boiling {
		l = append(l, "The constants of drying and of sparks are guesses over a wide range, and above the onset of sparks the depth depends on them.")
	}
	if phrase.Cuts(c) {
		l = append(l, "Width of injury behind a needle that drags through wet tissue does not converge with the mesh.")
	}
	return l
}

func whenElse(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

// inwards is the direction in which layers are counted.
func inwards(c *thermal.Case) string {
	return whenElse(c.Electrode.Tip == thermal.Pad, "from the skin inwards", "from the lumen outwards")
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

// factors are those of credibility that ASME V&V 40-2018 names (from memory), with what a
// report has for each.
func factors(b *dossier) document.Table {
	rows := [][]string{
		{"code: software quality", "tests with every commit, open source, version and checksums recorded; no independent audit"},
		{"code: numerical code verification", "yes: section “Code verification”"},
		{"calculation: discretisation error", whenElse(b.refined != "", "yes: section “Numerical uncertainty”", "not computed for this case")},
		{"calculation: numerical solver error", "energy and charge balances: section “Discretisation and self-checks”"},
		{"calculation: use error", "settings are checked for unit and range, each default is shown with its source; whether they are the right ones the reader must judge"},
		{"model: form", "laws and assumptions listed; alternative damage kinetics can be reported beside it (damage.also)"},
		{"model: inputs", whenElse(b.sensitive, "yes: section “Sensitivity”", "sources and assumptions listed; sensitivity not computed here")},
		{"comparator: test samples and conditions", "published experiments only, with what their papers say; none was made for this report"},
		{"assessment: equivalency of inputs", "what the papers leave open is assumed and said so with each comparison"},
		{"assessment: output comparison", "values, met or missed: section “Comparison with published experiments”"},
		{"applicability: quantities of interest", "depth of injury is compared; temperatures at the serosa and widths hardly: for the reader to judge"},
		{"applicability: validation to the context of use", whenElse(b.use != "", "for the reader to judge against the context of use stated above", "cannot be judged: no context of use is stated")},
	}
	return document.Table{Caption: "Credibility factors after ASME V&V 40-2018 (from memory), and what there is for each", Head: []string{"factor", "evidence"}, Rows: rows, Stacked: true}
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
			k = append(slices.Clone(k[:2]), fmt.Sprintf("and %d more alike", len(k)-2))
		}
		t.Rows = append(t.Rows, []string{strings.Join(k, "; "), source})
	}
	return t
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
