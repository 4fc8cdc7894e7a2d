package heat

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// A surface is as it is set, whatever it was before: only what may have changed is set anew.
func TestSurfaceIsAsItIsSet(t *testing.T) {
	for _, m := range meshes() {
		s := layered(m, phases)
		s.SetSteam(Steam{PermeabilityM2: 1e-16, WetShare: 0.01, TearPa: 5e4, VentShare: 0.2})
		rng := rand.New(rand.NewPCG(9, 9))
		src := make([]float64, m.Len())
		for step := range 60 {
			h, ambientC := 25.0, 22.0
			if step > 40 {
				h, ambientC = 200, 15
			}
			disc := m.Disc(nil, 0.1*mm*float64(step%20), 0.8*mm)
			if step == 30 {
				s.Insert([]int{m.Index(1, 0, 0)}, nil, 0, 0)
			}
			s.SetSurface(h, ambientC, disc, 300, 30)
			top := func() (all []float64) {
				n := m.Plane()
				for _, w := range s.lumen {
					all = append(all, w.g, w.tC)
				}
				return slices.Concat(all, s.k.Z[:n], s.T[:n], s.steam.top)
			}
			was := top()
			s.lumen = nil // all of it
			s.SetSurface(h, ambientC, disc, 300, 30)
			if !slices.Equal(was, top()) {
				t.Fatalf("%v: step %d left something of the surface before", m.Geometry, step)
			}
			for range 5 {
				p := m.Index(rng.IntN(m.NX), rng.IntN(m.NY), 0)
				if i, j, k := m.Cell(p); !s.Gone(p) {
					src[p] = 4e9 * m.Volume(i, j, k)
				}
			}
			src[m.Index(1, 0, 0)] = 0
			s.Step(0.03, src)
		}
	}
}
