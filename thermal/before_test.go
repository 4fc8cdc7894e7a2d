package thermal_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"muralheat/thermal"
)

// twoSteps are a disc that dries tissue, and a smaller one on its place after a pause.
func twoSteps() (first, second thermal.Case) {
	first = with(draft(antrum(thermal.Disc, 1e-3, 10, 0.5)), wetAndSparks)
	first.Title, first.AfterS = "first", 2
	second = first
	second.Title, second.AfterS = "second", 1
	second.Electrode.ContactRadiusM, second.Electrode.TipRadiusM, second.Drive.PowerW = 0.6e-3, 0.6e-3, 5
	return first, second
}

// A case with another before it is the last of the sequence of both, on the mesh of both; the injury is that of both.
func TestBefore(t *testing.T) {
	first, second := twoSteps()
	byHand := inSequence(t, first, second)
	c := second
	c.Before = []*thermal.Case{&first}
	r := simulate(t, c)
	same(t, "with a case before", r, byHand[1])
	if r.Case.Title != "second" || r.Summary.InjuryDepthM != byHand[1].Summary.InjuryDepthM || r.Balance != byHand[1].Balance || len(r.History) != len(byHand[1].History) || r.History[0].TimeS != 0 {
		t.Errorf("%s: %g m deep, balance %+v", r.Case.Title, r.Summary.InjuryDepthM, r.Balance)
	}
	if !(r.Summary.InjuryDepthM >= byHand[0].Summary.InjuryDepthM && r.Balance.HeldJ > 0) {
		t.Errorf("%g m deep after %g m, %g J held", r.Summary.InjuryDepthM, byHand[0].Summary.InjuryDepthM, r.Balance.HeldJ)
	}
	if fresh := simulate(t, second); !(r.Summary.InjuryDepthM > fresh.Summary.InjuryDepthM) || r.Balance.ElectricJ == fresh.Balance.ElectricJ {
		t.Errorf("as on a fresh place: %g m deep, %g J", r.Summary.InjuryDepthM, r.Balance.ElectricJ)
	}
	if c.WholeS() != 4 || c.TotalS() != 1.5 || c.Grid().Cells() != (thermal.Sequence{&first, &second}).Grid().Cells() {
		t.Errorf("%g s of %g s, %d cells", c.TotalS(), c.WholeS(), c.Grid().Cells())
	}
}

// The film of a case with others before it is that of the case alone; other meshes are those of all.
func TestBeforeMomentsAndMeshes(t *testing.T) {
	first, second := twoSteps()
	c := second
	c.Before = []*thermal.Case{&first}
	r := kept(t, c, 7)
	if n := len(r.Moments); n < 5 || n > 7 || r.Moments[0].Row != 0 || r.History[r.Moments[n-1].Row].TimeS != 1.5 {
		t.Errorf("%d moments, the first of row %d", n, r.Moments[0].Row)
	}
	cases, _ := c.Refined()
	for _, k := range cases {
		if err := k.Sequence().Check(); err != nil {
			t.Error(err)
		}
	}
	if first.Numerics != second.Numerics || cases[0].Before[0].Numerics == first.Numerics {
		t.Errorf("meshes of the case before: %+v, its own %+v", cases[0].Before[0].Numerics, first.Numerics)
	}
}

// What goes wrong before is said to have gone wrong there; what cannot share a mesh is refused.
func TestBeforeThatFails(t *testing.T) {
	first, second := twoSteps()
	c := second
	c.Before = []*thermal.Case{&first}
	c.Layers = slices.Clone(c.Layers)
	c.Layers[1].Material.KWMK = math.NaN()
	first.Layers = c.Layers // the same: not a number is not equal to itself
	var failure *thermal.Failure
	if _, err := thermal.Simulate(context.Background(), &c, thermal.Options{}); !errors.As(err, &failure) || !strings.Contains(err.Error(), `in "first", computed before: `) {
		t.Error(err)
	}
	needle := with(first, func(c *thermal.Case) { c.Electrode.Tip, c.Electrode.InsertionM = thermal.Needle, 1e-3 })
	c.Before = []*thermal.Case{&needle}
	var apart *thermal.Apart
	if _, err := thermal.Simulate(context.Background(), &c, thermal.Options{}); !errors.As(err, &apart) {
		t.Error(err)
	}
}
