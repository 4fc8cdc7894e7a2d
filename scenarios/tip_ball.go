package scenarios

import (
	"fmt"
	"math"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/press"
	"muralheat/thermal/tissue"
)

func init() {
	tips[thermal.Ball] = tipKind{
		rules:  ballRules,
		checks: ballChecks,
		contactMM: func(f *keys.File) float64 {
			if presses(f) {
				return hold(f).RadiusM * 1000
			}
			return keys.Num(f.Electrode.ContactRadiusMM)
		},
		metalMM3: func(f *keys.File) float64 {
			r := keys.Num(f.Electrode.RadiusMM)
			return 4 * math.Pi / 3 * r * r * r
		},
		punch: press.Sphere,
	}
}

var ballRules = []rule{{
	key: "electrode.contact_radius_mm", hangs: []string{"electrode.force_N", "electrode.pressure_kPa"},
	when:   func(f *keys.File) bool { return !presses(f) },
	unless: "only a ball has a contact smaller than itself", right: "leave it out: radius_mm is the contact radius",
	fill: func(f *keys.File) (any, string) {
		return tissue.BallContactShare.Value * keys.Num(f.Electrode.RadiusMM),
			fmt.Sprintf("%g of radius_mm; %s", tissue.BallContactShare.Value, tissue.BallContactShare.Cited())
	},
}}

var ballChecks = []check{
	{[]string{"electrode.contact_radius_mm", "electrode.radius_mm", "electrode.tip"}, func(f *keys.File) (string, string) {
		if contactMM(f) > *f.Electrode.RadiusMM {
			return fmt.Sprintf("%g mm is larger than the ball", contactMM(f)), fmt.Sprintf("at most radius_mm, %g", *f.Electrode.RadiusMM)
		}
		return "", ""
	}},
}
