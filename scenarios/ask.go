package scenarios

import "math"

// Questions to a file, which may be asked while values are missing: numbers are
// then NaN, words empty and switches off.

func boils(f *File) bool { return on(f.Physics.Boiling) }

func tipIs(tip string) func(*File) bool {
	return func(f *File) bool { return word(f.Electrode.Tip) == tip }
}

func threeD(f *File) bool { return f.Motion != nil || word(f.Numerics.Geometry) == "3-D" }

func solidBeyond(f *File) bool { return f.Wall.Beyond.Tissue != nil || f.Wall.Beyond.Material != nil }

// contactMM returns the radius of the contact, or of a needle's shaft or a loop's wire.
func contactMM(f *File) float64 {
	switch scene(f) {
	case scenePad:
		_, outer := padContactMM(f)
		return outer
	case sceneStalk:
		return wireMM(f)
	}
	if tipIs("ball")(f) {
		if presses(f) {
			return hold(f).RadiusM * 1000
		}
		return num(f.Electrode.ContactRadiusMM)
	}
	return num(f.Electrode.RadiusMM)
}

// wallMM returns the thickness of the wall as written.
func wallMM(f *File) float64 {
	sum := 0.0
	for _, l := range f.Wall.Layers {
		sum += num(l.ThicknessMM)
	}
	return sum
}

// depthMM returns the thickness of all that is computed.
func depthMM(f *File) float64 {
	sum := 0.0
	for _, s := range sheets(f) {
		sum += s.mm
	}
	if solidBeyond(f) {
		sum += num(f.Wall.Beyond.ThicknessMM)
	}
	return sum
}

// aboveMM returns the height of what rises from the wall.
func aboveMM(f *File) float64 {
	sum := 0.0
	for _, l := range above(f) {
		sum += l.mm
	}
	return sum
}

// modes returns what the source gives during pulses (or all the time) and between.
func modes(f *File) []*Mode {
	if f.Current.Pulses == nil {
		return []*Mode{&f.Current.Mode}
	}
	return []*Mode{&f.Current.Mode, f.Current.Pulses.Between}
}

// flows reports whether a mode is to give anything.
func flows(m *Mode) bool {
	return num(m.PowerW) != 0 && num(m.BurstPowerW) != 0 && num(m.CurrentA) != 0
}

// orNone returns 0 for a key that does not apply.
func orNone(p *float64) float64 {
	if p == nil {
		return 0
	}
	return *p
}

func num(p *float64) float64 {
	if p == nil {
		return math.NaN()
	}
	return *p
}

func word(p *string) string {
	if p == nil {
		return ""
	}
	return *p
}

func on(p *bool) bool { return p != nil && *p }
