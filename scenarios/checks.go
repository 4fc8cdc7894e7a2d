package scenarios

import (
	"fmt"
	"math"
	"slices"

	"muralheat/scenarios/keys"
	"muralheat/scenarios/source"
)

// check holds keys against each other once all values are there. The problem is
// noted at the first key; nothing is checked while one of the keys is wrong by
// itself.
type check struct {
	keys []string
	test func(*keys.File) (wrong, right string) // "" : all is well
}

func (c check) run(f *keys.File, r *keys.Report) {
	for _, k := range c.keys {
		if r.Spoilt(k) {
			return
		}
	}
	if wrong, right := c.test(f); wrong != "" {
		r.At(c.keys[0], wrong, right)
	}
}

const wallKeys = "wall.layers"

// checksFor returns all checks of one file.
func checksFor(f *keys.File) []check {
	return slices.Concat([]check{siteFits}, wallChecks(f), cushionChecks, liquidChecks, sceneOf(f).checks(f), currentChecks(f), repeatChecks, []check{coldCheck(f)}, physicsChecks, domainChecks, probeChecks(f))
}

// addUpMM is how closely layers must add up to a stated thickness: 1 um.
const addUpMM = 0.001

func wallChecks(f *keys.File) []check {
	checks := []check{
		{[]string{"wall.thickness_mm", wallKeys, "wall.site"}, func(f *keys.File) (string, string) {
			if f.Wall.ThicknessMM == nil || math.Abs(*f.Wall.ThicknessMM-wallMM(f)) <= addUpMM {
				return "", ""
			}
			return fmt.Sprintf("%g mm, but the layers add up to %.6g mm", *f.Wall.ThicknessMM, wallMM(f)), "make them agree, or leave this out"
		}},
		{[]string{"wall.beyond.name", wallKeys, "wall.site", "stalk"}, func(f *keys.File) (string, string) {
			name := f.Wall.Beyond.Name
			if name != nil && (onTop(f, *name) || slices.ContainsFunc(sheets(f), func(s sheet) bool { return s.name == *name })) {
				return keys.Quote(*name) + " is also the name of a layer", "give wall.beyond.name another"
			}
			return "", ""
		}},
	}
	muscle := ""
	for i, l := range f.Wall.Layers {
		path := keys.Item(wallKeys, i, keys.Word(l.Name))
		checks = append(checks, check{[]string{path + ".muscle"}, func(*keys.File) (string, string) {
			switch {
			case !keys.On(l.Muscle):
				return "", ""
			case muscle != "":
				return "a second muscle layer, after " + muscle, "mark only the one whose injury is judged"
			}
			muscle = keys.Word(l.Name)
			return "", ""
		}})
	}
	return append(checks, check{[]string{wallKeys}, func(f *keys.File) (string, string) {
		if name := twice(borders(f)); name != "" {
			return "two borders between layers have the name " + keys.Quote(name), "rename a layer"
		}
		return "", ""
	}})
}

func currentChecks(f *keys.File) []check {
	var checks []check
	for _, x := range source.Findings("current", &f.Current.Output) {
		checks = append(checks, check{x.Keys, func(*keys.File) (string, string) { return x.Wrong, x.Right }})
	}
	for i, m := range modes(f) {
		sparks := []string{"current.sparks", modeKeys[i] + ".limits.peak_voltage_V", modeKeys[i] + ".peak_voltage_V", "physics.spark_onset_V"}
		checks = append(checks, check{sparks, func(f *keys.File) (string, string) {
			onset := f.Physics.SparkOnsetV // nil without boiling
			if f.Current.Sparks == nil || *f.Current.Sparks || onset == nil {
				return "", ""
			}
			switch held, limit := m.PeakVoltageV, m.Limits.PeakVoltageV; {
			case held != nil && *held > *onset, limit != nil && *limit > *onset:
				return fmt.Sprintf("false, beside a peak voltage of %g V, above physics.spark_onset_V", max(keys.OrNone(held), keys.OrNone(limit))), "leave one of them out"
			case limit != nil && *limit == 0 && held == nil:
				return "false, beside no limit of the peak voltage", "leave one of them out"
			}
			return "", ""
		}})
	}
	return checks
}

// leastConduct is the share of its conductivity at 37 C that tissue keeps in the cold. A straight
// line fitted between room and boiling ends below zero further down (assumption).
const leastConduct = 0.05

// coldestC returns the temperature below which nothing gets: that of the body or of what
// takes heat from it.
func coldestC(f *keys.File) float64 {
	coldest := keys.Num(f.Body.TemperatureC)
	for _, m := range []metal{
		{"wall.lumen", f.Wall.Lumen.HeatTransferWM2K, f.Wall.Lumen.TemperatureC},
		{"wall.beyond", f.Wall.Beyond.HeatTransferWM2K, f.Wall.Beyond.TemperatureC},
		sceneOf(f).metal(f),
	} {
		if keys.Num(m.transfer) > 0 && m.celsius != nil {
			coldest = min(coldest, *m.celsius)
		}
	}
	return coldest
}

// coldCheck holds the slope of conductivity against the coldest tissue.
func coldCheck(f *keys.File) check {
	return check{[]string{"physics.conductivity_per_K", "body", "wall", sceneOf(f).metal(f).key}, func(f *keys.File) (string, string) {
		slope, cold := *f.Physics.ConductivityPerK, coldestC(f)
		if 1+slope*(cold-37) >= leastConduct {
			return "", ""
		}
		return fmt.Sprintf("%g per K leaves tissue at %g C without conductivity", slope, cold), fmt.Sprintf("at most %.3g, or raise the lowest temperature", (1-leastConduct)/(37-cold))
	}}
}

var physicsChecks = []check{
	{[]string{"physics.carbonisation", "physics.boiling"}, func(f *keys.File) (string, string) {
		if *f.Physics.Carbonisation && !boils(f) {
			return "nothing dries without boiling, so nothing decomposes", "write false, or set physics.boiling: true"
		}
		return "", ""
	}},
	{[]string{"physics.carbon_C", "physics.boil_C", "physics.carbonisation"}, func(f *keys.File) (string, string) {
		if f.Physics.CarbonC != nil && *f.Physics.CarbonC <= *f.Physics.BoilC {
			return fmt.Sprintf("%g C is not above the boiling point", *f.Physics.CarbonC), fmt.Sprintf("more than boil_C, %g", *f.Physics.BoilC)
		}
		return "", ""
	}},
	{[]string{"physics.carbon_ceiling_C", "physics.carbon_C", "physics.carbonisation"}, func(f *keys.File) (string, string) {
		if f.Physics.CarbonCeilingC != nil && *f.Physics.CarbonCeilingC < *f.Physics.CarbonC {
			return fmt.Sprintf("%g C is below carbon_C", *f.Physics.CarbonCeilingC), fmt.Sprintf("at least %g", *f.Physics.CarbonC)
		}
		return "", ""
	}},
	{[]string{"damage.A_per_s", "damage.Ea_J_mol", "damage.E_over_R_K", "body", "current.on_s", "repeat", "afterwards_s"}, func(f *keys.File) (string, string) {
		if f.Damage.APerS == nil {
			return "", ""
		}
		law := lawByHand(f.Damage)
		if !(law.Rate(*f.Body.TemperatureC)*totalS(f) < 1) {
			return fmt.Sprintf("these kinetics injure tissue at body temperature, %g C, within the time computed", *f.Body.TemperatureC), "check A_per_s and the unit of the energy (J/mol or K, not kJ/mol)"
		}
		return "", ""
	}},
	{[]string{"damage.also", "damage.kinetics"}, func(f *keys.File) (string, string) {
		if f.Damage.Kinetics != nil && slices.Contains(f.Damage.Also, *f.Damage.Kinetics) {
			return keys.Quote(*f.Damage.Kinetics) + " already draws the injury line", "leave it out here"
		}
		return "", ""
	}},
}

var domainChecks = []check{
	{[]string{"domain.bottom", "domain.side"}, func(f *keys.File) (string, string) {
		if *f.Domain.Bottom == "insulated" && *f.Domain.Side == "insulated" {
			return "side and bottom are both insulated: the current has no return path", "make one of them open or grounded"
		}
		return "", ""
	}},
	{[]string{"domain.bottom", "wall.beyond"}, func(f *keys.File) (string, string) {
		if *f.Domain.Bottom == "open" && !solidBeyond(f) {
			return "open, but there is no tissue beyond for the current to flow into", "write insulated or grounded, or put a tissue in wall.beyond"
		}
		return "", ""
	}},
}

func probeChecks(f *keys.File) []check {
	var checks []check
	for i, p := range f.Probes {
		path := keys.Item("probes", i, keys.Word(p.Name))
		outside := func(key string, value *float64, low, high func(*keys.File) float64, needs ...string) {
			about := append([]string{path + key, "motion", "numerics.geometry"}, needs...)
			checks = append(checks, check{about, func(f *keys.File) (string, string) {
				if value == nil || !(*value < low(f) || *value > high(f)) { // so if what they follow from is wrong
					return "", ""
				}
				return fmt.Sprintf("%g mm is outside the domain", *value), fmt.Sprintf("from %.6g to %.6g mm", low(f), high(f))
			}})
		}
		zero := func(*keys.File) float64 { return 0 }
		outside(".r_mm", p.RMM, zero, func(f *keys.File) float64 { return *f.Domain.RadiusMM }, "domain.radius_mm")
		outside(".x_mm", p.XMM, func(f *keys.File) float64 { return -*f.Domain.RadiusMM }, func(f *keys.File) float64 { return trackMM(f) + *f.Domain.RadiusMM }, "domain.radius_mm")
		outside(".y_mm", p.YMM, zero, func(f *keys.File) float64 { return *f.Domain.HalfWidthMM }, "domain.half_width_mm")
		outside(".z_mm", p.ZMM, func(f *keys.File) float64 { return 0 - aboveMM(f) }, depthMM, wallKeys, "wall.site", "wall.beyond")
		checks = append(checks, check{[]string{path + ".name", wallKeys, "wall.site", "wall.beyond"}, func(f *keys.File) (string, string) {
			if slices.Contains(borders(f), keys.Word(p.Name)) {
				return keys.Quote(*p.Name) + " is the name of a border between layers", "give the probe another name"
			}
			return "", ""
		}})
	}
	return checks
}

// trackMM returns the length of the track, 0 for a stationary electrode.
func trackMM(f *keys.File) float64 {
	if f.Motion == nil {
		return 0
	}
	return keys.Num(f.Motion.LengthMM)
}

// borders returns the names that thermal.Case.Borders gives, which head columns
// beside those of the probes.
func borders(f *keys.File) []string {
	s := sceneOf(f)
	names, last, wall := []string{s.surface}, "outer-surface", sheets(f)
	if s.into && solidBeyond(f) && len(wall) > 0 {
		last = wall[len(wall)-1].name + "-" + keys.Word(f.Wall.Beyond.Name)
	}
	for i, s := range wall {
		if i+1 < len(wall) {
			names = append(names, s.name+"-"+wall[i+1].name)
		}
	}
	return append(names, last)
}

// twice returns the first name that stands in the list twice, or "".
func twice(names []string) string {
	for i, n := range names {
		if slices.Contains(names[:i], n) {
			return n
		}
	}
	return ""
}
