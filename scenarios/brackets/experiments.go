package brackets

import "fmt"

const (
	stomachAbstract = "Monopolar contact coagulation for upper gastrointestinal bleeding, abstract (authors and year not recorded): pig stomach in vivo, histology, 4 pigs; mean +- SD"
	saline2002      = "Norton and others 2002, saline below the mucosa and thermal injury: pig colon in vivo, histology after 24 h, 10 or more lesions each"
	heatSink2021    = "Tseng and others 2021, BMC Gastroenterol 21:406: pig colon ex vivo, snare, 7 cuts in air and 7 under water; mean +- SD"
	palanker2008    = "Palanker and others 2008, IEEE Trans Biomed Eng 55:838: continuous current, general statement"
	tongue1979      = "J Prosthet Dent 1979 (authors not recorded): hamster tongue, cut at 5 to 50 W, n not recorded"
	volunteers      = "Neutral electrode on 12 volunteers, abstract (PMID 3614035; authors not recorded): mean surface rise"
	hinberg1988     = "Tan and Hinberg 1988, IEEE EMBS, abstract: paediatric neutral electrodes on potassium chloride and agarose, 60 s, n not recorded"
	becker1973      = "Becker and others 1973, Anesthesiology, second-hand: about 100 mA/cm2 for about 10 s can injure skin"
	monteiro2019    = "Monteiro and others 2019, Med Oral Patol Oral Cir Bucal 24:e271: human oral mucosa, artefact at the margin, one of six groups of 130 excisions; mean +- SD"
)

const (
	whyDiameter = "size, pressing and movement of the electrode are not in the abstract, the model rests a flat tip of 1.2 mm radius; the eye sees pallor, the model draws the injury line of skin-1947"
	whyStops    = "the tip of the model dries within two seconds and 200 V deliver next to nothing after that, whatever power is set, while a pressed, moist or bleeding contact stays wet (assumption); " + whyDiameter
	whyDepth    = "the layers are those of a human stomach, those of the pigs were not measured; a tenth is a round number"
	whyMuscle   = "the jaws lift the mucosa and heat what stands between them and the wall, the model rests a tip that dries early; a histology after 24 h also sees what died later"
	whySaline   = "the model keeps all of the fluid under the tip, in the animal it spreads and the jaws press through it; " + whyMuscle
	whySerosa   = "another geometry: the model draws a needle through the wall 0.75 mm from the serosa, the snare closes around a fold lifted off it; power and time are not in the abstract; a thermometer's tip reads late and low (assumption)"
	whyWater    = "in the model the water only lies on the mucosa, it does not fill the cut; " + whySerosa
	whyPad      = "area, site, current and where it was measured are not in the abstract; the bracket is half to twice what was measured (assumption)"
	whyPhantom  = "area, gel, start and where it was measured are not in the abstract: a larger pad, a saltier gel or a mean over more than 1 cm2 gives less; the bracket is half to twice what was measured (assumption)"
	whyScaling  = "the gel of the model warms more than that of the experiment and conducts 2 % better a kelvin (assumption), which falls short of the square of the current"
	whyLost     = "where contact was lost is not in the abstract, the model peels the rim off; how its numbers are meant is not clear in the copy read: the bracket holds them as rises and as additions to that of full contact"
	whyWet      = "water in the model cools what it wets but takes no current; " + whyLoop
	whySkin     = "what counted as injury, and of how many, is not in the copy read; an integral of 0.53 is a first-degree burn (Henriques 1947)"
	whyLoop     = "size of the fold, power and time are not in the abstract; a thermometer's tip reads late and low (assumption)"
	whyWidth    = "power, speed, electrode and tissue are not those of the papers, and the model spends several times the energy that parting needs; it counts what reaches an Arrhenius integral of 1, which a microscope need not show (assumption), at the widest place"
)

// experiments lists the runs in the order of the report.
func experiments() []experiment {
	list := stomach("contact-stomach.yaml", "", whyStops)
	list = append(list, stomach("contact-stomach-tenth.yaml", "-tenth", whyDiameter)...)
	return append(list,
		experiment{file: "forceps-colon.yaml", fileW: 20, setW: 20, onS: 2, brackets: []Bracket{
			{ID: "forceps-muscle", Measured: "hot forceps 20 W 2 s: muscle injured; longitudinal muscle in 64 % of lesions",
				Source: saline2002, Low: circular, High: 100, Unit: "%", Why: whyMuscle, read: musclePercent}}},
		experiment{file: "forceps-colon-saline.yaml", fileW: 20, setW: 20, onS: 2, brackets: []Bracket{
			{ID: "forceps-saline-muscle", Measured: "the same over 2 ml of saline; longitudinal muscle in 50 % of lesions",
				Source: saline2002, Low: circular - border, High: circular + border, Unit: "%", Why: whySaline, read: musclePercent}}},
		experiment{file: "cut-colon-air.yaml", brackets: []Bracket{
			{ID: "cut-serosa-air", Measured: "cut in air, from 23.3 C: rise at the serosa", Source: heatSink2021, Low: 6.1 - 4.5, High: 6.1 + 4.5, Unit: "K", Why: whySerosa, read: serosaK}}},
		experiment{file: "cut-colon-water.yaml", brackets: []Bracket{
			{ID: "cut-serosa-water", Measured: "the same under water", Source: heatSink2021, Low: 1.4 - 1.0, High: 1.4 + 1.0, Unit: "K", Why: whyWater, read: serosaK}}},
		experiment{file: "loop-colon-air.yaml", brackets: []Bracket{
			{ID: "loop-serosa-air", Measured: "the same in air, loop around a banded fold: rise at the serosa", Source: heatSink2021, Low: 6.1 - 4.5, High: 6.1 + 4.5, Unit: "K", Why: whyLoop, read: serosaK}}},
		experiment{file: "loop-colon-water.yaml", brackets: []Bracket{
			{ID: "loop-serosa-water", Measured: "the same loop under water", Source: heatSink2021, Low: 1.4 - 1.0, High: 1.4 + 1.0, Unit: "K", Why: whyWet, read: serosaK}}},
		experiment{file: "pad-volunteers.yaml", brackets: []Bracket{
			{ID: "pad-full", Measured: "neutral electrode in full contact: rise of the skin 1.5 K", Source: volunteers, Low: 1.5 / 2, High: 1.5 * 2, Unit: "K", Why: whyPad, read: meanRiseK}}},
		experiment{file: "pad-volunteers-partial.yaml", brackets: []Bracket{
			{ID: "pad-partial", Measured: "the same in partial contact, close to a fault: 5.7 K", Source: volunteers, Low: 5.7 / 2, High: 5.7 * 2, Unit: "K", Why: whyPad, read: meanRiseK}}},
		// 0.6-0.7, 2.8-3.0 and 5.2-6.0 C at 1, 2 and 3 A; 1.3 and 2.4 C, or as much more, with
		// half and two thirds of the contact lost.
		experiment{file: "phantom-1A.yaml", brackets: []Bracket{
			{ID: "phantom-1A", Measured: "neutral electrode on a salted gel, 1 A for 60 s: rise 0.6 to 0.7 C", Source: hinberg1988, Low: 0.6 / 2, High: 0.7 * 2, Unit: "K", Why: whyPhantom, read: meanRiseK}}},
		experiment{file: "phantom-2A.yaml", over: "phantom-1A.yaml", brackets: []Bracket{
			{ID: "phantom-2A", Measured: "the same, rise at 2 A over that at 1 A", Source: hinberg1988, Low: 2.8 / 0.7, High: 3.0 / 0.6, Unit: "1", Why: whyScaling, read: meanRiseK}}},
		experiment{file: "phantom-3A.yaml", over: "phantom-1A.yaml", brackets: []Bracket{
			{ID: "phantom-3A", Measured: "the same, rise at 3 A over that at 1 A", Source: hinberg1988, Low: 5.2 / 0.7, High: 6.0 / 0.6, Unit: "1", Why: whyScaling, read: meanRiseK}}},
		experiment{file: "phantom-half.yaml", over: "phantom-1A.yaml", brackets: []Bracket{
			{ID: "phantom-half", Measured: "the same, rise with half of the contact over that with all", Source: hinberg1988, Low: 1.3 / 0.7, High: (1.3 + 0.6) / 0.6, Unit: "1", Why: whyLost, read: meanRiseK}}},
		experiment{file: "phantom-third.yaml", over: "phantom-1A.yaml", brackets: []Bracket{
			{ID: "phantom-third", Measured: "the same, rise with a third of the contact over that with all", Source: hinberg1988, Low: 2.4 / 0.7, High: (2.4 + 0.6) / 0.6, Unit: "1", Why: whyLost, read: meanRiseK}}},
		experiment{file: "skin-threshold.yaml", brackets: []Bracket{
			{ID: "skin-threshold", Measured: "100 mA/cm2 through skin for 10 s: may injure, read as Omega of a first to a third degree burn", Source: becker1973, Low: 0.53, High: 1e4, Unit: "1", Why: whySkin, read: skinOmega}}},
		experiment{file: "cut-mucosa.yaml", brackets: []Bracket{
			width("cut-width", "continuous cutting: damage beside the cut, hundreds of um", palanker2008, 100, 1000),
			width("cut-width-tongue", "cut tongue: coagulation beside the cut about 50 um, read as half to twice that", tongue1979, 25, 100),
			width("cut-width-mouth", "excision in the mouth: artefact beside the cut", monteiro2019, 1002-435, 1002+435)}},
	)
}

// How many lesions injured the longitudinal muscle is read as how deep the middle one
// went: through the circular muscle if more than half did, to its end if half did.
const (
	circular = 67 // % of the muscularis, the inner layer; from memory
	border   = 17 // %, assumption: half the longitudinal layer, either way
)

func width(id, measured, source string, low, high float64) Bracket {
	return Bracket{ID: id, Measured: measured, Source: source, Low: low, High: high, Unit: "um", Why: whyWidth, read: besideCutUM}
}

// stomach lists the eight settings of the contact electrode. Depth was reported by layer;
// its bracket is where that layer lies, by the ranges of tissue.Sites: mucosa 1.0-1.6 mm
// with 0.1 mm of muscularis mucosae at its end.
func stomach(file, suffix, whyDiameter string) []experiment {
	var list []experiment
	for _, s := range []struct {
		setW, onS, meanMM, sdMM float64
		depth                   string
		low, high               float64
	}{
		{25, 2, 4.3, 1.7, "mucosa only", 0, 1.5},
		{25, 3, 4.8, 0.5, "to the muscularis mucosae", 0.9, 1.6},
		{25, 4, 5.0, 0.0, "to the muscularis mucosae", 0.9, 1.6},
		{25, 5, 6.0, 0.8, "to the muscularis mucosae", 0.9, 1.6},
		// The submucosa was reached in half of the lesions of 50 W: the middle one
		// ends at its top.
		{50, 2, 6.8, 1.3, "half to the submucosa", 1.0, 1.6},
		{50, 3, 8.0, 2.0, "half to the submucosa", 1.0, 1.6},
		{50, 4, 8.8, 2.1, "half to the submucosa", 1.0, 1.6},
		{50, 5, 9.0, 2.9, "half to the submucosa", 1.0, 1.6},
	} {
		id, what := fmt.Sprintf("stomach-%gW-%gs%s", s.setW, s.onS, suffix), fmt.Sprintf("contact electrode %g W %g s", s.setW, s.onS)
		if suffix != "" {
			what += ", a tenth absorbed"
		}
		list = append(list, experiment{file: file, fileW: 25, setW: s.setW, onS: s.onS, brackets: []Bracket{
			{ID: id + "-diameter", Measured: what + ": diameter", Source: stomachAbstract, Low: s.meanMM - s.sdMM, High: s.meanMM + s.sdMM, Unit: "mm", Why: whyDiameter, read: diameterMM},
			{ID: id + "-depth", Measured: what + ": depth, " + s.depth, Source: stomachAbstract, Low: s.low, High: s.high, Unit: "mm", Why: whyDepth, read: depthMM}}})
	}
	return list
}
