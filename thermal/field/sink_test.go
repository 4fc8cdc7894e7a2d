package field

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Two fields of two metals: one fed at 1 V with the other held at 0 V, and the other fed with the first left open. No power is
// common to both (Green's identity), so a third field, fed by both at voltages of their own, has the power of the two. Of the
// first, what flows into the metal at 0 V counts as current out.
func TestPowersOfTwoMetalsAddUp(t *testing.T) {
	const tol = 1e-10
	rng := rand.New(rand.NewPCG(3, 1))
	for _, m := range meshes() {
		rho := uneven(m, rng)
		face, other := m.Disc(nil, 0, 0.6*mm), m.Lower(m.Disc(nil, 0, 0.8*mm), 8)
		q := make([]float64, m.Len())

		first := open(m)
		first.Sink(other)
		first.Assemble(rho, face, 0)
		first.Solve(tol)
		a := first.Heat(q)
		if gap := math.Abs(a.OutS/a.InS - 1); gap > 1e-8 {
			t.Errorf("%v: %.2g of the current missing", m.Geometry, gap)
		}
		alone := open(m)
		alone.Assemble(rho, face, 0)
		alone.Solve(tol)
		if b := alone.Heat(q); !(a.InS > 1.01*b.InS) {
			t.Errorf("%v: %g A/V with metal at 0 V beside, %g without", m.Geometry, a.InS, b.InS)
		}

		second := open(m)
		second.Assemble(rho, other, 0)
		second.Solve(tol)
		b := second.Heat(q)

		// Sums of both: potentials, then heat cell by cell, by a solver that only sums.
		const va, vb = 0.7, 1.0
		sum := 0.0
		for _, c := range face {
			ia := (1 - first.Phi[c.P]) / (rho[c.P] * c.Squares)
			sum += va * ia * (va + vb*second.Phi[c.P]) // no current of the second leaves there
		}
		for _, c := range other {
			ia, ib := -first.Phi[c.P]/(rho[c.P]*c.Squares), (1-second.Phi[c.P])/(rho[c.P]*c.Squares)
			sum += (va*ia + vb*ib) * vb
		}
		if want := va*va*a.PowerS() + vb*vb*b.PowerS(); math.Abs(sum/want-1) > 1e-7 {
			t.Errorf("%v: %g W through the metals, %g W in the two fields", m.Geometry, sum, want)
		}
		first.Sink(nil)
		first.Assemble(rho, face, 0)
		first.Solve(tol)
		if again := first.Heat(q); math.Abs(again.InS/alone.Heat(q).InS-1) > 1e-8 {
			t.Errorf("%v: the sink is still there", m.Geometry)
		}
	}
}
