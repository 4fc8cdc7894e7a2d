package thermal_test

import (
	"context"
	"errors"
	"math"
	"runtime"
	"testing"

	"muralheat/mesh"
	"muralheat/thermal"
)

// A mesh that does not fit is refused before it is made.
func TestTooLarge(t *testing.T) {
	c := pull(antrum(thermal.Disc, 1e-3, 5, 0), 50e-3, 1e-3)
	c.Numerics.FinestM = 5e-6
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{MaxBytes: 1e9})
	runtime.ReadMemStats(&after)
	var large *thermal.TooLarge
	if !errors.As(err, &large) || r != nil {
		t.Fatalf("got %v", err)
	}
	if g := c.Grid(); large.Grid.Cells() != g.Cells() || g.Bytes() < 1e9 {
		t.Errorf("%+v", large)
	}
	if used := after.TotalAlloc - before.TotalAlloc; used > 10e6 {
		t.Errorf("refused after allocating %d MB", used/1e6)
	}
}

// The planned mesh is the one that is made, and its estimate of memory is no lie.
func TestGridIsThePlan(t *testing.T) {
	for _, c := range []thermal.Case{
		antrum(thermal.Disc, 1e-3, 10, 10), antrum(thermal.Disc, 0.15e-3, 1, 1), antrum(thermal.Needle, 0.25e-3, 10, 10),
		pull(antrum(thermal.Disc, 1e-3, 10, 0), 8e-3, 2e-3), pull(antrum(thermal.Needle, 0.2e-3, 10, 0), 8e-3, 2e-3),
	} {
		g := c.Grid()
		m := g.Mesh()
		if m.Cells() != g.Cells() || m.NX != g.NX || m.NY != g.NY || m.NZ != g.NZ {
			t.Errorf("planned %d x %d x %d, made %d x %d x %d", g.NX, g.NY, g.NZ, m.NX, m.NY, m.NZ)
		}
		borders := append([]thermal.Border{}, c.Borders()...)
		if c.Electrode.Tip == thermal.Needle {
			borders = append(borders, thermal.Border{Name: "end of the needle", DepthM: c.Electrode.InsertionM})
		}
		for _, b := range borders {
			near := math.Inf(1)
			for _, f := range m.Z.Faces {
				near = math.Min(near, math.Abs(f-b.DepthM))
			}
			if near > 1e-12 {
				t.Errorf("%s lies %g m from a face", b.Name, near)
			}
		}
		if m.Geometry == mesh.Axisymmetric {
			if i := m.X.Find(c.Electrode.ContactRadiusM); math.Abs(m.X.Faces[i]-c.Electrode.ContactRadiusM) > 1e-12 {
				t.Error("the rim is not on a face")
			}
		}
	}
}

// The memory that check and the refusal speak of is what a run allocates, on a track and at rest, with the field in double precision, which
// may have to take over.
func TestMemoryEstimate(t *testing.T) {
	fine := antrum(thermal.Disc, 1e-3, 5, 5)
	fine.Numerics.FinestM, fine.Numerics.Growth = 12.5e-6, 0.05
	for name, c := range map[string]thermal.Case{"track": pull(antrum(thermal.Disc, 1e-3, 5, 0), 2e-3, 2e-3), "at rest": fine} {
		for _, also := range []int{0, 4} {
			c := c
			c.Numerics.Tolerance = 1e-5
			for range also {
				c.Damage.Also = append(c.Damage.Also, c.Damage.Kinetics)
			}
			if also == 0 {
				c.Physics.WaterM2S = 5e-9
			}
			ctx, cancel := context.WithCancel(context.Background())
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			if _, err := thermal.Simulate(ctx, &c, thermal.Options{Progress: func(_, _ float64) { cancel() }}); !errors.Is(err, context.Canceled) {
				t.Fatal(err)
			}
			runtime.ReadMemStats(&after)
			used, said := float64(after.TotalAlloc-before.TotalAlloc), c.Grid().Bytes()
			if used > 1.05*said || used < 0.85*said {
				t.Errorf("%s, %d further laws, water %g m2/s: %.1f MB allocated, %.1f MB foreseen", name, also, c.Physics.WaterM2S, used/1e6, said/1e6)
			}
		}
	}
}

// At rest fine cells reach no further than heat spreads, and the injury stays within them.
func TestReachAtRest(t *testing.T) {
	const diffusivityM2S = 0.13e-6 // of the mucosa, from the library's values
	for _, tip := range []thermal.Tip{thermal.Disc, thermal.Needle} {
		for _, radiusM := range []float64{0.25e-3, 1e-3} {
			for _, onS := range []float64{0.3, 2, 10} {
				for _, powerW := range []float64{2, 15} {
					c := with(draft(antrum(tip, radiusM, powerW, onS)), func(c *thermal.Case) { c.AfterS = onS })
					most := math.Max(1e-3, radiusM+1.1*math.Sqrt(4*diffusivityM2S*onS))
					if g := c.Grid(); g.ReachM > most {
						t.Errorf("%s of %g mm, %g W for %g s: fine cells reach %g mm, heat %g mm", tip, radiusM*1e3, powerW, onS, g.ReachM*1e3, most*1e3)
					}
					if simulate(t, c).Summary.BeyondFine {
						t.Errorf("%s of %g mm, %g W for %g s: the injury leaves the fine cells", tip, radiusM*1e3, powerW, onS)
					}
				}
			}
		}
	}
}
