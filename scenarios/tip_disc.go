package scenarios

import (
	"math"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/press"
)

func init() {
	tips[thermal.Disc] = tipKind{
		metalMM3: func(f *keys.File) float64 { // as high as it is wide
			r := keys.Num(f.Electrode.RadiusMM)
			return 2 * math.Pi * r * r * r
		},
		punch: press.Punch,
	}
}
