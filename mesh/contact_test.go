package mesh

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Property: wherever a disc lies, cut by the grid in whatever way, its contacts add
// up to pi a^2, none larger than its cell.
func TestDiscArea(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for range 500 {
		a := (0.05 + 2.5*rng.Float64()) * mm
		x := 4 * mm * (rng.Float64() - 0.2)
		for _, m := range []*Mesh{cylinder(), box()} {
			sum := 0.0
			for _, c := range m.Disc(nil, x, a) {
				i, j, k := m.Cell(c.P)
				if k != 0 || c.AreaM2 > m.Area(i, j)*(1+1e-12) {
					t.Fatalf("%v: contact of %g m2 in cell %d,%d,%d", m.Geometry, c.AreaM2, i, j, k)
				}
				within(t, "squares", c.Squares*c.AreaM2, m.Z.Width(0)/2, 1e-12)
				sum += c.AreaM2
			}
			within(t, m.Geometry.String()+" disc", sum, math.Pi*a*a, 1e-6) // slivers are left out
		}
	}
}

// The clipped circle against counting points.
func TestCircleRect(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	for range 50 {
		x0, y0 := 2*rng.Float64()-1.5, 1.2*rng.Float64()
		x1, y1 := x0+rng.Float64(), y0+rng.Float64()
		const n = 300
		in := 0
		for i := range n {
			for j := range n {
				x, y := x0+(x1-x0)*(float64(i)+0.5)/n, y0+(y1-y0)*(float64(j)+0.5)/n
				if x*x+y*y < 1 {
					in++
				}
			}
		}
		want := (x1 - x0) * (y1 - y0) * float64(in) / (n * n)
		if got := circleRect(x0, x1, y0, y1, 1); math.Abs(got-want) > 2e-3*(x1-x0)*(y1-y0) {
			t.Errorf("circleRect(%g, %g, %g, %g): %g, counted %g", x0, x1, y0, y1, got, want)
		}
	}
}

// needleMesh has the tip of a needle of radius a and depth l on grid lines, n cells
// to the radius.
func needleMesh(g Geometry, a, l float64, n int) *Mesh {
	fine := Grading{From: -2 * a, To: 4 * a, FinestM: a / float64(n), Slope: 0.2}
	z := Grading{To: l + 2*a, FinestM: a / float64(n), Slope: 0.2}.Axis(0, l, 8*mm)
	if g == Axisymmetric {
		return New(g, fine.Axis(0, a, 8*mm), Axis{}, z)
	}
	return New(g, fine.Axis(-6*mm, 0, 8*mm), fine.Axis(0, a, 6*mm), z)
}

// A needle's contacts add up to its skin, 2 pi a l and the end pi a^2, exactly where
// the grid follows it, nearly where it is cut out of cubes; its metal to its volume.
func TestNeedle(t *testing.T) {
	const a, l = 0.25 * mm, 1.5 * mm
	skin, volume := 2*math.Pi*a*l+math.Pi*a*a, math.Pi*a*a*l
	rng := rand.New(rand.NewPCG(7, 7))
	for _, c := range []struct {
		g           Geometry
		n           int
		area, solid float64 // tolerances
	}{{Axisymmetric, 2, 1e-9, 1e-9}, {Axisymmetric, 5, 1e-9, 1e-9}, {Track, 4, 0.05, 0.12}, {Track, 8, 0.03, 0.06}} {
		m := needleMesh(c.g, a, l, c.n)
		for range 20 {
			x := 0.0
			if c.g == Track {
				x = a * rng.Float64()
			}
			metal, contacts := m.Needle(nil, nil, x, a, l)
			got := 0.0
			for _, p := range metal {
				i, j, k := m.Cell(p)
				got += m.Volume(i, j, k)
				if m.offAxis(i, j, x) >= a || m.Z.Centres[k] >= l {
					t.Fatalf("%v: metal outside the needle", c.g)
				}
			}
			within(t, m.Geometry.String()+" metal", got, volume, c.solid)
			area := 0.0
			for _, k := range contacts {
				area += k.AreaM2
				if slices.Contains(metal, k.P) {
					t.Fatalf("%v: metal touches metal", c.g)
				}
				if !(k.Squares > 0) || !(k.AreaM2 >= 0) {
					t.Fatalf("%v: contact %+v", c.g, k)
				}
			}
			within(t, m.Geometry.String()+" skin", area, skin, c.area)
		}
	}
}
