package checks

import (
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal/exact"
	"muralheat/thermal/heat"
)

// Boiling checks the front of drying, fed from a surface hotter than boiling,
// against Neumann's solution: a fixed latent heat, no flow of vapour.
func Boiling() []Check {
	var l list
	const neumann = "Neumann's problem, " + carslaw + ", ch. 11; Alexiades and Solomon 1993"
	gut := exact.Stefan{
		Near: material{K: 0.2, RhoC: 1.2e6}, Far: ref,
		WallC: 200, ChangeC: 100, StartC: bodyC, LatentJM3: 1050 * 0.75 * 2.257e6,
	}
	// At boiling point throughout, Stefan number 1.
	one := exact.Stefan{Near: ref, Far: ref, WallC: 150, ChangeC: 100, StartC: 100, LatentJM3: ref.RhoC * 50}
	for _, c := range []struct {
		what string
		exact.Stefan
		t, h float64
	}{
		{"boiling of wet tissue at 37 C", gut, 10, 0.01 * mm},
		{"drying of tissue at 100 C, Stefan number 1", one, 10, 0.02 * mm},
	} {
		want := c.Front(c.t)
		m := column(mesh.Grading{To: 1.3 * want, FinestM: c.h, Slope: 0.1}.Axis(0, 20*mm))
		s := heat.New(m, make([]int, m.NZ), []heat.Material{{
			KWetWMK: c.Far.K, KDryWMK: c.Near.K, CWetJM3K: c.Far.RhoC, CDryJM3K: c.Near.RhoC, LatentJM3: c.LatentJM3,
		}}, heat.Phases{BoilC: c.ChangeC, CarbonC: inf, CeilingC: inf}, c.StartC)
		src := make([]float64, m.Len())
		// The surface conductance follows the drying of its cell: set again each step.
		const dt = 1e-3
		for range int(math.Round(c.t / dt)) {
			s.SetSurface(inf, c.WallC, nil, 0, 0)
			s.Step(dt, src)
		}
		front := 0.0
		for k := range m.NZ {
			front += (1 - s.Water[m.Index(0, 0, k)]) * m.Z.Width(k)
		}
		l.relative(fmt.Sprintf("%s: dried depth after %g s", c.what, c.t), neumann, want/mm, front/mm, 0.01, "mm")
		// Heat through the surface: the integral of k (wall - change)/(erf(l) sqrt(pi alpha t)).
		in := 2 * c.Near.K * (c.WallC - c.ChangeC) / math.Erf(c.Lambda()) * math.Sqrt(c.t/(math.Pi*c.Near.Alpha()))
		l.relative(fmt.Sprintf("%s: heat taken up in %g s", c.what, c.t), neumann, in, -s.LumenJ, 0.015, "J/m2")
		stored, steam, _ := s.Stores()
		l.relative(c.what+": heat stored and gone with the steam", "conservation of energy", -s.LumenJ, stored+steam, 1e-9, "J/m2")
	}
	return l
}
