package keys

// Pad is a neutral electrode on skin. It is computed round, with the area of what it is.
type Pad struct {
	AreaCM2             *float64 `yaml:"area_cm2" jsonschema:"minimum=1,maximum=2000" jsonschema_description:"Area of the whole pad in cm2; or radius_mm, or length_mm and width_mm."`
	RadiusMM            *float64 `yaml:"radius_mm" jsonschema:"minimum=5,maximum=250" jsonschema_description:"Radius of a round pad in mm."`
	LengthMM            *float64 `yaml:"length_mm" jsonschema:"minimum=10,maximum=600" jsonschema_description:"Length of a rectangular pad in mm; a disc of the same area is computed."`
	WidthMM             *float64 `yaml:"width_mm" jsonschema:"minimum=10,maximum=600" jsonschema_description:"Width of a rectangular pad in mm."`
	ContactSharePercent *float64 `yaml:"contact_share_percent" jsonschema:"minimum=1,maximum=100" jsonschema_description:"Share of the area that touches the skin, in percent."`
	ContactLost         *string  `yaml:"contact_lost" jsonschema:"enum=rim,enum=centre" jsonschema_description:"Where contact is lost. Rim: the pad has peeled off there, and a smaller disc is left. Centre: dried gel or hair, and a ring is left."`
	Skin                *string  `yaml:"skin" jsonschema:"enum=gel,enum=wet,enum=dry" jsonschema_description:"What couples pad and skin; sets the two impedances below."`
	ResistanceOhmCM2    *float64 `yaml:"contact_resistance_ohm_cm2" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"Resistance of one square centimetre of the contact, in ohm cm2; it heats the skin."`
	ReactanceOhmCM2     *float64 `yaml:"contact_reactance_ohm_cm2" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"Capacitive reactance of one square centimetre of the contact, in ohm cm2; it steers the current and produces no heat."`
	HeatTransferWM2K    *float64 `yaml:"heat_transfer_W_m2K" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"Heat transfer coefficient through the back of the pad in W/(m2 K)."`
	TemperatureC        *float64 `yaml:"temperature_C" jsonschema:"minimum=0,maximum=60" jsonschema_description:"Temperature behind the pad in degrees C."`
}

// Stalk is the stalk of a polyp with its head, round, upright on the wall.
type Stalk struct {
	DiameterMM     *float64  `yaml:"diameter_mm" jsonschema:"required,minimum=1,maximum=40" jsonschema_description:"Diameter of the stalk in mm."`
	HeightMM       *float64  `yaml:"height_mm" jsonschema:"minimum=1,maximum=60" jsonschema_description:"Height of the stalk from the wall to the head in mm."`
	Tissue         *string   `yaml:"tissue" choices:"tissues" jsonschema_description:"Tissue of stalk and head, from the library; instead of material."`
	Material       *Material `yaml:"material" jsonschema_description:"Material properties given here; instead of tissue."`
	HeadDiameterMM *float64  `yaml:"head_diameter_mm" jsonschema:"minimum=1,maximum=80" jsonschema_description:"Diameter of the head in mm."`
	HeadHeightMM   *float64  `yaml:"head_height_mm" jsonschema:"minimum=0.5,maximum=80" jsonschema_description:"Height of the head in mm."`
	Opposite       *Opposite `yaml:"opposite" jsonschema_description:"The opposite wall, if the head touches it; leave out for a head that hangs free."`
}

// Opposite is the wall on the other side of the lumen: the same, mirrored.
type Opposite struct {
	ContactDiameterMM *float64 `yaml:"contact_diameter_mm" jsonschema:"required,minimum=0.4,maximum=80" jsonschema_description:"Diameter of the contact between head and wall in mm."`
}

// Loop is a wire bent to a ring around the stalk.
type Loop struct {
	WireDiameterMM   *float64 `yaml:"wire_diameter_mm" jsonschema:"minimum=0.1,maximum=2" jsonschema_description:"Diameter of the wire in mm."`
	HeightMM         *float64 `yaml:"height_mm" jsonschema:"minimum=0.1,maximum=60" jsonschema_description:"Height of the axis of the wire above the wall in mm."`
	ClosedToMM       *float64 `yaml:"closed_to_mm" jsonschema:"minimum=0.4,maximum=40" jsonschema_description:"Inner diameter of the ring when the current starts, in mm; a ring smaller than the stalk squeezes a groove into it."`
	SpeedMMS         *float64 `yaml:"speed_mm_s" jsonschema:"minimum=0.01,maximum=20" jsonschema_description:"Speed at which the ring's radius shrinks while current flows, in mm/s; or give force_N, or neither for a ring that stays."`
	ForceN           *float64 `yaml:"force_N" jsonschema:"exclusiveMinimum=0,maximum=100" jsonschema_description:"Pull on the loop in N: the wire presses on the tissue in the ring, which closes as heat removes it."`
	Mobility         *float64 `yaml:"mobility_mm_s_kPa" jsonschema:"exclusiveMinimum=0,maximum=100" jsonschema_description:"Closing speed per kPa of pressure, in mm/(s kPa); with force_N only."`
	StrengthMPa      *float64 `yaml:"strength_MPa" jsonschema:"minimum=0,maximum=1000" zero:"no cutting without current" jsonschema_description:"Pressure at which the wire cuts tissue without current, in MPa; 0: at none. With force_N only."`
	HeatTransferWM2K *float64 `yaml:"heat_transfer_W_m2K" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"Heat transfer coefficient from tissue to the wire in W/(m2 K)."`
	TemperatureC     *float64 `yaml:"temperature_C" jsonschema:"minimum=0,maximum=99" jsonschema_description:"Temperature of the wire when the current starts, and away from the tissue, in degrees C."`
	HeatCapacityJK   *float64 `yaml:"heat_capacity_J_K" jsonschema:"minimum=0,maximum=1000" zero:"metal held at its temperature" jsonschema_description:"Heat capacity of the metal that warms with the tissue, in J/K; 0: the metal is held at temperature_C."`
	WireLossWK       *float64 `yaml:"wire_loss_W_K" jsonschema:"minimum=0,maximum=100" jsonschema_description:"Heat that the metal loses along its wire, in W per K above temperature_C."`
}
