package thermal

import (
	"math"

	"muralheat/mesh"
	"muralheat/thermal/drive"
)

// Result is everything a computation leaves behind.
type Result struct {
	Case    *Case
	Mesh    *mesh.Mesh
	LayerOf []int // layer of each depth index k
	Fields  Fields
	History []Sample
	Moments []Moment // those asked for, by time
	Summary Summary
	Balance Balance

	// Notes are remarks on how far to trust this run, one sentence each.
	Notes []string
}

// Fields are the final states, one value per cell at mesh.Index(i,j,k).
type Fields struct {
	TemperatureC []float64
	PeakC        []float64   // hottest temperature reached
	Omega        []float64   // Arrhenius integral of Case.Damage.Kinetics
	OmegaAtOnce  []float64   // of Case.Damage.AtOnce; nil without it
	OmegaAlso    [][]float64 // of each of Case.Damage.Also
	CEM43Min     []float64   // cumulative equivalent minutes at 43 C
	Water        []float64   // share of its water left, 1 = wet, 0 = dried
	Solid        []float64   // share of dry mass left: below 1 carbonising, 0 carbon
	Removed      []bool      // tissue gone: swept by the needle
	PotentialV   []float64   // RMS, last electric solution
	PowerWM3     []float64   // Joule heat of the last electric solution
	RestC        []float64   // temperature before the current; nil: Case.Body.TemperatureC
}

// Sample is one row of the time course. When the current is switched off there are
// two rows of the same time: the last with current and the first without.
type Sample struct {
	TimeS         float64
	PowerW        float64   // delivered into tissue, mean over the bursts
	TerminalW     float64   // given by the source at its terminals
	VoltageV      float64   // RMS
	CurrentA      float64   // RMS
	ResistanceOhm float64   // NaN while no current flows
	SparkShare    float64   // of the current, in sparks
	PositionM     float64   // of the electrode along its track
	ElectrodeC    float64   // temperature of its metal
	BorderC       []float64 // at each of Result.Borders(), under the electrode
	DepthM        float64   // injury so far
	MeanRiseK     float64   // under a pad: of the hottest square centimetre of the skin, over its area
	ProbeC        []float64
	ProbeOmega    []float64
}

// Border is a horizontal plane of the wall where history is recorded.
type Border struct {
	Name   string // "surface", "mucosa-submucosa", ..., "outer-surface"
	DepthM float64
}

// Borders returns the free surface, each border between layers of the wall, and
// the outer surface, from the lumen outwards. Under a stalk the surface is its base; the
// body wall under a pad ends where the next tissue begins.
func (c *Case) Borders() []Border {
	first, shape := "surface", shapes[c.Electrode.Tip]
	if shape.surface != "" {
		first = shape.surface
	}
	b := []Border{{first, 0}}
	z := 0.0
	for i, l := range c.Layers {
		if l.Above {
			continue
		}
		if l.Beyond {
			break
		}
		z += l.ThicknessM
		name := "outer-surface"
		if i+1 < len(c.Layers) && (!c.Layers[i+1].Beyond || shape.intoBody) {
			name = l.Name + "-" + c.Layers[i+1].Name
		}
		b = append(b, Border{name, z})
	}
	return b
}

// Edges returns the depths between which the layers lie, one more than there are layers.
// They begin at 0, or above it where something rises from the surface of the wall.
func (c *Case) Edges() []float64 {
	base := 0
	for base < len(c.Layers) && c.Layers[base].Above {
		base++
	}
	edges := make([]float64, len(c.Layers)+1)
	for i := base - 1; i >= 0; i-- {
		edges[i] = edges[i+1] - c.Layers[i].ThicknessM
	}
	for i := base; i < len(c.Layers); i++ {
		edges[i+1] = edges[i] + c.Layers[i].ThicknessM
	}
	return edges
}

// WallM returns the thickness of the wall in metres.
func (c *Case) WallM() float64 { b := c.Borders(); return b[len(b)-1].DepthM }

// Summary is the case in numbers. Depths are below the original surface.
type Summary struct {
	InjuryDepthM       float64   // deepest Omega >= 1
	InjuryDepthAlsoM   []float64 // the same by each of Case.Damage.Also
	InjuryHalfWidthM   float64   // widest Omega >= 1 from the axis or track
	RemovedDepthM      float64
	DriedDepthM        float64 // deepest cell that has lost most of its water
	MarginToMuscleM    float64 // top of the muscle minus injury depth; NaN without a muscle layer
	MuscleInjuredShare float64 // of its thickness, 0..1; NaN without a muscle layer
	Transmural         bool    // injury reaches the outer surface
	BeyondFine         bool    // injury left the zone of fine cells: its edge is less exact than the quality promises
	DeepestLayer       string  // deepest layer with injury, "" if none
	PeakC              float64
	OuterSurfacePeakC  float64
	Layers             []LayerSummary // wall layers, then beyond
	Coagulated         Coagulated     // at once, by Case.Damage.AtOnce; zero without it

	MeanPowerW         float64 // delivered, over the on-time
	ResistanceStartOhm float64
	ResistanceEndOhm   float64
	ResistanceRise     float64   // highest over lowest; NaN if no current flowed
	PeakVoltageV       float64   // highest peak voltage that occurred
	CrestFactor        float64   // with pulses: during a pulse
	LimitedShare       float64   // of the time current flowed: held below what was set by a limit of the source
	OutsideLine        float64   // of the time current flowed: the load was outside the load line of the source
	Limited            []Limited // by each limit of the source that did, the one that did longest first
	SparkShare         float64   // of the time current flowed: sparks carried some of it
	SparkFromS         float64   // when they first did; NaN if never
	ElectrodePeakC     float64   // hottest metal
	DryOutS            float64   // when no wet tissue touched the electrode any more; NaN if never
	SteamCondensed     float64   // share of the steam that condensed again, in cooler tissue; NaN if nothing boiled

	CurrentRMSA      float64 // over the on-time
	HeatingFactorA2S float64 // integral of the current squared over time (IEC 60601-2-2)

	Cut   Cut
	Pad   PadSummary
	Stalk StalkSummary

	Cells, Steps       int
	Solves, Iterations int // of the electric field
}

// Limited is what one limit of the source did to a run.
type Limited struct {
	By    drive.Limit
	FromS float64 // when it first held the source below what was set
	Share float64 // of the time current flowed that it did
}

// Coagulated is how far tissue is coagulated at once: what the eye and the microscope see.
type Coagulated struct {
	DepthM, HalfWidthM float64
	MarginToMuscleM    float64 // top of the muscle minus depth; NaN without a muscle layer
	MuscleShare        float64 // of its thickness, 0..1; NaN without a muscle layer
}

// Cut is what a moving needle did; the zero value for anything else.
type Cut struct {
	PathM       float64 // covered by the end of the current
	KerfWidthM  float64 // widest removed tissue across the track
	RemovedM3   float64 // swept by the needle
	PartedShare float64 // of that, tissue that had parted before the needle came: NaN if nothing was swept
	Sustained   bool    // enough of it had: the tissue vanished as fast as the needle went
	HeldShare   float64 // of the way the push alone would have made: held up by whole tissue
	BurntM2     float64 // cross-section of the injured tissue left behind, mean over the middle half of the path, m2
	HeatJM3     float64 // heat that went into the removed tissue, J/m3
	EnergyJM3   float64 // energy delivered over removed volume, J/m3
}

// PadSummary is what a neutral electrode did to the skin; the zero value for anything else.
// Rises are above the temperatures before the current, the highest of the whole run.
type PadSummary struct {
	HighestRiseK float64 // anywhere in the body
	MeanRiseK    float64 // mean over any round square centimetre of skin
	MeanRiseAtM  float64 // distance of its centre from that of the pad
	CentreRiseK  float64 // of the skin at the centre of the pad
	RimRiseK     float64 // of the skin at the outer rim of the contact
	SkinPeakC    float64 // hottest skin
}

// StalkSummary is what a closing loop did; the zero value for anything else.
type StalkSummary struct {
	CutThroughS   float64 // when the ring met the axis; NaN if it did not
	RingRadiusM   float64 // inner radius of the ring at the end
	LeakShare     float64 // of the charge, through the head to what it touches
	PeakC         float64 // hottest tissue of stalk and head
	BasePeakC     float64 // hottest tissue at the base of the stalk
	BelowRingM    float64 // injured length of the stalk below the ring, on the axis
	PartedShare   float64 // of the tissue the ring swept: had parted before it came; NaN if nothing was swept
	Sustained     bool    // enough of it had
	OppositePeakC float64 // hottest tissue of what the head touches; NaN if it touches nothing
}

// LayerSummary is one layer in numbers.
type LayerSummary struct {
	Name         string
	TopM         float64
	BottomM      float64
	MaxC         float64
	OmegaMax     float64
	CEM43MaxMin  float64
	InjuredM3    float64
	InjuredShare float64 // deepest injured point within the layer over its thickness
}

// Balance is the energy balance, in joules, relative to the body before any current. Each part of a run
// writes its own terms.
type Balance struct {
	HeldJ      float64 `yaml:",omitempty"` // stored at the start, by cases before on the same tissue
	TerminalJ  float64 // given by the source at its terminals
	LeadsJ     float64 // of that, lost before the electrode: in series with it, and beside the tissue
	ElectricJ  float64 // delivered into the tissue
	FarJ       float64 // of that, dissipated outside the meshed domain
	InTissueJ  float64 // and in the meshed tissue by its current
	MetabolicJ float64
	StoredJ    float64
	SteamJ     float64 // latent and sensible heat of the water that left as steam
	SmokeJ     float64 // decomposition and surplus above the carbon ceiling
	RemovedJ   float64 // heat in tissue swept away
	CuttingJ   float64 // spent in the gap before a cutting electrode: on what it removed, and left with the vapour
	PerfusionJ float64
	ElectrodeJ float64 // given to the metal
	SurfacesJ  float64 // lumen, outer surface and bottom

	EnergyResidual float64 // (in - out) over the largest term
	WaterResidual  float64 // (water missing - water that left as steam) over all that boiled off
	SourceResidual float64 // (at the terminals - lost in leads - into the tissue) over the first
	ChargeResidual float64 // worst |current in - current out|/current in of any solve
}

// in and out are what must be equal:
//
//	Held + Electric - Far + Metabolic = Stored + Steam + Smoke + Removed + Cutting + Perfusion + Electrode + Surfaces
func (b *Balance) in() float64 { return b.HeldJ + (b.ElectricJ - b.FarJ + b.MetabolicJ) }

func (b *Balance) out() []float64 {
	return []float64{b.StoredJ, b.SteamJ, b.SmokeJ, b.RemovedJ, b.CuttingJ, b.PerfusionJ, b.ElectrodeJ, b.SurfacesJ}
}

// close sets the residuals, that of the tissue over the largest term or turnoverJ, what the body at rest turns over: what a
// cold surface takes may be a million times what a weak source gives. A microjoule is the least: below,
// the balance of a body of some kilojoules holds little but rounding.
func (b *Balance) close(turnoverJ float64) {
	residual := b.in()
	scale := max(1e-6, math.Abs(residual), turnoverJ)
	sum := 0.0
	for _, term := range b.out() {
		sum += term
		scale = math.Max(scale, math.Abs(term))
	}
	b.EnergyResidual = (residual - sum) / math.Max(scale, math.Abs(sum))
	if b.TerminalJ > 0 {
		b.SourceResidual = (b.TerminalJ - b.LeadsJ - b.ElectricJ) / b.TerminalJ
	}
}
