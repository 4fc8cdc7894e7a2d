package experiments

import (
	"math"
	"strings"

	"muralheat/thermal"
)

// Kinds of experiments, by what the electrode does. They are the first word of a record's regime.
const (
	Contact = "contact" // a disc or ball at rest on tissue
	Cut     = "cut"     // a needle that moves through tissue
	Loop    = "loop"    // a wire loop that closes around a stalk
	Needle  = "needle"  // a needle at rest in tissue
	Pad     = "pad"     // a neutral electrode on skin
	Moved   = "moved contact"
)

// Kinds are those of which there are experiments.
var Kinds = []string{Contact, Cut, Loop, Needle, Pad}

// Range is from the least to the largest value that occurred; NaN: none did.
type Range struct{ Low, High float64 }

func one(v float64) Range { return Range{v, v} }

// with returns the range that holds b too.
func (a Range) with(b Range) Range {
	if math.IsNaN(a.Low) {
		return b
	}
	if math.IsNaN(b.Low) {
		return a
	}
	return Range{min(a.Low, b.Low), max(a.High, b.High)}
}

// Place is where cases stand on the axes along which the model was compared with experiments: one case, the draws of
// an experiment, or the cases of a sweep.
type Place struct {
	Kind   string
	Tissue string // organ, as in colon; of an experiment: that of its source
	Tip    string
	Size   Range // diameter of the contact, the needle or the wire, mm
	Energy Range // delivered, J; of a moving electrode: per mm of its path, J/mm
	Peak   Range // highest peak voltage, V
	Duty   Range // share of the time that the burst is on, pulses and pauses included, %
	Time   Range // current on, s; of a moving electrode: in which it passes its own diameter

	// Shares of the cases, 0..1: the contact stayed wet; it dried, without sparks; sparks crossed it.
	Wet, Dried, Sparks float64

	cases float64
}

// Delivered is what a computed case says of its place besides what it was asked for.
type Delivered struct {
	EnergyJ, PeakV float64
	PathMM         float64 // of a moving electrode
	Dried, Sparks  bool
}

// DeliveredBy reads it off a result.
func DeliveredBy(r *thermal.Result) Delivered {
	s := r.Summary
	path := 1e3 * s.Cut.PathM
	if path == 0 {
		path = 1e3 * r.Case.Motion.LengthM
	}
	return Delivered{r.Balance.ElectricJ, s.PeakVoltageV, path, !math.IsNaN(s.DryOutS), s.SparkShare > 0}
}

// PlaceOf returns the place of one case.
func PlaceOf(c *thermal.Case, tissue string, d Delivered) Place {
	size := 2e3 * c.Electrode.ContactRadiusM
	p := Place{Kind: kindOf(c), Tissue: tissue, Tip: string(c.Electrode.Tip), Size: one(size), Energy: one(d.EnergyJ), Peak: one(d.PeakV),
		Duty: one(100 * c.Drive.DutyCycle * c.Drive.PulseShare()), Time: one(c.Drive.OnS), cases: 1}
	if p.moves() {
		p.Energy, p.Time = one(d.EnergyJ/d.PathMM), one(size/(1e3*c.Motion.SpeedMS))
	}
	switch {
	case d.Sparks:
		p.Sparks = 1
	case d.Dried:
		p.Dried = 1
	default:
		p.Wet = 1
	}
	return p
}

// moves reports whether energy and time are those along a path.
func (p Place) moves() bool { return p.Kind == Cut || p.Kind == Moved }

func kindOf(c *thermal.Case) string {
	along := c.Motion.Moving()
	switch {
	case c.Scene() == thermal.OnSkin:
		return Pad
	case c.Scene() == thermal.AroundStalk:
		return Loop
	case c.Cuts() && along:
		return Cut
	case c.Electrode.InsertionM > 0:
		return Needle
	case along:
		return Moved
	}
	return Contact
}

// And returns the place of both, as far as they are of one kind: the ranges that hold both.
func (p Place) And(q Place) Place {
	if p.Kind == "" {
		return q
	}
	np, nq := max(1, p.cases), max(1, q.cases)
	n := np + nq
	share := func(a, b float64) float64 { return (a*np + b*nq) / n }
	same := func(a, b string) string {
		if a == b || strings.Contains(" or "+a+" or ", " or "+b+" or ") {
			return a
		}
		return a + " or " + b
	}
	return Place{same(p.Kind, q.Kind), same(p.Tissue, q.Tissue), same(p.Tip, q.Tip), p.Size.with(q.Size), p.Energy.with(q.Energy), p.Peak.with(q.Peak), p.Duty.with(q.Duty),
		p.Time.with(q.Time), share(p.Wet, q.Wet), share(p.Dried, q.Dried), share(p.Sparks, q.Sparks), n}
}

// Organ returns the organ of a tissue of the library: colon of colon-mucosa.
func Organ(tissue string) string {
	if organ, layer, ok := strings.Cut(tissue, "-"); ok && layer != "intestine" {
		return organ
	}
	return tissue
}
