package scenarios

import (
	"fmt"
	"math"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
)

func init() {
	tips[thermal.Needle] = tipKind{
		rules:  needleRules,
		checks: needleChecks,
		metalMM3: func(f *keys.File) float64 { // its shaft in the tissue
			r := keys.Num(f.Electrode.RadiusMM)
			return math.Pi * r * r * keys.Num(f.Electrode.InsertionMM)
		},
		frontM2: func(f *keys.File) float64 {
			radiusM := keys.Num(f.Electrode.RadiusMM) / 1000
			return 2 * radiusM * keys.Num(f.Electrode.InsertionMM) / 1000
		},
		build: func(f *keys.File, e *thermal.Electrode) { e.InsertionM = *f.Electrode.InsertionMM / 1000 },
	}
}

var needleRules = []rule{{
	key: "electrode.insertion_mm", unless: "only a needle is inserted into the tissue", right: "leave it out, or write tip: needle",
	needed: "give the depth of the needle's end in mm",
}}

var needleChecks = []check{
	{[]string{"electrode.insertion_mm", "electrode.tip", wallKeys, "wall.site", "wall.beyond"}, func(f *keys.File) (string, string) {
		if *f.Electrode.InsertionMM >= depthMM(f) {
			return fmt.Sprintf("%g mm goes through everything that is computed", *f.Electrode.InsertionMM), fmt.Sprintf("less than %.6g mm, or a thicker wall.beyond", depthMM(f))
		}
		return "", ""
	}},
}
