package scenarios

import (
	"math"
	"strings"
	"testing"
)

// What a scenario sets on other meshes makes the cases that run --refine computes, tracks included.
func TestMeshesAreThoseOfARun(t *testing.T) {
	for _, e := range Examples() {
		for _, quality := range []string{"draft", "standard", "fine"} {
			s, err := e.Scenario()
			if err != nil {
				t.Fatal(err)
			}
			if s, err = s.With(Set{Key: "numerics.quality", Value: Word(quality)}); err != nil {
				t.Fatal(err)
			}
			c := s.Case()
			want, own := c.Refined()
			m := s.Meshes()
			if m.Own != own || m.Sets[own] != nil {
				t.Errorf("%s: own mesh %d, %v", e.Name, m.Own, m.Sets[own])
			}
			for i := range want {
				if m.SizeM[i] != want[i].Grid().FinestM {
					t.Errorf("%s: cells of %g m, want %g", e.Name, m.SizeM[i], want[i].Grid().FinestM)
				}
				x, err := s.With(m.Sets[i]...)
				if err != nil {
					t.Errorf("%s, %s: %v", e.Name, quality, err)
					continue
				}
				got := x.Case().Numerics
				for _, n := range [][2]float64{{got.FinestM, want[i].Numerics.FinestM}, {got.Growth, want[i].Numerics.Growth}, {got.Tolerance, want[i].Numerics.Tolerance},
					{got.Resolve, want[i].Numerics.Resolve}, {got.MaxStepS, want[i].Numerics.MaxStepS}} {
					if math.Abs(n[0]-n[1]) > 1e-5*n[1] {
						t.Errorf("%s, %s, mesh %d: %v, want %v", e.Name, quality, i, got, want[i].Numerics)
						break
					}
				}
			}
		}
	}
	if got := (Set{Key: "numerics.finest_um", Value: Number(sixDigits(100 / 2.25))}).String(); !strings.HasSuffix(got, "=44.4444") {
		t.Error(got)
	}
}
