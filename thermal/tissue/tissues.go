package tissue

import "fmt"

// Tissue is a material of the library at body temperature.
type Tissue struct {
	Name  string
	Title string

	K            Value // thermal conductivity, W/(m K)
	Density      Value // kg/m3
	HeatCapacity Value // J/(kg K)
	Perfusion    Value // blood mass flow per tissue volume, kg/(m3 s)
	Metabolic    Value // heat, W/m3
	Water        Value // water mass / tissue mass

	Dielectric Dielectric
	// Why this spectrum stands for this tissue, and how surely.
	DielectricChoice     string
	DielectricConfidence Confidence
}

// At returns the material at a frequency in Hz, its conductivity from the
// dielectric spectrum. It panics if the frequency is not positive.
func (t Tissue) At(frequencyHz float64) Material {
	return Material{
		SigmaSM:          t.Dielectric.Sigma(frequencyHz),
		KWMK:             t.K.Value,
		DensityKgM3:      t.Density.Value,
		HeatCapacityJKgK: t.HeatCapacity.Value,
		PerfusionKgM3S:   t.Perfusion.Value,
		WaterFraction:    t.Water.Value,
		MetabolicWM3:     t.Metabolic.Value,
	}
}

// Sigma returns the conductivity in S/m at a frequency in Hz, with the spread,
// source and confidence of its spectrum.
func (t Tissue) Sigma(frequencyHz float64) Value {
	d := t.Dielectric
	spread := d.SpreadBelow
	if frequencyHz >= 1e6 {
		spread = d.SpreadAbove
	}
	s := d.Sigma(frequencyHz)
	return within(s, s*(1-spread), s*(1+spread), "S/m", t.DielectricConfidence,
		d.Source+"; "+t.DielectricChoice)
}

// resistiveLimit is the share of current left out above which a purely resistive
// field is called poor.
const resistiveLimit = 0.10

// ResistiveError is ColeCole.ResistiveError of the tissue's spectrum, with a note
// where it exceeds 10 %; else the note is empty.
func (t Tissue) ResistiveError(frequencyHz float64) (share float64, note string) {
	share = t.Dielectric.ResistiveError(frequencyHz)
	if share > resistiveLimit {
		note = fmt.Sprintf("%s is computed as a resistance; at %.4g kHz its capacitance, left out, would pass %.0f %% more current",
			t.Name, frequencyHz/1e3, 100*share)
	}
	return share, note
}

const itis = "IT'IS Foundation, Tissue Properties Database V4.1 (Hasgall and others)"

// perfusion converts a blood flow in mL/min per kg of tissue to the mass flow the
// solver wants:
//
//	w_b = flow * 1e-6/60 * rho_tissue * rho_blood    kg/(m3 s)
func perfusion(flowMLMinKg, densityKgM3 float64) float64 {
	return flowMLMinKg * 1e-6 / 60 * densityKgM3 * BloodDensity.Value
}

// thermal is one line of the thermal database.
type thermal struct {
	entry   string
	density float64 // kg/m3
	c       float64 // J/(kg K)
	k       float64 // W/(m K)
	flow    float64 // blood, mL/min per kg tissue
	heat    float64 // metabolic, W/kg
}

var (
	thermalStomach        = thermal{"Stomach", 1088, 3690, .525, 460, 7.13}
	thermalColon          = thermal{"Large Intestine", 1088, 3654.5, .542, 765, 11.85}
	thermalSmallIntestine = thermal{"Small Intestine", 1030, 3595, .493, 1026, 15.89}
	thermalOesophagus     = thermal{"Oesophagus", 1040, 3500, .527, 190, 2.94}
	thermalMuscle         = thermal{"Muscle", 1090.4, 3421.2, .495, 36.7, .906}
	thermalFat            = thermal{"Fat", 911, 2348.3, .211, 32.7, .507}
	thermalFatPure        = thermal{"Fat (Not Infiltrated)", 911, 2348.3, .211, 0, 0}
	thermalSkin           = thermal{"Skin", 1109, 3390.5, .372, 106.4, 1.65}
	thermalMucous         = thermal{"Mucous Membrane", 1102, 3150, .343, 593.7, 9.19}
	thermalConnective     = thermal{"Connective Tissue", 1026.5, 2372.4, .394, 37.2, .576}
	thermalTendon         = thermal{"Tendon/Ligament", 1142, 3432, .469, 29, .449}
	thermalBlood          = thermal{"Blood", 1049.75, 3617, .517, 10000, 0}
	thermalLiver          = thermal{"Liver", 1078.75, 3540, .519, 860, 9.93}
	thermalWater          = thermal{"Water", 994, 4178, .6045, 0, 0}
)

// build returns a whole organ or tissue from its database line, spectrum and water.
func build(name, title string, th thermal, water Value, spectrum string, choice string, c Confidence) Tissue {
	source := itis + ", " + th.entry
	return Tissue{
		Name: name, Title: title,
		K:            exact(th.k, "W/(m K)", High, source),
		Density:      exact(th.density, "kg/m3", High, source),
		HeatCapacity: exact(th.c, "J/(kg K)", High, source),
		Perfusion: exact(perfusion(th.flow, th.density), "kg/(m3 s)", High,
			fmt.Sprintf("%s, %g mL/min/kg", source, th.flow)),
		Metabolic: exact(th.heat*th.density, "W/m3", High,
			fmt.Sprintf("%s, %g W/kg", source, th.heat)),
		Water:      water,
		Dielectric: dielectric(spectrum), DielectricChoice: choice, DielectricConfidence: c,
	}
}

func water(value, low, high float64, c Confidence, source string) Value {
	return within(value, low, high, "1", c, source)
}

const (
	composition = "; Woodard and White 1986, Br J Radiol 59:1209, from memory"
	own         = "spectrum measured on this tissue"
)

// organ is a piece of gut that is split into layers.
type organ struct {
	name, title       string
	th                thermal
	spectrum          string
	choice            string
	confidence        Confidence
	mucosa, sub, musc float64 // blood flow of the layer over that of the organ
	split             string  // source of the split
	outer             []string
}

const (
	wholeWall = "assumption: the spectrum of the whole wall stands for each of its layers, for no gut layer was measured alone"
	bowelFlow = "of organ flow: working split from 75 % mucosal and 23 % muscular flow (from memory) and 0.5-2.2 % submucosal (Varhaug 1984, cat stomach)"
)

var organs = []organ{
	{"oesophagus", "oesophagus", thermalOesophagus, "stomach", "Appendix C and IT'IS V4.0 give oesophagus the stomach's spectrum", Medium,
		1, 0.1, 1, "of organ flow: mucosa and muscle nearly equal per gram (rat study, authors not recorded); submucosa assumed", []string{"adventitia"}},
	{"stomach", "stomach", thermalStomach, "stomach", own, High, 2.3, 0.07, 0.6, bowelFlow, []string{"serosa"}},
	{"duodenum", "duodenum", thermalSmallIntestine, "stomach", "Appendix C groups duodenum with stomach (the small-intestine spectrum would be 20-70 % higher)", Low,
		2.3, 0.07, 0.6, bowelFlow, []string{"serosa"}},
	{"colon", "colon", thermalColon, "colon", own, High, 2.3, 0.07, 0.6, bowelFlow, []string{"serosa", "adventitia"}},
}

var (
	wallWater = water(.78, .75, .80, Medium,
		"stomach and bowel wall"+composition+"; the 75.1 % oxygen of alimentary tract in ICRU 44 implies 0.80")
	mucosaWater     = water(.78, .75, .82, Low, "assumption: as the whole wall"+composition)
	muscularisWater = water(.76, .74, .79, Low, "assumption: as muscle"+composition)
	submucosaWater  = water(.70, .60, .75, Low, "assumption: loose connective tissue, from memory")
)

// layers splits an organ into the layers of its wall, lumen side first.
//
// Thermal data and spectrum are the organ's in every layer. For the submucosa the
// alternative is tendon, 30 % below the stomach's conductivity and 40 % above the
// colon's: of opposite sign in the two organs, so no side is the cautious one, and
// the wall is left without a contrast that nobody measured.
func (o organ) layers() []Tissue {
	whole := build(o.name, o.title+", whole wall", o.th, wallWater, o.spectrum, o.choice, o.confidence)
	layer := func(name string, flow float64, split string, w Value, c Confidence) Tissue {
		t := whole
		t.Name = o.name + "-" + name
		t.Title = o.title + ", " + name
		t.Water = w
		t.DielectricChoice = wholeWall
		if o.choice != own {
			t.DielectricChoice = o.choice + "; " + wholeWall
		}
		t.DielectricConfidence = c
		for _, v := range []*Value{&t.K, &t.Density, &t.HeatCapacity, &t.Metabolic} {
			v.Source = "assumption: as the whole wall; " + v.Source
			v.Confidence = Medium
		}
		t.Perfusion = exact(perfusion(flow*o.th.flow, o.th.density), "kg/(m3 s)", Low,
			fmt.Sprintf("%s x %.3g %s", whole.Perfusion.Source, flow, split))
		return t
	}
	inLayer := o.confidence // of the spectrum
	if inLayer == High {
		inLayer = Medium
	}
	ts := []Tissue{
		whole,
		layer("mucosa", o.mucosa, o.split, mucosaWater, inLayer),
		layer("submucosa", o.sub, o.split, submucosaWater, Low),
		layer("muscularis", o.musc, o.split, muscularisWater, inLayer),
	}
	for _, name := range o.outer {
		flow := thermalConnective.flow / o.th.flow
		ts = append(ts, layer(name, flow, "for the flow of connective tissue, 37.2 mL/min/kg", submucosaWater, Low))
	}
	return ts
}

// ranged adds a literature range to a database value.
func ranged(v Value, low, high float64, source string) Value {
	v.Low, v.High, v.Source = low, high, v.Source+"; range "+source
	return v
}

// flowRange adds the 20 % by which an independent table agrees.
func flowRange(t *Tissue) {
	p := &t.Perfusion
	*p = ranged(*p, 0.8*p.Value, 1.2*p.Value, "by NRC 1999, Risk Assessment of Radon in Drinking Water, Tables A-1 and A-2 after ICRP, which agrees to about 20 %")
}

var tissues = library()

func library() []Tissue {
	var ts []Tissue
	for _, o := range organs {
		l := o.layers()
		if o.name != "oesophagus" {
			flowRange(&l[0])
		}
		ts = append(ts, l...)
	}

	const duck = "Duck 1990, from memory"
	muscle := build("muscle", "skeletal muscle", thermalMuscle, water(.75, .74, .76, Medium, "muscle"+composition), "muscle", own+", across the fibres; anisotropy is left out", High)
	muscle.K = ranged(muscle.K, .45, .55, duck)
	fat := build("fat", "fat, average infiltrated", thermalFat, water(.20, .10, .30, Low, "adipose tissue"+composition+"; its 27.8 % oxygen implies 0.21"), "fat", own, High)
	pure := build("fat-pure", "fat, not infiltrated", thermalFatPure, water(.11, .08, .20, Low, "adipose tissue poorest in water"+composition), "fat-pure", own, High)
	for _, f := range []*Tissue{&fat, &pure} {
		f.K = ranged(f.K, .19, .25, duck)
		f.HeatCapacity = ranged(f.HeatCapacity, 2200, 2500, duck)
	}
	blood := build("blood", "blood", thermalBlood, water(.79, .79, .80, Medium, "blood"+composition), "blood", own, High)
	blood.K = ranged(blood.K, .49, .55, duck)
	blood.Perfusion = exact(0, "kg/(m3 s)", High, "definition: blood as a still material is not perfused")
	skinWater := water(.65, .62, .68, Medium, "skin"+composition)
	dry := build("skin-dry", "skin, dry", thermalSkin, skinWater, "skin-dry", own, High)
	wet := build("skin-wet", "skin, wet", thermalSkin, skinWater, "skin-wet", own, High)
	for _, t := range []*Tissue{&muscle, &fat, &dry, &wet} {
		flowRange(t)
	}
	saline := build("saline", "0.9 % sodium chloride in water", thermalWater, water(.991, .97, 1, High, "0.9 % salt by definition; an injected cushion mixes with tissue fluid, above 0.97 from memory"), "saline", own, Medium)
	for _, v := range []*Value{&saline.K, &saline.Density, &saline.HeatCapacity} {
		v.Source += "; salt shifts it by about 1 %"
		v.Confidence = Medium
	}
	glucose := build("glucose", "5 % glucose in water", thermalWater, water(.95, .95, .98, Medium, "5 g in 100 mL by definition; an injected cushion mixes with tissue fluid"), "glucose", "an ionic conductor without ions", Low)
	for _, v := range []*Value{&glucose.K, &glucose.Density, &glucose.HeatCapacity} {
		v.Source += "; 5 % sugar shifts it by 2-4 %, from memory"
		v.Confidence = Medium
	}
	tap := build("water", "water from the tap", thermalWater, water(.999, .99, 1, Medium, "salts of some 0.1 %, from memory"), "water", "an ionic conductor", Low)

	return append(ts,
		build("small-intestine", "small intestine, whole wall", thermalSmallIntestine, wallWater, "small-intestine", own, High),
		build("mucous-membrane", "mucous membrane in general", thermalMucous, mucosaWater, "muscle",
			"IT'IS V4.0 gives mucous membrane the spectrum of muscle; another public table gives it that of wet skin, 2.5 times lower at 500 kHz, from memory", Low),
		build("connective", "connective tissue", thermalConnective, submucosaWater, "tendon", "assumption: tendon as a proxy for collagen-rich tissue", Low),
		scar(),
		muscle, fat, pure, dry, wet, blood,
		build("liver", "liver", thermalLiver, water(.72, .70, .75, Low, "liver"+composition), "liver", own, High),
		saline, glucose, tap,
	)
}

// scar is the submucosa where it has healed to a scar: less water, more collagen, few
// vessels. What the composition rules of Cooper and Trezek 1971 give follows from its water
// w, the rest being protein:
//
//	k = rho (0.628 w + 0.117 (1-w))   W/(m K), rho in g/cm3
//	c = 4.20 w + 1.09 (1-w)           kJ/(kg K)
func scar() Tissue {
	const w, low, high = .58, .50, .65
	t := build(FibroticSubmucosa, "submucosa healed to a scar", thermalTendon,
		water(w, low, high, Low, "assumption: between loose submucosa (0.70) and dense collagen"),
		"tendon", "assumption: tendon as a proxy for scar; 30 % below the spectrum of the stomach's wall, 40 % above the colon's", Low)
	const rule = "assumption: from its water by the composition rules of Cooper and Trezek 1971, from memory"
	k := func(w float64) float64 { return thermalTendon.density / 1e3 * (.628*w + .117*(1-w)) }
	c := func(w float64) float64 { return 1e3 * (4.20*w + 1.09*(1-w)) }
	t.K = within(k(w), k(low), k(high), "W/(m K)", Low, rule)
	t.HeatCapacity = within(c(w), c(low), c(high), "J/(kg K)", Low, rule)
	for _, v := range []*Value{&t.Density, &t.Perfusion, &t.Metabolic} {
		v.Source, v.Confidence = "assumption: as tendon; "+v.Source, Low
	}
	return t
}

// FibroticSubmucosa is the tissue of a scarred submucosa.
const FibroticSubmucosa = "fibrotic-submucosa"

// Fluids returns the names of the tissues that are fluids to inject.
func Fluids() []string { return []string{"saline", "glucose"} }

// Liquids returns the names of the tissues that may lie on the mucosa.
func Liquids() []string { return append(Fluids(), "water", "blood") }

// Tissues returns all tissues in stable order, the gut wall first.
func Tissues() []Tissue { return append([]Tissue(nil), tissues...) }

// FindTissue returns the tissue of a name.
func FindTissue(name string) (Tissue, bool) {
	for _, t := range tissues {
		if t.Name == name {
			return t, true
		}
	}
	return Tissue{}, false
}
