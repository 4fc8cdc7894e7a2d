package tissue

// The constants and defaults of the coupled model, the only place they are set.
// Those without a measurement begin their source with "assumption:".
var (
	BodyTemperature = exact(37, "C", High, "normal core temperature; common practice, no source")

	BloodDensity      = exact(1049.75, "kg/m3", High, itis)
	BloodHeatCapacity = exact(3617, "J/(kg K)", High, itis)

	SigmaSlope = within(0.018, 0.015, 0.021, "1/K", High,
		"Chin and Sherar 2001: +1.82 +- 0.28 %/K in bovine liver at 915 MHz; 1.5-2.1 %/K at radio frequency, from memory (Duck 1990; Foster and Schwan)")
	DrySigmaShare = within(1e-3, 1e-5, 0.1, "1", Low,
		"assumption: conductivity falls a thousandfold on drying: 1e-5 to 1e-3 S/m once dry against 0.3 to 0.55 S/m wet; 1e2 to 1e4 between 100 and 105 C is modelling convention, all from memory")
	SigmaExponent = within(1.5, 1, 2, "1", Low,
		"assumption: exponent of percolation, 1 (water in parallel paths) to 2 (threshold in three dimensions; Stauffer and Aharony 1994, Introduction to Percolation Theory, from memory)")
	SigmaThreshold = within(0.1, 0, 0.4, "1", Low,
		"assumption: share of its water at which tissue stops conducting: what is left is bound to protein; bound water is 0.1 to 0.4 of the water of soft tissue, from memory")
	DryPermittivity = within(7, 5, 10, "1", Low,
		"assumption: relative permittivity of dried protein and tissue below 5 MHz, 5 to 10, from memory")
	CoagulatedSigmaRise = within(0.3, 0, 0.6, "1", Low,
		"assumption: coagulation breaks the membranes of the cells, so that conductivity rises to what it is above their dispersion: 5 MHz over 400 kHz 1.34 in the spectrum of stomach, 1.60 in that of colon; a permanent rise on denaturation was measured in bovine liver at 915 MHz (Chin and Sherar 2001, read in abstract)")
	WaterDiffusivity = within(5e-9, 2e-9, 2e-8, "m2/s", Low,
		"Kassama and Ngadi 2017: 3.7e-9 to 7.4e-9 m2/s, effective diffusivity in meat that is dried by heat, read second-hand; the range is an assumption")
	SteamPermeability = within(1e-16, 1e-19, 1e-13, "m2", Low,
		"to water: beefburgers heated to 50-80 C 7e-18 to 1.6e-16 m2 (Oroszvari and others 2006, J Food Eng; authors from memory), raw muscle 1e-19 to 1e-17 m2 (Datta 2006, Int J Food Prop; author from memory), both read in abstract; for dried tissue and steam an assumption")
	SteamWetShare = within(0.1, 0.01, 1, "1", Low,
		"assumption: permeability to steam of wet over that of dried tissue; pores full of water let little steam through, but steam tears wet tissue too")
	SteamTear = within(40, 8, 170, "kPa", Low,
		"assumption: a hole in a soft solid grows without limit at 5/6 of its Young's modulus (Gent and Lindley 1959, from memory); coagulated tissue 10 to 200 kPa, from memory")
	SteamVentShare = within(0.5, 0, 1, "1", Low,
		"assumption: half the contact lets steam out: it is pressed on, not glued, and bubbles are seen at its rim (common practice, no source)")
	DryConductivity = within(0.2, 0.15, 0.25, "W/(m K)", Low,
		"dried soft tissue, from memory")

	WaterHeatCapacity = exact(4178, "J/(kg K)", High, itis+", Water")
	DryHeatCapacity   = within(1200, 1200, 2000, "J/(kg K)", Low,
		"assumption: least heat capacity of what is left of dried tissue, that of protein, from memory")

	BoilTemperature = exact(100, "C", High, "water at 1 atm; the pressure of steam raises it on top")
	// BoilSpread is what the boiling point may be elsewhere; for sensitivities.
	BoilSpread = within(100, 95, 101, "C", Medium, "95 C at 1,600 m above the sea; salts of tissue raise it by less than 1 C; both from memory")
	LatentHeat = exact(2.257e6, "J/kg", High, "water at 100 C and 1 atm, steam tables, from memory")

	CarbonTemperature = within(350, 300, 400, "C", Low,
		"assumption: dry tissue chars above 300-350 C")
	CarbonHeat = within(2.5e6, 2e6, 3e6, "J/kg", Low,
		"assumption: heat of decomposition per dry mass, of the order of 2-3 MJ/kg")
	CarbonCeiling = within(500, 400, 600, "C", Low,
		"assumption: carbon gets no hotter, the surplus leaves with the smoke")

	SparkOnset = within(200, 150, 300, "V", Low,
		"assumption: the onset of sparks, an empirical textbook value, from memory; it lies below the Paschen minima of air (327 V) and water vapour (480 V; Skoro and others 2011, Phys Rev E 84:055401)")
	SparkStrength = within(1.1, 0, 3, "kV/mm", Low,
		"assumption: what a longer spark needs on top; breakdown of air, 3 kV/mm at 20 C, common textbook value, from memory, thinned to gas of 500 C")
	VaporisedShare = within(1, 0.3, 1, "1", Low,
		"assumption: all the water of the tissue that a cutting electrode removes boils away; fragments thrown out wet would mean less")

	TouchRest = within(2, 0.5, 10, "s", Low, "assumption: pause between one touch and the next of a step of a procedure")
	StepRest  = within(20, 5, 120, "s", Low, "assumption: pause between one step of a procedure and the next: the tip or the source is changed")

	ElectrodeHeatTransfer = within(1e4, 5e3, 2e4, "W/(m2 K)", Low,
		"assumption: metal on wet tissue with a film of water of 0.03 to 0.12 mm between them, 0.6 W/(m K) over its thickness")
	MetalHeatCapacity = within(3.95, 2.6, 4.1, "J/(cm3 K)", Low,
		"stainless steel, 7.9 g/cm3 and 0.5 J/(g K), from memory; tungsten 2.6")
	MetalConductivity = within(16, 14, 170, "W/(m K)", Low,
		"stainless steel, from memory; tungsten 170")
	LumenGasHeatTransfer = within(10, 5, 25, "W/(m2 K)", Low,
		"assumption: still gas, free convection and radiation")
	LumenWaterHeatTransfer = within(500, 100, 1000, "W/(m2 K)", Low,
		"assumption: still water, free convection")
	LumenTemperature = within(37, 20, 37, "C", Medium,
		"assumption: gas or water in the lumen is at body temperature; fresh from outside it is at that of the room")

	BallContactShare = within(0.7, 0.6, 0.85, "1", Low,
		"assumption: contact radius over tip radius at a light touch; Hertz (Johnson 1985, ch. 4) at 0.02 N on 1 mm radius gives 0.83-0.61 mm for a modulus of 20-50 kPa")
	WallModulus = within(10, 1, 20, "kPa", Low,
		"assumption: Young's modulus of gut wall through its thickness at small strain, 1-20 kPa, from memory; in-plane tension is far stiffer")
	SqueezeRest = within(0.4, 0.4, 0.6, "1", Low,
		"assumption: pressed layers keep this share of their thickness, for gut wall stiffens to 50-200 kPa at 40-60 % compression, from memory")
	CuttingMobility = within(0.02, 0.006, 0.06, "mm/(s kPa)", Low,
		"assumption: free speed over pressure; 1-5 mm/s (endoscopic incision, from memory) at 0.05-0.1 N on a needle of 0.4 x 1.5 mm")
	BeyondThickness = within(8, 3, 20, "mm", Low,
		"assumption: fat beyond the outer surface, deep enough not to be felt within seconds")
	Frequency = within(400, 200, 5000, "kHz", Medium,
		"assumption: middle of the usual band; monopolar use above 200 kHz and normally not above 5 MHz by IEC 60601-2-2, from memory")

	RoomTemperature  = within(22, 18, 25, "C", Medium, "assumption: an air-conditioned room")
	SkinHeatTransfer = within(8, 5, 12, "W/(m2 K)", Medium,
		"assumption: bare skin in still air, free convection and radiation; with air of 22 C skin rests at 33 C, as it does")
	PadHeatTransfer = within(5, 2, 8, "W/(m2 K)", Low,
		"assumption: a foam backing of 1-2 mm in still air")
	GelContact = within(20, 5, 60, "ohm cm2", Low,
		"assumption: gel of 1 mm and 0.5-2 S/m and a soaked horny layer; IEC 60601-2-2 allows a conductive pad 50 ohm as a whole, body included, from memory")
	WetContact = within(5, 1, 20, "ohm cm2", Low,
		"assumption: a film of salt water on a soaked horny layer")
	LoopWire        = within(0.4, 0.3, 0.5, "mm", Low, "assumption: diameter of the wire of a polypectomy loop, from memory")
	CuttingStrength = within(5, 2, 15, "MPa", Low,
		"assumption: pressure of a thin wire that cuts gut tissue without current; small polyps are cut so by hand (common practice, no source)")

	FirstDegree  = exact(0.53, "1", High, "Henriques 1947, Arch Pathol 43:489: Omega of a first-degree burn")
	SecondDegree = exact(1, "1", High, "Henriques 1947, Arch Pathol 43:489: Omega of a second-degree burn, the injury line drawn here")
	ThirdDegree  = exact(1e4, "1", High, "Henriques 1947, Arch Pathol 43:489: Omega of a third-degree burn")
	DoseLevel    = within(240, 80, 240, "min", Medium,
		"CEM43 of coagulative necrosis in wide use, from memory; Dewhirst and others 2003 rank above 80 min as the severest class, from memory")
)

// BeyondTissue is the tissue taken to lie past the outer surface of the wall.
const BeyondTissue = "fat"

// Constant is a named Value.
type Constant struct {
	Name  string
	Title string
	Value Value
}

// Constants returns the constants and defaults in stable order.
func Constants() []Constant {
	return []Constant{
		{"body-temperature", "body and blood temperature", BodyTemperature},
		{"blood-density", "density of blood", BloodDensity},
		{"blood-heat-capacity", "heat capacity of blood", BloodHeatCapacity},
		{"sigma-slope", "relative slope of conductivity with temperature", SigmaSlope},
		{"dry-sigma-share", "conductivity of dried over that of wet tissue", DrySigmaShare},
		{"sigma-exponent", "exponent of conductivity by water content", SigmaExponent},
		{"sigma-threshold", "share of its water at which tissue stops conducting", SigmaThreshold},
		{"dry-permittivity", "relative permittivity of dried tissue", DryPermittivity},
		{"coagulated-sigma-rise", "lasting rise of conductivity by coagulation", CoagulatedSigmaRise},
		{"water-diffusivity", "diffusivity of liquid water in tissue", WaterDiffusivity},
		{"steam-permeability", "permeability of dried tissue to steam", SteamPermeability},
		{"steam-wet-share", "permeability to steam of wet over that of dried tissue", SteamWetShare},
		{"steam-tear", "pressure at which steam tears tissue", SteamTear},
		{"steam-vent-share", "share of the contact that lets steam out", SteamVentShare},
		{"dry-conductivity", "thermal conductivity of dried tissue", DryConductivity},
		{"water-heat-capacity", "heat capacity of water, lost on drying", WaterHeatCapacity},
		{"dry-heat-capacity", "least heat capacity of dried tissue", DryHeatCapacity},
		{"boil-temperature", "boiling point of tissue water", BoilTemperature},
		{"boil-spread", "boiling point of tissue water elsewhere, for plans of what a result depends on", BoilSpread},
		{"latent-heat", "latent heat of water", LatentHeat},
		{"carbon-temperature", "dried tissue decomposes", CarbonTemperature},
		{"carbon-heat", "heat of decomposition per dry mass", CarbonHeat},
		{"carbon-ceiling", "highest temperature of carbon", CarbonCeiling},
		{"spark-onset", "peak voltage above which sparks start", SparkOnset},
		{"spark-strength", "peak voltage a longer spark needs on top", SparkStrength},
		{"vaporised-share", "share of the water of removed tissue that boils away before a cutting electrode", VaporisedShare},
		{"touch-rest", "pause between touches of a step", TouchRest},
		{"step-rest", "pause between steps of a procedure", StepRest},
		{"electrode-heat-transfer", "heat transfer from tissue to electrode", ElectrodeHeatTransfer},
		{"metal-heat-capacity", "heat capacity of the metal of an electrode", MetalHeatCapacity},
		{"metal-conductivity", "thermal conductivity of the metal of an electrode", MetalConductivity},
		{"lumen-gas-heat-transfer", "heat transfer of the free surface to gas", LumenGasHeatTransfer},
		{"lumen-water-heat-transfer", "heat transfer of the free surface to water", LumenWaterHeatTransfer},
		{"lumen-temperature", "temperature of the lumen medium", LumenTemperature},
		{"ball-contact-share", "contact radius over radius of a ball tip", BallContactShare},
		{"wall-modulus", "Young's modulus of the wall through its thickness", WallModulus},
		{"squeeze-rest", "share of their thickness that pressed layers keep", SqueezeRest},
		{"cutting-mobility", "free speed of a needle over its pressure", CuttingMobility},
		{"beyond-thickness", "thickness of what lies beyond the wall", BeyondThickness},
		{"frequency", "frequency of the current", Frequency},
		{"room-temperature", "temperature of the room about skin", RoomTemperature},
		{"skin-heat-transfer", "heat transfer of bare skin to the room", SkinHeatTransfer},
		{"pad-heat-transfer", "heat transfer through the back of a pad", PadHeatTransfer},
		{"gel-contact", "resistance of gel and skin under a pad", GelContact},
		{"wet-contact", "resistance of wet skin under a pad", WetContact},
		{"loop-wire", "diameter of the wire of a loop", LoopWire},
		{"cutting-strength", "pressure of a wire that cuts without current", CuttingStrength},
		{"omega-first-degree", "Omega of reversible injury", FirstDegree},
		{"omega-second-degree", "Omega of the injury line", SecondDegree},
		{"omega-third-degree", "Omega of full-depth skin injury", ThirdDegree},
		{"dose-level", "CEM43 of coagulative necrosis", DoseLevel},
	}
}
