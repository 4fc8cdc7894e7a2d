package mesh

import (
	"math"
	"testing"
)

// A cylinder standing down to z = 0 with its faces on grid lines: its volume, the areas of side and end, and
// the resistance from its side through the next half cell, ln(r1/r0)/(2 pi h sigma).
func TestSolidCylinder(t *testing.T) {
	m := New(Axisymmetric, NewAxis([]float64{0, 0.5, 1, 1.5, 2}), Axis{}, NewAxis([]float64{-1, -0.5, 0, 0.5}))
	metal, contacts := m.Solid(nil, nil, func(r, z float64) bool { return r < 1 && z < 0 })
	volume, side, end := 0.0, 0.0, 0.0
	for _, p := range metal {
		i, j, k := m.Cell(p)
		volume += m.Volume(i, j, k)
	}
	for _, c := range contacts {
		switch c.Step {
		case 1:
			side += c.AreaM2
			if want := math.Log(1.25) / (2 * math.Pi * 0.5); math.Abs(c.Squares-want) > 1e-12 {
				t.Errorf("side: %g 1/m, want %g", c.Squares, want)
			}
		case m.Plane():
			end += c.AreaM2
		default:
			t.Errorf("a contact with step %d", c.Step)
		}
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"volume", volume, math.Pi}, {"side", side, 2 * math.Pi}, {"end", end, math.Pi}} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s %g, want %g", c.what, c.got, c.want)
		}
	}
}
