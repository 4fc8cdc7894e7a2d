package checks

import (
	"fmt"
	"math"

	"muralheat/thermal/exact"
	"muralheat/thermal/press"
)

// Pressure checks tips on soft tissue.
func Pressure() []Check {
	var l list
	const johnson = "Johnson 1985, Contact Mechanics"
	const layer = "Dhaliwal and Rau 1970, Int J Eng Sci 8:843, integral equation solved in package exact"

	// A sphere of 1 mm on a half-space, a^3 = 3 F R/(4 E*) and d = a^2/R, worked out by
	// hand. The largest contacts are past what Hertz holds for: of those the indentation.
	for _, c := range []struct{ kPa, force, a, d float64 }{
		{5, .02, 1.3104, 1.7171}, {20, .02, .82548, .68142}, {50, .02, .60822, .36993}, {200, .02, .38316, .14681},
		{20, .1, 1.4116, 1.9925}, {50, .1, 1.0400, 1.0817}, {200, .1, .65519, .42927},
		{50, .3, 1.5000, 2.2500}, {200, .3, .94494, .89291},
	} {
		thick := press.Layer{ModulusPa: c.kPa * 1e3, ThicknessM: 1e3}
		got := thick.UnderForce(press.Sphere(mm), c.force)
		what := fmt.Sprintf("sphere of 1 mm, %g kPa, %g N: ", c.kPa, c.force)
		l.relative(what+"indentation", johnson+", ch. 4 (Hertz)", c.d, got.IndentationM/mm, 2e-4, "mm")
		l.relative(what+"contact, at most the sphere", johnson+", ch. 4 (Hertz)", math.Min(c.a, 1), got.RadiusM/mm, 2e-4, "mm")
	}
	thick := press.Layer{ModulusPa: 20e3, ThicknessM: 1e3}
	l.relative("punch of 1 mm, 20 kPa, 0.02 N: indentation", johnson+", ch. 3", 0.375, thick.UnderForce(press.Punch(mm), 0.02).IndentationM/mm, 1e-4, "mm")

	// A thin layer: the corrections are series and limits, good to some per cent.
	for _, ratio := range []float64{0.1, 0.3, 1, 3} {
		h := mm / ratio
		ours, solved := press.Layer{ModulusPa: 20e3, ThicknessM: h}, exact.IndentedLayer{ModulusPa: 20e3, ThicknessM: h}
		const r = 10 * mm // much more than the contact of 1 mm
		force, d := solved.Sphere(r, mm)
		f, a := press.Sphere(r)(ours, d)
		share := 0.2
		if ratio <= 0.1 {
			share = 0.01 // the first terms
		}
		what := fmt.Sprintf("contact of %g thicknesses: ", ratio)
		l.relative(what+"force on a sphere", layer, force, f, share, "N")
		l.relative(what+"radius under a sphere", layer, 1, a/mm, 0.05, "mm")
		f, _ = press.Punch(mm)(ours, d)
		l.relative(what+"force on a punch", layer, solved.Punch(mm, d), f, share, "N")
	}
	return l
}
