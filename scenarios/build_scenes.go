package scenarios

import (
	"math"
	"slices"

	"muralheat/thermal"
)

// storey is one layer above the wall, as it is computed.
type storey struct {
	name         string
	mm, radiusMM float64 // thickness, radius; 0: as wide as the domain
	material     *Material
}

// touchMM is the thickness of the neck through which a head touches the wall opposite.
const touchMM = 0.5

// above returns what rises from the wall, from the top down: head and stalk of a polyp, and
// the wall on the other side if the head touches it.
func above(f *File) []storey {
	if scene(f) != sceneStalk {
		return nil
	}
	s := f.Stalk
	list := []storey{
		{"head", num(s.HeadHeightMM), num(s.HeadDiameterMM) / 2, s.Material},
		{"stalk", num(s.HeightMM), num(s.DiameterMM) / 2, s.Material},
	}
	if s.Opposite == nil {
		return list
	}
	list = append([]storey{{"touch", touchMM, num(s.Opposite.ContactDiameterMM) / 2, s.Material}}, list...)
	wall := sheets(f)
	if solidBeyond(f) {
		b := f.Wall.Beyond
		wall = append(wall, sheet{word(b.Name), num(b.ThicknessMM), b.Material, false})
	}
	slices.Reverse(wall)
	var other []storey
	for _, l := range wall {
		other = append(other, storey{"opposite-" + l.name, l.mm, 0, l.material})
	}
	return append(other, list...)
}

// onTop reports whether something above the wall has a name.
func onTop(f *File, name string) bool {
	return slices.ContainsFunc(above(f), func(s storey) bool { return s.name == name })
}

func pad(f *File) thermal.Electrode {
	p := f.Pad
	inner, outer := padContactMM(f)
	e := thermal.Electrode{
		Tip: thermal.Pad, TipRadiusM: padOuterMM(f) / 1000, ContactRadiusM: outer / 1000, InnerRadiusM: inner / 1000,
		Surface: thermal.Surface{HeatTransferWM2K: *p.HeatTransferWM2K, TemperatureC: *p.TemperatureC},
	}
	if z := math.Hypot(*p.ResistanceOhmCM2, *p.ReactanceOhmCM2); z > 0 {
		e.Film = thermal.Film{OhmM2: z / 1e4, HeatShare: *p.ResistanceOhmCM2 / z}
	}
	return e
}

func loop(f *File) (thermal.Electrode, thermal.Motion) {
	l := f.Loop
	ring := *l.ClosedToMM / 2 / 1000
	e := thermal.Electrode{
		Tip: thermal.Loop, ContactRadiusM: wireMM(f) / 1000, TipRadiusM: ring, HeightM: *l.HeightMM / 1000,
		Surface: thermal.Surface{HeatTransferWM2K: *l.HeatTransferWM2K, TemperatureC: *l.TemperatureC},
	}
	if pulled(f) {
		e.Press = thermal.Press{ForceN: *l.ForceN, PressurePa: pullKPa(f) * 1000}
	}
	v := closingMMS(f)
	if v == 0 {
		return e, thermal.Motion{}
	}
	return e, thermal.Motion{LengthM: ring, SpeedMS: v / 1000, Waits: pulled(f)}
}
