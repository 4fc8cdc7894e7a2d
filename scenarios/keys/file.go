package keys

// File is a scenario as written: a nil pointer is a key left out. The tags say
// everything that concerns one key alone - its name and unit, its range, its
// choices, whether it must be there - and serve the reader, the defaults, the
// resolved text and the JSON Schema alike. What concerns two keys is in rules.go
// and checks.go.
type File struct {
	Title       *string    `yaml:"title" jsonschema:"required,minLength=1,maxLength=120" jsonschema_description:"One line that says what this case is."`
	Question    *string    `yaml:"question" jsonschema:"minLength=1,maxLength=1000" jsonschema_description:"The question that this case answers; for the credibility report."`
	ContextUse  *string    `yaml:"context_of_use" jsonschema:"minLength=1,maxLength=1000" jsonschema_description:"What the answer is for, and what other evidence there is; for the credibility report."`
	Decision    *Decision  `yaml:"decision" jsonschema_description:"What is decided with the result, stated before it is computed; for the credibility report."`
	Invented    *bool      `yaml:"invented" jsonschema_description:"Whether the data are invented, as for teaching; figures, films, pages, tables and reports then say so."`
	FiguresFor  *string    `yaml:"figures_for" jsonschema:"enum=slide,enum=paper-85,enum=paper-170" jsonschema_description:"The page that figures are laid out for: a slide of 16:9 with no text below 18 pt, one column (85 mm) or the whole width (170 mm) of a paper with text of 7 to 9 pt. Left out: a document. --for goes before it."`
	Scene       *string    `yaml:"scene" jsonschema:"enum=wall,enum=neutral-electrode,enum=stalk-loop" jsonschema_description:"Wall: an active electrode on or in the gut wall. Neutral-electrode: the return path, a pad on skin. Stalk-loop: a wire loop around the stalk of a polyp."`
	Wall        *Wall      `yaml:"wall" jsonschema:"required" jsonschema_description:"The gut wall, or the body wall under a pad: a site of the library, or layers one by one."`
	Electrode   *Electrode `yaml:"electrode" jsonschema_description:"The active electrode; scene wall."`
	Pad         *Pad       `yaml:"pad" jsonschema_description:"The neutral electrode; scene neutral-electrode."`
	Stalk       *Stalk     `yaml:"stalk" jsonschema_description:"The stalk of a polyp on the wall; scene stalk-loop."`
	Loop        *Loop      `yaml:"loop" jsonschema_description:"The wire loop around the stalk; scene stalk-loop."`
	Motion      *Motion    `yaml:"motion" jsonschema_description:"A straight track; leave out for a stationary electrode."`
	Current     *Current   `yaml:"current" jsonschema:"required" jsonschema_description:"The output of the high-frequency source."`
	Repeat      *Repeat    `yaml:"repeat" jsonschema_description:"The same activation again on the same place: a spot touched several times, a line passed several times; leave out for one."`
	Before      []*Before  `yaml:"before" jsonschema:"minItems=1,maxItems=100" jsonschema_description:"What was done earlier on the same place, in its order, computed first: temperature, water, char, injury and removed tissue are there when the scenario begins; leave out for a fresh place."`
	AfterwardsS *float64   `yaml:"afterwards_s" jsonschema:"minimum=0,maximum=3600" jsonschema_description:"Time computed after the current stops, in s: tissue cools and damage goes on."`
	Body        *Body      `yaml:"body" jsonschema_description:"Body temperature at the start, and blood."`
	Physics     *Physics   `yaml:"physics" jsonschema_description:"Switches and constants of the model."`
	Damage      *Damage    `yaml:"damage" jsonschema_description:"The damage kinetics that draw the injury line (Arrhenius integral of 1)."`
	Domain      *Domain    `yaml:"domain" jsonschema_description:"The part of the body that is computed."`
	Probes      []*Probe   `yaml:"probes" jsonschema:"maxItems=100" jsonschema_description:"Named points whose temperature and damage go into history.csv."`
	Numerics    *Numerics  `yaml:"numerics" jsonschema_description:"Mesh, time steps and tolerances."`
}

// Wall is the gut wall and its two sides.
type Wall struct {
	Site        *string  `yaml:"site" choices:"sites" jsonschema_description:"A wall of the library, with its layers and tissues; instead of layers."`
	ThicknessMM *float64 `yaml:"thickness_mm" jsonschema:"exclusiveMinimum=0,maximum=100" jsonschema_description:"Thickness of the whole wall in mm, as a check: the layers must add up to it."`
	Layers      []*Layer `yaml:"layers" jsonschema:"minItems=1,maxItems=20" jsonschema_description:"The layers of the wall, lumen side first; instead of site."`
	From        *string  `yaml:"from" jsonschema:"pattern=^[A-Za-z0-9][A-Za-z0-9._-]*$,maxLength=40" jsonschema_description:"Layer on which the electrode stands: what lies before it has been cut open and is not there."`
	Stretch     *float64 `yaml:"stretch" jsonschema:"minimum=0.5,maximum=4" jsonschema_description:"Area of the stretched wall over its area in the library, or as its layers are given. Volume is kept, so each layer gets thinner by this factor."`
	Liquid      *Liquid  `yaml:"liquid" jsonschema_description:"Liquid on the mucosa, a film or a bath; leave out for none. Metal that moves stirs it: it keeps the temperature of the lumen then."`
	Cushion     *Cushion `yaml:"cushion" jsonschema_description:"Fluid injected into the middle of the submucosa; leave out for none."`
	Fibrosis    *bool    `yaml:"fibrosis" jsonschema_description:"Whether the submucosa of the site is a scar."`
	ModulusKPa  *float64 `yaml:"modulus_kPa" jsonschema:"minimum=0.5,maximum=1000" jsonschema_description:"Young's modulus of the wall through its thickness, in kPa; for a pressed wall only."`
	SqueezeRest *float64 `yaml:"squeeze_rest_percent" jsonschema:"minimum=5,maximum=95" jsonschema_description:"Thickness that the layers keep however hard they are pressed, in percent; for a pressed wall only."`
	Beyond      *Beyond  `yaml:"beyond" jsonschema_description:"What lies beyond the outer surface: a tissue, a material or a medium."`
	Lumen       *Lumen   `yaml:"lumen" jsonschema_description:"What fills the lumen; it sets the heat loss of the free inner surface."`
}

// Layer is one sheet of the wall.
type Layer struct {
	Name        *string   `yaml:"name" name:"layer" jsonschema:"required,pattern=^[A-Za-z0-9][A-Za-z0-9._-]*$,maxLength=40" jsonschema_description:"Name of the layer; it appears in the headers of tables."`
	ThicknessMM *float64  `yaml:"thickness_mm" jsonschema:"required,minimum=0.01,maximum=50" jsonschema_description:"Thickness in mm."`
	Tissue      *string   `yaml:"tissue" choices:"tissues" jsonschema_description:"A tissue of the library; instead of material."`
	Material    *Material `yaml:"material" jsonschema_description:"Material properties given here; instead of tissue."`
	Muscle      *bool     `yaml:"muscle" jsonschema_description:"Whether this is the layer whose injury is judged (the muscularis propria)."`
}

// Material is a material stated by hand, at 37 C and at the scenario's frequency.
type Material struct {
	SigmaSM          *float64 `yaml:"sigma_S_m" jsonschema:"required,exclusiveMinimum=0,maximum=100" jsonschema_description:"Electrical conductivity in S/m."`
	KWMK             *float64 `yaml:"k_W_mK" jsonschema:"required,exclusiveMinimum=0,maximum=500" jsonschema_description:"Thermal conductivity in W/(m K)."`
	DensityKgM3      *float64 `yaml:"density_kg_m3" jsonschema:"required,minimum=1,maximum=20000" jsonschema_description:"Density in kg/m3."`
	HeatCapacityJKgK *float64 `yaml:"heat_capacity_J_kgK" jsonschema:"required,minimum=1,maximum=20000" jsonschema_description:"Specific heat capacity in J/(kg K)."`
	PerfusionKgM3S   *float64 `yaml:"perfusion_kg_m3s" jsonschema:"minimum=0,maximum=1000" jsonschema_description:"Blood mass flow per volume of tissue in kg/(m3 s)."`
	WaterFraction    *float64 `yaml:"water_fraction" jsonschema:"minimum=0,exclusiveMaximum=1" jsonschema_description:"Mass fraction of water; needed when boiling is on."`
	MetabolicWM3     *float64 `yaml:"metabolic_W_m3" jsonschema:"minimum=0,maximum=1000000" jsonschema_description:"Metabolic heat in W/m3."`
}

// Cushion is fluid injected into the submucosa.
type Cushion struct {
	Fluid       *string   `yaml:"fluid" choices:"fluids" jsonschema_description:"A fluid of the library; instead of material."`
	ThicknessMM *float64  `yaml:"thickness_mm" jsonschema:"required,minimum=0.1,maximum=20" zero:"for none use a scenario without wall.cushion" jsonschema_description:"Thickness of the cushion in mm in the wall as it lies, stretched or not."`
	Material    *Material `yaml:"material" jsonschema_description:"Material properties given here; instead of fluid."`
}

// Liquid is what lies on the mucosa around the electrode.
type Liquid struct {
	Fluid       *string   `yaml:"fluid" choices:"liquids" jsonschema_description:"A liquid of the library; instead of material."`
	DepthMM     *float64  `yaml:"depth_mm" jsonschema:"required,minimum=0.1,maximum=50" zero:"for none use a scenario without wall.liquid" jsonschema_description:"How deep it lies on the mucosa in mm: a film or a bath."`
	RenewalPerS *float64  `yaml:"renewal_per_s" jsonschema:"minimum=0,maximum=1000" jsonschema_description:"Share of it that flows in anew per second, at body temperature: it cools and refills what boils away."`
	Material    *Material `yaml:"material" jsonschema_description:"Material properties given here; instead of fluid."`
}

// Beyond is what lies past the outer surface of the wall.
type Beyond struct {
	Name             *string   `yaml:"name" jsonschema:"pattern=^[A-Za-z0-9][A-Za-z0-9._-]*$,maxLength=40" jsonschema_description:"Name of what lies beyond."`
	ThicknessMM      *float64  `yaml:"thickness_mm" jsonschema:"minimum=0.1,maximum=200" jsonschema_description:"Computed thickness in mm; the far side stays at body temperature."`
	Tissue           *string   `yaml:"tissue" choices:"tissues" jsonschema_description:"A tissue of the library."`
	Material         *Material `yaml:"material" jsonschema_description:"Material properties given here."`
	Medium           *string   `yaml:"medium" jsonschema:"enum=gas,enum=water" jsonschema_description:"Gas or water instead of tissue: it takes up heat and no current."`
	HeatTransferWM2K *float64  `yaml:"heat_transfer_W_m2K" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"Heat transfer coefficient from the outer surface to a medium in W/(m2 K)."`
	TemperatureC     *float64  `yaml:"temperature_C" jsonschema:"minimum=0,maximum=99" jsonschema_description:"Temperature of the medium in degrees C."`
}

// Lumen is what fills the lumen.
type Lumen struct {
	Medium           *string  `yaml:"medium" jsonschema:"enum=gas,enum=water" jsonschema_description:"Gas or water; it sets the heat transfer coefficient."`
	HeatTransferWM2K *float64 `yaml:"heat_transfer_W_m2K" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"Heat transfer coefficient of the free inner surface in W/(m2 K)."`
	TemperatureC     *float64 `yaml:"temperature_C" jsonschema:"minimum=0,maximum=99" jsonschema_description:"Temperature in the lumen in degrees C."`
}

// Electrode is the active electrode.
type Electrode struct {
	Tip              *string  `yaml:"tip" choices:"tips" jsonschema:"required" jsonschema_description:"The shape of its metal."`
	RadiusMM         *float64 `yaml:"radius_mm" jsonschema:"required,minimum=0.05,maximum=10" jsonschema_description:"Radius of the disc, the ball or the needle's shaft in mm."`
	ContactRadiusMM  *float64 `yaml:"contact_radius_mm" jsonschema:"minimum=0.05,maximum=10" jsonschema_description:"Ball only: radius of the round contact in mm."`
	InsertionMM      *float64 `yaml:"insertion_mm" jsonschema:"minimum=0.05,maximum=50" jsonschema_description:"Needle only: depth of its end below the surface in mm."`
	BareMM           *float64 `yaml:"bare_mm" jsonschema:"minimum=0.01,maximum=50" jsonschema_description:"In a liquid: how much of the metal above the surface is bare, in mm; what is higher is insulated. Default: all of it."`
	ForceN           *float64 `yaml:"force_N" jsonschema:"exclusiveMinimum=0,maximum=10" jsonschema_description:"Force of the electrode on the tissue in N: it compresses the wall under a ball or disc and sets the contact of a ball."`
	PressureKPa      *float64 `yaml:"pressure_kPa" jsonschema:"exclusiveMinimum=0,maximum=1000" jsonschema_description:"Instead of a force, the mean pressure in kPa: over the contact, or over the front of a needle (its width times insertion_mm)."`
	HeatTransferWM2K *float64 `yaml:"heat_transfer_W_m2K" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"Heat transfer coefficient from tissue to the metal in W/(m2 K)."`
	TemperatureC     *float64 `yaml:"temperature_C" jsonschema:"minimum=0,maximum=99" jsonschema_description:"Temperature of the metal when the current starts, and of the far end of its wire, in degrees C."`
	HeatCapacityJK   *float64 `yaml:"heat_capacity_J_K" jsonschema:"minimum=0,maximum=1000" zero:"metal held at its temperature" jsonschema_description:"Heat capacity of the metal that warms with the tissue, in J/K; 0: the metal is held at temperature_C."`
	WireLossWK       *float64 `yaml:"wire_loss_W_K" jsonschema:"minimum=0,maximum=100" jsonschema_description:"Heat that the metal loses along its wire, in W per K above temperature_C."`
}

// Motion is a straight pull along the surface.
type Motion struct {
	LengthMM *float64 `yaml:"length_mm" jsonschema:"required,minimum=0.1,maximum=100" jsonschema_description:"Length of the track in mm."`
	Advance  *string  `yaml:"advance" jsonschema:"enum=at-speed,enum=from-pressure" jsonschema_description:"At-speed: the electrode keeps its speed. From-pressure: a needle advances as its pressure pushes it and as heat removes the tissue before it."`
	SpeedMMS *float64 `yaml:"speed_mm_s" jsonschema:"minimum=0.01,maximum=100" jsonschema_description:"Speed along the track in mm/s; at-speed only."`
	Mobility *float64 `yaml:"mobility_mm_s_kPa" jsonschema:"exclusiveMinimum=0,maximum=100" jsonschema_description:"Speed of a needle that nothing holds, per kPa of its pressure, in mm/(s kPa); from-pressure only."`
}

// Current is what the source gives and for how long.
type Current struct {
	Sheet       *string  `yaml:"sheet" jsonschema:"minLength=1,maxLength=500" jsonschema_description:"File of a source sheet: what is not given here comes from its source. Relative to the folder of the file that names it."`
	Source      *string  `yaml:"source" jsonschema:"pattern=^[A-Za-z0-9][A-Za-z0-9._-]*$,maxLength=40" jsonschema_description:"Name of the source: with sheet, that of one in it; without, what tables call the source described here."`
	Set         *Setting `yaml:"set" jsonschema_description:"What is set on the source, in place of what its sheet says; with sheet only."`
	Output      `yaml:",inline"`
	Sparks      *bool         `yaml:"sparks" jsonschema_description:"False: the source keeps its peak voltage below the onset of sparks, physics.spark_onset_V; instead of limits.peak_voltage_V."`
	AsRun       *string       `yaml:"as_run" jsonschema:"minLength=1,maxLength=500" jsonschema_description:"Folder of a run with an active electrode: its current flows through the pad for the same time. Neutral-electrode only, instead of current_A."`
	RestS       *float64      `yaml:"rest_s" jsonschema:"minimum=0,maximum=600" jsonschema_description:"With as_run: pause after each activation in s; activations repeat until on_s is over."`
	Activations []*Activation `yaml:"activations" jsonschema:"minItems=1,maxItems=1000" jsonschema_description:"Activations one after another, each with a current of its own. Neutral-electrode only, instead of current_A."`
	OnS         *float64      `yaml:"on_s" jsonschema:"minimum=0.001,maximum=3600" jsonschema_description:"Time the current is on in s, with the pauses between pulses. Default of a moving electrode: until the end of its track."`
}

// Output is what a source gives at its terminals, and what it loses before the tissue; with pulses, the mode is
// that of a pulse.
type Output struct {
	FrequencyKHz *float64 `yaml:"frequency_kHz" jsonschema:"minimum=10,maximum=10000" jsonschema_description:"Frequency of the sine within a burst in kHz."`
	Mode         `yaml:",inline"`
	SeriesOhm    *float64 `yaml:"series_ohm" jsonschema:"minimum=0,maximum=10000" jsonschema_description:"Resistance in ohm between the terminals, where all other keys of the current count, and the electrode: of leads, or the output impedance of the source."`
	LostPercent  *float64 `yaml:"lost_percent" jsonschema:"minimum=0,maximum=90" jsonschema_description:"Share of the power at the terminals that is lost beside the tissue, in percent; the resistance of leads is series_ohm."`
	Pulses       *Pulses  `yaml:"pulses" jsonschema_description:"Slow pulses, resolved in time; the other keys of the current then apply during a pulse."`
}

// Setting is what a person sets on a source.
type Setting struct {
	PowerW       *float64 `yaml:"power_W" jsonschema:"minimum=0,maximum=500" jsonschema_description:"Power in W, mean over bursts and gaps."`
	BurstPowerW  *float64 `yaml:"burst_power_W" jsonschema:"minimum=0,maximum=5000" jsonschema_description:"Power in W, mean within a burst."`
	PeakVoltageV *float64 `yaml:"peak_voltage_V" jsonschema:"minimum=1,maximum=20000" jsonschema_description:"Peak voltage in V."`
	CurrentA     *float64 `yaml:"current_A" jsonschema:"minimum=0,maximum=20" jsonschema_description:"RMS current in A, over bursts and gaps."`
}

// Mode is what a source holds, and its ceilings.
type Mode struct {
	DutyCyclePercent *float64 `yaml:"duty_cycle_percent" jsonschema:"minimum=0.1,maximum=100" jsonschema_description:"Share of time the high-frequency burst is on, in percent; not the allowed on and off time of a device (IEC 60601-1)."`
	PowerW           *float64 `yaml:"power_W" jsonschema:"minimum=0,maximum=500" jsonschema_description:"Power at the terminals in W, mean over bursts and gaps; or give burst_power_W, peak_voltage_V or current_A. It all reaches the tissue without series_ohm and lost_percent."`
	BurstPowerW      *float64 `yaml:"burst_power_W" jsonschema:"minimum=0,maximum=5000" jsonschema_description:"Power at the terminals in W, mean within a burst; instead of power_W."`
	PeakVoltageV     *float64 `yaml:"peak_voltage_V" jsonschema:"minimum=1,maximum=20000" jsonschema_description:"Peak voltage in V that the source holds; instead of a power."`
	CurrentA         *float64 `yaml:"current_A" jsonschema:"minimum=0,maximum=20" jsonschema_description:"RMS current in A that the source holds, over bursts and gaps; instead of a power."`
	Limits           *Limits  `yaml:"limits" jsonschema_description:"Upper limits of the source."`
}

// Limits are ceilings of the source.
type Limits struct {
	PeakVoltageV *float64     `yaml:"peak_voltage_V" jsonschema:"minimum=0,maximum=20000" zero:"no limit" jsonschema_description:"Highest peak voltage in V; 0: no limit."`
	CurrentA     *float64     `yaml:"current_A" jsonschema:"minimum=0,maximum=100" zero:"no limit" jsonschema_description:"Highest RMS current within a burst in A; 0: no limit."`
	PowerW       *float64     `yaml:"power_W" jsonschema:"minimum=0,maximum=500" zero:"no limit" jsonschema_description:"Highest power in W, mean over bursts and gaps; 0: no limit."`
	LoadLine     []*LoadPoint `yaml:"load_line" jsonschema:"minItems=1,maxItems=50" jsonschema_description:"Highest power into each load, as manufacturers disclose it (IEC 60601-2-2), in ascending order of resistance."`
}

// LoadPoint is a point of a load line.
type LoadPoint struct {
	ResistanceOhm *float64 `yaml:"resistance_ohm" jsonschema:"required,minimum=1,maximum=100000" jsonschema_description:"Resistance of the load in ohm."`
	PowerW        *float64 `yaml:"power_W" jsonschema:"required,exclusiveMinimum=0,maximum=500" jsonschema_description:"Highest power into this load in W, mean over bursts and gaps."`
}

// Activation is a time with current, and the rest after it.
type Activation struct {
	CurrentA *float64 `yaml:"current_A" jsonschema:"required,minimum=0,maximum=20" jsonschema_description:"RMS current through the pad in A."`
	OnS      *float64 `yaml:"on_s" jsonschema:"required,minimum=0.001,maximum=600" jsonschema_description:"Time the current is on in s."`
	RestS    *float64 `yaml:"rest_s" jsonschema:"minimum=0,maximum=3600" jsonschema_description:"Pause after it in s, before the next."`
}

// Pulses is the slow rhythm of a source. Its least length holds some 20 bursts at
// the tens of kHz at which they follow each other: they can be averaged.
type Pulses struct {
	LengthMS *float64 `yaml:"length_ms" jsonschema:"minimum=1,maximum=600000" jsonschema_description:"Length of a pulse in ms; the first starts with the current."`
	PeriodMS *float64 `yaml:"period_ms" jsonschema:"minimum=1,maximum=900000" jsonschema_description:"Time from the start of a pulse to that of the next in ms."`
	Between  *Mode    `yaml:"between" jsonschema_description:"What flows between pulses; leave out for no current. Duty cycle and limits are those of the pulses unless given."`
}

// Repeat is one activation again and again on the same place.
type Repeat struct {
	Times        *float64 `yaml:"times" jsonschema:"required,minimum=2,maximum=200" jsonschema_description:"How many activations there are in all, a whole number."`
	PauseS       *float64 `yaml:"pause_s" jsonschema:"minimum=0,maximum=3600" jsonschema_description:"Time without current between two activations in s; the electrode stays where it is."`
	BackAndForth *bool    `yaml:"back_and_forth" jsonschema_description:"Whether every other pass goes back along the track; else each starts where the first did."`
}

// Body is the state before the current, and the blood.
type Body struct {
	TemperatureC          *float64 `yaml:"temperature_C" jsonschema:"minimum=0,maximum=60" jsonschema_description:"Temperature of tissue at the start, of arterial blood and of the far side, in degrees C."`
	BloodHeatCapacityJKgK *float64 `yaml:"blood_heat_capacity_J_kgK" jsonschema:"minimum=1,maximum=20000" jsonschema_description:"Specific heat capacity of blood in J/(kg K)."`
}

// Physics holds the switches and constants of the coupled laws.
type Physics struct {
	ConductivityPerK    *float64 `yaml:"conductivity_per_K" jsonschema:"minimum=0,maximum=0.1" jsonschema_description:"Relative rise of electrical conductivity per kelvin above 37 C, in 1/K."`
	MetabolicHeat       *bool    `yaml:"metabolic_heat" jsonschema_description:"Whether metabolic heat is computed."`
	PerfusionStops      *string  `yaml:"perfusion_stops" jsonschema:"enum=never,enum=at-injury,enum=with-damage" jsonschema_description:"How blood flow ends: never, at a damage integral of 1, or gradually by the factor exp(-Omega)."`
	Boiling             *bool    `yaml:"boiling" jsonschema_description:"Whether tissue water boils away; without it temperatures above boiling have no meaning."`
	BoilC               *float64 `yaml:"boil_C" jsonschema:"minimum=80,maximum=150" jsonschema_description:"Boiling point of tissue water in degrees C; the rise of conductivity ends there, with boiling or without."`
	LatentHeatJKg       *float64 `yaml:"latent_heat_J_kg" jsonschema:"minimum=1000,maximum=10000000" jsonschema_description:"Latent heat of water in J/kg."`
	DryConductivityPart *float64 `yaml:"dry_conductivity_share" jsonschema:"minimum=0.000001,maximum=1" jsonschema_description:"Electrical conductivity of dried tissue over that of wet tissue."`
	Drying              *string  `yaml:"drying" jsonschema:"enum=percolation,enum=series" jsonschema_description:"How electrical conductivity falls as tissue loses water. Percolation: along connected wet paths, down to a threshold. Series: a dried and a wet part in series."`
	SigmaExponent       *float64 `yaml:"conductivity_exponent" jsonschema:"minimum=0.5,maximum=4" jsonschema_description:"Percolation: exponent n of the share of water above the threshold."`
	SigmaThreshold      *float64 `yaml:"conductivity_threshold" jsonschema:"minimum=0,maximum=0.8" jsonschema_description:"Percolation: share of water left at which tissue no longer conducts as wet tissue."`
	DryPermittivity     *float64 `yaml:"dry_permittivity" jsonschema:"minimum=0,maximum=100" jsonschema_description:"Relative permittivity of dried tissue at the frequency of the current: it conducts at least its displacement current."`
	CoagulatedRise      *float64 `yaml:"coagulated_conductivity_rise_percent" jsonschema:"minimum=0,maximum=300" jsonschema_description:"Permanent rise of electrical conductivity by coagulation, in percent."`
	WaterM2S            *float64 `yaml:"water_diffusivity_m2_s" jsonschema:"minimum=0,maximum=0.0000001" jsonschema_description:"Diffusivity of liquid water in tissue in m2/s; 0: water does not move."`
	Steam               *string  `yaml:"steam" jsonschema:"enum=condenses,enum=leaves" jsonschema_description:"What becomes of steam. Condenses: it flows to open surfaces and to cooler tissue, where it condenses. Leaves: it is gone where it forms."`
	SteamM2             *float64 `yaml:"steam_permeability_m2" jsonschema:"minimum=1e-20,maximum=1e-8" jsonschema_description:"Permeability of dried tissue to steam in m2, before it tears."`
	SteamWetShare       *float64 `yaml:"steam_wet_share" jsonschema:"minimum=0.0001,maximum=1" jsonschema_description:"Permeability to steam of tissue with all its water over that of dried tissue."`
	SteamTearKPa        *float64 `yaml:"steam_tear_kPa" jsonschema:"minimum=0.1,maximum=2000" jsonschema_description:"Pressure above that of the air, in kPa, at which steam tears tissue and gets away; up to there it raises the boiling point."`
	SteamVentShare      *float64 `yaml:"steam_vent_share" jsonschema:"minimum=0,maximum=1" jsonschema_description:"Share of the contact between electrode and tissue that lets steam out as a free surface does."`
	DryKWMK             *float64 `yaml:"dry_k_W_mK" jsonschema:"minimum=0.001,maximum=500" jsonschema_description:"Thermal conductivity of dried tissue in W/(m K); never more than that of wet tissue is used."`
	Carbonisation       *bool    `yaml:"carbonisation" jsonschema_description:"Whether dried tissue decomposes when it is hot enough."`
	CarbonC             *float64 `yaml:"carbon_C" jsonschema:"minimum=150,maximum=1000" jsonschema_description:"Temperature at which dried tissue decomposes, in degrees C."`
	CarbonJKg           *float64 `yaml:"carbon_J_kg" jsonschema:"minimum=1000,maximum=100000000" jsonschema_description:"Heat of decomposition per dry mass in J/kg."`
	CarbonCeilingC      *float64 `yaml:"carbon_ceiling_C" jsonschema:"minimum=150,maximum=3000" jsonschema_description:"Highest temperature of char in degrees C: surplus heat leaves as smoke."`
	SparkOnsetV         *float64 `yaml:"spark_onset_V" jsonschema:"minimum=1,maximum=20000" jsonschema_description:"Peak voltage above which sparks start to cross dried tissue, in V."`
	SparkKVMM           *float64 `yaml:"spark_kV_mm" jsonschema:"minimum=0,maximum=20" jsonschema_description:"Further peak voltage that sparks need for each mm of dried tissue, in kV/mm."`
	VaporisedShare      *float64 `yaml:"vaporised_share" jsonschema:"minimum=0,maximum=1" jsonschema_description:"Share of the water of the tissue that a cutting electrode removes which boils away; the rest is thrown out wet."`
}

// Damage is the law that draws the injury line.
type Damage struct {
	Kinetics *string  `yaml:"kinetics" choices:"kinetics" jsonschema_description:"Damage kinetics of the library; instead of A_per_s."`
	APerS    *float64 `yaml:"A_per_s" jsonschema:"minimum=1e-300" jsonschema_description:"Frequency factor of Arrhenius kinetics given here, in 1/s."`
	EaJMol   *float64 `yaml:"Ea_J_mol" jsonschema:"exclusiveMinimum=0,maximum=10000000" jsonschema_description:"Activation energy in J/mol; or E_over_R_K."`
	EOverRK  *float64 `yaml:"E_over_R_K" jsonschema:"exclusiveMinimum=0,maximum=1000000" jsonschema_description:"Activation temperature Ea/R in K; or Ea_J_mol."`
	AtOnce   *string  `yaml:"at_once" choices:"kinetics" jsonschema_description:"Damage kinetics of the library for the tissue that is coagulated at once, which the eye and the microscope see; drawn as a second line."`
	Also     []string `yaml:"also" choices:"kinetics" jsonschema:"maxItems=20" jsonschema_description:"Other damage kinetics of the library, reported beside those of the injury line."`
}

// Domain is the piece of body that is computed.
type Domain struct {
	RadiusMM    *float64 `yaml:"radius_mm" jsonschema:"minimum=0.5,maximum=1000" jsonschema_description:"Axisymmetric: outer radius in mm. 3-D: tissue ahead of and behind the track in mm."`
	HalfWidthMM *float64 `yaml:"half_width_mm" jsonschema:"minimum=0.5,maximum=200" jsonschema_description:"3-D only: tissue to each side of the track in mm."`
	Side        *string  `yaml:"side" jsonschema:"enum=open,enum=insulated,enum=grounded" jsonschema_description:"Electric condition at the side. Open: the body goes on. Insulated: no current. Grounded: zero potential."`
	Bottom      *string  `yaml:"bottom" jsonschema:"enum=open,enum=insulated,enum=grounded" jsonschema_description:"Electric condition at the bottom. Open: the body goes on. Insulated: no current. Grounded: zero potential."`
}

// Probe is a named point.
type Probe struct {
	Name *string  `yaml:"name" name:"probe" jsonschema:"required,pattern=^[A-Za-z0-9][A-Za-z0-9._-]*$,maxLength=40" jsonschema_description:"Name of the point; it appears in the headers of tables."`
	RMM  *float64 `yaml:"r_mm" jsonschema:"minimum=0,maximum=200" jsonschema_description:"Axisymmetric: distance from the electrode's axis in mm."`
	XMM  *float64 `yaml:"x_mm" jsonschema:"minimum=-200,maximum=300" jsonschema_description:"3-D: place along the track in mm, counted from where the electrode starts."`
	YMM  *float64 `yaml:"y_mm" jsonschema:"minimum=0,maximum=200" jsonschema_description:"3-D: distance from the track in mm (the two sides mirror each other)."`
	ZMM  *float64 `yaml:"z_mm" jsonschema:"required,minimum=-300,maximum=300" jsonschema_description:"Depth below the original surface in mm; negative: above it, in a stalk."`
}

// Numerics sets accuracy.
type Numerics struct {
	Quality        *string  `yaml:"quality" jsonschema:"enum=draft,enum=standard,enum=fine" jsonschema_description:"Preset for those of the keys below that are left out."`
	FinestUM       *float64 `yaml:"finest_um" jsonschema:"minimum=5,maximum=1000" jsonschema_description:"Cell size in the lesion zone in um."`
	GrowthPercent  *float64 `yaml:"growth_percent" jsonschema:"minimum=2,maximum=200" jsonschema_description:"How much cells grow with distance from the lesion zone, in percent of the distance."`
	Tolerance      *float64 `yaml:"tolerance" jsonschema:"minimum=1e-10,maximum=0.05" jsonschema_description:"Relative error of the field solution in the energy norm; the error of the power is its square."`
	ResolvePercent *float64 `yaml:"resolve_percent" jsonschema:"minimum=0.01,maximum=50" jsonschema_description:"Change of resistivity, weighted by power, that calls for a new field solution, in percent."`
	MaxStepMS      *float64 `yaml:"max_step_ms" jsonschema:"minimum=0.01,maximum=1000" jsonschema_description:"Longest time step between new states of field and heat while they change, in ms; up to four times as long while they hardly do."`
	Geometry       *string  `yaml:"geometry" jsonschema:"enum=auto,enum=axisymmetric,enum=3-D" jsonschema_description:"Auto: axisymmetric for a stationary electrode, 3-D for a moving one."`
}
