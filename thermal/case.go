// Package thermal is the physics on a mesh: current, heat, water and damage.
// A Case goes in, a Result comes out; nothing here reads a file or prints.
//
// All lengths are in metres, temperatures in degrees Celsius, voltages and
// currents RMS unless a name says peak.
package thermal

import (
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/heat"
	"muralheat/thermal/tissue"
)

// Case is one fully stated computation: every default already filled in.
type Case struct {
	Title     string
	Invented  bool    // its data are, and whatever shows it says so
	Layers    []Layer // lumen side first: the wall, then what lies beyond it
	Lumen     Surface // loss of the free inner surface; the temperature of a stirred bath
	Beyond    Surface // loss of the outer surface where nothing solid lies beyond
	Electrode Electrode
	Motion    Motion
	Drive     drive.Drive
	AfterS    float64 // cooling still computed after the current stops, s
	Repeat    Repeat  `yaml:",omitempty"`
	Before    []*Case `yaml:",omitempty"` // computed first on the same tissue; theirs do not count
	Body      Body
	Physics   Physics
	Damage    Damage
	Domain    Domain
	Probes    []Probe
	Numerics  Numerics

	Bath Bath

	// Rest starts from the balance of the body with its blood and its surroundings
	// instead of Body.TemperatureC everywhere: skin is cooler than what lies under it.
	Rest bool
}

// Layer is one sheet of material.
type Layer struct {
	Name       string
	ThicknessM float64
	Material   tissue.Material
	Beyond     bool // lies past the outer surface of the wall
	Muscle     bool // the layer whose injury is judged (muscularis propria)

	// A layer above the surface of the wall, at negative depth: the stalk of a polyp, its
	// head, what the head touches. Layers go from the highest down.
	Above   bool
	RadiusM float64 // it ends there, 0: at the side of the domain

	// A liquid on the mucosa, a film or a bath: it lies above, current and heat go through it, it is not injured, and
	// metal stands in it.
	Liquid      bool
	RenewalPerS float64 // share of it that flows in anew per second, at body temperature
}

// Surface is a heat-transfer boundary.
type Surface struct {
	HeatTransferWM2K float64 // W/(m2 K)
	TemperatureC     float64
}

// Bath is a stirred liquid around metal that moves: above the wall, in the kerf, beside a stalk. Its temperature and what
// it cools by are those of the lumen.
type Bath struct {
	SigmaSM float64 // conductivity; 0: there is none
	DepthM  float64 // how high above the surface of the wall it stands
}

// Scene is what the current meets. Each has electrodes, results and figures of its own.
type Scene string

const (
	OnWall      Scene = "wall"              // an active electrode on or in the wall
	OnSkin      Scene = "neutral-electrode" // a pad on the skin
	AroundStalk Scene = "stalk-loop"        // a wire loop around the stalk of a polyp
)

// Tip is the shape of the electrode.
type Tip string

// Electrode is the active electrode.
type Electrode struct {
	Tip            Tip
	ContactRadiusM float64 // disc, ball, pad: radius of the contact; needle: of the shaft; loop: of the wire
	TipRadiusM     float64 // ball: radius of the sphere; pad: of the whole pad; loop: of the open ring, inside; else ContactRadiusM
	InsertionM     float64 // how deep its metal stands in the tissue, below the surface: that of a needle
	Own            Own     `yaml:",inline"` // nil: it has none
	BareM          float64 // in a liquid: how far above the surface its metal is bare; 0: all of it
	Film           Film    // pad: between metal and skin
	Press          Press   // how the hand holds it, for the record
	Surface                // heat given to the metal, and its temperature at the start and at the far end of its wire
	CapacityJK     float64 // heat capacity of the metal, J/K; 0: it is held at that temperature
	LossWK         float64 // what it loses along its wire, W/K
}

// Own are the lengths that only one kind of electrode has, m, by the names that its file gives them.
// Records keep them beside the others.
type Own map[string]float64

// Film is a thin layer in series with a contact: gel, horny skin. Heat that arises in it
// goes to the skin.
type Film struct {
	OhmM2     float64 // impedance of a square metre, its magnitude
	HeatShare float64 // of that, resistance: the rest is capacitance and makes no heat
}

// Press is the force of the hand. What it does - contact, thinner layers, speed - is
// in the other fields of the Case already.
type Press struct {
	ForceN       float64 // 0: not stated
	PressurePa   float64
	IndentationM float64 // how far the wall gives way under a disc or ball
}

// Motion is a straight pull along x, or the closing of a loop towards its axis; zero:
// stationary, at FromM.
type Motion struct {
	FromM   float64 `yaml:",omitempty"` // where it starts, m along the track
	Back    bool    `yaml:",omitempty"` // it goes towards smaller x
	LengthM float64
	SpeedMS float64 // of a loop closed by a force: at the start, rising as it narrows
	Waits   bool    // goes no further than tissue has been removed before it; else speed is forced
}

// Moving reports whether the electrode moves.
func (m Motion) Moving() bool { return m.SpeedMS > 0 && m.LengthM > 0 }

// atM returns the place along the track, m, after a path of length pathM.
func (m Motion) atM(pathM float64) float64 {
	if m.Back {
		return m.FromM - pathM
	}
	return m.FromM + pathM
}

// Body is the state before the current and the blood.
type Body struct {
	TemperatureC          float64
	BloodHeatCapacityJKgK float64
}

// PerfusionStop says when blood flow in injured tissue ends.
type PerfusionStop string

const (
	Never      PerfusionStop = "never"
	AtInjury   PerfusionStop = "at-injury"   // at Omega >= 1
	WithDamage PerfusionStop = "with-damage" // factor exp(-Omega)
)

// Physics holds the switches and constants of the coupled laws.
type Physics struct {
	SigmaPerK           float64 // relative slope of conductivity from 37 C, 1/K, to BoilC
	Boiling             bool
	BoilC               float64    // boiling point of tissue water
	LatentJKg           float64    // latent heat of water, J/kg
	Drying              Drying     // left empty: Series
	DrySigmaShare       float64    // conductivity of dried over that of wet tissue
	DryLeakSM           float64    // and no less than this, S/m: its displacement current
	SigmaExponent       float64    // percolation: n
	SigmaThreshold      float64    // percolation: w_c
	DryKWMK             float64    // thermal conductivity of dried tissue (at most that of wet)
	WaterM2S            float64    // diffusivity of liquid water in tissue, m2/s; 0: it stays where it is
	Steam               heat.Steam // how steam moves; none: it leaves where it forms
	CoagulatedSigmaRise float64    // lasting rise of conductivity once coagulated, over what it was
	Carbonisation       bool
	CarbonC             float64 // dried tissue decomposes at this temperature
	CarbonJKg           float64 // heat of decomposition per dry mass, J/kg
	CarbonCeilingC      float64 // carbon does not get hotter: the surplus leaves as smoke
	SparkOnsetV         float64 // peak voltage at which sparks start to cross dried tissue, and which the gap before a cutting electrode takes
	SparkVM             float64 // and what they need on top for each metre of it, V/m
	VaporisedShare      float64 // of the water of tissue that a cutting electrode removes; the rest is thrown out as liquid
	TearPa              float64 // pressure of a pulled loop that cuts tissue without any current; 0: none does
	PerfusionStops      PerfusionStop
	MetabolicHeat       bool
}

// Damage names the kinetics that draw the injury line, of what dies within a day, those of the tissue that is
// coagulated at once, and further ones that are reported beside them.
type Damage struct {
	Kinetics damage.Kinetics
	AtOnce   *damage.Kinetics // nil: no second line
	Also     []damage.Kinetics
}

// Edge is an electric condition at the end of the domain.
type Edge string

const (
	Open      Edge = "open"      // the body goes on: phi falls as 1/distance
	Insulated Edge = "insulated" // no current
	Grounded  Edge = "grounded"  // phi = 0
)

// Domain is the piece of body that is meshed. Heat: its side is insulated and its
// bottom held at body temperature, or loses heat by Beyond if no layer lies beyond.
type Domain struct {
	RadiusM    float64 // axisymmetric: outer radius; 3-D: tissue ahead of, behind and beside the track
	HalfWidthM float64 // 3-D only; 0: RadiusM
	Side       Edge
	Bottom     Edge
	ThreeD     bool // mesh a stationary electrode in 3-D (always so when it moves)
}

// Probe is a named point where history is recorded. Axisymmetric: X is the radius.
type Probe struct {
	Name       string
	XM, YM, ZM float64
}

// Numerics sets accuracy.
type Numerics struct {
	Quality   string  // name of the preset, for the record
	FinestM   float64 // cell size in the lesion zone
	Growth    float64 // size that cells gain per distance from it, m per m; 0: 0.4
	Tolerance float64 // of the electric solve: the power of its error, over that of the solution, is below its square
	Resolve   float64 // power-weighted change of resistivity that asks for a new electric solve
	MaxStepS  float64 // longest coupling step while resistivity changes; calmSteps times it while it hardly does
}
