package scenarios

import (
	"muralheat/scenarios/keys"
	"muralheat/thermal"
)

// Questions to a file, which may be asked while values are missing: numbers are
// then NaN, words empty and switches off.

func boils(f *keys.File) bool { return keys.On(f.Physics.Boiling) }

func inSeries(f *keys.File) bool { return keys.Word(f.Physics.Drying) == string(thermal.Series) }

// round reports whether the electrode has an axis.
func round(f *keys.File) bool {
	return scene(f) != sceneWall || thermal.Tip(keys.Word(f.Electrode.Tip)).Round()
}

func threeD(f *keys.File) bool {
	return f.Motion != nil || keys.Word(f.Numerics.Geometry) == "3-D" || !round(f)
}

func solidBeyond(f *keys.File) bool {
	return f.Wall.Beyond.Tissue != nil || f.Wall.Beyond.Material != nil
}

// contactMM returns the radius of the contact, or of a needle's shaft or a loop's wire.
func contactMM(f *keys.File) float64 { return sceneOf(f).contact(f) }

// wallMM returns the thickness of the wall as written.
func wallMM(f *keys.File) float64 {
	sum := 0.0
	for _, l := range f.Wall.Layers {
		sum += keys.Num(l.ThicknessMM)
	}
	return sum
}

// depthMM returns the thickness of all that is computed.
func depthMM(f *keys.File) float64 {
	sum := 0.0
	for _, s := range sheets(f) {
		sum += s.mm
	}
	if solidBeyond(f) {
		sum += keys.Num(f.Wall.Beyond.ThicknessMM)
	}
	return sum
}

// aboveMM returns the height of what rises from the wall.
func aboveMM(f *keys.File) float64 {
	sum := 0.0
	for _, l := range above(f) {
		sum += l.mm
	}
	return sum
}

// modeKeys are where the modes stand.
var modeKeys = []string{"current", betweenKeys}

// modes returns what the source gives during pulses (or all the time) and between.
func modes(f *keys.File) []*keys.Mode {
	if f.Current.Pulses == nil {
		return []*keys.Mode{&f.Current.Mode}
	}
	return []*keys.Mode{&f.Current.Mode, f.Current.Pulses.Between}
}
