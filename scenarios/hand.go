package scenarios

import (
	"fmt"
	"math"
	"strings"

	"muralheat/scenarios/keys"
	"muralheat/thermal/press"
	"muralheat/thermal/tissue"
)

// pushes reports whether it is said how hard the electrode is pressed, and presses
// whether the wall gives way to it.
func pushes(f *keys.File) bool { return f.Electrode.ForceN != nil || f.Electrode.PressureKPa != nil }

func presses(f *keys.File) bool { return pushes(f) && givesWayTo(tipOf(f)) }

func moves(f *keys.File) bool { return f.Motion != nil }

func fromPressure(f *keys.File) bool {
	return moves(f) && keys.Word(f.Motion.Advance) == "from-pressure"
}

// hold returns how the electrode rests on the tissue. The pressure of one that cuts is that
// on its front, radius and indentation are then 0.
func hold(f *keys.File) press.Contact {
	e, t := f.Electrode, tipOf(f)
	if cuts(t) {
		front := t.frontM2(f)
		if e.ForceN != nil {
			return press.Contact{ForceN: *e.ForceN, PressurePa: *e.ForceN / front}
		}
		pressurePa := keys.Num(e.PressureKPa) * 1000
		return press.Contact{ForceN: pressurePa * front, PressurePa: pressurePa}
	}
	wall := unpressed(f)
	l := softLayer(f, wall[:givesWay(wall)])
	radiusM := keys.Num(e.RadiusMM) / 1000
	if !presses(f) || !(l.ThicknessM > 0) || math.IsNaN(l.ModulusPa+l.RestShare+radiusM) {
		return press.Contact{RadiusM: math.NaN(), IndentationM: math.NaN()}
	}
	tip := t.punch(radiusM)
	if e.ForceN != nil {
		return l.UnderForce(tip, *e.ForceN)
	}
	return l.UnderPressure(tip, *e.PressureKPa*1000)
}

// givesWay returns how many layers, from the lumen on, thin under pressure: those before
// the muscle, which is firm; all if there are none, or no muscle.
func givesWay(wall []sheet) int {
	for i, s := range wall {
		if s.muscle && i > 0 {
			return i
		}
	}
	return len(wall)
}

func softLayer(f *keys.File, soft []sheet) press.Layer {
	mm := 0.0
	for _, s := range soft {
		mm += s.mm
	}
	return press.Layer{ModulusPa: keys.Num(f.Wall.ModulusKPa) * 1000, ThicknessM: mm / 1000, RestShare: keys.Num(f.Wall.SqueezeRest) / 100}
}

// speedMMS returns the speed of an electrode that nothing holds up.
func speedMMS(f *keys.File) float64 {
	if fromPressure(f) {
		return keys.Num(f.Motion.Mobility) * hold(f).PressurePa / 1000
	}
	return keys.Num(f.Motion.SpeedMMS)
}

var pressRules = []rule{
	pressed("wall.modulus_kPa", of(tissue.WallModulus)),
	pressed("wall.squeeze_rest_percent", fixed(tissue.SqueezeRest.Value*100, tissue.SqueezeRest.Cited())),
}

func pressed(key string, fill func(*keys.File) (any, string)) rule {
	return rule{key: key, hangs: []string{"electrode.tip", "electrode.force_N", "electrode.pressure_kPa"}, when: presses,
		unless: "has no effect unless a tip that lies on the wall is pressed", right: "leave it out, or give electrode.force_N or pressure_kPa", fill: fill}
}

// Rules of the motion.
var (
	motionAdvance = rule{key: "motion.advance", when: moves, fill: fixed("at-speed", "assumption: the speed is kept")}
	motionSpeed   = rule{key: "motion.speed_mm_s", hangs: []string{"motion.advance"}, when: func(f *keys.File) bool { return moves(f) && !fromPressure(f) },
		unless: "is decided by the pressure", right: "leave it out, or write advance: at-speed", needed: "give a number from 0.01 to 100 mm/s"}
	motionMobility = rule{key: "motion.mobility_mm_s_kPa", hangs: []string{"motion.advance"}, when: fromPressure,
		unless: "belongs to advance: from-pressure", right: "leave it out, or write advance: from-pressure", fill: of(tissue.CuttingMobility)}
)

const (
	leastContactMM              = 0.05 // as contact_radius_mm
	leastSpeedMMS, mostSpeedMMS = 0.01, 100
)

func pressChecks(f *keys.File) []check {
	key := "electrode.force_N"
	if f.Electrode.PressureKPa != nil {
		key = "electrode.pressure_kPa"
	}
	return []check{
		{[]string{key, "electrode", "wall"}, func(f *keys.File) (string, string) {
			if presses(f) && contactMM(f) < leastContactMM {
				return fmt.Sprintf("leaves a contact of only %.2g mm radius", contactMM(f)), fmt.Sprintf("press harder: at least %g mm", leastContactMM)
			}
			return "", ""
		}},
		{[]string{"motion.advance", "electrode"}, func(f *keys.File) (string, string) {
			switch {
			case !fromPressure(f):
				return "", ""
			case !cuts(tipOf(f)):
				return "from-pressure, but a " + keys.Word(f.Electrode.Tip) + " does not cut", "write at-speed, or tip: " + tipsThat(cuts)
			case !pushes(f):
				return "from-pressure, but neither force nor pressure is given", "give electrode.force_N or pressure_kPa"
			}
			return "", ""
		}},
		{[]string{"motion.mobility_mm_s_kPa", "motion.advance", key, "electrode"}, func(f *keys.File) (string, string) {
			if !fromPressure(f) || !(speedMMS(f) < leastSpeedMMS || speedMMS(f) > mostSpeedMMS) {
				return "", ""
			}
			return fmt.Sprintf("gives %.3g mm/s at %.3g kPa", speedMMS(f), hold(f).PressurePa/1000), fmt.Sprintf("a speed from %g to %g mm/s", leastSpeedMMS, float64(mostSpeedMMS))
		}},
	}
}

// handNotes are remarks on what the pressure of the hand does.
func handNotes(f *keys.File) []string {
	if !pushes(f) {
		return nil
	}
	h := hold(f)
	if presses(f) {
		var thinned []string
		now := sheets(f)
		for i, s := range unpressed(f) {
			if now[i].mm != s.mm {
				thinned = append(thinned, fmt.Sprintf("%s %.3g -> %.3g mm", s.name, s.mm, now[i].mm))
			}
		}
		furthest := ""
		if h.Furthest {
			furthest = ", its limit"
		}
		return []string{fmt.Sprintf("Pressed with %.3g N (%.3g kPa): contact radius %.3g mm, wall indented by %.3g mm%s; depths count from the surface of the pressed wall (%s).",
			h.ForceN, h.PressurePa/1000, contactMM(f), h.IndentationM*1000, furthest, strings.Join(thinned, ", "))}
	}
	note := fmt.Sprintf("Pressed with %.3g N: %.3g kPa on the front of the %s.", h.ForceN, h.PressurePa/1000, keys.Word(f.Electrode.Tip))
	if fromPressure(f) {
		note = fmt.Sprintf("%s It advances at no more than %.3g mm/s and no faster than heat removes tissue.", note, speedMMS(f))
		if reach := speedMMS(f) * *f.Current.OnS; reach < *f.Motion.LengthMM*(1-1e-9) {
			note += fmt.Sprintf(" The current stops at the latest %.3g mm along the track of %g mm.", reach, *f.Motion.LengthMM)
		}
	}
	return []string{note}
}
