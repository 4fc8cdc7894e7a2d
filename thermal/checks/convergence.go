package checks

import "muralheat/thermal/refine"

// Convergence checks the arithmetic of three meshes on two published worked examples.
func Convergence() []Check {
	var l list
	const source = "Celik and others 2008, J Fluids Eng 130:078001, table 1, from memory"
	for _, c := range []struct {
		name                         string
		r21, r32                     float64
		value                        [3]float64
		order, extrapolated, percent float64
	}{
		{"reattachment length", 1.5, 1.333, [3]float64{6.063, 5.972, 5.863}, 1.53, 6.1685, 2.2},
		{"axial velocity at 8 step heights", 2, 2.143, [3]float64{10.7880, 10.7250, 10.6050}, 0.75, 10.8801, 1.1},
	} {
		e := refine.Study{SizeM: [3]float64{1, c.r21, c.r21 * c.r32}, Value: c.value}.At(0)
		// The values are printed to four digits, of which their differences keep two.
		l.add(c.name+": observed order", source, c.order, e.Order, 0.03, "1")
		l.add(c.name+": extrapolated", source, c.extrapolated, e.Extrapolated, 0.01, "1")
		l.add(c.name+": grid convergence index", source, c.percent, e.GCIPercent(c.value[0]), 0.1, "%")
	}
	return l
}
